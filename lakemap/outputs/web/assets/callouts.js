// Callouts name the worst conflicts, on land or empty water, never over a float; tabs name those off the screen.
const MOST_CALLOUTS = 6;
const MOST_CALLOUTS_PHONE = 2;
const STAY_BONUS = 60;
const CROWD = 120; // px about another conflict that its own callout may want
const CALLOUT_LIMIT = 120; // px of radius: nearer than that the float speaks for itself

// islands and zones: a callout there hides what the map is for
const CHANNEL_POINTS = SCENE.zones.flatMap((z) => z.middle).flatMap((line) => {
  const points = [];
  for (let k = 2; k < line.length; k += 2) {
    const steps = Math.max(1, Math.ceil(Math.hypot(line[k] - line[k - 2], line[k + 1] - line[k - 1]) / 10));
    for (let n = 0; n <= steps; n += 1) {
      points.push([line[k - 2] + ((line[k] - line[k - 2]) * n) / steps, line[k - 1] + ((line[k + 1] - line[k - 1]) * n) / steps]);
    }
  }
  return points;
});
const COSTLY = [...SCENE.islandBoxes, ...SCENE.zones.filter((z) => z.kind !== 'frontage' && !z.middle.length).map((z) => z.box)];

function calloutSubjects() {
  const subjects = [];
  const paired = new Set();
  for (const f of ORDER) {
    if (f.verdict !== 'conflict' || subjects.length >= MOST_CALLOUTS) continue;
    const worst = f.clear.find((one) => one.state === 'conflict');
    const isPair = Boolean(worst && worst.kind === 'float');
    const pair = isPair ? [f.id, worst.against].sort().join('\n') : '';
    if (isPair && paired.has(pair)) continue;
    paired.add(pair);
    const title = words(isPair ? 'call.floats' : f.lot ? 'call.float_of_lot' : 'call.float',
      { float: cut(f.id, 12), other: isPair ? cut(worst.against, 12) : '', lot: cut(f.lot, 8) });
    subjects.push({ f, worst, title, says: isPair && worst.gap < 0 ? words('call.circles', { overlap: worst.pill }) : f.brief });
  }
  return subjects;
}

function doCross(a, b, c, d) {
  const side = (p, q, r) => Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);
}

// A line through a box, looked at in ten places.
function runsThrough(box, from, to) {
  return [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].some((k) => {
    const [x, y] = [from[0] + ((to[0] - from[0]) * k) / 11, from[1] + ((to[1] - from[1]) * k) / 11];
    return x > box[0] && x < box[2] && y > box[1] && y < box[3];
  });
}

// How much of the room of other conflicts a box takes: their own callouts should stand near them.
function crowding(box, near) {
  let cost = 0;
  for (const [x, y] of near) {
    const far = Math.hypot(Math.max(box[0] - x, 0, x - box[2]), Math.max(box[1] - y, 0, y - box[3]));
    cost += Math.max(0, 1 - far / CROWD) * 40;
  }
  return cost;
}

class Callouts {
  constructor(host, choose, jump) {
    this.host = host;
    this.jump = jump;
    this.calls = calloutSubjects().map(({ f, worst, title, says }) => {
      const node = el('button', { class: 'call', 'aria-label': words('call.whole', { title, says }) },
        el('b', {}, mark('conflict'), title), el('span', { text: says }));
      node.addEventListener('click', () => choose(f));
      host.append(node);
      return { f, worst, node };
    });
    this.tabs = ['left', 'right', 'top', 'bottom'].map((side) => {
      const node = el('button', { class: `edge-tab at-${side}`, hidden: true });
      const tab = { side, node, floats: [] };
      node.addEventListener('click', () => this.jump(tab.floats[0]));
      host.append(node);
      return tab;
    });
  }

  // What a callout points at: the place of the conflict, or the circle's edge.
  anchor(b, { f, worst }) {
    if (worst && worst.to && f.radii[0] !== null && worst.kind !== 'shore_max') {
      const bar = barOf(f, worst);
      return b.at((bar.from[0] + bar.to[0]) / 2, (bar.from[1] + bar.to[1]) / 2);
    }
    return null;
  }

  // Sets the boxes and takes their room, so that names keep clear; the leaders are painted later.
  place(b, { show, obstacles, phone, bottom }) {
    const rings = FLOATS.length < 400 ? FLOATS.filter((f) => f.verdict !== 'retired').map((f) => (
      [...b.at(f.x, f.y), (f.radii[0] || 3) * b.cam.ppm + 3])) : [];
    const shown = this.calls.filter((call) => {
      const [fx, fy] = b.at(call.f.x, call.f.y);
      return show && (call.f.radii[0] || 3) * b.cam.ppm < CALLOUT_LIMIT && fx > 0 && fy > 0 && fx < b.cam.width && fy < bottom;
    });
    // all at once, then their sizes are read: at the left, as near the right edge of a narrowed map they would shrink
    for (const call of this.calls) {
      call.node.hidden = !shown.includes(call);
      call.node.style.left = '0';
    }
    const placed = new Map();
    // a second look, as the first ones were set before it was known where the others point
    for (let look = 0; look < 2; look += 1) {
      for (const call of shown) {
        const isOne = placed.has(call);
        placed.delete(call);
        if (look && !isOne) continue;
        if (!look && placed.size >= (phone ? MOST_CALLOUTS_PHONE : MOST_CALLOUTS)) break;
        const found = this.set(b, call, { rings, placed, obstacles, bottom, shown });
        if (found) placed.set(call, found);
      }
    }
    for (const call of this.calls) call.node.hidden = !placed.has(call);
    this.leaders = [...placed].map(([call, { box, anchor, centre, ring }]) => {
      call.before = [box[0] - centre[0], box[1] - centre[1]];
      call.node.style.left = `${box[0]}px`;
      call.node.style.top = `${box[1]}px`;
      return [box, anchor, ring];
    });
    const taken = [...obstacles, ...[...placed.values()].map((one) => one.box)];
    this.placeTabs(b, show, bottom, taken);
    for (const box of taken) b.room.take(box);
  }

  // Where one callout stands best among those that stand already.
  set(b, call, { rings, placed, obstacles, bottom, shown }) {
    const [fx, fy] = b.at(call.f.x, call.f.y);
    const r = (call.f.radii[0] || 3) * b.cam.ppm;
    const anchor = this.anchor(b, call);
    const centre = anchor || [fx, fy];
    const others = [...placed.values()];
    const best = this.best(b, {
      centre, r, near: shown.filter((one) => one !== call).map(({ f }) => b.at(f.x, f.y)), size: [call.node.offsetWidth, call.node.offsetHeight], rings, bottom, before: call.before,
      taken: [...obstacles, ...others.map((one) => one.box)], ends: others.map((one) => one.ends),
    });
    if (!best) return null;
    const { box } = best;
    const to = [Math.min(Math.max(centre[0], box[0]), box[2]), Math.min(Math.max(centre[1], box[1]), box[3])];
    return { box, anchor, centre, ends: [to, centre], ring: [fx, fy, r] };
  }

  paint(b) {
    for (const leader of this.leaders) this.leader(b, ...leader);
  }

  best(b, { centre: [fx, fy], r, near, size: [width, height], rings, taken, ends, bottom, before }) {
    let best = null;
    const weigh = (box, far, bonus) => {
      if (box[0] < 8 || box[1] < 8 || box[2] > b.cam.width - 8 || box[3] > bottom - 8) return;
      if (taken.some((t) => t[0] < box[2] + 6 && t[2] > box[0] - 6 && t[1] < box[3] + 6 && t[3] > box[1] - 6)) return;
      const cost = far * 0.9 - bonus + crowding(box, near) + this.covered(b, box, rings) + this.crossed(box, [fx, fy], { rings, taken, ends });
      if (!best || cost < best.cost) best = { cost, box };
    };
    // where it stood before it may stay, unless another place is much better: callouts must not hop about
    if (before) {
      const [left, top] = [fx + before[0], fy + before[1]];
      weigh([left, top, left + width, top + height], Math.hypot(before[0] + width / 2, before[1] + height / 2) * 0.7, STAY_BONUS);
    }
    for (let k = 0; k < 32; k += 1) {
      for (const far of [22, 40, 64, 96, 136, 190]) {
        const angle = (k / 32) * 2 * Math.PI;
        const cx = fx + Math.cos(angle) * (r + far + (width / 2) * Math.abs(Math.cos(angle)));
        const cy = fy + Math.sin(angle) * (r + far + (height / 2) * Math.abs(Math.sin(angle)));
        weigh(boxAt(cx, cy, width, height), far, 0);
      }
    }
    return best && best.cost < 900 ? best : null;
  }

  // Dear: a float's circle. Cheap: open water. Free: land.
  covered(b, box, rings) {
    let cost = 0;
    for (const [x, y, r] of rings) {
      const dx = Math.max(box[0] - x, 0, x - box[2]);
      const dy = Math.max(box[1] - y, 0, y - box[3]);
      if (Math.hypot(dx, dy) < r) cost += 600;
    }
    for (const [west, south, east, north] of COSTLY) {
      const [left, bottom] = b.at(west, south);
      const [right, top] = b.at(east, north);
      if (left < box[2] && right > box[0] && top < box[3] && bottom > box[1]) cost += 110;
    }
    const [west, north] = b.cam.metres(box[0], box[1]);
    const [east, south] = b.cam.metres(box[2], box[3]);
    if (CHANNEL_POINTS.some(([x, y]) => x > west && x < east && y > south && y < north)) cost += 110;
    for (const sx of [0, 0.5, 1]) {
      for (const sy of [0, 1]) {
        const here = b.cam.metres(box[0] + (box[2] - box[0]) * sx, box[1] + (box[3] - box[1]) * sy);
        if (depthAt(...here) !== null) cost += 8;
      }
    }
    return cost;
  }

  crossed(box, [fx, fy], { rings, taken, ends }) {
    const to = [Math.min(Math.max(fx, box[0]), box[2]), Math.min(Math.max(fy, box[1]), box[3])];
    const run = [to[0] - fx, to[1] - fy];
    const long = Math.hypot(...run) || 1;
    let cost = 0;
    for (const [x, y, r] of rings) {
      if (Math.hypot(x - fx, y - fy) < r + 2) continue; // its own circle, or both of a pair
      const share = Math.min(Math.max(((x - fx) * run[0] + (y - fy) * run[1]) / (long * long), 0), 1);
      if (Math.hypot(fx + run[0] * share - x, fy + run[1] * share - y) < r) cost += 90;
    }
    if (taken.some((t) => runsThrough(t, [fx, fy], to))) return cost + 400;
    for (const [other, from] of ends) {
      if (doCross([fx, fy], to, from, other)) cost += 200;
      if (runsThrough(box, from, other)) cost += 400;
    }
    return cost;
  }

  leader(b, box, anchor, [fx, fy, r]) {
    const from = anchor || (() => {
      const near = [Math.min(Math.max(fx, box[0]), box[2]), Math.min(Math.max(fy, box[1]), box[3])];
      const d = Math.hypot(near[0] - fx, near[1] - fy) || 1;
      return [fx + ((near[0] - fx) / d) * r, fy + ((near[1] - fy) / d) * r];
    })();
    const to = [Math.min(Math.max(from[0], box[0] + 14), box[2] - 14), Math.min(Math.max(from[1], box[1] + 8), box[3] - 8)];
    const line = new Path2D();
    line.moveTo(...from);
    line.lineTo(...to);
    b.stroke(line, '#fff', 3.6);
    b.stroke(line, b.palette.conflict, 1.7);
    const dot = new Path2D();
    dot.arc(from[0], from[1], 3.4, 0, 7);
    b.stroke(dot, '#fff', 2.4);
    b.fill(dot, b.palette.conflict);
  }

  placeTabs(b, show, bottom, taken) {
    for (const tab of this.tabs) tab.floats = [];
    for (const f of show ? ORDER : []) {
      if (f.verdict !== 'conflict') continue;
      const [px, py] = b.at(f.x, f.y);
      const side = px < 0 ? 'left' : px > b.cam.width ? 'right' : py < 0 ? 'top' : py > bottom ? 'bottom' : null;
      if (side) this.tabs.find((tab) => tab.side === side).floats.push(f);
    }
    for (const tab of this.tabs) this.fillTab(tab);
    for (const tab of this.tabs) if (tab.floats.length) this.placeTab(b, tab, bottom, taken);
  }

  fillTab({ side, node, floats }) {
    node.hidden = floats.length === 0;
    if (node.hidden) return;
    const ids = floats.map((f) => cut(f.id, 8));
    const first = words(ids.length > 3 ? 'call.tab_more' : 'call.tab', { floats: ids.slice(0, 3).join(', '), count: ids.length - 3 });
    const way = icon({ left: 'back', right: 'forward', top: 'up', bottom: 'down' }[side]);
    node.replaceChildren(...(side === 'right' ? [mark('conflict'), first, way] : [way, mark('conflict'), first]));
    node.setAttribute('aria-label', words(`call.${side}`, { floats: ids.slice(0, 12).join(', ') }));
  }

  placeTab(b, { side, node, floats }, bottom, taken) {
    const [width, height] = [node.offsetWidth, node.offsetHeight];
    const across = side === 'left' ? 0 : side === 'right' ? b.cam.width - width : (b.cam.width - width) / 2;
    const aim = side === 'top' ? 8 : side === 'bottom' ? bottom - height - 8
      : Math.min(Math.max(b.at(floats[0].x, floats[0].y)[1] - height / 2, 72), bottom - height - 140);
    let top = null; // on a screen too low for it the list tells them
    for (const step of [0, 60, -60, 120, -120, 180, -180]) {
      const box = [across, aim + step, across + width, aim + step + height];
      if (box[1] < 8 || box[3] > bottom - 8) continue;
      if (taken.every((t) => !(t[0] < box[2] && t[2] > box[0] && t[1] < box[3] && t[3] > box[1]))) { top = aim + step; break; }
    }
    node.hidden = top === null;
    if (top === null) return;
    taken.push([across, top, across + width, top + height]);
    node.style.left = `${across}px`;
    node.style.top = `${top}px`;
  }
}
