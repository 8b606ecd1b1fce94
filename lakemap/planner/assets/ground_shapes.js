// Plain geometry on the page: distances, crossings, snapping; rings are lists of [x, y] in metres.
const away = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const between = (a, b, share = 0.5) => [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
const atCorner = (line, k) => line[(k + line.length) % line.length];

function nearestOn(a, b, p) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const share = square ? Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square)) : 0;
  return between(a, b, share);
}

// Where two sides cross or touch, or null; sides that share an end are asked without it.
function sidesCross(a, b, c, d) {
  const side = (p, q, r) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  const [da, db, dc, dd] = [side(c, d, a), side(c, d, b), side(a, b, c), side(a, b, d)];
  if (da * db > 0 || dc * dd > 0) return null;
  if (da === db) return null; // in one line: the machine tells
  return between(a, b, da / (da - db));
}

const sideCount = (line, closed) => (closed ? line.length : line.length - 1);

// The first side that one side crosses.
function crossingOf(line, closed, k) {
  const count = sideCount(line, closed);
  if (k < 0 || k >= count) return null;
  const [a, b] = [line[k], atCorner(line, k + 1)];
  for (let j = 0; j < count; j += 1) {
    const next = (j + 1) % line.length;
    if (j === k || next === k || j === (k + 1) % line.length) continue;
    const at = sidesCross(a, b, line[j], line[next]);
    if (at) return at;
  }
  return null;
}

// What a moved corner makes cross: the two sides that meet in it.
const crossingAt = (line, closed, k) => crossingOf(line, closed, k) || crossingOf(line, closed, closed ? (k - 1 + line.length) % line.length : k - 1);

function holdsPoint(rings, [x, y]) {
  let isIn = false;
  for (const ring of rings) {
    for (let k = 0, j = ring.length - 1; k < ring.length; j = k, k += 1) {
      const [[ax, ay], [bx, by]] = [ring[k], ring[j]];
      if ((ay > y) !== (by > y) && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) isIn = !isIn;
    }
  }
  return isIn;
}

// The corner or the side of shapes that is nearest to a point, within so many metres.
function nearestCorner(shapes, p, within) {
  let found = null;
  for (const shape of shapes) {
    shape.lines.forEach((line, at) => line.forEach((corner, k) => {
      const far = away(corner, p);
      if (far <= (found ? found.far : within)) found = { shape, line: at, k, far, point: corner };
    }));
  }
  return found;
}

function nearestSide(shapes, p, within) {
  let found = null;
  for (const shape of shapes) {
    shape.lines.forEach((line, at) => {
      for (let k = 0; k < sideCount(line, !shape.line); k += 1) {
        const point = nearestOn(line[k], atCorner(line, k + 1), p);
        const far = away(point, p);
        if (far <= (found ? found.far : within)) found = { shape, line: at, k, far, point };
      }
    });
  }
  return found;
}

// A point as it snaps: to a corner first, then to a side; the shore does not snap to the shore.
function snapped(shapes, p, { within, kind, without = null }) {
  const wanted = shapes.filter((shape) => shape.key !== without && !(SHORE_KINDS.has(kind) && SHORE_KINDS.has(shape.kind)));
  const corner = nearestCorner(wanted, p, within);
  if (corner) return { point: [...corner.point], to: 'corner' };
  const side = nearestSide(wanted, p, within);
  return side ? { point: side.point, to: 'side' } : { point: p, to: null };
}

// A hand's path with fewer corners: none is farther from it than so many metres.
function thinned(path, most) {
  if (path.length < 3) return path;
  let [worst, at] = [0, 0];
  for (let k = 1; k < path.length - 1; k += 1) {
    const far = away(nearestOn(path[0], path[path.length - 1], path[k]), path[k]);
    if (far > worst) [worst, at] = [far, k];
  }
  if (worst <= most) return [path[0], path[path.length - 1]];
  return [...thinned(path.slice(0, at + 1), most).slice(0, -1), ...thinned(path.slice(at), most)];
}

const bearingOf = (a, b) => (Math.atan2(b[0] - a[0], b[1] - a[1]) * 180 / Math.PI + 360) % 360;
const POINTS_OF_COMPASS = ['north', 'northeast', 'east', 'southeast', 'south', 'southwest', 'west', 'northwest'];
const compassWord = (degrees) => POINTS_OF_COMPASS[Math.round(degrees / 45) % 8];

function boxOf(points) {
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  const least = (list) => list.reduce((a, b) => Math.min(a, b), Infinity);
  const most = (list) => list.reduce((a, b) => Math.max(a, b), -Infinity);
  return [least(xs), least(ys), most(xs), most(ys)];
}

// Matrices as the canvas has them: x = a u + c v + e, y = b u + d v + f.
const applied = ([a, b, c, d, e, f], [u, v]) => [a * u + c * v + e, b * u + d * v + f];
function undone([a, b, c, d, e, f], [x, y]) {
  const all = a * d - b * c;
  return [(d * (x - e) - c * (y - f)) / all, (a * (y - f) - b * (x - e)) / all];
}
