// What the chosen float is near: bars with end ticks, each length in a pill.
const MOST_BARS = 3;
const SHORT_BAR = 10; // px; below it only a dot
const BAR_REACH = 300; // px

// From the edge that the rule is about to the circle's far point, or across the free gap.
function barOf(f, one) {
  const r = f.radii[0];
  const to = [one.to[0] * CM - f.x, one.to[1] * CM - f.y];
  const far = Math.hypot(...to) || 1;
  const free = r + one.gap * CM; // from the primary to the edge
  // with the primary itself on the wrong side, the edge lies behind it
  const behind = free < 0 && one.kind !== 'float' && Math.abs(far + free) < 0.05;
  const unit = to.map((v) => (behind ? -v : v) / far);
  return { from: [f.x + unit[0] * r, f.y + unit[1] * r], to: [f.x + unit[0] * free, f.y + unit[1] * free], unit };
}

function barsOf(b, f) {
  if (f.radii[0] === null) return [];
  const drawn = f.clear.filter((one) => one.to && one.kind !== 'shore_max');
  const short = drawn.filter((one) => one.state === 'conflict');
  // a bar that leads off the screen tells nothing
  const ends = (one) => b.at(...barOf(f, one).to);
  const rest = drawn.filter((one) => one.state !== 'conflict' && one.gap * CM * b.cam.ppm < BAR_REACH
    && b.holds([...ends(one), ends(one)[0], ends(one)[1] + (b.look.covered || 0)]));
  return [...short, ...rest].slice(0, Math.max(short.length, MOST_BARS));
}

// Bars and pills are laid out before names are written, and painted last.
function layLengths(b, f, only = () => true) {
  const [px, py] = b.at(f.x, f.y);
  const room = new Room();
  const heart = (f.radii[0] || 0) * b.cam.ppm * 1.1;
  for (const box of b.look.cards || []) room.take(box);
  room.take(boxAt(px, py, heart, heart));
  const bars = barsOf(b, f).filter(only).map((one) => {
    const bar = barOf(f, one);
    return { one, a: b.at(...bar.from), z: b.at(...bar.to), out: [bar.unit[0], -bar.unit[1]] };
  });
  for (const { a, z } of bars) {
    const box = [Math.min(a[0], z[0]) - 9, Math.min(a[1], z[1]) - 9, Math.max(a[0], z[0]) + 9, Math.max(a[1], z[1]) + 9];
    room.take(box);
    b.room.take(box);
  }
  for (const bar of bars) {
    bar.box = placePill(b, bar, room);
    if (bar.box) b.room.take(bar.box);
  }
  return bars;
}

function paintLengths(b, bars) {
  for (const bar of bars) paintBar(b, bar);
  for (const bar of bars) if (bar.box) paintLeader(b, bar); // under every pill
  for (const bar of bars) if (bar.box) paintPill(b, bar);
}

const barColour = (b, one) => ({ conflict: b.palette.conflict, tight: b.palette.tight }[one.state] || b.palette.clear);

function paintBar(b, { one, a, z }) {
  const run = Math.hypot(z[0] - a[0], z[1] - a[1]);
  const colour = barColour(b, one);
  const path = new Path2D();
  if (run < SHORT_BAR) {
    path.arc((a[0] + z[0]) / 2, (a[1] + z[1]) / 2, 3.4, 0, 7);
    b.stroke(path, '#fff', 3);
    b.fill(path, colour);
    return;
  }
  const tick = [-((z[1] - a[1]) / run) * 7, ((z[0] - a[0]) / run) * 7];
  path.moveTo(...a);
  path.lineTo(...z);
  for (const end of [a, z]) {
    path.moveTo(end[0] - tick[0], end[1] - tick[1]);
    path.lineTo(end[0] + tick[0], end[1] + tick[1]);
  }
  b.stroke(path, '#fff', 6.5);
  b.stroke(path, colour, 3);
}

const PILL = { size: 12.5, height: 26, margin: 6 };

function placePill(b, { one, a, z, out }, room) {
  const middle = [(a[0] + z[0]) / 2, (a[1] + z[1]) / 2];
  const width = b.widthOf(one.pill, PILL.size, 700) + 22;
  const inside = (v, half, most) => Math.min(Math.max(v, half + PILL.margin), most - half - PILL.margin);
  const boxNear = (px, py) => boxAt(inside(px, width / 2, b.cam.width),
    inside(py, PILL.height / 2, b.cam.height - (b.look.covered || 0)), width, PILL.height);
  // beside a short bar, else the pill would hide the very overlap that it names
  const aside = one.kind === 'float' && one.gap < 0 ? Math.PI / 2 : 0;
  const toward = Math.atan2(out[1], out[0]) + aside;
  for (const far of [26, 44, 66, 92, 124, 160]) {
    for (const turn of [0, 35, -35, 70, -70, 110, -110, 150, -150, 180]) {
      const angle = toward + (turn * Math.PI) / 180;
      const box = boxNear(middle[0] + Math.cos(angle) * (far + (width / 2) * Math.abs(Math.cos(angle))),
        middle[1] + Math.sin(angle) * far);
      if (!room.isFree(box)) continue;
      room.take([box[0] - 4, box[1] - 4, box[2] + 4, box[3] + 4]);
      return box;
    }
  }
  return one.state === 'conflict' ? boxNear(middle[0], middle[1] - 30) : null;
}

function paintLeader(b, { one, a, z, box }) {
  const middle = [(a[0] + z[0]) / 2, (a[1] + z[1]) / 2];
  const colour = barColour(b, one);
  const leader = new Path2D();
  leader.moveTo(...middle);
  leader.lineTo(Math.min(Math.max(middle[0], box[0] + 12), box[2] - 12), Math.min(Math.max(middle[1], box[1]), box[3]));
  b.stroke(leader, '#fff', 3.5);
  b.stroke(leader, colour, 1.4);
}

function paintPill(b, { one, box }) {
  const colour = barColour(b, one);
  const pill = new Path2D();
  if (pill.roundRect) pill.roundRect(box[0], box[1], box[2] - box[0], PILL.height, PILL.height / 2);
  else pill.rect(box[0], box[1], box[2] - box[0], PILL.height);
  b.fill(pill, '#fff');
  b.stroke(pill, colour, 2);
  b.text(one.pill, (box[0] + box[2]) / 2, (box[1] + box[3]) / 2, { size: PILL.size, weight: 700, colour, halo: 0 });
}
