// The working: every number with its formula, inputs, source and range; figures in SI and the user's units.
const WORK = DATA.working;
const US = DATA.unit === 'ft';
const OTHER = {
  m: ['ft', 1 / FOOT], m2: ['ft²', 1 / FOOT ** 2], m3: ['ft³', 1 / FOOT ** 3], 'm/s': ['mph', 1 / 0.44704],
  N: ['lb', 1 / 4.4482216152605], 'N/m': ['lb/ft', FOOT / 4.4482216152605],
  kg: ['lb', 1 / 0.45359237], 'kg/m': ['lb/ft', FOOT / 0.45359237],
};
const SIGNS = { m2: ' m²', m3: ' m³', m4: ' m⁴', deg: '°', 'kg/m3': ' kg/m³' };
const KEY = WORK ? Object.fromEntries(WORK.steps.map((step, k) => [step[0], k])) : {};
const PLACE = WORK ? new Map(WORK.vary.map((slot, k) => [slot, k])) : new Map();

function slotValue(f, slot) {
  const value = PLACE.has(slot) ? f.w[PLACE.get(slot)] : WORK.same[slot];
  return value === 'inf' ? Infinity : value;
}
const workValue = (f, key) => slotValue(f, WORK.steps[KEY[key]][7]);

function significant(value) {
  if (value === 0) return '0';
  const digits = 3 - Math.floor(Math.log10(Math.abs(value)));
  const shown = Math.abs(Number(value.toPrecision(4))).toLocaleString('en-US',
    { minimumFractionDigits: 0, maximumFractionDigits: Math.max(digits, 0) });
  return `${value < 0 ? '−' : ''}${shown}`;
}

function quantity(value, unit) {
  if (value === null || value === undefined) return 'not known';
  if (!Number.isFinite(value)) return 'without end';
  const text = `${significant(value)}${SIGNS[unit] || (unit ? ` ${unit}` : '')}`;
  if (!US || !OTHER[unit]) return text;
  const [other, factor] = OTHER[unit];
  return `${text} (${significant(value * factor)} ${other})`;
}

// Short figures for the panel's rows, rounded the careful way: loads up, strengths down.
function forceWords(newtons, careful = Math.round) {
  const value = careful(US ? newtons * OTHER.N[1] : newtons);
  return `${value.toLocaleString('en-US')} ${US ? 'lb' : 'N'}`;
}
const speedWords = (speed) => `${Math.round(US ? speed * OTHER['m/s'][1] : speed)} ${US ? 'mph' : 'm/s'}`;
const heightWords = (metres) => (US ? `${(metres / FOOT).toFixed(1)} ft` : `${metres.toFixed(2)} m`);

function workedStep(f, step) {
  const [, name, , words, unit, source, valid, value, inside, about, terms] = step;
  const number = slotValue(f, value);
  if (number === null || number === undefined) return null;
  const of = about < 0 ? '' : `, ${WORK.about[slotValue(f, about)]}`;
  const within = inside < 0 || slotValue(f, inside) === 1;
  return el('div', { class: 'worked' },
    el('p', { class: 'named' }, el('b', { text: name + of }), el('b', { class: 'figure', text: quantity(number, unit) })),
    el('p', { class: 'formula', text: words }),
    el('p', {}, ...terms.flatMap(([sign, what, termUnit, slot], k) => [k ? '; ' : '',
      el('i', { text: sign }), ` = ${quantity(slotValue(f, slot), termUnit)}, ${what}`])),
    el('p', { class: 'source' }, WORK.sources[source],
      WORK.sources[valid] ? el('span', { class: within ? '' : 'outside', text: `. ${within ? 'Range' : 'Outside its range'}: ${WORK.sources[valid]}.` }) : null));
}

function workingPart(f) {
  const body = el('div', { class: 'working' });
  const node = el('details', { class: 'fold' }, el('summary', {}, 'The working', icon('down')), body);
  node.addEventListener('toggle', () => {
    if (!node.open || body.childElementCount) return;
    body.append(el('p', { class: 'note', text: 'Every number with its formula, what went into it and where it comes from; at normal level unless it says otherwise.' }),
      ...WORK.steps.map((step) => workedStep(f, step)).filter(Boolean));
  });
  return node;
}
