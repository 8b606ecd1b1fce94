// The panel of one float: verdict, clearances worst first, from above, from the side, rig, cautions.
const FULL_BAR = (DATA.unit === 'm' ? 10 : 30) * DATA.unitM; // of spare, for the longest bar
const BAR = { width: 88, zero: 31, left: 29, right: 55 };
const PHONE_ROWS = 4;
const SPARE_AROUND = TEXT['amount.spare'].split('{much}'); // what stands about the figure of a spare
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

function clearanceBar(one) {
  const node = svg('svg', { viewBox: `0 0 ${BAR.width} 16`, width: BAR.width, height: 16, 'aria-hidden': 'true' });
  if (one.bar === null) return node;
  node.append(svg('path', { d: `M1 8H${BAR.width - 1}`, stroke: '#D5DADC', 'stroke-width': 2 }));
  const run = Math.max(-BAR.left, Math.min(BAR.right, (one.bar / FULL_BAR) * BAR.right));
  const [fill, edge] = { conflict: ['#B3200C', '#B3200C'], tight: ['#FFC44A', '#6B4300'] }[one.state] || ['#7BABC9', '#1D4A63'];
  node.append(
    svg('rect', { x: run < 0 ? BAR.zero + run : BAR.zero, y: 3.5, width: Math.max(Math.abs(run), 1.5), height: 9, rx: 1.5,
      fill, stroke: edge, 'stroke-width': 1.1 }),
    svg('path', { d: `M${BAR.zero} 1V15`, stroke: '#12232E', 'stroke-width': 1.8 }));
  return node;
}

// A spare's figure apart from the words about it, which stand there only where there is room for them.
function spareParts({ amount, state }) {
  const [before, after] = SPARE_AROUND;
  const isSpare = state !== 'conflict' && state !== 'none' && amount.startsWith(before) && amount.endsWith(after);
  return isSpare ? [before, amount.slice(before.length, amount.length - after.length), after] : ['', amount, ''];
}

function clearanceRow(one, phone) {
  const state = one.state;
  const detail = [one.detail, state === 'tight' ? words('panel.known_to', { far: one.sure }) : ''].filter(Boolean).join(' · ');
  const [before, figure, after] = spareParts(one);
  const aside = (text) => (text ? el('span', { class: phone ? '' : 'vh', text }) : null);
  const amount = el('td', { class: `amount${state === 'conflict' ? ' v-conflict' : state === 'tight' ? ' v-tight' : ''}` },
    aside(before), figure, aside(after));
  return el('tr', { class: `is-${state}` },
    el('td', { class: 'm' }, mark(state), el('span', { class: 'vh', text: words(`verdict.${state}`) })),
    el('td', { class: 'what' }, el('b', { text: one.name }), el('small', { text: detail })),
    el('td', { class: 'bar' }, clearanceBar(one)), amount);
}

function clearances(f, phone) {
  const first = phone ? Math.max(PHONE_ROWS, f.clear.filter((one) => one.state === 'conflict').length) : f.clear.length;
  const body = el('tbody', {}, ...f.clear.slice(0, first).map((one) => clearanceRow(one, phone)));
  const parts = [el('h3', {}, words('panel.clearances'), ' ', el('small', { text: words('panel.worst_first') })), el('table', { class: 'clears' }, body)];
  if (first < f.clear.length) {
    const more = el('button', { class: 'link', text: words('panel.show_more', { count: f.clear.length - first }) });
    more.addEventListener('click', () => {
      body.append(...f.clear.slice(first).map((one) => clearanceRow(one, phone)));
      more.remove();
    });
    parts.push(more);
  }
  if (f.more) parts.push(el('p', { class: 'note strong', text: words('panel.more', { more: f.more }) }));
  const bars = phone ? '' : words('panel.bars');
  parts.push(el('p', { class: 'note', text: [bars, ruleWords(f), windWords(f)].filter(Boolean).join(' ') }));
  return parts;
}

// Each rule's own words, once, with the things that it is about.
function ruleWords(f) {
  const said = new Map();
  for (const one of f.clear) {
    const rule = one.state === 'none' ? '' : one.rule || DATA.rules[one.kind];
    if (rule) said.set(rule, new Set([...(said.get(rule) || []), one.name.charAt(0).toLowerCase() + one.name.slice(1)]));
  }
  return [...said].map(([rule, names]) => words(names.size > 1 ? 'panel.rule_more' : 'panel.rule',
    { thing: [...names][0], count: names.size - 1, rule })).join(' ');
}

function windWords(f) {
  const near = f.clear.find((one) => one.kind === 'float' && one.wind);
  return near ? words('panel.same_wind', { float: f.id, other: near.against, far: near.wind }) : '';
}

const CHOSEN = new Set([words('chosen.designed'), words('chosen.assumed')]);
function pairs(rows, look = '') {
  return el('table', { class: `pairs ${look}` }, el('tbody', {}, ...rows.map(([name, value, note, total]) => el('tr', { class: total ? 'total' : '' },
    el('td', { text: name }),
    el('td', {}, el('b', { text: value }), note ? el('small', { class: CHOSEN.has(note) ? 'tag' : '', text: note }) : null)))));
}

const verdictBox = (f) => el('div', { class: `verdict v-${f.verdict}` }, mark(f.verdict),
  el('p', {}, el('b', { text: `${words(`verdict_begins.${f.verdict}`)} ` }), el('span', { text: f.says })));

const tiles = (f) => el('div', { class: 'tiles' }, ...f.tiles.map(([name, value]) => el('div', {}, el('small', { text: name }), el('b', { text: value }))));

// What the rings of the picture from above are.
function ringsNote(f) {
  const [low, high, walk] = f.rings;
  const said = [low && words('panel.ring_low', { far: low }), high && words('panel.ring_high', { far: high }), walk && words('panel.ring_walk', { far: walk })];
  return low ? el('p', { class: 'note', text: said.filter(Boolean).join(' ') }) : null;
}

function fromAbove(f, look) {
  const canvas = el('canvas', { class: 'above', role: 'img', 'aria-label': words('panel.above_says', { float: f.id }) });
  const holder = el('div', { class: 'above-box' }, canvas, el('div', { class: 'scale' }));
  const lying = DATA.lying ? words('panel.in_wind', { point: DATA.lying }) : words('panel.in_line');
  requestAnimationFrame(() => paintAbove(holder, canvas, f, look));
  return [el('h3', {}, words('panel.above'), ' ', el('small', { text: lying })), holder, ringsNote(f)];
}

function paintAbove(holder, canvas, f, look) {
  const width = holder.clientWidth;
  const height = holder.clientHeight;
  if (!width) return;
  const pixelScale = window.devicePixelRatio || 1;
  canvas.width = Math.round(width * pixelScale);
  canvas.height = Math.round(height * pixelScale);
  const ppm = (height * 0.36) / Math.max(f.radii[0] || f.long * 2, 0.5);
  const camera = new Camera({ width, height, ppm, left: width / 2 - f.x * ppm, top: height / 2 + f.y * ppm, pixelScale });
  const c = canvas.getContext('2d');
  c.setTransform(pixelScale, 0, 0, pixelScale, 0, 0);
  const b = new Brush(c, camera, { ...look, chosen: f, hovered: null, cards: [[0, height - 52, 160, height]] });
  const seen = seenFloats(b);
  const bars = layLengths(b, f, (one) => one.state === 'conflict' || one.state === 'tight');
  paintLake(b);
  paintFloats(b, seen);
  paintLengths(b, bars);
  holder.querySelector('.scale').replaceChildren(scaleBar(ppm, 90));
}

function fromTheSide(f, level) {
  if (!f.side) return [el('h3', { text: words('panel.side') }), el('p', { class: 'note', text: words('panel.not_drawn') })];
  const storm = f.storm && f.storm.lines[level];
  return [el('h3', {}, words('panel.side_calm'), ' ', el('small', { text: words('panel.to_scale', { level: DATA.levelWords[level] }) })), calmView(f, level),
    ...(storm ? [el('h3', {}, words('panel.side_storm'), ' ', el('small', { text: words('panel.storm_at', { wind: speedWords(windOf(f)), level: DATA.levelWords[level] }) })), stormView(f, level)] : [])];
}

function care(f) {
  const box = (kind, title, lines) => (lines.length ? el('div', { class: kind }, el('h3', { text: title }),
    el('ul', {}, ...lines.map((text) => el('li', { text })))) : null);
  return [box('care', words('panel.care'), f.takeCare.map(shared)), box('safety', words('panel.read'), f.cautions)];
}

function panelHandle(step) {
  const handle = el('button', { class: 'handle', 'aria-label': words('panel.handle'), 'aria-expanded': 'false' });
  handle.addEventListener('click', step);
  return handle;
}

function fillPanel(panel, f, look, { phone, close, step = () => {} }) {
  const shut = el('button', { class: 'shut', 'aria-label': words('panel.close') }, icon('shut'));
  shut.addEventListener('click', close);
  const handle = phone ? [panelHandle(step)] : [];
  const shortly = () => panel.replaceChildren(...handle, el('div', { class: 'inside' },
    el('div', { class: 'top' }, el('h2', { text: words('panel.float', { float: f.id }), tabindex: '-1' }), shut), verdictBox(f),
    ...(f.private && f.private.length ? [pairs(f.private)] : []), el('p', { class: 'note', text: DATA.short })));
  if (DATA.short) { shortly(); return; }
  const rig = [...fromTheSide(f, look.level), el('h3', { text: words('panel.rig') }), pairs(f.rows), ...loads(f), ...lineParts(f), ...holding(f), ...ways(f), ...floatItself(f)];
  const plots = [
    ...(f.curve ? [el('h3', {}, words('panel.plot'), ' ', el('small', { text: words('panel.plot_level') })), pullPlot(f)] : []),
    ...(f.rose ? [el('h3', {}, words('panel.rose'), ' ', el('small', { text: words('panel.rose_bold') })), rosePlot(f)] : []),
    workingPart(f),
  ];
  const parts = [
    el('div', { class: 'top' }, el('div', {}, el('h2', { text: words('panel.float', { float: f.id }), tabindex: '-1' }), el('p', { class: 'about', text: f.about })), shut),
    verdictBox(f),
    ...(f.private && f.private.length ? [pairs(f.private)] : []),
    ...(f.clear.length ? clearances(f, phone) : []),
    ...(phone ? [tiles(f)] : fromAbove(f, look)),
    ...(phone ? [el('details', { class: 'rig' }, el('summary', {}, words('panel.rig_fold'), icon('down')), ...rig, ...plots)] : rig),
    ...care(f),
    ...(phone ? [] : plots),
  ];
  panel.replaceChildren(...handle, el('div', { class: 'inside' }, ...parts.filter(Boolean)));
}
