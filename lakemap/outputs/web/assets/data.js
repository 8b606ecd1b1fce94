'use strict';
// The page's data: one JSON block, whole centimetres; here it becomes metres and paths.
const DATA = JSON.parse(document.getElementById('field-data').textContent);
const CM = 0.01;
// Every text of the page's own, by its key; what stands in braces in it is put in.
const TEXT = DATA.text;
let plural = null; // made when it is first asked for, as is the browser's writing of numbers: both take long to start
const counted = (value) => (typeof value === 'number' && Math.abs(value) >= 1000 ? value.toLocaleString('en-US') : String(value));
function formOf(text, count) {
  if (!plural) plural = new Intl.PluralRules(DATA.language);
  return text[plural.select(count)] || text.other;
}
function words(key, places = {}) {
  const text = TEXT[key];
  const form = typeof text === 'string' ? text : formOf(text, places.count);
  return form.replace(/\{(\w+)\}/g, (_, name) => counted(places[name]));
}
const FOOT = 0.3048;
const VERDICTS = ['conflict', 'tight', 'unknown', 'clear', 'retired'];

function unpack(steps) {
  const points = new Float64Array(steps.length);
  let x = 0;
  let y = 0;
  for (let k = 0; k < steps.length; k += 2) {
    x += steps[k];
    y += steps[k + 1];
    points[k] = x * CM;
    points[k + 1] = y * CM;
  }
  return points;
}
function unpackSoundings(flat) {
  const found = [];
  let x = 0;
  let y = 0;
  for (let k = 0; k < flat.length; k += 3) {
    x += flat[k];
    y += flat[k + 1];
    found.push({ x: x * CM, y: y * CM, text: String(flat[k + 2]) });
  }
  return found;
}
// A run of cells without a depth stands as one number below 0.
const unpackGrid = (depths) => depths.flatMap((depth) => (depth < 0 ? Array(-depth).fill(null) : [depth]));
const unpackRings = (polygons) => polygons.flatMap((rings) => rings.map(unpack));

function boundsOf(rings) {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let k = 0; k < ring.length; k += 2) {
      box[0] = Math.min(box[0], ring[k]);
      box[1] = Math.min(box[1], ring[k + 1]);
      box[2] = Math.max(box[2], ring[k]);
      box[3] = Math.max(box[3], ring[k + 1]);
    }
  }
  return box;
}

const BOUNDS = DATA.bounds.map((value) => value * CM);
// A corner of a depth line is rounded by at most this; the lines are drawn from soundings, not surveyed.
const SOFT_M = Math.max(BOUNDS[2] - BOUNDS[0], BOUNDS[3] - BOUNDS[1]) / 120;

// Paths in metres: made once, laid onto the screen by a matrix at each drawing.
function pathOf(lines, closed) {
  const path = new Path2D();
  for (const line of lines) {
    path.moveTo(line[0], line[1]);
    for (let k = 2; k < line.length; k += 2) path.lineTo(line[k], line[k + 1]);
    if (closed) path.closePath();
  }
  return path;
}

function softPathOf(lines, closed) {
  const path = new Path2D();
  for (const line of lines) {
    const count = line.length / 2 - (closed ? 1 : 0);
    if (count < 3) continue;
    const corner = (k) => [line[2 * ((k + count) % count)], line[2 * ((k + count) % count) + 1]];
    const towards = ([ax, ay], [bx, by]) => {
      const share = Math.min(0.5, SOFT_M / (Math.hypot(bx - ax, by - ay) || 1));
      return [ax + (bx - ax) * share, ay + (by - ay) * share];
    };
    if (closed) path.moveTo(...towards(corner(0), corner(1)));
    else path.moveTo(...corner(0));
    for (let k = 1; k <= (closed ? count : count - 2); k += 1) {
      path.lineTo(...towards(corner(k), corner(k - 1)));
      path.quadraticCurveTo(...corner(k), ...towards(corner(k), corner(k + 1)));
    }
    if (closed) path.closePath();
    else path.lineTo(...corner(count - 1));
  }
  return path;
}

function unpackZone(zone) {
  const rings = unpackRings(zone.area);
  return {
    ...zone, path: pathOf(rings, true), keep: pathOf(unpackRings(zone.keep), true),
    box: boundsOf(rings), x: zone.at[0] * CM, y: zone.at[1] * CM,
    middle: zone.middle.map(unpack),
  };
}

const contourLines = DATA.contours.map(([label, lines]) => ({ label, lines: lines.map(unpack) }));
const waterRings = DATA.water.map((rings) => rings.map(unpack));
const SCENE = {
  islandBoxes: waterRings.flatMap((rings) => rings.slice(1).map((ring) => boundsOf([ring]))),
  water: pathOf(waterRings.flat(), true),
  bands: DATA.bands.map((band) => softPathOf(unpackRings(band), true)),
  bare: pathOf(unpackRings(DATA.bare), true),
  contours: contourLines.map((one) => ({ ...one, path: softPathOf(one.lines, false) })),
  zones: DATA.zones.map(unpackZone),
  islands: DATA.islands.map(([name, x, y]) => ({ name, x: x * CM, y: y * CM })),
  soundings: unpackSoundings(DATA.soundings),
};

const rowsOf = (keys, row) => Object.fromEntries(keys.slice(0, row.length).map((key, k) => [key, row[k]]));
const WORDS = new Set(['name', 'detail', 'amount', 'state', 'kind', 'against', 'rule', 'wind', 'pill', 'sure']);
const named = (rows) => (rows || []).map(([name, value, note]) => [DATA.names[name], value, note === undefined ? '' : DATA.names[note]]);

// Words that come again stand as numbers.
function unpackClear(row) {
  const one = rowsOf(DATA.clearKeys, row);
  for (const key of Object.keys(one)) if (WORDS.has(key) && typeof one[key] === 'number') one[key] = DATA.names[one[key]];
  return one;
}

const summed = (steps) => steps.reduce((all, step) => [...all, (all[all.length - 1] || 0) + step], []);
// A line from the primary to the hook: points in metres along the bed and above it, which of them the secondary is at.
const unpackLine = (packed) => packed && { x: summed(packed[0]).map((v) => v * CM), z: summed(packed[1]).map((v) => v * CM), s: packed[2] };

function unpackSide(packed) {
  const [low, normal, high, deck, draft, height] = packed.slice(0, 6).map((v) => v * CM);
  const [deep, riser, ground, calm] = packed.slice(6);
  return { depth: [low, normal, high], deck, draft, height, deep, riser, ground, calm: calm.map(unpackLine) };
}

function unpackStorm([wave, lines]) {
  return { wave: wave * CM, lines: lines.map((one) => one && { ...unpackLine(one), tension: one[3], angle: one[4], uplift: one[5], reach: one[6] * CM, lift: one[7] * CM }) };
}

function unpackCurve([pulls, reaches, lifts, uplift, storm, taut, stormReach]) {
  return { pulls, reaches: summed(reaches).map((v) => v * CM), lifts, uplift, storm, taut: taut * CM, stormReach: stormReach * CM };
}

const unpackRose = ([bearings, fetch, worst, wave]) => ({ from: DATA.bearings[bearings], fetch, worst, wave });
const unpackIf = (packed, unpackOne) => (packed ? unpackOne(packed) : null);

const FLOATS = DATA.floats.map((row) => rowsOf(DATA.floatKeys, row)).map((one, index) => ({
  ...one, clear: (one.clear || []).map(unpackClear), rows: named(one.rows), floatRows: named(one.floatRows), index, x: one.x * CM, y: one.y * CM,
  cautions: (one.cautions || []).map((k) => DATA.cautionTexts[DATA.names[k]]),
  side: unpackIf(one.side, unpackSide), storm: unpackIf(one.storm, unpackStorm), curve: unpackIf(one.curve, unpackCurve), rose: unpackIf(one.rose, unpackRose),
  radii: one.r.map((r) => (r === null ? null : r * CM)),
  walk: one.walk === null ? null : one.walk * CM,
  second: one.second && one.second.map((v) => v * CM),
  hook: one.hook.map((v) => v * CM),
  long: one.deck[0] * CM, short: one.deck[1] * CM,
}));
const BY_ID = new Map(FLOATS.map((one) => [one.id, one]));
const ORDER = DATA.order.map((k) => FLOATS[k]);

// Depth at normal level near a point [m]; null on land and where nothing is sounded.
const GRID = DATA.grid && { ...DATA.grid, depth: unpackGrid(DATA.grid.depth) };
function depthAt(x, y) {
  const grid = GRID;
  if (!grid) return null;
  const column = Math.round((x / CM - grid.x0) / grid.step);
  const row = Math.round((y / CM - grid.y0) / grid.step);
  const value = grid.depth[row * grid.columns + column];
  const outside = column < 0 || row < 0 || column >= grid.columns || value === undefined;
  return outside || value === null ? null : value * CM;
}
