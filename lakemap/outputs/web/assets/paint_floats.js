// Floats: swing circles in the style of their verdict, rigs, numbers; far off, joined marks.
const DRAWN_LAST = { retired: 0, clear: 1, unknown: 2, tight: 3, conflict: 4 };
const NEAR_SCALE = 2; // px per foot from which rigs get heavier lines and larger numbers
const MARK_SCALE = 0.4; // px per foot below which small circles become marks
const MARK_CIRCLE = 20; // px across
const JOIN = 18; // px within which marks become one
const UNKNOWN_RADIUS = 11; // px, where not even the circle is known

const biggestRadius = FLOATS.reduce((most, f) => Math.max(most, f.radii[0] || 0), 0.1);
const showsMarks = (b) => b.perFoot < MARK_SCALE && biggestRadius * b.cam.ppm * 2 < MARK_CIRCLE && FLOATS.length > 1;

function seenFloats(b) {
  const seen = FLOATS.filter((f) => b.isSeen(...b.at(f.x, f.y), (f.radii[0] || 5) * b.cam.ppm + 30));
  return seen.sort((one, other) => DRAWN_LAST[one.verdict] - DRAWN_LAST[other.verdict]);
}

function paintFloats(b, seen) {
  paintRigs(b, seen);
  paintNumbers(b, seen);
}

function paintRigs(b, seen) {
  for (const f of seen) if (f.verdict !== 'retired') paintRing(b, f);
  for (const f of new Set([b.look.hovered, b.look.chosen])) if (f && seen.includes(f)) paintLit(b, f);
  for (const f of seen) paintRig(b, f);
}

function paintNumbers(b, seen) {
  for (const f of seen) paintNumber(b, f);
}

function ringOf(b, f) {
  const r = f.radii[b.look.level];
  return b.circle(f.x, f.y, r === null ? UNKNOWN_RADIUS / b.cam.ppm : r);
}

function paintRing(b, f) {
  const { palette, bold } = b;
  const ring = ringOf(b, f);
  if (f.verdict === 'conflict') {
    b.fill(ring, '#FFE1DA', 0.78);
    paintOverlaps(b, f, ring);
    b.stroke(ring, '#fff', 5 * bold);
    b.stroke(ring, palette.conflict, 2.8 * bold);
  } else if (f.verdict === 'tight') {
    b.fill(ring, '#FFF3D2', 0.6);
    b.stroke(ring, palette.amber, 4 * bold);
    b.stroke(ring, palette.tight, 1.9 * bold, [7, 4.5]);
  } else if (f.verdict === 'unknown') {
    b.stroke(ring, '#fff', 4);
    b.dots(ring, palette.unknown, 2.2 * bold, [0.1, 4.6]);
  } else {
    b.stroke(ring, '#fff', 2.6 * bold);
    b.stroke(ring, palette.clear, 1.15 * bold);
  }
}

// Where a circle lies on what it must keep off, that part of it is hatched.
function paintOverlaps(b, f, ring) {
  for (const one of f.clear) {
    if (one.state !== 'conflict' || !(one.gap < 0)) continue;
    const other = one.kind === 'float' ? BY_ID.get(one.against) : null;
    const zone = SCENE.zones.find((z) => z.kind === one.kind && z.name === one.against && z.kind !== 'frontage');
    const covered = other ? ringOf(b, other) : zone ? b.placed(zone.path) : null;
    if (!covered) continue;
    b.c.save();
    b.c.clip(ring);
    b.fill(covered, b.pattern('hatch'));
    b.c.restore();
  }
}

// The float chosen or under the pointer: a double ring, high water dotted, walk circle dashed.
function paintLit(b, f) {
  const r = f.radii[b.look.level];
  if (r === null) return;
  const outer = b.circle(f.x, f.y, r + 5 / b.cam.ppm);
  b.stroke(outer, '#fff', 5.5);
  b.stroke(outer, b.palette.ink, 2);
  if (f.verdict === 'retired') return;
  const high = f.radii[2];
  const colour = f.verdict === 'clear' ? b.palette.clear : b.palette[f.verdict];
  const cased = (ring, style, width, dash) => { b.stroke(ring, '#fff', width + 1.6); b.stroke(ring, style, width, dash); };
  if (high !== null && b.look.level !== 2) cased(b.circle(f.x, f.y, high), colour, 1.2, [2, 3]);
  if (f.walk) cased(b.circle(f.x, f.y, f.walk), b.palette.ink, 1, [5, 3]);
}

function paintRig(b, f) {
  const { c, palette, bold } = b;
  const near = b.perFoot >= NEAR_SCALE;
  const retired = f.status === 'retired';
  c.globalAlpha = retired ? 0.55 : 1;
  const primary = b.at(f.x, f.y);
  const hook = b.at(...f.hook);
  const second = f.second && !retired ? b.at(...f.second) : null;
  const side = near ? Math.max(4.6, 2.6 * b.perFoot) : 4.6;
  if (second) {
    const dash = f.guess ? [3, 2] : [];
    const chain = new Path2D();
    chain.moveTo(...primary);
    chain.lineTo(...second);
    b.stroke(chain, palette.ink, (near ? 2 : 1.3) * bold, dash);
    const riser = new Path2D();
    riser.moveTo(...second);
    riser.lineTo(...hook);
    b.stroke(riser, palette.ink, (near ? 1.4 : 0.9) * bold, dash);
  }
  paintDeck(b, f, hook);
  if (second) paintSquare(b, second, side * 0.75, { open: true });
  if (!retired) paintSquare(b, primary, side, { open: !f.located, dash: f.located ? [] : [2, 1.5] });
  c.globalAlpha = 1;
}

function paintSquare(b, [px, py], side, { open, dash = [] }) {
  const path = new Path2D();
  path.rect(px - side / 2, py - side / 2, side, side);
  b.fill(path, open ? '#fff' : b.palette.ink);
  if (open) b.stroke(path, b.palette.ink, 1.2 * b.bold, dash);
}

function paintDeck(b, f, [px, py]) {
  const { c, palette } = b;
  const long = Math.max(f.long * b.cam.ppm, 7);
  const short = Math.max(f.short * b.cam.ppm, 5);
  const start = f.edge ? 0 : -long / 2;
  const dash = { proposed: [2.2, 1.6], retired: [1, 2] }[f.status] || [];
  const fill = { conflict: '#FFD3C9', tight: '#FFE9B0' }[f.verdict] || '#fff';
  c.save();
  c.translate(px, py);
  c.rotate((f.lies - 90) * Math.PI / 180);
  const deck = new Path2D();
  deck.rect(start, -short / 2, long, short);
  b.fill(deck, fill);
  if (b.perFoot >= 3) {
    const planks = new Path2D();
    for (let k = 1; k < 6; k += 1) {
      planks.moveTo(start + (long * k) / 6, -short / 2);
      planks.lineTo(start + (long * k) / 6, short / 2);
    }
    c.globalAlpha *= 0.35;
    b.stroke(planks, palette.ink, 0.9);
    c.globalAlpha = f.status === 'retired' ? 0.55 : 1;
  }
  b.stroke(deck, palette.ink, (b.perFoot >= NEAR_SCALE ? 1.6 : 1.2) * b.bold, dash);
  c.restore();
}

// Inside the circle, at a right angle to the rig, so that it hides no deck; the lower side is taken.
function paintNumber(b, f) {
  const [px, py] = b.at(f.x, f.y);
  const r = (f.radii[b.look.level] || 0) * b.cam.ppm;
  if (f.status === 'retired') {
    if (biggestRadius * b.cam.ppm >= 12) b.text(words('map.retired', { float: cut(f.id, 9) }), px, py + 15, { colour: b.palette.retired });
    return;
  }
  const below = f.status === 'proposed' ? words('map.proposed') : f.verdict === 'unknown' ? words('map.no_depth') : '';
  const room = Math.max(r, f.radii[b.look.level] === null ? UNKNOWN_RADIUS : 0);
  if (room < 10) return;
  const size = b.perFoot >= NEAR_SCALE ? 15 : 11;
  const colour = f.verdict === 'clear' ? b.palette.ink : b.palette[f.verdict];
  const way = (f.lies * Math.PI) / 180;
  const side = Math.sin(way) >= 0 ? 1 : -1; // of the two right angles the one that points down the screen
  const clearOfRig = Math.max((f.short / 2) * b.cam.ppm, 3) + size * 0.85;
  const away = Math.min(Math.max(room - size * 0.75, size * 0.6), f === b.look.chosen ? Math.max(clearOfRig, room * 0.52) : clearOfRig);
  const at = r < 12 ? [px, py + room + 7] : [px + side * Math.cos(way) * away, py + side * Math.sin(way) * away];
  if (r < 12 && b.perFoot < 0.25) return;
  b.text(cut(f.id, 9), at[0], at[1], { weight: 700, size, colour });
  if (below) b.text(below, px, py + room + 9, { colour: f.verdict === 'unknown' ? b.palette.unknown : b.palette.ink });
  if (f === b.look.chosen && r > 90) paintClusterNames(b, f, [px, py]);
}

function paintClusterNames(b, f, [px, py]) {
  const look = { size: 12.5, weight: 600 };
  b.text(words('map.primary'), px - 14, py + 1.3 * b.perFoot + 13, look);
  if (!f.second) return;
  const [sx, sy] = b.at(...f.second);
  const [, hy] = b.at(...f.hook);
  if (Math.hypot(sx - px, sy - py) < 70) return;
  b.text(words('map.secondary'), sx, sy + (hy > sy ? -1 : 1) * (b.perFoot + 14), look);
}

// Marks near each other become one with a count; cells are fixed to the lake, so they hold still.
// A conflict is never counted into anything milder: it leads its cell and the count is of conflicts.
function joinedMarks(b) {
  const cells = new Map();
  for (const f of FLOATS) {
    const [px, py] = b.at(f.x, f.y);
    if (f.verdict === 'retired' || !b.isSeen(px, py, 30)) continue;
    const key = `${Math.round((f.x * b.cam.ppm) / JOIN)},${Math.round((f.y * b.cam.ppm) / JOIN)}`;
    const held = cells.get(key);
    if (!held || DRAWN_LAST[f.verdict] > DRAWN_LAST[held.verdict]) {
      cells.set(key, { px, py, verdict: f.verdict, count: 1, first: f });
    } else if (held.verdict === f.verdict) held.count += 1;
  }
  return [...cells.values()].sort((one, other) => DRAWN_LAST[one.verdict] - DRAWN_LAST[other.verdict]);
}

function paintMarks(b) {
  const joined = joinedMarks(b);
  for (const one of joined) {
    const { px, py, verdict } = one;
    const rings = new Path2D();
    const ring = (dx, r) => { rings.moveTo(px + dx + r, py); rings.arc(px + dx, py, r, 0, 7); };
    if (verdict === 'conflict') { ring(-3, 5); ring(3, 5); }
    if (verdict === 'tight') { ring(-3.6, 3.2); ring(3.6, 3.2); }
    if (verdict === 'clear') ring(0, 3.4);
    if (verdict === 'unknown') ring(0, 5);
    b.stroke(rings, '#fff', verdict === 'clear' ? 4 : 5.5);
    b.fill(rings, { conflict: '#FFE1DA', tight: '#FFC44A' }[verdict] || '#fff');
    if (verdict === 'unknown') b.dots(rings, b.palette.unknown, 2, [0.1, 3.4]);
    else b.stroke(rings, b.palette[verdict], { conflict: 2.2, tight: 1.6 }[verdict] || 1.3);
    if (one.count > 1) b.text(String(one.count), px, py + 11, { size: 10, weight: 700, colour: b.palette[verdict] });
  }
  return joined;
}
