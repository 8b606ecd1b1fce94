// The map: the lake on one canvas, drawn when the view changes; on another all that moves.
const NEAR_CIRCLE = 44; // px across below which going to a float also goes nearer
const isSmall = () => window.matchMedia('(max-width: 62.4375em)').matches;
const isStill = () => window.matchMedia('(prefers-reduced-motion: reduce)').matches;
const CARDS = ['key', 'north', 'buttons', 'scale', 'message', 'level-note', 'told', 'sheet', 'doing'];

class Field {
  constructor(planner) {
    this.planner = planner;
    this.look = { level: 0, chosen: null, hovered: null, sun: false, cards: [], covered: 0 };
    this.node = byId('field');
    this.map = makeMap(this.node);
    [this.ground, this.ink] = ['ground', 'floats'].map((name) => el('canvas', { class: `ink ${name}`, 'aria-hidden': 'true' }));
    this.node.append(this.ground, this.ink);
    this.held = null; // the float under the hand
    this.joined = [];
    this.view = '';
    this.old = true; // show where floats were
    this.asked = null; // a point that was asked about
    this.isAdding = false;
    this.frame = 0;
    this.map.on('move zoom resize viewreset', () => this.redraw());
  }

  redraw() {
    if (!this.frame) this.frame = requestAnimationFrame(() => this.paint());
  }

  // The lake's canvas is drawn anew too: names make room for floats.
  redrawAll() {
    this.view = '';
    this.redraw();
  }

  paint() {
    this.frame = 0;
    const camera = cameraOf(this.map);
    const view = [camera.width, camera.height, camera.ppm, camera.left, camera.top, camera.pixelScale].join(' ');
    const isNew = view !== this.view;
    this.view = view;
    if (isNew) this.measure(camera);
    const b = new Brush(fitCanvas(this.ink, camera), camera, this.look);
    b.c.clearRect(0, 0, camera.width, camera.height);
    const far = showsMarks(b);
    const seen = far ? [] : seenFloats(b);
    const f = this.look.chosen;
    const bars = f && !far && !lying && f.verdict !== 'retired' ? layLengths(b, f) : [];
    if (isNew) this.paintGround(camera, seen, bars);
    this.joined = far ? paintMarks(b) : [];
    this.paintWas(b, seen);
    if (!far) paintFloats(b, seen);
    if (far && f) paintLit(b, f);
    if (f && f.verdict !== 'retired' && !this.isAdding && !far) paintHandle(b, f, f === this.held);
    paintLengths(b, bars);
    this.paintOver(b);
    this.planner.painted();
  }

  measure(camera) {
    const covered = this.covered();
    for (const id of ['scale', 'buttons']) byId(id).style.bottom = isSmall() ? `${Math.min(covered, camera.height * 0.7) + 12}px` : '';
    byId('scale').replaceChildren(scaleBar(camera.ppm, isSmall() ? 90 : SCALE_ROOM));
    this.look.cards = cardBoxes();
    this.look.covered = covered;
  }

  paintGround(camera, seen, bars) {
    const b = new Brush(fitCanvas(this.ground, camera), camera, this.look);
    paintLake(b);
    const { places } = this.planner;
    if (places.allowed) paintAllowed(b, places.allowed);
    for (const { a, z, box } of bars) {
      b.room.take([Math.min(a[0], z[0]) - 9, Math.min(a[1], z[1]) - 9, Math.max(a[0], z[0]) + 9, Math.max(a[1], z[1]) + 9]);
      if (box) b.room.take(box);
    }
    for (const one of places.shown) b.room.take(boxAt(...b.at(one.x, one.y), 2 * LETTER + 6, 2 * LETTER + 6));
    paintNames(b, seen);
  }

  paintWas(b, seen) {
    if (!this.old && !this.planner.isComparing) return;
    for (const f of seen) if (isMoved(f)) paintOld(b, f, f === this.look.chosen);
  }

  paintOver(b) {
    const { places } = this.planner;
    for (const one of [...places.shown].reverse()) paintPlace(b, one, one === places.chosen);
    if (this.asked) paintAsked(b, this.asked);
    else if (this.isAdding && document.activeElement === this.node) paintMiddle(b, this.covered());
  }

  // How much of the map's foot is covered.
  covered() { return isSmall() ? Tabs.height : 0; }

  // --- where to look
  showWhole() {
    const [west, south, east, north] = BOUNDS;
    const padding = isSmall() ? { paddingTopLeft: [12, 12], paddingBottomRight: [12, this.covered() + 12] } : { padding: [40, 40] };
    this.map.fitBounds(L.latLngBounds(latLng(west, south), latLng(east, north)), { animate: false, ...padding });
  }

  // A small screen opens where its circles can be told apart: on the worst conflict.
  open() {
    this.showWhole();
    const known = FLOATS.filter((f) => f.verdict !== 'retired' && f.radii[0]);
    const least = Math.min(...known.map((f) => f.radii[0]));
    if (!isSmall() || !known.length || 2 * least * 2 ** this.map.getZoom() >= OPENING_CIRCLE) return;
    const zoom = Math.log2(OPENING_CIRCLE / (2 * least));
    const worst = ORDER.find((f) => f.verdict !== 'retired');
    this.map.setView(latLng(worst.x, worst.y - this.covered() / 2 / 2 ** zoom), zoom, { animate: false });
  }

  // Brings a place into the part of the map that is seen; with a radius also nearer, where its circle would be small.
  show(x, y, r = null) {
    const camera = cameraOf(this.map);
    const [width, height] = [camera.width, camera.height - this.covered()];
    const [px, py] = [x * camera.ppm + camera.left, camera.top - y * camera.ppm];
    const radius = (r || 0) * camera.ppm;
    const margin = Math.min(radius + 40, width / 3, height / 3);
    const isFar = r !== null && radius * 2 < NEAR_CIRCLE;
    if (!isFar && px > margin && py > margin && px < width - margin && py < height - margin) return;
    const zoom = isFar ? Math.min(7, Math.log2((Math.min(width, height) * 0.24) / (2 * r))) : this.map.getZoom();
    const centre = latLng(x, y - this.covered() / 2 / 2 ** zoom);
    if (isFar) this.map.setView(centre, zoom, { animate: false });
    else this.map.panTo(centre, { animate: !isStill(), duration: 0.2 });
  }

  // Pans a place out from under a card, into the larger part that the card leaves.
  uncover(x, y, card) {
    const camera = cameraOf(this.map);
    const [host, box] = [this.node, card].map((node) => node.getBoundingClientRect());
    const [top, bottom, foot] = [box.top - host.top, box.bottom - host.top, camera.height - this.covered()];
    const py = camera.top - y * camera.ppm;
    if (py < top - 24 || py > bottom + 24) return;
    const wanted = top > foot - bottom ? top / 2 : (bottom + foot) / 2;
    this.map.panBy([0, py - wanted], { animate: false });
  }

  middle() {
    const camera = cameraOf(this.map);
    return camera.metres(camera.width / 2, (camera.height - this.covered()) / 2);
  }

  // --- what lies under a point of the screen
  metres(event) {
    const box = this.node.getBoundingClientRect();
    return cameraOf(this.map).metres(event.clientX - box.left, event.clientY - box.top);
  }

  // The circle is the target, at least as large as a fingertip; of several the nearest primary.
  nearest([x, y], least, isCircle = true) {
    const { ppm } = cameraOf(this.map);
    let best = null;
    for (const f of FLOATS) {
      const d = Math.hypot(f.x - x, f.y - y) * ppm;
      if (d <= Math.max(isCircle ? (f.radii[0] || 0) * ppm : 0, least) && (!best || d < best.d)) best = { d, f };
    }
    return best && best.f;
  }

  markAt([x, y]) {
    const { ppm } = cameraOf(this.map);
    return this.joined.find((one) => one.count > 1 && Math.hypot(one.first.x - x, one.first.y - y) * ppm < 16);
  }

  hover(f) {
    if (this.look.hovered === f) return;
    this.look.hovered = f;
    this.redraw();
  }
}

// What lies over the map and must not be written under.
function cardBoxes() {
  const host = byId('map').getBoundingClientRect();
  return CARDS.flatMap((id) => {
    const box = byId(id).getBoundingClientRect();
    if (!box.width || !byId(id).offsetParent) return [];
    return [[box.left - host.left - 6, box.top - host.top - 6, box.right - host.left + 6, box.bottom - host.top + 6]];
  });
}
