// Words on the map: zones, islands, contours, soundings. A word that finds no room is left out.
const NAME = { size: 11.5, weight: 600 };
const LOT_SCALE = 1.5; // px per foot from which lots are named
const FIGURE_SCALE = 2.2; // the same for soundings

function paintNames(b, seen) {
  for (const f of seen) {
    const side = 1.5 * (f.radii[0] || 3) * b.cam.ppm;
    b.room.take(boxAt(...b.at(f.x, f.y), side, side));
  }
  for (const zone of SCENE.zones) if (zone.kind !== 'frontage') paintZoneName(b, zone);
  for (const zone of SCENE.zones) {
    if (ON_LAND_TOO.has(zone.kind)) b.room.take([...b.at(zone.box[0], zone.box[3]), ...b.at(zone.box[2], zone.box[1])]);
  }
  for (const island of SCENE.islands) {
    const [px, py] = b.at(island.x, island.y);
    paintName(b, cut(island.name), [[px, py], [px, py + 22], [px, py - 22]]);
  }
  for (const contour of SCENE.contours) for (const line of contour.lines) paintContourLabels(b, contour.label, line, seen);
  if (b.perFoot >= LOT_SCALE) for (const zone of SCENE.zones) if (zone.kind === 'frontage') paintLotName(b, zone);
  if (b.perFoot >= FIGURE_SCALE) paintSoundingFigures(b, seen);
}

// The first place that is free takes the name.
function paintName(b, words, places, look = {}) {
  const full = { ...NAME, colour: b.palette.zone, ...look };
  const width = b.widthOf(words, full.size, full.weight) + 8;
  const height = 15 * words.split('\n').length + 2;
  for (const [px, py] of places) {
    const box = boxAt(px, py, width, height);
    if (!b.holds(box) || !b.room.isFree(box)) continue;
    b.room.take(box);
    b.text(words, px, py, full);
    return true;
  }
  return false;
}

function twoLines(name) {
  const words = cut(name);
  const middle = words.length / 2;
  const gaps = [...words].map((sign, k) => (sign === ' ' ? k : -1)).filter((k) => k > 0);
  if (words.length < 12 || !gaps.length) return words;
  const best = gaps.reduce((a, k) => (Math.abs(k - middle) < Math.abs(a - middle) ? k : a));
  return `${words.slice(0, best)}\n${words.slice(best + 1)}`;
}

function paintZoneName(b, zone) {
  if (zone.kind === 'dock' && b.perFoot < LOT_SCALE) return;
  if (zone.middle.length) { paintAlong(b, zone); return; }
  const words = twoLines(zone.name);
  const [px, py] = b.at(zone.x, zone.y);
  const [left, bottom] = b.at(zone.box[0], zone.box[1]);
  const [right, top] = b.at(zone.box[2], zone.box[3]);
  const half = b.widthOf(words, NAME.size, NAME.weight) / 2 + 8;
  const high = 8 * words.split('\n').length + 4;
  const beside = [[px, top - high], [px, bottom + high], [right + half, py], [left - half, py]];
  const fits = right - left > half * 1.3 && bottom - top > high * 1.6;
  // land first: a name beside a small zone covers no water that way
  const dry = beside.filter(([x, y]) => depthAt(...b.cam.metres(x, y)) === null);
  const wet = beside.filter((place) => !dry.includes(place));
  paintName(b, words, fits ? [[px, py], ...dry, ...wet] : [...dry, ...wet, [px, py]]);
}

// Walks a line and calls back at even steps with place and slope; places stay put as the map moves.
function alongLine(b, line, every, visit) {
  const points = [];
  for (let k = 0; k < line.length; k += 2) points.push(b.at(line[k], line[k + 1]));
  const runs = points.map((p, k) => (k ? Math.hypot(p[0] - points[k - 1][0], p[1] - points[k - 1][1]) : 0));
  const whole = runs.reduce((sum, run) => sum + run, 0);
  const place = (run) => {
    let left = Math.min(Math.max(run, 0), whole);
    let k = 1;
    while (k < points.length - 1 && left > runs[k]) { left -= runs[k]; k += 1; }
    const share = runs[k] ? left / runs[k] : 0;
    return [0, 1].map((i) => points[k - 1][i] + (points[k][i] - points[k - 1][i]) * share);
  };
  if (whole < 90) return;
  const count = Math.max(1, Math.floor(whole / every));
  for (let n = 0; n < count; n += 1) {
    for (const shift of [0, 35, -35, 70, -70]) {
      const run = ((n + 0.5) / count) * whole + shift;
      const [px, py] = place(run);
      if (!b.isSeen(px, py)) continue;
      const [ax, ay] = place(run - 16);
      const [bx, by] = place(run + 16);
      let turn = Math.atan2(by - ay, bx - ax);
      if (turn > Math.PI / 2) turn -= Math.PI;
      if (turn < -Math.PI / 2) turn += Math.PI;
      if (visit(px, py, turn)) break;
    }
  }
}

function paintAlong(b, zone) {
  const words = cut(zone.name);
  const width = b.widthOf(words, NAME.size, NAME.weight);
  for (const line of zone.middle) {
    alongLine(b, line, 700, (px, py, turn) => {
      const box = boxAt(px, py, Math.abs(Math.cos(turn)) * width + 14, Math.abs(Math.sin(turn)) * width + 14);
      if (!b.holds(box) || !b.room.isFree(box)) return false;
      b.room.take(box);
      b.text(words, px, py, { ...NAME, colour: b.palette.zone, turn });
      return true;
    });
  }
}

function paintContourLabels(b, label, line, seen) {
  const near = (px, py) => seen.some((f) => {
    const [fx, fy] = b.at(f.x, f.y);
    return Math.hypot(fx - px, fy - py) < (f.radii[0] || 0) * b.cam.ppm + (f === b.look.chosen ? 24 : 15);
  });
  alongLine(b, line, 250, (px, py, turn) => {
    const box = boxAt(px, py, 52, 46);
    if (!b.room.isFree(box) || near(px, py)) return false;
    b.room.take(box);
    b.text(label, px, py, { colour: b.palette.contourText, turn });
    return true;
  });
}

function paintLotName(b, zone) {
  const name = words('map.lot', { lot: cut(zone.lot || zone.name) });
  const [left, bottom] = b.at(zone.box[0], zone.box[1]);
  const [right, top] = b.at(zone.box[2], zone.box[3]);
  const middle = [(left + right) / 2, (top + bottom) / 2];
  // the lot's land lies where its water ends: the first dry place around it
  const around = [[0, -1], [1, 0], [0, 1], [-1, 0], [1, -1], [1, 1], [-1, 1], [-1, -1]].map(([dx, dy]) => [
    middle[0] + dx * ((right - left) / 2 + 30), middle[1] + dy * ((bottom - top) / 2 + 14)]);
  const dry = around.filter(([x, y]) => depthAt(...b.cam.metres(x, y)) === null);
  paintName(b, name, dry, { size: 11, weight: 400 });
}

function paintSoundingFigures(b, seen) {
  const edge = 14 / b.cam.ppm; // a figure on a ring's line cannot be read
  const inCircle = (one) => seen.some((f) => f.radii[0] && Math.hypot(f.x - one.x, f.y - one.y) < f.radii[0] + edge);
  for (const one of SCENE.soundings) {
    const [px, py] = b.at(one.x, one.y);
    const box = boxAt(px, py, 34, 20);
    if (!b.isSeen(px, py) || !b.room.isFree(box) || inCircle(one)) continue;
    b.room.take(box);
    b.text(one.text, px, py, { colour: b.palette.sounding, halo: 2 });
  }
}
