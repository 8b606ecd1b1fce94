// The rig from the side in calm water: the line as it may lie, one scale both ways, the bed level.
const SIDE = { width: 396, height: 232, bed: 178, left: 40, right: 52, calmSky: 28, stormSky: 44 };
const HALO = { 'paint-order': 'stroke', stroke: '#F7FAFB', 'stroke-width': 3, 'stroke-linejoin': 'round' };
const ABSORBER = 20; // px, its length as drawn
const LEAST_M = 0.03; // lifted less than this is not written

// Finds room for texts: the first place offered that covers nothing, else the nearest to it that does.
function placer(x0, y0, width, height) {
  const taken = [];
  const covered = ([x, y, w, h]) => taken.reduce((sum, [a, b, c, d]) => sum
    + Math.max(0, Math.min(x + w, a + c) - Math.max(x, a)) * Math.max(0, Math.min(y + h, b + d) - Math.max(y, b)), 0);
  const within = ([x, y, w, h]) => [Math.min(Math.max(x, x0 + 5), x0 + width - 5 - w), Math.min(Math.max(y, y0 + 3), y0 + height - 3 - h), w, h];
  const share = { start: 0, middle: 0.5, end: 1 };
  const take = (x, y, w, h) => taken.push([x, y, w, h]);
  function put(node, lines, look, places, must = true) {
    const size = look['font-size'];
    const w = Math.max(...lines.map((line) => line.length)) * size * (look['font-weight'] ? 0.69 : 0.62);
    const h = lines.length * (size + 3);
    const boxes = places.map(([x, y, anchor]) => within([x - w * share[anchor], y - h / 2, w, h]));
    let best = boxes.findIndex((box) => covered(box) === 0);
    let anchor = best < 0 ? 'start' : places[best][2];
    let box = boxes[best];
    if (best < 0 && !must) return box;
    if (best < 0) {
      const spots = [];
      for (let y = y0 + 3; y <= y0 + height - 3 - h; y += 6) for (let x = x0 + 5; x <= x0 + width - 5 - w; x += 8) spots.push([x, y, w, h]);
      const far = ([x, y]) => Math.hypot(x - boxes[0][0], y - boxes[0][1]);
      [box] = spots.map((spot) => [spot, covered(spot), far(spot)]).sort((a, b) => a[1] - b[1] || a[2] - b[2])[0] || [boxes[0]];
    }
    take(...box);
    lines.forEach((line, k) => node.append(svgText((box[0] + box[2] * share[anchor]).toFixed(1), (box[1] + size + k * (size + 3)).toFixed(1), line,
      { ...look, 'text-anchor': anchor })));
    return box;
  }
  // a line's points as small boxes along it
  function takeLine(points, thick = 7) {
    points.slice(1).forEach(([x2, y2], k) => {
      const [x1, y1] = points[k];
      const count = Math.ceil(Math.hypot(x2 - x1, y2 - y1) / thick) || 1;
      for (let i = 0; i <= count; i += 1) take(x1 + ((x2 - x1) * i) / count - thick / 2, y1 + ((y2 - y1) * i) / count - thick / 2, thick, thick);
    });
  }
  return { put, take, takeLine };
}

// What both views have: the scale at which the rig fills the picture, its points on it, room for texts.
function rigScene(s, line, level, { wave, sky }) {
  const last = line.x.length - 1;
  const hookX = line.x[last];
  const tall = Math.max(s.depth[2], s.depth[level] + wave / 2) + s.height - s.draft + 0.3;
  const behind = Math.max(s.deck / 2 - hookX, 0); // a steep line: the deck reaches back over its primary
  const [room, wide] = [SIDE.width - SIDE.left - SIDE.right, behind + hookX + s.deck / 2];
  const k = Math.min(room / wide, (SIDE.bed - sky) / tall);
  const left = SIDE.left + behind * k + (room - wide * k) / 2;
  const at = { k, x: (metres) => left + metres * k, y: (metres) => SIDE.bed - metres * k };
  const crop = Math.max(0, Math.floor(at.y(tall) - sky)); // less sky over a long line in shallow water
  const points = line.x.map((x, i) => [at.x(x), at.y(line.z[i])]);
  const texts = placer(0, crop, SIDE.width, SIDE.height - crop);
  const half = (s.deck * k) / 2 + 3;
  const deck = at.y(s.depth[level] + s.height - s.draft) - 6;
  const [[px], [x2, y2], [hx]] = [points[0], points[line.s], points[last]];
  texts.take(0, SIDE.bed, SIDE.width, SIDE.height - SIDE.bed);
  texts.take(hx - half, deck, 2 * half, s.height * k + 8);
  texts.take(px - 16, SIDE.bed - 14, 32, 14);
  texts.take(x2 - 13, y2 - 12, 26, 14);
  texts.takeLine(points);
  return { s, line, level, wave, at, crop, points, texts, deck, hookX, lift: line.z[line.s] };
}

function rigPicture(scene, label) {
  const { s, line, level, at, crop, points } = scene;
  const node = svg('svg', { class: 'side', viewBox: `0 ${crop} ${SIDE.width} ${SIDE.height - crop}`, role: 'img', 'aria-label': label });
  paintWater(node, scene);
  paintHull(node, s, points[points.length - 1][0], at.y(s.depth[level]), at.k);
  paintLine(node, points, line.s);
  paintBlocks(node, points[0], points[line.s]);
  return node;
}

function paintWater(node, { s, level, wave, at }) {
  const W = SIDE.width;
  const top = at.y(s.depth[level]);
  const crest = (wave / 2) * at.k;
  const long = Math.max(crest * 14, 44);
  let surface = `M${-long} ${top}`;
  if (wave) for (let x = -long; x < W + long; x += long) surface += `q${long / 4} ${-crest * 2} ${long / 2} 0q${long / 4} ${crest * 2} ${long / 2} 0`;
  else surface += `H${W}`;
  node.append(
    svg('rect', { x: 0, y: 0, width: W, height: SIDE.height, fill: '#F7FAFB' }),
    svg('path', { d: `${surface}V${SIDE.bed}H${-long}Z`, fill: '#D9E9EF' }),
    svg('path', { d: surface, fill: 'none', stroke: '#3E7391', 'stroke-width': 1.5 }));
  for (const other of [0, 2]) {
    if (other !== level) node.append(svg('path', { d: `M0 ${at.y(s.depth[other])}H${W}`, stroke: '#3E7391', 'stroke-width': 1.1, 'stroke-dasharray': '1.5 3' }));
  }
  node.append(
    svg('rect', { x: 0, y: SIDE.bed, width: W, height: SIDE.height - SIDE.bed, fill: '#DCD3C2' }),
    svg('path', { d: `M0 ${SIDE.bed}H${W}`, stroke: '#6E614C', 'stroke-width': 1.6 }));
}

function paintHull(node, s, x, water, k) {
  const long = s.deck * k;
  const high = s.height * k;
  const top = water - (s.height - s.draft) * k;
  const edge = { stroke: '#12232E', 'stroke-width': 1.5 };
  node.append(
    svg('rect', { x: x - long / 2, y: top, width: long, height: high, rx: high / 2, fill: '#fff', ...edge }),
    svg('rect', { x: x - long / 2 - 2, y: top - 5, width: long + 4, height: 5, fill: '#E3D9C3', ...edge }));
}

// The riser up to where the absorber begins; of a short one the absorber takes half at most.
function belowAbsorber(riser) {
  const kept = [...riser];
  const long = (a, b) => Math.hypot(b[0] - a[0], b[1] - a[1]);
  let rest = Math.min(ABSORBER, riser.slice(1).reduce((sum, one, k) => sum + long(riser[k], one), 0) / 2);
  while (kept.length > 1) {
    const [a, b] = kept.slice(-2);
    kept.pop();
    if (long(a, b) > rest) {
      const share = rest / long(a, b);
      kept.push([b[0] + (a[0] - b[0]) * share, b[1] + (a[1] - b[1]) * share]);
      return kept;
    }
    rest -= long(a, b);
  }
  return kept;
}

function paintLine(node, points, second) {
  const [hx, hy] = points[points.length - 1];
  const riser = belowAbsorber(points.slice(second));
  const [ax, ay] = riser[riser.length - 1];
  const path = (part) => part.map(([x, y], k) => `${k ? 'L' : 'M'}${x.toFixed(1)} ${(y - 2).toFixed(1)}`).join('');
  const chain = { fill: 'none', stroke: '#12232E', 'stroke-dasharray': '4.5 1.8' };
  const long = Math.hypot(hx - ax, hy - ay) || 1;
  const [nx, ny] = [((hy - ay) / long) * 7, (-(hx - ax) / long) * 7];
  const bow = (side) => `M${ax} ${ay - 2}Q${(ax + hx) / 2 + side * nx} ${(ay + hy) / 2 - 1 + side * ny} ${hx} ${hy}`;
  node.append(
    svg('path', { d: path(points.slice(0, second + 1)), ...chain, 'stroke-width': 3 }),
    svg('path', { d: path(riser), ...chain, 'stroke-width': 2.6 }),
    svg('path', { d: bow(1) + bow(-1), fill: 'none', stroke: '#12232E', 'stroke-width': 1.5 }),
    svg('circle', { cx: hx, cy: hy, r: 2.6, fill: '#12232E' }));
}

function paintBlocks(node, [px], [x, y]) {
  const edge = { stroke: '#12232E', 'stroke-width': 1.6 };
  node.append(
    svg('rect', { x: px - 14, y: SIDE.bed - 7, width: 28, height: 13, fill: '#12232E', ...edge }),
    svg('rect', { x: px - 8, y: SIDE.bed - 13, width: 16, height: 6, fill: '#12232E', ...edge }),
    svg('rect', { x: x - 11, y: y - 10, width: 22, height: 10, fill: '#fff', ...edge }));
}

// Low and high water at their lines; a lake that keeps one level has none to name.
function nameLevels(node, { s, level, at, texts }) {
  for (const other of s.depth[0] === s.depth[2] ? [] : [0, 2]) {
    const y = at.y(s.depth[other]);
    const sides = (other === 0 ? [9, -9] : [-9, 9]).flatMap((by) => [[5, y + by, 'start'], [SIDE.width - 5, y + by, 'end']]);
    texts.put(node, [DATA.levelWords[other]], { 'font-size': 10.5, fill: '#1A4560', ...HALO }, sides, other !== level);
  }
}

function calmView(f, level) {
  const s = f.side;
  const scene = rigScene(s, s.calm[level], level, { wave: 0, sky: SIDE.calmSky });
  const hangs = scene.lift > LEAST_M;
  const parts = [s.deep[level], s.riser, s.ground, hangs && words('side.hangs')].filter(Boolean);
  const node = rigPicture(scene, words('side.calm', { parts: parts.join(', ') }));
  const { at, points, texts } = scene;
  const [top, [px], [x2, y2], [hx, hy]] = [at.y(s.depth[level]), points[0], points[scene.line.s], points[points.length - 1]];
  const small = { 'font-size': 11.5, ...HALO };
  const name = { 'font-weight': 600, 'font-size': 11.5, 'text-anchor': 'middle' };
  const middle = (hy + y2) / 2;
  texts.takeLine([[12, top], [12, SIDE.bed]], 8);
  node.append(svg('path', { d: `M12 ${top}V${SIDE.bed}M8 ${top}h8M8 ${SIDE.bed}h8`, fill: 'none', stroke: '#12232E', 'stroke-width': 1.2 }));
  texts.put(node, [s.deep[level]], small, [0.5, 0.3, 0.7].map((share) => [19, top + (SIDE.bed - top) * share, 'start']));
  texts.put(node, [s.riser], small, [[hx + 12, middle, 'start'], [x2 - 12, middle, 'end'], [hx + 18, middle + 22, 'start'], [x2 - 18, middle - 22, 'end']]);
  if (hangs) texts.put(node, [words('side.hangs_short')], small, [[x2 + 15, y2, 'start'], [px + 18, y2, 'start']]);
  nameLevels(node, scene);
  node.append(
    svgText(Math.max(Math.min(px, x2 - 62), 26), SIDE.bed + 18, words('map.primary'), name),
    svgText(Math.max(x2, 88), SIDE.bed + 18, words('map.secondary'), name),
    svgText(Math.max((px + x2) / 2, 66), SIDE.bed + 36, s.ground, { 'text-anchor': 'middle', 'font-size': 11.5 }));
  return node;
}
