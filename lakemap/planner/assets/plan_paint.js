// What the planner draws beside the map: old places, the handle, lettered places, where floats may go.
const HANDLE = 17; // px, the ring about the chosen float's primary
const LETTER = 11; // px, of a place's disc
const ALLOWED = { tint: '#FFFFFF', veil: 0.6, edge: '#0B5570' };

function paintAllowed(b, path) {
  const { c } = b;
  const allowed = b.placed(path);
  c.save();
  c.clip(b.placed(SCENE.water), 'evenodd');
  c.lineJoin = 'round';
  b.fill(allowed, ALLOWED.tint, ALLOWED.veil);
  b.stroke(allowed, '#fff', 3.4);
  b.stroke(allowed, ALLOWED.edge, 1.5);
  c.restore();
}

// The place that is saved: dotted circle, open square, a dashed line to where it is now.
function paintOld(b, f, isNamed) {
  const saved = SAVED.get(f.id);
  const [px, py] = b.at(saved.x, saved.y);
  if (saved.radii[0] !== null) {
    const ring = b.circle(saved.x, saved.y, saved.radii[0]);
    b.stroke(ring, '#fff', 3);
    b.stroke(ring, b.palette.ink, 1.5, [3, 4]);
  }
  const way = new Path2D();
  way.moveTo(px, py);
  way.lineTo(...b.at(f.x, f.y));
  b.stroke(way, '#fff', 3.4);
  b.stroke(way, b.palette.ink, 1.4, [6, 4]);
  paintSquare(b, [px, py], 8, { open: true });
  if (isNamed) paintOldName(b, f, saved, [px, py]);
}

// On the side that it was moved away from.
function paintOldName(b, f, saved, [px, py]) {
  const away = Math.max((saved.radii[0] || 0) * b.cam.ppm, 12) + 12;
  const far = Math.hypot(saved.x - f.x, saved.y - f.y) || 1;
  const text = words('map.was');
  const half = b.widthOf(text, 12.5, 400) / 2;
  const x = px + ((saved.x - f.x) / far) * (away + half * 0.8);
  const y = py - ((saved.y - f.y) / far) * away;
  b.text(text, x, y, { size: 12.5, halo: 4 });
}

// A ring about the primary; where it would hide a small circle, arrows alone about that.
function paintHandle(b, f, isHeld) {
  const [px, py] = b.at(f.x, f.y);
  const small = (f.radii[0] || 0) * b.cam.ppm + 5 < 2 * HANDLE;
  const far = small ? Math.max((f.radii[0] || 0) * b.cam.ppm + 5, HANDLE) : HANDLE;
  const ring = new Path2D();
  if (!small) ring.arc(px, py, HANDLE, 0, 2 * Math.PI);
  const tips = new Path2D();
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
    const at = (along, across) => [px + dx * along - dy * across, py + dy * along + dx * across];
    tips.moveTo(...at(far + 5, -5));
    tips.lineTo(...at(far + 10, 0));
    tips.lineTo(...at(far + 5, 5));
  }
  b.c.lineJoin = 'round';
  b.c.lineCap = 'round';
  for (const path of [ring, tips]) {
    b.stroke(path, '#fff', 6.5);
    b.stroke(path, isHeld ? b.palette.ink : b.palette.accent, 3);
  }
  b.c.lineCap = 'butt';
}

function paintPlace(b, place, isChosen) {
  const [px, py] = b.at(place.x, place.y);
  if (isChosen) {
    const ring = b.circle(place.x, place.y, place.r * CM);
    b.stroke(ring, '#fff', 4.5);
    b.stroke(ring, b.palette.accent, 2, [7, 5]);
  }
  const disc = new Path2D();
  disc.arc(px, py, LETTER, 0, 2 * Math.PI);
  b.stroke(disc, '#fff', 5);
  b.fill(disc, isChosen ? b.palette.accent : '#fff');
  b.stroke(disc, b.palette.accent, 1.6);
  b.text(place.name, px, py, { size: 12.5, weight: 700, halo: 0, colour: isChosen ? '#fff' : b.palette.ink });
}

// Where somebody pointed, and the nearest place where a float may lie.
function paintAsked(b, { x, y, nearest }) {
  const [px, py] = b.at(x, y);
  const cross = new Path2D();
  for (const side of [-1, 1]) {
    cross.moveTo(px - 9, py - 9 * side);
    cross.lineTo(px + 9, py + 9 * side);
  }
  if (nearest) {
    const way = new Path2D();
    way.moveTo(px, py);
    way.lineTo(...b.at(nearest.x, nearest.y));
    b.stroke(way, '#fff', 3.4);
    b.stroke(way, b.palette.accent, 1.4, [6, 4]);
    const [nx, ny] = b.at(nearest.x, nearest.y);
    const ring = new Path2D();
    ring.arc(nx, ny, 14, 0, 2 * Math.PI);
    b.stroke(ring, '#fff', 6);
    b.stroke(ring, b.palette.accent, 3);
    paintSquare(b, [nx, ny], 7, { open: false });
  }
  b.stroke(cross, '#fff', 6);
  b.stroke(cross, b.palette.ink, 2.4);
}

// The middle of the map, where a float goes that is added by keyboard.
function paintMiddle(b, covered) {
  const [px, py] = [b.cam.width / 2, (b.cam.height - covered) / 2];
  const cross = new Path2D();
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
    cross.moveTo(px + dx * 5, py + dy * 5);
    cross.lineTo(px + dx * 20, py + dy * 20);
  }
  b.stroke(cross, '#fff', 6);
  b.stroke(cross, b.palette.ink, 2.2);
}

// Names of the clusters stand clear of the handle.
const paintClusterNamesAlone = paintClusterNames;
paintClusterNames = (b, f, [px, py]) => paintClusterNamesAlone(b, f, [px, py + HANDLE + 6]);
