'use strict';
// The page: map, list, panel, and how they answer each other.
(function start() {
  const $ = (id) => document.getElementById(id);
  document.documentElement.classList.add('scripted');
  const app = $('app'), panel = $('panel'), rowsBox = $('rows'), find = $('find'), list = $('list');
  const phone = () => window.matchMedia('(max-width: 599px)').matches;
  const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  const view = { level: 0, chosen: null, hovered: null, sun: false, here: null, filter: null };

  // --- the map: plain metres, one canvas redrawn at every move
  const map = L.map('field', { crs: L.CRS.Simple, zoomControl: false, attributionControl: false, zoomSnap: 0.25, zoomDelta: 0.5,
    wheelPxPerZoomLevel: 100, zoomAnimation: false, fadeAnimation: false, markerZoomAnimation: false, inertia: !still, maxZoom: 7,
    minZoom: -8, keyboard: true, doubleClickZoom: true });
  const at = (x, y) => L.latLng(y, x);
  view.toPixel = (x, y) => { const p = map.latLngToContainerPoint(at(x, y)); return [p.x, p.y]; };
  view.pixelsPerMetre = () => map.options.crs.scale(map.getZoom());
  const drawing = new Drawing(view);
  const canvas = el('canvas', { 'aria-hidden': 'true' });
  canvas.style.position = 'absolute'; canvas.style.pointerEvents = 'none';
  $('field').append(canvas);
  let asked = 0;
  function paint() {
    asked = 0;
    const size = map.getSize(), scale = window.devicePixelRatio || 1;
    if (canvas.width !== Math.round(size.x * scale) || canvas.height !== Math.round(size.y * scale)) {
      canvas.width = Math.round(size.x * scale); canvas.height = Math.round(size.y * scale);
      canvas.style.width = `${size.x}px`; canvas.style.height = `${size.y}px`; canvas.style.zIndex = 400;
    }
    const context = canvas.getContext('2d');
    context.setTransform(scale, 0, 0, scale, 0, 0);
    drawing.begin(context, size.x, size.y);
    drawing.all();
    scaleBar(); placeCalls();
  }
  const redraw = () => { if (!asked) asked = requestAnimationFrame(paint); };
  map.on('move zoom resize viewreset', redraw);
  const [w, s, e, n] = DATA.bounds.map((v) => v * M);
  const whole = L.latLngBounds(at(w, s), at(e, n));
  // the lake keeps clear of the key, the buttons and the folded sheet
  function padded() {
    if (phone()) return { paddingTopLeft: [10, 60], paddingBottomRight: [10, 120] };
    const key = $('key'), left = key.offsetParent && !key.classList.contains('is-folded') ? key.offsetWidth + 30 : 24;
    return { paddingTopLeft: [map.getSize().x > 700 ? left : 24, 46], paddingBottomRight: [70, 70] };
  }
  function fitWhole() { map.fitBounds(whole, { animate: false, ...padded() }); }
  function opening() {
    map.invalidateSize({ animate: false });
    fitWhole();
    const worst = ORDER.find((f) => f.verdict === 'conflict') || ORDER[0];
    const biggest = Math.max(...FLOATS.map((f) => f.radii[0] || 0), 1);
    if (phone() && worst && biggest * 2 * view.pixelsPerMetre() < 26 && FLOATS.length < 400) {
      const zoom = Math.ceil((Math.log2(26 / (biggest * 2)) + 0.25) * 4) / 4, half = map.getSize().divideBy(2 * map.options.crs.scale(zoom));
      // as near the worst conflict as leaves no more land in the picture than it must
      const within = (v, low, high, room) => (high - low < 2 * room ? (low + high) / 2 : Math.min(Math.max(v, low + room - 8), high - room + 8));
      map.setView(at(within(worst.px, w, e, half.x), within(worst.py, s, n, half.y) - half.y * 0.1), zoom, { animate: false });
    }
  }
  $('whole').addEventListener('click', fitWhole);
  $('back').addEventListener('click', () => { choose(null); fitWhole(); });
  $('nearer').addEventListener('click', () => map.zoomIn(0.5)); $('farther').addEventListener('click', () => map.zoomOut(0.5));

  // --- callouts: the worst conflicts by name, on land or empty water, never over a float
  const calls = [];
  const pairSeen = new Set();
  for (const f of ORDER) {
    if (f.verdict !== 'conflict' || calls.length >= (phone() ? 2 : 6)) continue;
    const worst = f.clear.find((one) => one.state === 'conflict');
    const pair = worst && worst.kind === 'float' ? [f.id, worst.against].sort().join(' ') : null;
    if (pair && pairSeen.has(pair)) continue;
    if (pair) pairSeen.add(pair);
    const title = pair ? `floats ${f.id} and ${worst.against}` : `float ${f.id}${f.lot ? `, lot ${f.lot}` : ''}`;
    const says = pair && worst.gap < 0 ? `Circles ${worst.pill}` : pair ? `${worst.detail}` : f.says.replace(/\.$/, '').replace(/ at low water$/, '');
    const node = el('button', { class: 'call', onclick: () => choose(f), 'aria-label': `${title}: ${says}` }, el('b', {}, mark('conflict'), title), says);
    $('map').append(node); calls.push({ f, node });
  }
  const onLand = (x, y) => { const g = DATA.grid; if (!g) return false; const c = Math.round((x / M - g.x0) / g.step), r = Math.round((y / M - g.y0) / g.step);
    if (c < 0 || r < 0 || c >= g.columns || r * g.columns + c >= g.depth.length) return true; return g.depth[r * g.columns + c] === -9999; };
  function placeCalls() {
    const size = map.getSize(), show = !view.chosen && FLOATS.length < 400;
    const taken = [];
    for (const id of ['key', 'scale', 'north', 'buttons']) { const b = $(id); if (b && b.offsetParent) taken.push([b.offsetLeft - 6, b.offsetTop - 6, b.offsetLeft + b.offsetWidth + 6, b.offsetTop + b.offsetHeight + 6]); }
    if (phone()) taken.push([0, size.y - 112, size.x, size.y]);
    const rings = FLOATS.filter((f) => f.verdict !== 'retired').map((f) => { const [x, y] = view.toPixel(f.px, f.py); return [x, y, (f.radii[0] || 3) * view.pixelsPerMetre() + 4]; });
    const context = canvas.getContext('2d');
    for (const { f, node } of calls) {
      const [fx, fy] = view.toPixel(f.px, f.py), r = (f.radii[0] || 3) * view.pixelsPerMetre();
      const off = fx < -10 || fy < -10 || fx > size.x + 10 || fy > size.y + 10 || r > 90;
      node.style.display = show && !off ? 'block' : 'none';
      if (!show || off) continue;
      const bw = node.offsetWidth, bh = node.offsetHeight;
      let best = null;
      for (let k = 0; k < 24; k++) for (const far of [26, 60, 100, 150]) {
        const a = (k / 24) * 2 * Math.PI, cx = fx + Math.cos(a) * (r + far + bw / 2 * Math.abs(Math.cos(a))), cy = fy + Math.sin(a) * (r + far + bh / 2);
        const box = [cx - bw / 2, cy - bh / 2, cx + bw / 2, cy + bh / 2];
        if (box[0] < 4 || box[1] < 4 || box[2] > size.x - 4 || box[3] > size.y - 4) continue;
        if (taken.some((t) => t[0] < box[2] && t[2] > box[0] && t[1] < box[3] && t[3] > box[1])) continue;
        let cost = far * 0.6;
        for (const [x, y, rr] of rings) {
          const dx = Math.max(box[0] - x, 0, x - box[2]), dy = Math.max(box[1] - y, 0, y - box[3]);
          if (Math.hypot(dx, dy) < rr) cost += 400;
        }
        const ll = map.containerPointToLatLng([cx, cy]);
        if (!onLand(ll.lng, ll.lat)) cost += 60;
        if (!best || cost < best.cost) best = { cost, box, cx, cy };
      }
      if (!best) { node.style.display = 'none'; continue; }
      node.style.left = `${best.box[0]}px`; node.style.top = `${best.box[1]}px`;
      taken.push(best.box);
      const d = Math.hypot(best.cx - fx, best.cy - fy) || 1, ex = fx + ((best.cx - fx) / d) * r, ey = fy + ((best.cy - fy) / d) * r;
      context.beginPath(); context.moveTo(ex, ey); context.lineTo(best.cx, best.cy); context.strokeStyle = drawing.palette.conflict; context.lineWidth = 1.6; context.stroke();
      context.beginPath(); context.arc(ex, ey, 3.2, 0, 7); context.fillStyle = drawing.palette.conflict; context.fill();
    }
    edgeTabs(size, show);
  }
  // on a phone: tabs at the edge name the conflicts that lie off the screen
  const tabs = ['left', 'right', 'top', 'bottom'].map((side) => { const node = el('button', { class: 'edge-tab' }); node.style.display = 'none'; $('map').append(node); return { side, node, first: null }; });
  for (const tab of tabs) tab.node.addEventListener('click', () => { if (tab.first) map.setView(at(tab.first.px, tab.first.py), map.getZoom(), { animate: !still, duration: 0.2 }); });
  function edgeTabs(size, show) {
    const bottom = phone() ? size.y - 112 : size.y;
    for (const tab of tabs) { tab.first = null; tab.ids = []; }
    if (show) for (const f of ORDER) {
      if (f.verdict !== 'conflict') continue;
      const [x, y] = view.toPixel(f.px, f.py);
      if (x >= 0 && x <= size.x && y >= 0 && y <= bottom) continue;
      const side = x < 0 ? 'left' : x > size.x ? 'right' : y < 0 ? 'top' : 'bottom';
      const tab = tabs.find((t) => t.side === side);
      tab.ids.push(f.id); tab.first = tab.first || f;
    }
    for (const tab of tabs) {
      const node = tab.node; node.style.display = tab.ids && tab.ids.length ? 'block' : 'none';
      if (!tab.ids.length) continue;
      const shown = tab.ids.slice(0, 3).join(', ') + (tab.ids.length > 3 ? ` and ${tab.ids.length - 3}` : '');
      const arrow = { left: '‹ ', right: '', top: '', bottom: '' }[tab.side];
      node.textContent = `${arrow}${shown}${tab.side === 'right' ? ' ›' : tab.side === 'top' ? ' ↑' : tab.side === 'bottom' ? ' ↓' : ''}`;
      node.setAttribute('aria-label', `Conflicts off the ${tab.side} edge: floats ${tab.ids.join(', ')}`);
      node.style.left = tab.side === 'left' ? '0' : tab.side === 'right' ? 'auto' : '50%';
      node.style.right = tab.side === 'right' ? '0' : 'auto';
      node.style.top = tab.side === 'top' ? '8px' : tab.side === 'bottom' ? `${bottom - 50}px` : '45%';
    }
  }

  function scaleBar() {
    const ppm = view.pixelsPerMetre(), nice = (limit) => { const p = 10 ** Math.floor(Math.log10(limit)); return [5, 2, 1].map((k) => k * p).find((v) => v <= limit) || p; };
    const feet = nice(150 / (ppm * 0.3048)), metres = nice(150 / ppm);
    const fw = feet * 0.3048 * ppm, mw = metres * ppm;
    const bar = svg('svg', { width: Math.max(fw, mw) + 60, height: 36, role: 'img', 'aria-label': `Scale: ${feet} ft, ${metres} m` });
    const words = (x, y, t) => { const node = svg('text', { x, y, 'font-size': 11, fill: '#12232E' }); node.textContent = t; bar.append(node); };
    bar.append(svg('rect', { x: 1, y: 13, width: fw / 2, height: 4, fill: '#12232E' }), svg('rect', { x: 1 + fw / 2, y: 13, width: fw / 2, height: 4, fill: '#fff', stroke: '#12232E' }),
      svg('path', { d: `M1 21H${1 + mw}M1 18V24M${1 + mw} 18V24`, stroke: '#12232E', fill: 'none' }));
    words(1, 9, '0'); words(fw + 5, 17, `${feet} ft`); words(mw + 5, 28, `${metres} m`);
    $('scale').replaceChildren(bar);
  }

  // --- the list
  let shownRows = [];
  const LIMIT = 400;
  function fillList() {
    const text = find.value.trim().toLowerCase();
    rowsBox.replaceChildren(); shownRows = [];
    if (!FLOATS.length) { rowsBox.append(el('p', { class: 'group', text: 'No floats yet. Add rows to the floats file.' })); return; }
    for (const [verdict, title] of DATA.groups) {
      if (view.filter && view.filter !== verdict) continue;
      const members = ORDER.filter((f) => f.verdict === verdict && (!text || f.id.toLowerCase().includes(text) || `lot ${f.lot}`.toLowerCase().includes(text) || (f.private || []).some(([, v]) => v.toLowerCase().includes(text))));
      if (!members.length) continue;
      rowsBox.append(el('div', { class: 'group' }, el('span', { text: title }), el('span', { text: members.length })));
      const cut = !text && !view.filter && members.length > LIMIT ? 0 : Math.min(members.length, LIMIT);
      for (const f of members.slice(0, cut)) {
        const under = [f.lot ? `lot ${f.lot}` : '', f.status === 'proposed' ? 'proposed' : ''].filter(Boolean).join(' · ');
        const row = el('button', { class: `row is-${f.verdict}`, 'data-id': f.id, 'aria-current': view.chosen === f ? 'true' : 'false' },
          el('span', { class: `v-${f.verdict}` }, mark(f.verdict), el('span', { class: 'vh', text: WORDS[f.verdict] })),
          el('span', { class: `num ${f.verdict === 'conflict' ? 'v-conflict' : ''}`, text: f.id }),
          el('span', { class: 'say' }, f.says, el('small', { text: under })));
        row.addEventListener('click', () => choose(f));
        row.addEventListener('pointerenter', () => hover(f)); row.addEventListener('pointerleave', () => hover(null));
        row.addEventListener('focus', () => hover(f)); row.addEventListener('blur', () => hover(null));
        rowsBox.append(row); shownRows.push(row);
      }
      if (cut < members.length) rowsBox.append(el('p', { class: 'group', text: `${(members.length - cut).toLocaleString('en')} more; write a number or a lot above` }));
    }
    if (!shownRows.length && text) rowsBox.append(el('p', { class: 'group', role: 'status', text: `No float or lot is called “${find.value.trim()}”.` }));
  }
  function hover(f) { if (view.hovered !== f) { view.hovered = f; redraw(); } }
  for (const verdict of ['conflict', 'tight', 'unknown', 'clear']) {
    const button = el('button', { class: `v-${verdict}`, 'aria-pressed': 'false' }, mark(verdict), `${DATA.counts[verdict]} ${verdict}`);
    button.addEventListener('click', () => {
      view.filter = view.filter === verdict ? null : verdict;
      for (const other of $('counts').children) other.setAttribute('aria-pressed', String(other === button && view.filter !== null));
      fillList();
    });
    $('counts').append(button);
  }
  find.addEventListener('input', fillList);
  find.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' && shownRows.length) { const exact = shownRows.find((r) => r.dataset.id.toLowerCase() === find.value.trim().toLowerCase()); choose(BY_ID.get((exact || shownRows[0]).dataset.id)); }
    if (event.key === 'ArrowDown' && shownRows.length) { shownRows[0].focus(); event.preventDefault(); }
  });
  rowsBox.addEventListener('keydown', (event) => {
    const k = shownRows.indexOf(document.activeElement);
    const to = event.key === 'ArrowDown' ? k + 1 : event.key === 'ArrowUp' ? k - 1 : -2;
    if (k >= 0 && shownRows[to]) { shownRows[to].focus(); event.preventDefault(); }
  });

  // --- choosing a float
  let cameFrom = null;
  function choose(f, { write = true } = {}) {
    view.chosen = f;
    app.classList.toggle('is-open', Boolean(f));
    for (const row of shownRows) row.setAttribute('aria-current', String(Boolean(f) && row.dataset.id === f.id));
    if (!f) {
      panel.classList.remove('is-full');
      map.invalidateSize({ animate: false }); redraw();
      if (write && location.hash.startsWith('#float=')) history.pushState(null, '', location.pathname + location.search);
      if (cameFrom && cameFrom.isConnected) cameFrom.focus();
      cameFrom = null;
      return;
    }
    if (document.activeElement && document.activeElement !== document.body) cameFrom = document.activeElement;
    list.classList.remove('is-half', 'is-full'); app.classList.remove('show-list');
    fillPanel(panel, f, view.level, () => choose(null));
    map.invalidateSize({ animate: false });
    const size = map.getSize(), r = f.radii[0] || 8;
    const room = phone() ? Math.min(size.x, size.y * 0.4) : Math.min(size.x, size.y);
    const zoom = Math.min(7, Math.round(Math.log2((room * (phone() ? 0.6 : 0.34)) / (2 * r)) * 4) / 4);
    map.setView(at(f.px, f.py), zoom, { animate: false });
    if (phone()) map.panBy([0, size.y * 0.3], { animate: false });
    const hash = `#float=${encodeURIComponent(f.id)}`;
    if (write && location.hash !== hash) history.pushState(null, '', hash);
    panel.querySelector('h2').focus({ preventScroll: true });
    redraw();
  }
  function readHash() {
    const found = /^#float=(.*)$/.exec(location.hash);
    $('missing').hidden = true;
    if (!found) { if (view.chosen) choose(null, { write: false }); return; }
    let id = found[1];
    try { id = decodeURIComponent(id); } catch { /* a stray percent sign: take it as it stands */ }
    const f = BY_ID.get(id) || FLOATS.find((one) => one.id.toLowerCase() === id.toLowerCase());
    if (f) choose(f, { write: false });
    else { $('missing').textContent = `There is no float “${id}” on this map.`; $('missing').hidden = false; }
  }
  window.addEventListener('hashchange', readHash); window.addEventListener('popstate', readHash);
  function nearest(point) {
    let best = null;
    for (const f of FLOATS) {
      const [x, y] = view.toPixel(f.px, f.py), d = Math.hypot(x - point.x, y - point.y);
      const reach = Math.max((f.radii[0] || 0) * view.pixelsPerMetre(), phone() ? 24 : 22);
      if (d <= reach && (!best || d < best.d)) best = { d, f };
    }
    return best ? best.f : null;
  }
  map.on('click', (event) => { const f = nearest(event.containerPoint); if (f) choose(f); });
  map.on('mousemove', (event) => {
    hover(nearest(event.containerPoint));
    const g = DATA.grid, x = event.latlng.lng, y = event.latlng.lat;
    let words = '';
    if (g) {
      const c = Math.round((x / M - g.x0) / g.step), r = Math.round((y / M - g.y0) / g.step), v = g.depth[r * g.columns + c];
      if (c >= 0 && c < g.columns && v !== undefined && v !== -9999) words = `about ${(v * M / DATA.unitM).toFixed(DATA.unit === 'm' ? 1 : 0)} ${DATA.unit} deep here, normal level`;
    }
    $('pointer').textContent = words;
  });
  map.on('mouseout', () => { hover(null); $('pointer').textContent = ''; });

  // --- level, sun, print, where am I
  const levelButtons = [...$('levels').children];
  levelButtons.forEach((button, k) => button.addEventListener('click', () => {
    view.level = k; levelButtons.forEach((other, j) => other.setAttribute('aria-pressed', String(j === k)));
    $('sub').textContent = k === 0 ? DATA.subtitle : `Circles at ${DATA.levels[k].toLowerCase()}; verdicts stay those of the lowest water`;
    if (view.chosen) fillPanel(panel, view.chosen, k, () => choose(null));
    redraw();
  }));
  $('sun').addEventListener('click', () => { view.sun = !view.sun; document.documentElement.classList.toggle('sun', view.sun); $('sun').setAttribute('aria-pressed', String(view.sun)); redraw(); });
  $('print').addEventListener('click', () => window.print());
  if (DATA.geo) $('where').addEventListener('click', locate);
  function locate() {
    const say = (words) => { $('missing').textContent = words; $('missing').hidden = false; };
    if (!navigator.geolocation || !window.isSecureContext) { say('This browser gives a page opened from a file no position. Open the map from a web address, or look for your float by its number.'); return; }
    navigator.geolocation.getCurrentPosition((found) => {
      const { latitude, longitude, accuracy } = found.coords, [lat0, lon0, perLat, perLon] = DATA.geo;
      view.here = { x: (longitude - lon0) * perLon, y: (latitude - lat0) * perLat, sure: accuracy };
      if (!whole.pad(0.5).contains(at(view.here.x, view.here.y))) say('You are not at this lake.');
      else map.setView(at(view.here.x, view.here.y), map.getZoom(), { animate: false });
      redraw();
    }, () => say('No position could be had.'), { enableHighAccuracy: true, timeout: 15000 });
  }

  // --- key, sheet, keyboard
  $('fold').addEventListener('click', () => { const folded = $('key').classList.toggle('is-folded'); $('fold').setAttribute('aria-expanded', String(!folded)); $('fold').lastChild.textContent = folded ? '▾' : '▴'; redraw(); });
  $('menu').addEventListener('click', () => app.classList.toggle('show-list'));
  $('keyButton').addEventListener('click', () => app.classList.toggle('show-key'));
  const steps = ['', 'is-half', 'is-full'];
  const setSheet = (k) => { list.classList.remove('is-half', 'is-full'); if (steps[k]) list.classList.add(steps[k]); };
  $('handle').addEventListener('click', () => setSheet(list.classList.contains('is-full') ? 0 : list.classList.contains('is-half') ? 2 : 1));
  let dragFrom = null;
  $('handle').addEventListener('touchstart', (event) => { dragFrom = event.touches[0].clientY; }, { passive: true });
  $('handle').addEventListener('touchend', (event) => {
    const by = event.changedTouches[0].clientY - dragFrom;
    if (Math.abs(by) < 24) return;
    event.preventDefault();
    const now = list.classList.contains('is-full') ? 2 : list.classList.contains('is-half') ? 1 : 0;
    setSheet(Math.min(2, Math.max(0, now + (by < 0 ? 1 : -1))));
  });
  $('mine').addEventListener('click', () => { setSheet(2); find.focus(); });
  document.addEventListener('keydown', (event) => {
    const typing = /INPUT|TEXTAREA/.test(document.activeElement.tagName);
    if (event.key === '/' && !typing) { app.classList.add('show-list'); find.focus(); event.preventDefault(); }
    if (event.key === 'Escape') { if (view.chosen) choose(null); else if (typing) { find.value = ''; fillList(); find.blur(); } setSheet(0); }
    if (!typing && (event.key === '+' || event.key === '=')) map.zoomIn(0.5);
    if (!typing && event.key === '-') map.zoomOut(0.5);
  });
  window.addEventListener('resize', () => { map.invalidateSize({ animate: false }); redraw(); });

  fillList();
  opening();
  if (FLOATS.length === 1 && !location.hash) choose(FLOATS[0], { write: false }); else readHash();
  redraw();
  window.lakemapReady = true;
}());
