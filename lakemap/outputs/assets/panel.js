// The panel of one float: verdict, clearances worst first, from above, from the side, rig, cautions.
const FULL_BAR = (DATA.unit === 'm' ? 10 : 30) * DATA.unitM; // of spare, for the longest bar
const BAR = { width: 88, zero: 31, left: 29, right: 55 };
const STATE_WORDS = { conflict: 'conflict', tight: 'tight', clear: 'clear', none: 'nothing asked' };
const PHONE_ROWS = 4;
const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

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

function clearanceRow(one, phone) {
  const state = one.state;
  const detail = [one.detail, state === 'tight' ? `known to ${one.sure} only` : ''].filter(Boolean).join(' · ');
  const [figure, after] = [one.amount.replace(/ to spare$/, ''), / to spare$/.test(one.amount) ? ' to spare' : ''];
  const amount = el('td', { class: `amount${state === 'conflict' ? ' v-conflict' : state === 'tight' ? ' v-tight' : ''}` },
    figure, after ? el('span', { class: phone ? '' : 'vh', text: after }) : null);
  return el('tr', { class: `is-${state}` },
    el('td', { class: 'm' }, mark(state), el('span', { class: 'vh', text: STATE_WORDS[state] })),
    el('td', { class: 'what' }, el('b', { text: one.name }), el('small', { text: detail })),
    el('td', { class: 'bar' }, clearanceBar(one)), amount);
}

function clearances(f, phone) {
  const first = phone ? Math.max(PHONE_ROWS, f.clear.filter((one) => one.state === 'conflict').length) : f.clear.length;
  const body = el('tbody', {}, ...f.clear.slice(0, first).map((one) => clearanceRow(one, phone)));
  const parts = [el('h3', {}, 'Clearances ', el('small', { text: 'worst first' })), el('table', { class: 'clears' }, body)];
  if (first < f.clear.length) {
    const more = el('button', { class: 'link', text: `Show ${f.clear.length - first} more` });
    more.addEventListener('click', () => {
      body.append(...f.clear.slice(first).map((one) => clearanceRow(one, phone)));
      more.remove();
    });
    parts.push(more);
  }
  if (f.more) parts.push(el('p', { class: 'note strong', text: `${f.more}.` }));
  const bars = phone ? '' : 'Bars start where the rule is just met: left is short, right is to spare.';
  parts.push(el('p', { class: 'note', text: [bars, ruleWords(f), windWords(f)].filter(Boolean).join(' ') }));
  return parts;
}

// Each rule's own words, once, with the things that it is about.
function ruleWords(f) {
  const said = new Map();
  for (const one of f.clear) {
    const words = one.state === 'none' ? '' : one.rule || DATA.rules[one.kind];
    if (words) said.set(words, new Set([...(said.get(words) || []), one.name.charAt(0).toLowerCase() + one.name.slice(1)]));
  }
  return [...said].map(([words, names]) => {
    const [first, ...rest] = [...names];
    return `Rule for ${first}${rest.length ? ` and ${rest.length} more` : ''}: “${words}”.`;
  }).join(' ');
}

function windWords(f) {
  const near = f.clear.find((one) => one.kind === 'float' && one.wind);
  return near ? `In one steady wind, floats ${f.id} and ${near.against} never come nearer than ${near.wind}.` : '';
}

function pairs(rows, look = '') {
  return el('table', { class: `pairs ${look}` }, el('tbody', {}, ...rows.map(([name, value, note, total]) => el('tr', { class: total ? 'total' : '' },
    el('td', { text: name }),
    el('td', {}, el('b', { text: value }), note ? el('small', { class: /^(designed|assumed)$/.test(note) ? 'tag' : '', text: note }) : null)))));
}

const verdictBox = (f) => el('div', { class: `verdict v-${f.verdict}` }, mark(f.verdict),
  el('p', {}, el('b', { text: `${capital(f.verdict)}. ` }), el('span', { text: f.says })));

const tiles = (f) => el('div', { class: 'tiles' }, ...f.tiles.map(([name, value]) => el('div', {}, el('small', { text: name }), el('b', { text: value }))));

// What the rings of the picture from above are.
function ringsNote(f) {
  const [low, high, walk] = f.rings;
  const said = [low ? `Outer ring: low water, ${low} from the primary.` : '', high ? `Dotted ring: high water, ${high}.` : '',
    walk ? `Dashed ring: where the secondary may lie, ${walk}.` : ''];
  return low ? el('p', { class: 'note', text: said.filter(Boolean).join(' ') }) : null;
}

function fromAbove(f, look) {
  const canvas = el('canvas', { class: 'above', role: 'img', 'aria-label': `Float ${f.id} from above: its swing circle and what is near it` });
  const holder = el('div', { class: 'above-box' }, canvas, el('div', { class: 'scale' }));
  const lying = DATA.lying ? `lying in a wind from the ${DATA.lying}` : 'in line with its own rig';
  requestAnimationFrame(() => paintAbove(holder, canvas, f, look));
  return [el('h3', {}, 'From above ', el('small', { text: lying })), holder, ringsNote(f)];
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
  if (!f.side) return [el('h3', { text: 'From the side' }), el('p', { class: 'note', text: 'Not drawn: its depth or a length is not known.' })];
  const storm = f.storm && f.storm.lines[level];
  return [el('h3', {}, 'From the side, calm ', el('small', { text: `to scale, ${DATA.levelWords[level]}` })), calmView(f, level),
    ...(storm ? [el('h3', {}, 'From the side, storm ', el('small', { text: `${speedWords(windOf(f))}, ${DATA.levelWords[level]}` })), stormView(f, level)] : [])];
}

function care(f) {
  const box = (kind, title, lines) => (lines.length ? el('div', { class: kind }, el('h3', { text: title }),
    el('ul', {}, ...lines.map((text) => el('li', { text })))) : null);
  return [box('care', 'Take care', f.takeCare.map(shared)), box('safety', 'Read with care', f.cautions)];
}

function fillPanel(panel, f, look, { phone, close }) {
  const shut = el('button', { class: 'shut', 'aria-label': 'Close this float' }, icon('shut'));
  shut.addEventListener('click', close);
  const shortly = () => panel.replaceChildren(...(phone ? [el('div', { class: 'handle', 'aria-hidden': 'true' })] : []), el('div', { class: 'inside' },
    el('div', { class: 'top' }, el('h2', { text: `Float ${f.id}`, tabindex: '-1' }), shut), verdictBox(f),
    ...(f.private && f.private.length ? [pairs(f.private)] : []), el('p', { class: 'note', text: DATA.short })));
  if (DATA.short) { shortly(); return; }
  const rig = [...fromTheSide(f, look.level), el('h3', { text: 'Rig' }), pairs(f.rows), ...loads(f), ...lineParts(f), ...holding(f), ...ways(f), ...floatItself(f)];
  const plots = [
    ...(f.curve ? [el('h3', {}, 'Pull and reach ', el('small', { text: 'normal water' })), pullPlot(f)] : []),
    ...(f.rose ? [el('h3', {}, 'Open water around it ', el('small', { text: 'bold: the wind that pulls hardest' })), rosePlot(f)] : []),
    workingPart(f),
  ];
  const parts = [
    el('div', { class: 'top' }, el('div', {}, el('h2', { text: `Float ${f.id}`, tabindex: '-1' }), el('p', { class: 'about', text: f.about })), shut),
    verdictBox(f),
    ...(f.private && f.private.length ? [pairs(f.private)] : []),
    ...(f.clear.length ? clearances(f, phone) : []),
    ...(phone ? [tiles(f)] : fromAbove(f, look)),
    ...(phone ? [el('details', { class: 'rig' }, el('summary', {}, 'Its rig: side views, loads, parts, working', icon('down')), ...rig, ...plots)] : rig),
    ...care(f),
    ...(phone ? [] : plots),
  ];
  panel.replaceChildren(...(phone ? [el('div', { class: 'handle', 'aria-hidden': 'true' })] : []), el('div', { class: 'inside' }, ...parts.filter(Boolean)));
}
