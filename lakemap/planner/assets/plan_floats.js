// The floats as they are saved, as the plan has them, and as they lie in the wind that is shown.
for (const f of FLOATS) f.atLow = f.verdict; // the verdict that counts, whatever level is shown
const SAVED = new Map(FLOATS.map((f) => [f.id, { ...f }]));
let told = {}; // floats that differ from the saved ones, as the machine last told
let lying = null; // hooks, radii and verdicts in the wind shown
const inMetres = (values) => values.map((value) => value * CM);

function unpackFloat(raw) {
  return {
    ...raw, atLow: raw.verdict, clear: raw.clear || [], x: raw.x * CM, y: raw.y * CM,
    radii: raw.r.map((r) => (r === null ? null : r * CM)),
    walk: raw.walk === null ? null : raw.walk * CM,
    second: raw.second && inMetres(raw.second), hook: inMetres(raw.hook),
    long: raw.deck[0] * CM, short: raw.deck[1] * CM,
  };
}

function putFloat(one) {
  const f = BY_ID.get(one.id);
  if (f) Object.assign(f, one);
  else {
    FLOATS.push({ ...one, index: FLOATS.length });
    BY_ID.set(one.id, FLOATS[FLOATS.length - 1]);
  }
}

function dropFloat(id) {
  const at = FLOATS.indexOf(BY_ID.get(id));
  if (at >= 0) FLOATS.splice(at, 1);
  BY_ID.delete(id);
  FLOATS.forEach((f, k) => { f.index = k; });
}

function layFloats(floats) {
  for (const id of Object.keys(told)) {
    if (id in floats) continue;
    if (SAVED.has(id)) Object.assign(BY_ID.get(id), SAVED.get(id));
    else dropFloat(id);
  }
  for (const raw of Object.values(floats)) putFloat(unpackFloat(raw));
  told = floats;
  if (lying) layLying();
}

function setOrder(ids) {
  ORDER.splice(0, ORDER.length, ...ids.map((id) => BY_ID.get(id)).filter(Boolean));
}

// As they lie in one wind at one level; verdicts come when the hand has stopped.
function layLying() {
  for (const f of FLOATS) {
    const lie = lying.lies[f.id];
    if (!lie) continue;
    const [hx, hy, bearing, sx, sy] = lie;
    if (hx !== null) { f.hook = [hx * CM, hy * CM]; f.lies = bearing; }
    if (sx !== null && f.second) f.second = [sx * CM, sy * CM];
    const r = lying.r[f.id];
    f.radii = [r === null ? null : r * CM, f.radii[1], f.radii[2]];
    if (lying.says && lying.says[f.id]) f.verdict = lying.says[f.id];
  }
}

function setLying(answer) {
  lying = answer ? { ...answer, says: answer.says || (lying && lying.says) } : null;
  if (lying) { layLying(); return; }
  for (const [id, saved] of SAVED) if (!(id in told)) Object.assign(BY_ID.get(id), saved);
  for (const raw of Object.values(told)) putFloat(unpackFloat(raw));
}

// How much longer the way to a point becomes [cm]: bars keep their far ends while the hand moves.
function farther([tx, ty], f, [x, y]) {
  return (Math.hypot(tx * CM - x, ty * CM - y) - Math.hypot(tx * CM - f.x, ty * CM - f.y)) / CM;
}

// The hand has moved it: the rig goes along until the machine says how it lies there.
function shiftFloat(f, x, y) {
  const [dx, dy] = [x - f.x, y - f.y];
  f.clear = f.clear.map((one) => (one.to ? { ...one, gap: one.gap + farther(one.to, f, [x, y]) } : one));
  f.x = x;
  f.y = y;
  f.hook = [f.hook[0] + dx, f.hook[1] + dy];
  if (f.second) f.second = [f.second[0] + dx, f.second[1] + dy];
}

// What was the plan is what is saved now.
function keepAsSaved() {
  const weather = lying;
  setLying(null);
  told = {};
  SAVED.clear();
  for (const f of FLOATS) SAVED.set(f.id, { ...f });
  setLying(weather);
}

function isMoved(f) {
  const saved = SAVED.get(f.id);
  return Boolean(saved) && Math.hypot(saved.x - f.x, saved.y - f.y) > CM;
}

// Each changed float where the plan has it, also before the machine has answered.
function layPlaces(changes) {
  for (const id of new Set([...Object.keys(told), ...Object.keys(changes)])) {
    const f = BY_ID.get(id);
    const place = changes[id] && changes[id].x !== undefined ? changes[id] : SAVED.get(id);
    if (f && place && (place.x !== f.x || place.y !== f.y)) shiftFloat(f, place.x, place.y);
  }
}

// A size as a person would type it; decks come in whole inches, or centimetres.
function sizeText(metres) {
  if (DATA.unit === 'm') return `${Math.round(metres * 100) / 100} m`;
  const inches = Math.round((metres / FOOT) * 12);
  return `${Math.floor(inches / 12)} ft${inches % 12 ? ` ${inches % 12} in` : ''}`;
}

// The deck that a new float gets: that of another one, else the commonest.
function deckOf(like) {
  const inUse = like ? [like] : FLOATS.filter((f) => f.verdict !== 'retired');
  const counts = new Map();
  for (const f of inUse) counts.set(`${f.long} ${f.short}`, (counts.get(`${f.long} ${f.short}`) || 0) + 1);
  const best = [...counts].reduce((most, one) => (most && most[1] >= one[1] ? most : one), null);
  const side = DATA.unit === 'm' ? 3 : 10 * FOOT; // the machine's own first deck
  const [long, short] = best ? best[0].split(' ').map(Number) : [side, side];
  return { length: sizeText(long), width: sizeText(short) };
}
