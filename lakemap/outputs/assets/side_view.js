// The rig from the side in calm water: one scale both ways, the bed level.
const SIDE = { width: 396, bed: 172, height: 214, left: 34 };

const levelNames = DATA.levels.map((name) => name.toLowerCase());

function sideView(s, level) {
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${SIDE.width} ${SIDE.height}`, role: 'img',
    'aria-label': `The rig from the side in calm water: ${[s.deep[level], s.texts[0], s.texts[1]].join(', ')}` });
  const rise = s.depth[level] - s.hook; // from the bed to the hook
  const hangs = s.riser < rise;
  const lift = hangs ? Math.min(rise - s.riser, s.ground) : 0;
  const slack = hangs ? 0 : Math.sqrt(Math.max(s.riser ** 2 - rise ** 2, 0));
  const across = slack * 0.4; // calm: the riser hangs slack, the float drifts near its secondary
  const ground = hangs ? Math.sqrt(Math.max(s.ground ** 2 - lift ** 2, 0)) : s.ground;
  const k = Math.min((SIDE.width - SIDE.left - 30) / (ground + across + s.deck / 2),
    (SIDE.bed - 26) / (Math.max(s.depth[2], s.depth[level] + s.height - s.draft + 0.3)));
  const up = (metres) => SIDE.bed - metres * k;
  const at = { primary: SIDE.left, second: SIDE.left + ground * k, hook: SIDE.left + (ground + across) * k };
  paintWater(node, s, level, up);
  paintLine(node, { at, lift, up, rise, slack });
  paintHull(node, s, at.hook, up(s.depth[level]), k);
  paintBlocks(node, at, up(lift));
  paintWords(node, s, { at, up, rise, lift, level });
  return node;
}

function paintWater(node, s, level, up) {
  const W = SIDE.width;
  const top = up(s.depth[level]);
  node.append(
    svg('rect', { x: 0, y: 0, width: W, height: SIDE.height, fill: '#F7FAFB' }),
    svg('rect', { x: 0, y: top, width: W, height: SIDE.bed - top, fill: '#D9E9EF' }),
    svg('rect', { x: 0, y: SIDE.bed, width: W, height: SIDE.height - SIDE.bed, fill: '#DCD3C2' }),
    svg('path', { d: `M0 ${SIDE.bed}H${W}`, stroke: '#6E614C', 'stroke-width': 1.6 }),
    svg('path', { d: `M0 ${top}H${W}`, stroke: '#3E7391', 'stroke-width': 1.5 }));
  for (const one of [0, 2]) {
    if (one !== level) {
      node.append(svg('path', { d: `M0 ${up(s.depth[one])}H${W}`, stroke: '#3E7391', 'stroke-width': 1.1,
        'stroke-dasharray': '1.5 3' }));
    }
    node.append(svgText(W - 6, up(s.depth[one]) + (one === 0 ? 12 : -4), levelNames[one],
      { 'text-anchor': 'end', 'font-size': 10.5, fill: '#1A4560' }));
  }
}

function paintLine(node, { at, lift, up, rise, slack }) {
  const chain = { fill: 'none', stroke: '#12232E', 'stroke-dasharray': '4.5 1.8' };
  const absorber = Math.min(30, (up(0) - up(rise)) * 0.3);
  const [x1, y1] = [at.second, up(lift) - 9];
  const [x2, y2] = [at.hook, up(rise) + absorber];
  const sag = slack > 0 ? Math.min(14, (y1 - y2) * 0.25) : 0;
  node.append(
    svg('path', { d: `M${at.primary} ${SIDE.bed - 3}L${at.second} ${up(lift) - 3}`, ...chain, 'stroke-width': 3 }),
    svg('path', { d: `M${x1} ${y1}Q${(x1 + x2) / 2 - sag} ${(y1 + y2) / 2 + sag} ${x2} ${y2}`, ...chain, 'stroke-width': 2.6 }),
    svg('path', { d: `M${x2} ${y2}q-7 ${-absorber / 2} 0 ${-absorber}q7 ${absorber / 2} 0 ${absorber}`,
      fill: '#fff', stroke: '#12232E', 'stroke-width': 1.5 }),
    svg('circle', { cx: at.hook, cy: up(rise), r: 2.6, fill: '#12232E' }));
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

function paintBlocks(node, at, second) {
  const edge = { stroke: '#12232E', 'stroke-width': 1.6 };
  const box = (x, y, width, height, fill) => svg('rect', { x: x - width / 2, y, width, height, fill, ...edge });
  node.append(
    box(at.primary, SIDE.bed - 7, 28, 13, '#12232E'), box(at.primary, SIDE.bed - 13, 16, 6, '#12232E'),
    box(at.second, second - 10, 22, 10, '#fff'));
}

function paintWords(node, s, { at, up, rise, lift, level }) {
  const halo = { 'paint-order': 'stroke', stroke: '#F7FAFB', 'stroke-width': 3, 'stroke-linejoin': 'round' };
  const name = { 'font-weight': 600, 'font-size': 11.5, 'text-anchor': 'middle' };
  const inWater = up(rise) + (SIDE.bed - up(rise)) * 0.62;
  const riserX = (at.second + at.hook) / 2 + 14;
  const flip = riserX + s.texts[0].length * 6.4 > SIDE.width;
  node.append(
    svgText(Math.max(at.primary, 26), SIDE.bed + 19, 'primary', name),
    svgText(Math.max(at.second, at.primary + 62), SIDE.bed + 19, 'secondary', name),
    svgText((at.primary + at.second) / 2, SIDE.bed + 35, s.texts[1], { 'text-anchor': 'middle', 'font-size': 11.5 }),
    svgText(flip ? at.second - 12 : riserX, inWater, s.texts[0],
      { 'font-size': 11.5, 'text-anchor': flip ? 'end' : 'start', ...halo }),
    svg('path', { d: `M12 ${up(s.depth[level])}V${SIDE.bed}M8 ${up(s.depth[level])}h8M8 ${SIDE.bed}h8`, stroke: '#12232E', 'stroke-width': 1.2 }),
    svgText(20, inWater - 24, s.deep[level], { 'font-size': 11.5, ...halo }));
  if (lift > 0.01) node.append(svgText(at.second + 16, up(lift) + 4, 'hangs off the bed', { 'font-size': 11.5, ...halo }));
}
