// The working: every number with its formula, inputs, source and range; figures in SI and the user's units.
const WORK = DATA.working;
const US = DATA.unit === 'ft';
const OTHER = {
  m: ['ft', 1 / FOOT], m2: ['ft²', 1 / FOOT ** 2], m3: ['ft³', 1 / FOOT ** 3], 'm/s': ['mph', 1 / 0.44704],
  N: ['lb', 1 / 4.4482216152605], 'N/m': ['lb/ft', FOOT / 4.4482216152605],
  kg: ['lb', 1 / 0.45359237], 'kg/m': ['lb/ft', FOOT / 0.45359237],
};
const SIGNS = { m2: ' m²', m3: ' m³', m4: ' m⁴', deg: '°', 'kg/m3': ' kg/m³', 'N/m3': ' N/m³' };
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

// A number with its unit; it breaks before the brackets only.
function quantity(value, unit, both = true) {
  if (value === null || value === undefined) return words('work.not_known');
  if (!Number.isFinite(value)) return words('work.without_end');
  const text = `${significant(value)}${SIGNS[unit] || (unit ? ` ${unit}` : '')}`;
  const also = both && US && OTHER[unit] ? ` (${significant(value * OTHER[unit][1])} ${OTHER[unit][0]})` : '';
  return text.replaceAll(' ', '\u00a0') + also.replaceAll(' ', '\u00a0').replace('\u00a0', ' ');
}

// Short figures for the panel's rows, rounded the careful way: loads up, strengths down. What the page holds is
// rounded already: a hundredth over a whole number is that number.
const upward = (value) => Math.ceil(value - 0.01) || 0; // no minus nought
const downward = (value) => Math.floor(value + 0.01);
function forceWords(newtons, careful = Math.round) {
  const value = careful(US ? newtons * OTHER.N[1] : newtons);
  return `${value.toLocaleString('en-US')} ${US ? 'lb' : 'N'}`;
}
const speedWords = (speed) => `${Math.round(US ? speed * OTHER['m/s'][1] : speed)} ${US ? 'mph' : 'm/s'}`;
function heightWords(metres, careful = Math.round) {
  return US ? `${(careful((metres / FOOT) * 10) / 10).toFixed(1)} ft` : `${(careful(metres * 100) / 100).toFixed(2)} m`;
}

// Symbols as print has them: what follows _ below the line, what follows ^ above it.
function symbols(text) {
  return text.split(/(_\w+|\^(?:\([^)]*\)|[−\d.½⅓⅔¼¾⅜]+))/).map((part) => {
    if (/^_\w/.test(part)) return el('sub', { text: part.slice(1) });
    return part.startsWith('^') ? el('sup', { text: part.slice(1).replace(/^\(|\)$/g, '') }) : part;
  });
}

// The right side of a formula with a number for each symbol; blank where it holds anything besides.
const FUNCTIONS = new Set(['π', 'min', 'max', 'exp', 'tanh', 'sinh', 'arsinh', 'sin', 'cos', 'tan']);
const LETTERS = 'A-Za-z\u0391-\u03a9\u03b1-\u03c9∇';
function withNumbers(words, sign, numbers) {
  const at = words.indexOf(' = ');
  const right = words.slice(at + 3);
  if (at < 0 || words.slice(0, at).trim() !== sign || right.includes('=')) return '';
  const names = [...numbers.keys()].sort((a, b) => b.length - a.length)
    .map((name) => `(?<![${LETTERS}_])${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?![${LETTERS}₀-₉′_])`);
  const used = new Set();
  let strange = false;
  const told = right.replace(new RegExp([...names, `[${LETTERS}]+(?:_\\w+)?[₀-₉′]*`].join('|'), 'g'), (name) => {
    if (numbers.has(name)) used.add(name);
    else strange = strange || !FUNCTIONS.has(name);
    return numbers.has(name) ? `(${numbers.get(name)})` : name;
  });
  return strange || used.size < numbers.size ? '' : told;
}

function workedStep(f, step) {
  const [, name, sign, formula, unit, source, valid, value, inside, about, terms] = step;
  const number = slotValue(f, value);
  if (number === null || number === undefined) return null;
  const of = about < 0 ? '' : `, ${WORK.about[slotValue(f, about)]}`;
  const within = inside < 0 || slotValue(f, inside) === 1;
  const told = withNumbers(formula, sign, new Map(terms.map(([termSign, , termUnit, slot]) => [termSign, quantity(slotValue(f, slot), termUnit, false)])));
  return el('div', { class: 'worked' },
    el('p', { class: 'named' }, el('b', { text: name + of }), el('b', { class: 'figure' }, el('i', {}, ...symbols(sign)), ` = ${quantity(number, unit)}`)),
    el('p', { class: 'formula' }, ...symbols(formula)), told ? el('p', { class: 'formula' }, '= ', ...symbols(told)) : null,
    el('p', {}, ...terms.flatMap(([termSign, what, termUnit, slot], k) => [k ? '; ' : '',
      el('i', {}, ...symbols(termSign)), ` = ${quantity(slotValue(f, slot), termUnit)}, ${what}`])),
    el('p', { class: 'source' }, WORK.sources[source],
      WORK.sources[valid] ? el('span', { class: within ? '' : 'outside', text: `. ${words(within ? 'work.range' : 'work.outside', { range: WORK.sources[valid] })}` }) : null));
}

function workingPart(f) {
  const body = el('div', { class: 'working' });
  const node = el('details', { class: 'fold' }, el('summary', {}, words('work.fold'), icon('down')), body);
  node.addEventListener('toggle', () => {
    if (!node.open || body.childElementCount) return;
    body.append(el('p', { class: 'note', text: words('work.about') }),
      ...WORK.steps.map((step) => workedStep(f, step)).filter(Boolean));
  });
  return node;
}
