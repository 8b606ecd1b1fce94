'use strict';
// The panel of one float: verdict, clearances worst first, side view, rig, cautions.
function clearanceBar(one) {
  const node = svg('svg', { viewBox: '0 0 96 16', width: 96, height: 16, 'aria-hidden': 'true' });
  node.append(svg('path', { d: 'M2 8H94', stroke: '#C8CED2', 'stroke-width': 2 }));
  if (one.bar !== null) {
    const full = 30 * DATA.unitM / (DATA.unit === 'm' ? 3 : 1);
    const run = Math.max(-32, Math.min(58, (one.bar / full) * 58));
    const fill = one.state === 'conflict' ? '#B3200C' : one.state === 'tight' ? '#FFC44A' : '#7BABC9';
    node.append(svg('rect', { x: run < 0 ? 34 + run : 34, y: 3, width: Math.max(Math.abs(run), 1.5), height: 10, rx: 2, fill,
      stroke: one.state === 'conflict' ? '#B3200C' : '#1D4A63', 'stroke-width': 1 }));
  }
  node.append(svg('path', { d: 'M34 1V15', stroke: '#12232E', 'stroke-width': 1.6 }));
  return node;
}
function clearanceRow(one) {
  const word = { conflict: 'conflict', tight: 'tight', clear: 'clear', none: 'nothing asked' }[one.state];
  const small = [one.detail, one.state === 'tight' ? `known to ${one.sure} only` : ''].filter(Boolean).join(' · ');
  return el('tr', {},
    el('td', { class: `m v-${one.state === 'none' ? 'retired' : one.state}` }, mark(one.state === 'none' ? 'retired' : one.state), el('span', { class: 'vh', text: word })),
    el('td', { class: 'what' }, el('b', { text: one.name }), el('small', { text: small })),
    el('td', { class: 'bar' }, clearanceBar(one)),
    el('td', { class: `amount ${one.state === 'conflict' ? 'v-conflict' : ''}`, text: one.amount }));
}
function ruleWords(f) {
  const said = new Map();
  for (const one of f.clear) {
    if (one.state === 'none') continue;
    const words = one.rule || DATA.rules[one.kind];
    if (words) said.set(words, [...(said.get(words) || []), one.name.toLowerCase()]);
  }
  return [...said].map(([words, names]) => `Rule for ${[...new Set(names)].slice(0, 3).join(', ')}: “${words}”.`).join(' ');
}
function windWords(f) {
  const near = f.clear.find((one) => one.kind === 'float' && one.wind);
  return near ? `In one steady wind, floats ${f.id} and ${near.against} never come nearer than ${near.wind}.` : '';
}
function pairs(rows) {
  return el('table', { class: 'pairs' }, el('tbody', {}, ...rows.map(([name, value, note]) =>
    el('tr', {}, el('td', { text: name }), el('td', {}, value, note ? el('small', { text: ` ${note}` }) : null)))));
}
// To scale, one scale both ways; the secondary lies on the bed, the hook where the riser lets it.
function sideView(s, level) {
  const W = 396, bed = 150, pad = 26;
  const span = s.ground + s.deck + 2.2 + Math.sqrt(Math.max(s.riser ** 2 - (s.depth[level] - s.hook) ** 2, 0));
  const k = Math.min((W - 2 * pad) / span, 118 / (s.depth[2] + s.height));
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${W} 190`, role: 'img', 'aria-label': 'The rig from the side in calm water' });
  const surface = (d) => bed - d * k;
  const top = surface(s.depth[level]);
  node.append(svg('rect', { x: 0, y: 0, width: W, height: 190, fill: '#F7FAFB' }), svg('rect', { x: 0, y: top, width: W, height: bed - top, fill: '#D6E8EE' }),
    svg('rect', { x: 0, y: bed, width: W, height: 40, fill: '#D9CFBD' }), svg('path', { d: `M0 ${bed}H${W}`, stroke: '#7A6C55', 'stroke-width': 1.5 }));
  const line = (d, extra) => node.append(svg('path', { d, fill: 'none', stroke: '#12232E', 'stroke-width': 1.6, ...extra }));
  const words = (x, y, text, extra = {}) => { const t = svg('text', { x, y, 'font-size': 11.5, 'font-family': 'system-ui, sans-serif', fill: '#12232E', ...extra }); t.textContent = text; node.append(t); };
  [[0, 3], [2, 5]].forEach(([at, name]) => {
    line(`M0 ${surface(s.depth[at])}H${W}`, { stroke: '#3E7391', 'stroke-dasharray': '2 3', 'stroke-width': 1 });
    words(at === 0 ? 6 : W - 6, surface(s.depth[at]) + (at === 0 ? 12 : -4), s.texts[name], { 'text-anchor': at === 0 ? 'start' : 'end', 'font-size': 10.5, fill: '#1A4560' });
  });
  line(`M0 ${top}H${W}`, { stroke: '#3E7391', 'stroke-width': 1.4 });
  const x0 = pad + 8, x1 = x0 + s.ground * k, rise = s.depth[level] - s.hook;
  const hangs = s.riser < rise, lift = hangs ? Math.min(rise - s.riser, s.ground) : 0;
  const across = hangs ? 0 : Math.sqrt(s.riser ** 2 - rise ** 2) * 0.35;
  const sy = bed - lift * k, hx = x1 + across * k, hy = bed - rise * k, deckY = top + s.draft * k - s.height * k;
  line(`M${x0} ${bed - 3}L${x1} ${sy - 4}`, { 'stroke-dasharray': '4.5 1.8', 'stroke-width': 3 });
  line(`M${x1} ${sy - 6}Q${x1 + across * k * 0.25} ${(sy + hy) / 2 + 12} ${hx} ${hy + 26 * Math.min(1, k / 14)}`, { 'stroke-dasharray': '4.5 1.8', 'stroke-width': 2.4 });
  line(`M${hx} ${hy + 26 * Math.min(1, k / 14)}q-6 -12 0 -${26 * Math.min(1, k / 14)}q6 12 0 ${26 * Math.min(1, k / 14)}`, { 'stroke-width': 1.3 });
  node.append(svg('rect', { x: hx - s.deck * k / 2, y: deckY, width: s.deck * k, height: s.height * k, rx: s.height * k / 2, fill: '#fff', stroke: '#12232E', 'stroke-width': 1.4 }),
    svg('rect', { x: hx - s.deck * k / 2, y: deckY - 5, width: s.deck * k, height: 5, fill: '#C9B48C', stroke: '#12232E', 'stroke-width': 1.2 }),
    svg('rect', { x: x0 - 11, y: bed - 7, width: 22, height: 12, fill: '#12232E' }), svg('rect', { x: x1 - 8, y: sy - 11, width: 16, height: 11, fill: '#fff', stroke: '#12232E', 'stroke-width': 1.5 }));
  words(x0 - 11, bed + 18, 'primary', { 'font-weight': 600 }); words(x1, bed + 18, 'secondary', { 'text-anchor': 'middle', 'font-weight': 600 });
  words((x0 + x1) / 2, bed + 33, s.texts[2], { 'text-anchor': 'middle' });
  words(Math.min(hx + 14, W - 110), (bed + top) / 2 + 4, s.texts[1]);
  words(x0 + 4, (bed + top) / 2 + 4, s.texts[0]);
  return node;
}
function fillPanel(panel, f, level, close) {
  panel.replaceChildren(el('button', { class: 'shut', 'aria-label': 'Close the panel of this float', text: '✕', onclick: close }),
    el('h2', { text: `Float ${f.id}`, tabindex: '-1' }), el('p', { class: 'about', text: f.about }));
  panel.append(el('div', { class: `verdict v-${f.verdict}` }, mark(f.verdict),
    el('p', {}, el('b', { text: `${WORDS[f.verdict][0].toUpperCase()}${WORDS[f.verdict].slice(1)}. ` }), el('span', { text: f.says }))));
  if (f.clear.length) {
    panel.append(el('h3', {}, 'Clearances ', el('small', { text: 'worst first' })),
      el('table', { class: 'clears' }, el('tbody', {}, ...f.clear.map(clearanceRow))));
    if (f.more) panel.append(el('p', { class: 'note', text: `${f.more}.` }));
    panel.append(el('p', { class: 'note', text: `Bars start where the rule is just met: left is short, right is to spare. ${ruleWords(f)} ${windWords(f)}` }));
  }
  if (f.side) panel.append(el('h3', {}, 'From the side, calm ', el('small', { text: `to scale, ${DATA.levels[level].toLowerCase()}` })), sideView(f.side, level));
  panel.append(el('h3', { text: 'Rig' }), pairs(f.rows), el('h3', { text: 'Float' }), pairs(f.floatRows));
  if (f.private && f.private.length) panel.append(el('h3', { text: 'Owner' }), pairs(f.private));
  if (f.takeCare.length) panel.append(el('div', { class: 'care' }, el('b', { text: 'Take care' }), el('ul', {}, ...f.takeCare.map((t) => el('li', { text: t })))));
  if (f.cautions.length) panel.append(el('div', { class: 'safety' }, el('b', { text: 'Read with care' }), el('ul', {}, ...f.cautions.map((key) => el('li', { text: DATA.cautionTexts[key] })))));
  panel.scrollTop = 0;
}
