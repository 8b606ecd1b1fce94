// The page: map, list and panel, and how they answer each other.
class App {
  constructor() {
    this.look = { level: 0, chosen: null, hovered: null, sun: false, here: null, spot: null, cards: [], covered: 0 };
    this.node = byId('app');
    this.panel = byId('panel');
    this.cameFrom = null;
    this.map = makeMap(byId('field'));
    this.canvas = el('canvas', { class: 'ink', 'aria-hidden': 'true' });
    byId('field').append(this.canvas);
    this.joined = [];
    this.asked = 0;
    this.list = new List({
      choose: (f) => this.choose(f), hover: (f) => this.hover(f), isChosen: (f) => this.look.chosen === f,
    });
    this.listSheet = new Sheet(byId('list'), {
      stops: [foldedHeight, (room) => room * 0.6, (room) => room], isOn: isPhone, onMove: () => this.sheetMoved(),
    });
    this.panelSheet = new Sheet(this.panel, {
      stops: [(room) => room * 0.6, (room) => room], isOn: isPhone, onShut: () => this.choose(null), onMove: () => this.sheetMoved(),
    });
    this.callouts = new Callouts(byId('map'), (f) => this.choose(f), (f) => this.jump(f));
    this.map.on('move zoom resize viewreset', () => this.redraw());
    this.map.on('click', (event) => this.clicked(event.containerPoint));
    this.map.on('mousemove', (event) => this.pointed(event));
    this.map.on('mouseout', () => { this.hover(null); if (!this.look.spot) byId('pointer').textContent = ''; });
    // a long press tells the depth, on a circle too
    this.map.on('contextmenu', (event) => { event.originalEvent.preventDefault(); this.tellDepth(event.latlng); });
  }

  redraw() {
    if (!this.asked) this.asked = requestAnimationFrame(() => this.paint());
  }

  paint() {
    cancelAnimationFrame(this.asked); // what is asked for is done here
    this.asked = 0;
    const camera = cameraOf(this.map);
    const bottom = camera.height - this.hiddenBelow();
    // scale and buttons first: they move with the phone's sheet, and nothing may be written under them
    this.layFrame(camera.height);
    byId('scale').replaceChildren(scaleBar(camera.ppm, isPhone() ? 90 : SCALE_ROOM));
    this.look.cards = cardBoxes(this.look.spot ? ['pointer'] : []);
    this.look.covered = camera.height - bottom;
    const b = new Brush(fitCanvas(this.canvas, camera), camera, this.look);
    const { chosen } = this.look;
    this.callouts.place(b, { show: !chosen, obstacles: this.look.cards, phone: isPhone(), bottom });
    const bars = chosen ? layLengths(b, chosen) : [];
    paintLake(b);
    this.joined = [];
    if (showsMarks(b)) {
      paintNames(b, []);
      this.joined = paintMarks(b);
      this.callouts.paint(b);
    } else {
      const seen = seenFloats(b);
      paintNames(b, seen);
      paintRigs(b, seen);
      this.callouts.paint(b);
      paintNumbers(b, seen);
      paintLengths(b, bars);
    }
    if (this.look.here) paintHere(b, this.look.here);
    if (this.look.spot) paintSpot(b, this.look.spot);
  }

  // What styles need to know of the frame: the header's and footer's height, how far up the phone's sheet reaches.
  layFrame(height) {
    const below = isPhone() ? Math.min(this.sheet.heightOf(this.sheet.stop), height * 0.62) : 0;
    const heights = { '--below': below, '--head': document.querySelector('.head').offsetHeight, '--foot': document.querySelector('.foot').offsetHeight };
    for (const [name, value] of Object.entries(heights)) this.node.style.setProperty(name, `${Math.round(value)}px`);
  }

  // The sheet that a phone shows: the panel's while something is chosen, else the list's.
  get sheet() { return this.node.classList.contains('is-open') ? this.panelSheet : this.listSheet; }

  sheetMoved() {
    const { sheet } = this;
    this.node.classList.toggle('is-full', isPhone() && sheet.stop === sheet.stops.length - 1);
    this.redraw();
  }

  stepPanel() { if (!this.panelSheet.justDragged) this.panelSheet.step(); }

  // Fold what covers the map.
  showMap() {
    const { sheet } = this;
    sheet.set(0);
    const handle = sheet.node.querySelector('.handle');
    if (handle) handle.focus({ preventScroll: true });
  }

  // How much of the map the phone's sheet covers.
  hiddenBelow() {
    return isPhone() ? this.sheet.heightOf(0) : 0;
  }

  // How much of it the panel covers where it lies over the map.
  hiddenRight() {
    return this.look.chosen && isBetween() ? this.panel.offsetWidth : 0;
  }

  // --- where to look
  padding() {
    if (isPhone()) return { paddingTopLeft: [12, 12], paddingBottomRight: [12, 120] };
    const key = byId('key');
    const isOpen = key.offsetParent && !key.classList.contains('is-folded');
    const wide = this.map.getSize().x > 700;
    return { paddingTopLeft: [isOpen && wide ? key.offsetWidth + 36 : 28, 64], paddingBottomRight: [64, 64] };
  }

  showWhole() {
    const [west, south, east, north] = BOUNDS;
    this.map.fitBounds(L.latLngBounds(latLng(west, south), latLng(east, north)), { animate: false, ...this.padding() });
  }

  // A phone opens where its circles can be told apart: on the worst conflict.
  open() {
    this.showWhole();
    const checked = FLOATS.filter((f) => f.verdict !== 'retired' && f.radii[0]);
    const least = Math.min(...checked.map((f) => f.radii[0]));
    const worst = ORDER.find((f) => f.verdict !== 'retired');
    if (!isPhone() || !checked.length || FLOATS.length > FOLD_OVER) return;
    if (2 * least * 2 ** this.map.getZoom() >= OPENING_CIRCLE) return;
    const zoom = Math.log2((OPENING_CIRCLE + 2) / (2 * least));
    const size = this.map.getSize();
    const half = [size.x / 2 - 16, (size.y - 120) / 2 - 24].map((v) => v / 2 ** zoom);
    // as near the worst conflict as leaves no more land in sight than it must
    const within = (v, low, high, room) => (high - low < 2 * room ? (low + high) / 2 : Math.min(Math.max(v, low + room), high - room));
    const [west, south, east, north] = BOUNDS;
    const y = within(worst.y, south, north, half[1]) - 60 / 2 ** zoom;
    this.map.setView(latLng(within(worst.x, west, east, half[0]), y), zoom, { animate: false });
  }

  jump(f) {
    const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const down = this.hiddenBelow() / 2 / 2 ** this.map.getZoom();
    this.map.panTo(latLng(f.x, f.y - down), { animate: !still, duration: 0.2 });
  }

  lookAt(f) {
    const size = this.map.getSize();
    const hidden = this.hiddenBelow();
    const r = f.radii[0] || 8;
    const aside = this.hiddenRight();
    const across = isPhone() ? Math.min(size.x * 0.6, (size.y - hidden) * 0.72) : Math.min(size.x - aside, size.y) * 0.3;
    const zoom = Math.min(7, Math.log2(across / (2 * r)));
    const scale = 2 ** zoom;
    this.map.setView(latLng(f.x + aside / 2 / scale, f.y - hidden / 2 / scale), zoom, { animate: false });
  }

  // --- choosing a float
  choose(f, { write = true, from = document.activeElement } = {}) {
    const opened = f && !this.look.chosen;
    this.look.chosen = f;
    this.look.hovered = null;
    this.node.classList.toggle('is-open', Boolean(f));
    this.list.showChosen(f);
    this.clearSpot();
    nameWhole(f ? 'map.close_float' : '');
    say('');
    if (!f) { this.shut(write); return; }
    if (opened && from && from !== document.body) this.cameFrom = from;
    closeMenus();
    this.listSheet.set(0);
    this.fill();
    this.panelSheet.set(0);
    this.map.invalidateSize({ animate: false, pan: false });
    this.lookAt(f);
    const hash = `#float=${encodeURIComponent(f.id)}`;
    // the first float makes one step back; going on from float to float makes none
    if (write && location.hash !== hash) history[opened ? 'pushState' : 'replaceState'](null, '', hash);
    this.panel.querySelector('h2').focus({ preventScroll: true });
    this.redraw();
  }

  shut(write) {
    this.map.invalidateSize({ animate: false, pan: false });
    if (write && location.hash.startsWith('#float=')) history.replaceState(null, '', location.pathname + location.search);
    const back = this.cameFrom;
    this.cameFrom = null;
    this.panel.replaceChildren();
    this.sheetMoved();
    if (back && back.isConnected && back.offsetParent) back.focus({ preventScroll: true });
    else byId('field').focus({ preventScroll: true });
    this.redraw();
  }

  fill() {
    const f = this.look.chosen;
    const scrolled = this.panel.scrollTop;
    const same = this.filled === f;
    fillPanel(this.panel, f, this.look, { phone: isPhone(), close: () => this.choose(null), step: () => this.stepPanel() });
    this.panel.scrollTop = same ? scrolled : 0;
    this.filled = f;
  }

  readAddress() {
    const found = /^#(float|lot)=(.*)$/s.exec(location.hash);
    if (!found) {
      if (this.look.chosen) this.choose(null, { write: false });
      return false;
    }
    const isLot = found[1] === 'lot';
    let name = found[2];
    try { name = decodeURIComponent(name); } catch { /* a stray percent sign: the text stands as it is */ }
    const named = isLot ? floatsOfLot(name) : [floatCalled(name)].filter(Boolean);
    if (named.length === 1) this.choose(named[0], { write: false });
    else {
      if (this.look.chosen) this.choose(null, { write: false });
      if (named.length) this.lookFor(words('list.lot', { lot: name }));
      else say(words(isLot ? 'map.no_lot' : 'map.no_float', { float: name, lot: name }));
    }
    return true;
  }

  // Several floats of one lot: the list shows them.
  lookFor(text) {
    this.list.find.value = text;
    this.list.fill();
    if (isPhone()) this.listSheet.set(1);
  }

  // --- pointing
  hover(f) {
    if (this.look.hovered === f) return;
    this.look.hovered = f;
    byId('field').classList.toggle('is-over', Boolean(f));
    this.redraw();
  }

  // The circle is the target, at least as large as a fingertip; of several the nearest primary.
  nearest(point, touch) {
    const camera = cameraOf(this.map);
    let best = null;
    for (const f of FLOATS) {
      const d = Math.hypot(f.x * camera.ppm + camera.left - point.x, camera.top - f.y * camera.ppm - point.y);
      if (d <= Math.max((f.radii[0] || 0) * camera.ppm, touch ? 24 : 22) && (!best || d < best.d)) best = { d, f };
    }
    return best && best.f;
  }

  clicked(point) {
    const many = this.joined.find((one) => one.count > 1 && Math.hypot(one.px - point.x, one.py - point.y) < 16);
    if (many) {
      this.map.setView(latLng(many.first.x, many.first.y), this.map.getZoom() + 2, { animate: false });
      return;
    }
    const f = this.nearest(point, isPhone());
    if (f) this.choose(f, { from: byId('field') });
    else this.tellDepth(this.map.containerPointToLatLng(point));
  }

  pointed(event) {
    this.hover(this.joined.length ? null : this.nearest(event.containerPoint, false));
    if (!this.look.spot) byId('pointer').textContent = depthWords(event.latlng.lng, event.latlng.lat);
  }

  // Where there is no pointer to follow: a tap marks its place and says how deep it is.
  tellDepth({ lng, lat }) {
    const told = depthWords(lng, lat);
    this.look.spot = told ? { x: lng, y: lat } : null;
    byId('pointer').textContent = told;
    this.redraw();
  }

  clearSpot() {
    this.look.spot = null;
    byId('pointer').textContent = '';
  }

  // --- lake level, sun, where one stands
  setLevel(level) {
    this.look.level = level;
    [...byId('levels').children].forEach((button, k) => button.setAttribute('aria-pressed', String(k === level)));
    byId('level-note').textContent = level === 0 ? '' : words('map.level', { level: DATA.levelWords[level] });
    if (this.look.chosen) this.fill();
    this.redraw();
  }

  setSun(on) {
    this.look.sun = on;
    document.documentElement.classList.toggle('sun', on);
    for (const button of document.querySelectorAll('[data-act="sun"]')) button.setAttribute('aria-pressed', String(on));
    if (this.look.chosen) this.fill();
    this.redraw();
  }

  locate() {
    if (!navigator.geolocation || !window.isSecureContext) {
      say(words('here.never'));
      return;
    }
    say(words('here.asking'));
    navigator.geolocation.getCurrentPosition(({ coords }) => {
      const [lat0, lon0, perLat, perLon] = DATA.geo;
      const here = { x: (coords.longitude - lon0) * perLon, y: (coords.latitude - lat0) * perLat, sure: coords.accuracy };
      this.look.here = here;
      const [west, south, east, north] = BOUNDS;
      const margin = Math.max(east - west, north - south) / 2;
      const isNear = here.x > west - margin && here.x < east + margin && here.y > south - margin && here.y < north + margin;
      const sure = `${Math.ceil(here.sure / DATA.unitM)} ${DATA.unit}`;
      say(isNear ? words('here.within', { far: sure }) : words('here.elsewhere'));
      if (isNear) this.jump(here);
      this.redraw();
    }, ({ code }) => say(words(code === 1 ? 'here.denied' : 'here.failed')), { enableHighAccuracy: true, timeout: 15000 });
  }
}

// As the style sheet has them: the reader's own size of letters counts.
const isBetween = () => window.matchMedia('(min-width: 37.5em) and (max-width: 62.4375em)').matches;
const isPhone = () => window.matchMedia('(max-width: 37.4375em)').matches;

// The folded list is as high as what it says.
const FOLDED = 108; // px, at least
let folded = FOLDED;
function foldedHeight() {
  const list = byId('list');
  if (list.dataset.stop !== '0' || !list.offsetHeight) return folded;
  const { top } = list.getBoundingClientRect();
  const parts = [...list.querySelectorAll('.first, .is-first')].filter((node) => node.offsetHeight);
  folded = Math.max(FOLDED, ...parts.map((node) => Math.ceil(node.getBoundingClientRect().bottom - top) + 12));
  return folded;
}

// Menus of a narrow screen: one at a time; the focus goes in, and back to what opened it.
const MENUS = { 'show-list': 'list', 'show-tools': 'tools', 'show-key': 'key' };
function setMenu(name, on) {
  byId('app').classList.toggle(name, on);
  for (const button of document.querySelectorAll(`[data-act="${MENUS[name]}"]`)) button.setAttribute('aria-expanded', String(on));
}
function closeMenus() { for (const name of Object.keys(MENUS)) setMenu(name, false); }

// With something chosen the phone's button for the whole lake closes it too.
function nameWhole(key) { byId('whole').setAttribute('aria-label', words(key && isPhone() ? key : 'map.whole')); }

function say(text) {
  byId('said').textContent = text;
  byId('message').hidden = !text;
}

// What lies over the map and must not be written under.
function cardBoxes(more = []) {
  const host = byId('map').getBoundingClientRect();
  return ['key', 'back', 'north', 'buttons', 'scale', 'message', 'level-note', 'panel', ...more].flatMap((id) => {
    const box = byId(id).getBoundingClientRect();
    if (!box.width || !byId(id).offsetParent) return [];
    return [[box.left - host.left - 6, box.top - host.top - 6, box.right - host.left + 6, box.bottom - host.top + 6]];
  });
}

// What the pointer or a tap says of its place; blank on land.
const HAND = document.createElement('canvas').getContext('2d');
function depthWords(x, y) {
  if (!HAND.isPointInPath(SCENE.water, x, y, 'evenodd')) return '';
  const depth = depthAt(x, y) ?? depthBeside(x, y);
  const figure = (Math.max(depth, 0) / DATA.unitM).toFixed(DATA.unit === 'm' ? 1 : 0);
  return depth === null ? words('map.no_depth_here') : words('map.depth', { depth: `${figure} ${DATA.unit}` });
}

// By the shore the nearest node of the coarse grid may be a dry one: the nearest wet one beside it.
function depthBeside(x, y) {
  const step = GRID ? GRID.step * CM : 0;
  const around = [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [1, -1], [-1, 1], [-1, -1]];
  const found = around.map(([i, j]) => depthAt(x + i * step * 0.7, y + j * step * 0.7)).filter((depth) => depth !== null);
  return found.length ? Math.min(...found) : null;
}

function paintSpot(b, spot) {
  const [px, py] = b.at(spot.x, spot.y);
  const ring = new Path2D();
  ring.arc(px, py, 9, 0, 7);
  ring.moveTo(px, py - 15);
  ring.lineTo(px, py - 4);
  ring.moveTo(px, py + 4);
  ring.lineTo(px, py + 15);
  b.stroke(ring, '#fff', 5);
  b.stroke(ring, b.palette.ink, 2);
}

function paintHere(b, here) {
  const [px, py] = b.at(here.x, here.y);
  const sure = b.circle(here.x, here.y, here.sure);
  b.fill(sure, b.palette.accent, 0.15);
  b.stroke(sure, '#fff', 4);
  b.stroke(sure, b.palette.accent, 1.6, [6, 4]);
  const dot = new Path2D();
  dot.arc(px, py, 7, 0, 7);
  b.stroke(dot, '#fff', 6);
  b.fill(dot, b.palette.accent);
}
