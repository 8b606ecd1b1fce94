// New sites: where a float may go and why not, drawn under the floats; numbered sites over them.
const SITES = {
  ...DATA.sites,
  allowedPath: pathOf(unpackRings(DATA.sites.allowed), true),
  closed: DATA.sites.closed.map((one) => ({ ...one, path: pathOf(unpackRings(one.area), true) })),
  sites: DATA.sites.sites.map((one) => ({ ...one, x: one.x * CM, y: one.y * CM, radii: [one.r * CM] })),
  further: DATA.sites.further.map(([x, y, r]) => ({ x: x * CM, y: y * CM, r: r * CM })),
};
const siteLook = { on: true, chosen: null, hovered: null };
const SQUARE = 18; // px, of a numbered primary
const RING = 3.4; // px, of a further float
const FURTHER_SCALE = 1.5; // px per foot from which further floats get their circles

function sitePattern(b, name) {
  const key = `site ${name}`;
  if (!b.tiles.has(key)) {
    const [size, lines] = SITES.patterns[name];
    const tile = document.createElement('canvas');
    tile.width = Math.round(size * b.scale);
    tile.height = tile.width;
    const c = tile.getContext('2d');
    const share = size / tile.width;
    c.scale(1 / share, 1 / share);
    c.strokeStyle = SITES.look.shut;
    c.lineWidth = 0.9 * b.bold;
    c.stroke(new Path2D(lines));
    const made = b.c.createPattern(tile, 'repeat');
    made.setTransform(new DOMMatrix([share, 0, 0, share, b.cam.left % size, b.cam.top % size]));
    b.tiles.set(key, made);
  }
  return b.tiles.get(key);
}

function paintWaters(b) {
  const { c } = b;
  c.save();
  c.clip(b.placed(SCENE.water), 'evenodd');
  for (const one of SITES.closed) {
    const path = b.placed(one.path);
    b.fill(path, sitePattern(b, one.name), 0.5);
  }
  const allowed = b.placed(SITES.allowedPath);
  c.lineJoin = 'round';
  b.fill(allowed, SITES.look.tint, SITES.look.veil);
  b.stroke(allowed, '#fff', 3.4 * b.bold);
  b.stroke(allowed, SITES.look.edge, 1.5 * b.bold);
  c.restore();
}

function paintFurther(b) {
  for (const one of SITES.further) {
    const [px, py] = b.at(one.x, one.y);
    if (!b.isSeen(px, py, one.r * b.cam.ppm)) continue;
    const ring = b.circle(one.x, one.y, (b.perFoot < MARK_SCALE ? RING * 0.7 : RING) / b.cam.ppm);
    b.c.globalAlpha = 0.75;
    if (b.perFoot >= FURTHER_SCALE) b.stroke(b.circle(one.x, one.y, one.r), SITES.look.edge, 0.8, [1, 4]);
    b.fill(ring, '#fff', 0.85);
    b.c.globalAlpha = 0.75;
    b.stroke(ring, SITES.look.edge, 1.1 * b.bold);
    b.c.globalAlpha = 1;
  }
}

// The best lies on top.
function paintSites(b) {
  for (const one of [...SITES.sites].reverse()) {
    const [px, py] = b.at(one.x, one.y);
    if (!b.isSeen(px, py, one.radii[0] * b.cam.ppm + SQUARE)) continue;
    const lit = one === siteLook.chosen || one === siteLook.hovered;
    const circle = b.circle(one.x, one.y, one.radii[0]);
    b.stroke(circle, '#fff', (lit ? 5 : 3) * b.bold);
    b.stroke(circle, lit ? b.palette.ink : SITES.look.edge, (lit ? 2 : 1.2) * b.bold, [5, 4]);
  }
  for (const one of [...SITES.sites].reverse()) {
    const [px, py] = b.at(one.x, one.y);
    const side = SQUARE + (String(one.rank).length > 2 ? 6 : 0);
    const square = new Path2D();
    square.rect(px - side / 2, py - SQUARE / 2, side, SQUARE);
    b.stroke(square, '#fff', 3.4);
    b.fill(square, one === siteLook.chosen ? b.palette.ink : SITES.look.edge);
    b.text(String(one.rank), px, py, { size: 11.5, weight: 700, colour: '#fff', halo: 0 });
  }
}

const paintLakeAlone = paintLake;
paintLake = (b) => {
  paintLakeAlone(b);
  if (!siteLook.on || b.look !== app.look) return; // not in a float's own small picture
  paintWaters(b);
  for (const one of SITES.sites) b.room.take(boxAt(...b.at(one.x, one.y), SQUARE + 4, SQUARE + 4));
};

App = class extends App {
  constructor() {
    super();
    const { place } = this.callouts;
    // conflicts keep their red rings; words over the water would hide what is asked for
    this.callouts.place = (b, options) => place.call(this.callouts, b, { ...options, show: options.show && !siteLook.on && !siteLook.chosen });
    this.makeList();
    window.addEventListener('resize', () => { if (siteLook.chosen) this.fillSite(); });
    document.addEventListener('keydown', (event) => this.escaped(event));
  }

  makeList() {
    const kinds = el('div', { class: 'kinds', role: 'group', 'aria-label': words('site.show') });
    this.kinds = [words('site.floats'), words('site.sites')].map((text, k) => {
      const button = el('button', { 'aria-pressed': 'false', text });
      button.addEventListener('click', () => this.showKind(k === 1));
      kinds.append(button);
      return button;
    });
    this.switch = el('input', { type: 'checkbox', checked: true });
    this.switch.addEventListener('change', () => this.showSites(this.switch.checked));
    const shown = el('label', { class: 'shown' }, this.switch, words('site.shown'));
    const open = el('button', { class: 'mine' }, icon('list'), words('site.see'));
    open.addEventListener('click', () => this.listSheet.set(2));
    const first = el('div', { class: 'sites-first is-first' }, el('div', {}, el('p', { class: 'headline', text: SITES.title }),
      el('p', { class: 'under' }, el('span', { class: 'onwide', text: SITES.brief }), el('span', { class: 'onphone', text: SITES.short }))), SITES.sites.length ? open : null);
    byId('list').querySelector('.first').after(first, kinds, shown);
    this.siteRows = SITES.sites.map((one) => this.siteRow(one));
    const rows = el('div', { class: 'rows site-rows', id: 'site-rows' }, ...this.siteRows,
      el('div', { class: 'site-about' }, ...SITES.about.map((text) => el('p', { text }))));
    rows.addEventListener('keydown', (event) => {
      const k = this.siteRows.indexOf(document.activeElement);
      const next = this.siteRows[k + ({ ArrowDown: 1, ArrowUp: -1 }[event.key] || 0)];
      if (k < 0 || !next || next === document.activeElement) return;
      event.preventDefault();
      next.focus();
    });
    byId('rows').after(rows);
    this.showKind(true);
  }

  siteRow(one) {
    const row = el('button', { class: 'row site-row' }, el('span', { class: 'rank' }, el('span', { class: 'vh', text: `${words('site.rank')} ` }), String(one.rank)),
      el('span', { class: 'say' }, el('b', { text: one.row[0] }), el('small', { text: words('site.limited', { thing: one.row[1] }) })),
      el('span', { class: 'of' }, el('small', { text: `${words('site.score')} ` }), one.score));
    row.addEventListener('click', () => this.chooseSite(one));
    for (const type of ['pointerenter', 'focus']) row.addEventListener(type, (event) => { if (event.pointerType !== 'touch') this.hoverSite(one); });
    for (const type of ['pointerleave', 'blur']) row.addEventListener(type, () => this.hoverSite(null));
    return row;
  }

  showKind(isSites) {
    this.kinds.forEach((button, k) => button.setAttribute('aria-pressed', String((k === 1) === isSites)));
    this.node.classList.toggle('on-sites', isSites);
    if (!isSites) this.list.drawMore();
  }

  showSites(on) {
    siteLook.on = on;
    this.switch.checked = on;
    this.node.classList.toggle('sites-off', !on);
    if (!on && siteLook.chosen) this.choose(null);
    this.redraw();
  }

  hoverSite(one) {
    if (siteLook.hovered === one) return;
    siteLook.hovered = one;
    this.redraw();
  }

  paint() {
    super.paint();
    if (!siteLook.on) return;
    const b = new Brush(this.canvas.getContext('2d'), cameraOf(this.map), this.look);
    paintFurther(b);
    paintSites(b);
  }

  open() {
    if (SITES.sites.length || SITES.allowed.length) this.showWhole();
    else super.open();
  }

  hiddenRight() { return isBetween() && siteLook.chosen ? this.panel.offsetWidth : super.hiddenRight(); }

  // --- one site
  chooseSite(one, { write = true } = {}) {
    const opened = !siteLook.chosen && !this.look.chosen;
    if (opened && document.activeElement !== document.body) this.cameFrom = document.activeElement;
    this.look.chosen = null;
    this.list.showChosen(null);
    siteLook.chosen = one;
    this.markRows();
    if (!siteLook.on) this.showSites(true);
    say('');
    closeMenus();
    this.node.classList.add('is-open');
    this.nameParts('site');
    this.listSheet.set(0);
    this.fillSite();
    this.panel.scrollTop = 0;
    this.panelSheet.set(0);
    this.map.invalidateSize({ animate: false, pan: false });
    this.lookAt(one);
    const hash = `#site=${one.rank}`;
    if (write && location.hash !== hash) history[opened ? 'pushState' : 'replaceState'](null, '', hash);
    this.panel.querySelector('h2').focus({ preventScroll: true });
    this.redraw();
  }

  choose(f, options = {}) {
    if (siteLook.chosen) {
      siteLook.chosen = null;
      this.markRows();
      if (options.write !== false && location.hash.startsWith('#site=')) history.replaceState(null, '', location.pathname + location.search);
    }
    this.nameParts('float');
    this.filled = null; // the panel may have held a site
    super.choose(f, options);
  }

  nameParts(what) {
    byId('back').setAttribute('aria-label', words(what === 'site' ? 'site.close_site' : 'map.close_float'));
    this.panel.setAttribute('aria-label', words(what === 'site' ? 'site.chosen_site' : 'map.chosen_float'));
  }

  markRows() {
    SITES.sites.forEach((one, k) => {
      if (one === siteLook.chosen) this.siteRows[k].setAttribute('aria-current', 'true');
      else this.siteRows[k].removeAttribute('aria-current');
    });
  }

  fillSite() {
    const one = siteLook.chosen;
    const shut = el('button', { class: 'shut', 'aria-label': words('site.close') }, icon('shut'));
    shut.addEventListener('click', () => this.choose(null));
    const parts = [
      el('div', { class: 'top' }, el('div', { class: 'named-site' }, el('span', { class: 'rank', 'aria-hidden': 'true', text: String(one.rank) }),
        el('h2', { text: words('site.title', { rank: one.rank }), tabindex: '-1' })), shut),
      el('p', { class: 'site-says', text: one.says }),
      el('div', { class: 'tiles' }, ...one.tiles.map(([name, value]) => el('div', {}, el('small', { text: name }), el('b', { text: value })))),
      el('h3', { text: words('site.place') }), pairs(one.rows),
      el('h3', {}, words('site.score_title'), ' ', el('small', { text: words('site.score_parts') })), scoreTable(one),
      el('p', { class: 'note', text: SITES.about[0] }),
    ];
    this.panel.replaceChildren(...(isPhone() ? [panelHandle(() => this.stepPanel())] : []), el('div', { class: 'inside' }, ...parts));
  }

  readAddress() {
    const found = /^#site=(\d+)$/.exec(location.hash);
    if (!found) {
      if (siteLook.chosen && !location.hash.startsWith('#float=')) this.choose(null, { write: false });
      super.readAddress();
      return true; // a page about new sites opens on the lake, not on its only float
    }
    const one = SITES.sites.find((site) => String(site.rank) === found[1]);
    if (one) this.chooseSite(one, { write: false });
    else say(words('site.no_site', { rank: found[1] }));
    return true;
  }

  // --- pointing
  siteNear(point, touch) {
    if (!siteLook.on) return null;
    const camera = cameraOf(this.map);
    const far = (one) => Math.hypot(one.x * camera.ppm + camera.left - point.x, camera.top - one.y * camera.ppm - point.y);
    const within = SITES.sites.filter((one) => far(one) <= Math.max(one.radii[0] * camera.ppm, touch ? 24 : 22));
    const best = within.reduce((a, one) => (!a || far(one) < far(a) ? one : a), null);
    const f = this.joined.length ? null : this.nearest(point, touch);
    return best && (!f || far(best) < far(f)) ? best : null;
  }

  clicked(point) {
    const one = this.siteNear(point, isPhone());
    if (one) this.chooseSite(one);
    else super.clicked(point);
  }

  pointed(event) {
    super.pointed(event);
    const one = this.siteNear(event.containerPoint, false);
    this.hoverSite(one);
    if (one) this.hover(null);
    byId('field').classList.toggle('is-over', Boolean(one || this.look.hovered));
  }

  escaped(event) {
    const menu = ['show-tools', 'show-key'].some((name) => this.node.classList.contains(name));
    if (event.key !== 'Escape' || !siteLook.chosen || menu) return;
    event.stopImmediatePropagation();
    this.choose(null);
  }
};

function scoreTable(one) {
  const rows = one.parts.map(([name, what, value, weight, share]) => el('tr', {},
    el('td', { class: 'what' }, el('b', { text: capital(name) }), el('small', { text: what })),
    el('td', { class: 'bar' }, scoreBar(share)), el('td', { class: 'figure', text: value }), el('td', { class: 'weight', text: `× ${weight}` })));
  rows.push(el('tr', { class: 'total' }, el('td', { text: words('site.score_title') }), el('td'), el('td', { class: 'figure', text: one.score }), el('td')));
  return el('table', { class: 'score' }, el('tbody', {}, ...rows));
}

function scoreBar(share) {
  return svg('svg', { viewBox: '0 0 84 12', width: 84, height: 12, 'aria-hidden': 'true' },
    svg('rect', { x: 0.5, y: 1.5, width: 83, height: 9, fill: '#fff', stroke: '#6F8089' }),
    svg('rect', { x: 0.5, y: 1.5, width: Math.max(83 * share, 1), height: 9, fill: '#7BABC9', stroke: '#1D4A63' }));
}
