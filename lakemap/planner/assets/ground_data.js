'use strict';
// What the page starts from: one JSON block; and its own few words that shared parts ask for.
const DATA = JSON.parse(document.getElementById('ground-data').textContent);
const FOOT = 0.3048;
const PLURAL = new Intl.PluralRules(DATA.language);
const counted = (value) => (typeof value === 'number' ? value.toLocaleString('en-US') : value);
function words(key, places = {}) {
  const text = DATA.text[key];
  const form = typeof text === 'string' ? text : text[PLURAL.select(places.count)] || text.other;
  return form.replace(/\{(\w+)\}/g, (_, name) => counted(places[name]));
}
const BOUNDS = [-200, -150, 200, 150]; // until there is something to show [m]
const IS_NEW = DATA.mode === 'new';
const KINDS = new Map([
  ['outline', { name: 'outline', line: false }],
  ['island', { name: 'island', line: false }],
  ...DATA.kinds.map((one) => [one.kind, { name: one.name, line: one.line }]),
]);
const LINES_FIRST = new Set(['channel', 'ramp', 'dock']); // drawn by their middle line
const SHORE_KINDS = new Set(['outline', 'island']);
const isMetric = (units) => units === 'm-kg';
const lengthUnit = (units) => (isMetric(units) ? 'm' : 'ft');
const lengthWords = (metres, units) => (isMetric(units) ? `${metres.toFixed(1)} m` : `${(metres / FOOT).toFixed(1)} ft`);
const wholeWords = (metres, units) => `${Math.round(Math.abs(metres) / (isMetric(units) ? 1 : FOOT)).toLocaleString('en-US')} ${lengthUnit(units)}`;
const strideOf = (units) => (isMetric(units) ? 0.25 : FOOT); // of a corner under the arrow keys [m]
const capital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);
const plural = (count, noun) => `${count.toLocaleString('en-US')} ${noun}${count === 1 ? '' : 's'}`;
