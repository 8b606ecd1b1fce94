// The page: map, list and panel, and how they answer each other.
class App {
  constructor() {
    this.look = { level: 0, chosen: null, hovered: null, sun: false, here: null, cards: [], covered: 0 };
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
      stops: [() => 108, (room) => room * 0.6, (room) => room], isOn: isPhone, onMove: () => this.redraw(),
    });
    this.panelSheet = new Sheet(this.panel, {
      stops: [(room) => room * 0.6, (room) => room], isOn: isPhone, onShut: () => this.choose(null),
    });
    this.callouts = new Callouts(byId('map'), (f) => this.choose(f), (f) => this.jump(f));
    this.map.on('move zoom resize viewreset', () => this.redraw());
    this.map.on('click', (event) => this.clicked(event.containerPoint));
    this.map.on('mousemove', (event) => this.pointed(event));
    this.map.on('mouseout', () => { this.hover(null); byId('pointer').textContent = ''; });
  }

  redraw() {
    if (!this.asked) this.asked = requestAnimationFrame(() => this.paint());
  }

  paint() {
    this.asked = 0;
    const camera = cameraOf(this.map);
    const bottom = camera.height - this.hiddenBelow();
    // the scale first: it moves with the phone's sheet, and nothing may be written under it
    byId('scale').style.bottom = isPhone() ? `${Math.min(camera.height - bottom, camera.height * 0.7) + 10}px` : '';
    byId('scale').replaceChildren(scaleBar(camera.ppm, isPhone() ? 90 : SCALE_ROOM));
    this.look.cards = cardBoxes();
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
    } else {
      const seen = seenFloats(b);
      paintNames(b, seen);
      paintFloats(b, seen);
      paintLengths(b, bars);
    }
    this.callouts.paint(b);
    if (this.look.here) paintHere(b, this.look.here);
  }

  // How much of the map the phone's sheet covers.
  hiddenBelow() {
    if (!isPhone()) return 0;
    return this.look.chosen ? this.panel.offsetHeight : Math.min(byId('list').offsetHeight, 108);
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
    say('');
    if (!f) { this.shut(write); return; }
    if (opened && from && from !== document.body) this.cameFrom = from;
    this.node.classList.remove('show-list', 'show-tools', 'show-key');
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
    if (back && back.isConnected && back.offsetParent) back.focus({ preventScroll: true });
    else byId('field').focus({ preventScroll: true });
    this.redraw();
  }

  fill() {
    const f = this.look.chosen;
    const scrolled = this.panel.scrollTop;
    const same = this.filled === f;
    fillPanel(this.panel, f, this.look, { phone: isPhone(), close: () => this.choose(null) });
    this.panel.scrollTop = same ? scrolled : 0;
    this.filled = f;
  }

  readAddress() {
    const found = /^#float=(.*)$/s.exec(location.hash);
    if (!found) {
      if (this.look.chosen) this.choose(null, { write: false });
      return false;
    }
    let id = found[1];
    try { id = decodeURIComponent(id); } catch { /* a stray percent sign: the text stands as it is */ }
    const f = BY_ID.get(id) || FLOATS.find((one) => one.id.toLowerCase() === id.trim().toLowerCase());
    if (f) this.choose(f, { write: false });
    else {
      if (this.look.chosen) this.choose(null, { write: false });
      say(`There is no float “${id}” on this map.`);
    }
    return true;
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
  }

  pointed(event) {
    this.hover(this.joined.length ? null : this.nearest(event.containerPoint, false));
    const depth = depthAt(event.latlng.lng, event.latlng.lat);
    const figure = depth === null ? '' : (Math.max(depth, 0) / DATA.unitM).toFixed(DATA.unit === 'm' ? 1 : 0);
    byId('pointer').textContent = figure && `about ${figure} ${DATA.unit} deep here at normal level`;
  }

  // --- lake level, sun, where one stands
  setLevel(level) {
    this.look.level = level;
    [...byId('levels').children].forEach((button, k) => button.setAttribute('aria-pressed', String(k === level)));
    byId('level-note').textContent = level === 0 ? '' : `Circles at ${DATA.levelWords[level]}. Verdicts stay those of the lowest water.`;
    if (this.look.chosen) this.fill();
    this.redraw();
  }

  setSun(on) {
    this.look.sun = on;
    document.documentElement.classList.toggle('sun', on);
    byId('sun').setAttribute('aria-pressed', String(on));
    if (this.look.chosen) this.fill();
    this.redraw();
  }

  locate() {
    if (!navigator.geolocation || !window.isSecureContext) {
      say('This browser gives no position to a page opened from a file. Open the map from a web address, or find your float by its number.');
      return;
    }
    say('Asking for your position …');
    navigator.geolocation.getCurrentPosition(({ coords }) => {
      const [lat0, lon0, perLat, perLon] = DATA.geo;
      const here = { x: (coords.longitude - lon0) * perLon, y: (coords.latitude - lat0) * perLat, sure: coords.accuracy };
      this.look.here = here;
      const [west, south, east, north] = BOUNDS;
      const margin = Math.max(east - west, north - south) / 2;
      const isNear = here.x > west - margin && here.x < east + margin && here.y > south - margin && here.y < north + margin;
      const sure = `${Math.ceil(here.sure / DATA.unitM)} ${DATA.unit}`;
      say(isNear ? `You are within ${sure} of the dot.` : 'You are not at this lake.');
      if (isNear) this.jump(here);
      this.redraw();
    }, () => say('No position could be had. Look for your float by its number.'), { enableHighAccuracy: true, timeout: 15000 });
  }
}

const isBetween = () => window.matchMedia('(min-width: 600px) and (max-width: 999px)').matches;
const isPhone = () => window.matchMedia('(max-width: 599px)').matches;

function say(words) {
  byId('said').textContent = words;
  byId('message').hidden = !words;
}

// What lies over the map and must not be written under.
function cardBoxes() {
  const host = byId('map').getBoundingClientRect();
  return ['key', 'back', 'north', 'buttons', 'scale', 'message', 'level-note', 'panel'].flatMap((id) => {
    const box = byId(id).getBoundingClientRect();
    if (!box.width || !byId(id).offsetParent) return [];
    return [[box.left - host.left - 6, box.top - host.top - 6, box.right - host.left + 6, box.bottom - host.top + 6]];
  });
}

function paintHere(b, here) {
  const [px, py] = b.at(here.x, here.y);
  b.fill(b.circle(here.x, here.y, here.sure), b.palette.accent, 0.15);
  const dot = new Path2D();
  dot.arc(px, py, 7, 0, 7);
  b.stroke(dot, '#fff', 6);
  b.fill(dot, b.palette.accent);
}
