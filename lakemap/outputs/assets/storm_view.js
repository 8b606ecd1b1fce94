// The rig from the side under the storm's steady pull: the line as the statics give it, one scale both ways.
const STORM = { width: 396, height: 232, bed: 178, left: 40, right: 52 };
const HALO = { 'paint-order': 'stroke', stroke: '#F7FAFB', 'stroke-width': 3, 'stroke-linejoin': 'round' };

const summed = (steps) => steps.reduce((all, step) => [...all, (all[all.length - 1] || 0) + step], []);

function stormView(f, level) {
  const s = f.side;
  const packed = f.storm.lines[level];
  const one = { ...packed, x: summed(packed.x), z: summed(packed.z) };
  const last = one.x.length - 1;
  const hookX = one.x[last] * CM;
  const wave = Math.max((f.storm.wave || 0) * CM, 0);
  const lift = one.z[one.s] * CM;
  const words = [`steady pull ${forceWords(f.storm.mean, Math.ceil)}`, `${forceWords(one.t, Math.ceil)} in the riser, ${Math.round(one.a)}° above level`];
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${STORM.width} ${STORM.height}`, role: 'img',
    'aria-label': `The rig from the side in the storm: ${words.join(', ')}, reach ${heightWords(hookX)}${lift > 0.03 ? `, secondary lifted ${heightWords(lift)}` : ''}` });
  const tall = Math.max(s.depth[2], s.depth[level] + wave / 2) + s.height - s.draft + 0.3;
  const k = Math.min((STORM.width - STORM.left - STORM.right) / (hookX + s.deck / 2), (STORM.bed - 52) / tall);
  const at = { x: (metres) => STORM.left + metres * k, y: (metres) => STORM.bed - metres * k };
  stormWater(node, s, level, { at, wave, k });
  stormLine(node, one, at);
  paintHull(node, s, at.x(hookX), at.y(s.depth[level]), k);
  stormBlocks(node, at, one);
  stormWords(node, { s, one, level, at, hookX, lift, words });
  return node;
}

function stormWater(node, s, level, { at, wave, k }) {
  const W = STORM.width;
  const top = at.y(s.depth[level]);
  const crest = Math.max((wave / 2) * k, 1);
  const long = Math.max(crest * 12, 44);
  let surface = `M${-long} ${top}`;
  for (let x = -long; x < W + long; x += long) surface += `q${long / 4} ${-crest * 1.6} ${long / 2} 0q${long / 4} ${crest * 1.6} ${long / 2} 0`;
  node.append(
    svg('rect', { x: 0, y: 0, width: W, height: STORM.height, fill: '#F7FAFB' }),
    svg('path', { d: `${surface}V${STORM.bed}H${-long}Z`, fill: '#D9E9EF' }),
    svg('path', { d: surface, fill: 'none', stroke: '#3E7391', 'stroke-width': 1.5 }),
    svg('rect', { x: 0, y: STORM.bed, width: W, height: STORM.height - STORM.bed, fill: '#DCD3C2' }),
    svg('path', { d: `M0 ${STORM.bed}H${W}`, stroke: '#6E614C', 'stroke-width': 1.6 }));
}

function stormLine(node, one, at) {
  const last = one.x.length - 1;
  const points = one.x.map((x, k) => [at.x(x * CM), at.y(one.z[k] * CM)]);
  const path = (from, to) => points.slice(from, to + 1).map(([x, y], k) => `${k ? 'L' : 'M'}${x.toFixed(1)} ${(y - 2).toFixed(1)}`).join('');
  const chain = { fill: 'none', stroke: '#12232E', 'stroke-dasharray': '4.5 1.8' };
  const [ax, ay] = points[last - 1];
  const [hx, hy] = points[last];
  const [nx, ny] = [(hy - ay) * 0.22, -(hx - ax) * 0.22];
  const bow = (side) => `M${ax} ${ay - 2}Q${(ax + hx) / 2 + side * nx} ${(ay + hy) / 2 - 2 + side * ny} ${hx} ${hy - 2}`;
  node.append(
    svg('path', { d: path(0, one.s), ...chain, 'stroke-width': 3 }),
    svg('path', { d: path(one.s, last - 1), ...chain, 'stroke-width': 2.6 }),
    svg('path', { d: bow(1) + bow(-1), fill: 'none', stroke: '#12232E', 'stroke-width': 1.5 }),
    svg('circle', { cx: hx, cy: hy, r: 2.6, fill: '#12232E' }));
}

function stormBlocks(node, at, one) {
  const edge = { stroke: '#12232E', 'stroke-width': 1.6 };
  const [x, y] = [at.x(one.x[one.s] * CM), at.y(one.z[one.s] * CM)];
  node.append(
    svg('rect', { x: at.x(0) - 14, y: STORM.bed - 7, width: 28, height: 13, fill: '#12232E', ...edge }),
    svg('rect', { x: at.x(0) - 8, y: STORM.bed - 13, width: 16, height: 6, fill: '#12232E', ...edge }),
    svg('rect', { x: x - 11, y: y - 10, width: 22, height: 10, fill: '#fff', ...edge }));
}

function arrow(node, [x, y], [dx, dy]) {
  const size = Math.hypot(dx, dy);
  const [ux, uy] = [dx / size, dy / size];
  const [tx, ty] = [x + dx, y + dy];
  node.append(
    svg('path', { d: `M${x} ${y}L${tx - 7 * ux} ${ty - 7 * uy}`, stroke: '#B3200C', 'stroke-width': 2.4 }),
    svg('path', { d: `M${tx} ${ty}L${tx - 9 * ux - 4.5 * uy} ${ty - 9 * uy + 4.5 * ux}L${tx - 9 * ux + 4.5 * uy} ${ty - 9 * uy - 4.5 * ux}Z`, fill: '#B3200C' }));
}

function stormWords(node, { s, one, level, at, hookX, lift, words }) {
  const W = STORM.width;
  const small = { 'font-size': 11.5, ...HALO };
  const hx = at.x(hookX);
  const top = Math.max(at.y(s.depth[level] + s.height - s.draft) - 14, 38);
  const pullX = Math.min(hx, W - 48);
  arrow(node, [pullX, top], [40, 0]);
  node.append(svgText(Math.min(pullX - 6, W - 56), top + 4, words[0], { ...small, 'font-weight': 600, 'text-anchor': 'end' }));
  // the low and high water lines are named at the left, where no float is
  for (const other of [0, 2]) {
    const y = at.y(s.depth[other]);
    if (other !== level) node.append(svg('path', { d: `M0 ${y}H${W}`, stroke: '#3E7391', 'stroke-width': 1.1, 'stroke-dasharray': '1.5 3' }));
    node.append(svgText(6, y + (other === 0 ? 12 : -4), levelNames[other], { 'font-size': 10.5, fill: '#1A4560', ...HALO }));
  }
  const second = at.x(one.x[one.s] * CM);
  node.append(svgText(6, 16, words[1], small));
  node.append(svgText(at.x(0), STORM.bed + 18, 'primary', { 'font-weight': 600, 'font-size': 11.5, 'text-anchor': 'middle' }));
  if (lift > 0.03) {
    node.append(
      svg('path', { d: `M${second + 15} ${at.y(lift)}V${STORM.bed}`, stroke: '#12232E', 'stroke-width': 1, 'stroke-dasharray': '2 2' }),
      svgText(Math.min(second + 20, W - 70), STORM.bed - 5, `lifted ${heightWords(lift)}`, small));
  }
  if (one.u > 0.5) {
    arrow(node, [at.x(0), STORM.bed - 16], [0, -24]);
    node.append(svgText(Math.max(at.x(0) - 32, 6), STORM.bed - 46, `pulled up ${forceWords(one.u, Math.ceil)}`, { ...small, 'font-weight': 600, fill: '#B3200C' }));
  }
  const y = STORM.bed + 32;
  node.append(
    svg('path', { d: `M${at.x(0)} ${y}H${hx}M${at.x(0)} ${y - 4}v8M${hx} ${y - 4}v8`, stroke: '#12232E', 'stroke-width': 1.2 }),
    svgText((at.x(0) + hx) / 2, y + 14, `reach ${heightWords(hookX)}`, { 'font-size': 11.5, 'text-anchor': 'middle' }));
}
