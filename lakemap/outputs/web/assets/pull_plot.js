// Pull at the hook against reach: one line, three named bands, the taut limit and the storm.
const PLOT = { width: 396, height: 240, left: 58, right: 16, top: 26, bottom: 40 };
const BANDS = [['#F5F7F7', '#12232E', 'side.rests'], ['#CDE4EA', '#12232E', 'side.lifts'], ['#FDEBE7', '#B3200C', 'side.pulled']];

function roundStep(range, most) {
  const rough = range / most;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((one) => one * ten).find((one) => one >= rough);
}

function pullPlot(f) {
  const c = f.curve;
  const perForce = US ? OTHER.N[1] : 1;
  const perLength = US ? 1 / FOOT : 1;
  const highest = Math.max(c.pulls[c.pulls.length - 1], c.storm * 1.05) * perForce;
  const from = Math.min(...c.reaches) * perLength;
  const taut = c.taut * perLength;
  const room = Math.max(taut - from, 0.2) * 1.08;
  const x = (value) => PLOT.left + ((value - from) / room) * (PLOT.width - PLOT.left - PLOT.right);
  const y = (value) => PLOT.height - PLOT.bottom - (value / highest) * (PLOT.height - PLOT.top - PLOT.bottom);
  const points = c.reaches.map((reach, k) => [x(reach * perLength), y(c.pulls[k] * perForce)]);
  const [sx, sy] = [x(c.stormReach * perLength), y(c.storm * perForce)];
  const storm = words('side.storm_dot', { force: forceWords(c.storm, upward), far: heightWords(c.stormReach) });
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${PLOT.width} ${PLOT.height}`, role: 'img',
    'aria-label': words('side.plot', { storm, far: heightWords(c.taut, upward) }) });
  const edges = [0, c.lifts * perForce, c.uplift * perForce, highest].map((edge) => y(Math.min(edge, highest)));
  node.append(
    svg('rect', { x: 0, y: 0, width: PLOT.width, height: PLOT.height, fill: '#F7FAFB' }),
    ...BANDS.map(([fill], k) => svg('rect', { x: PLOT.left, y: edges[k + 1], width: PLOT.width - PLOT.left - PLOT.right,
      height: Math.max(edges[k] - edges[k + 1], 0), fill })));
  plotAxes(node, { x, y, from, room, highest });
  node.append(
    svg('path', { d: `M${x(taut)} ${PLOT.top - 4}V${y(0)}`, stroke: '#B3200C', 'stroke-width': 1.6, 'stroke-dasharray': '5 3' }),
    svgText(PLOT.width - 6, PLOT.top - 10, words('side.taut', { far: heightWords(c.taut, upward) }), { 'text-anchor': 'end', 'font-weight': 600, fill: '#B3200C' }),
    svg('path', { d: points.map(([px, py], k) => `${k ? 'L' : 'M'}${px.toFixed(1)} ${py.toFixed(1)}`).join(''),
      fill: 'none', stroke: '#12232E', 'stroke-width': 2.6, 'stroke-linejoin': 'round' }),
    svg('circle', { cx: sx, cy: sy, r: 5.5, fill: '#fff', stroke: '#12232E', 'stroke-width': 2 }),
    svg('circle', { cx: sx, cy: sy, r: 2, fill: '#12232E' }));
  plotWords(node, { points, sx, sy, storm, edges, tautX: x(taut) });
  return node;
}

// A curve that rises to the right leaves free what is above and left of each of its points.
function plotWords(node, { points, sx, sy, storm, edges, tautX }) {
  const base = PLOT.height - PLOT.bottom;
  const texts = placer(PLOT.left - 3, PLOT.top - 2, PLOT.width - PLOT.left - PLOT.right + 6, base - PLOT.top + 4);
  texts.takeLine(points);
  texts.takeLine([[tautX, PLOT.top], [tautX, base]], 4);
  texts.take(sx - 7, sy - 7, 14, 14);
  texts.put(node, [storm], { 'font-size': 11, 'font-weight': 700, ...HALO },
    [[sx - 11, sy - 4, 'end'], [sx - 11, sy - 14, 'end'], [sx + 11, sy + 6, 'start'], [sx - 11, sy - 28, 'end']]);
  BANDS.forEach(([, fill, name], k) => {
    if (edges[k] - edges[k + 1] < 0.5) return;
    const middle = (edges[k] + edges[k + 1]) / 2;
    const places = Array.from({ length: 34 }, (_, i) => [PLOT.left + 6 + 8 * i, middle, 'start']);
    const [left, top, wide, high] = texts.put(node, [words(name)], { 'font-size': 11, fill }, places);
    if (edges[k] - edges[k + 1] >= high) return;
    const at = left + wide + 8; // too thin for its name: a pointer from the one to the other
    node.append(
      svg('path', { d: `M${at - 6} ${top + high / 2}H${at}V${middle}`, fill: 'none', stroke: fill, 'stroke-width': 1 }),
      svg('circle', { cx: at, cy: middle, r: 1.8, fill }));
  });
}

function plotAxes(node, { x, y, from, room, highest }) {
  const tick = { 'font-size': 10.5, fill: '#46565F' };
  const base = y(0);
  const steps = [roundStep(room, 6), roundStep(highest, 5)];
  for (let count = Math.ceil(from / steps[0]); count * steps[0] <= from + room; count += 1) {
    const at = x(count * steps[0]);
    node.append(svg('path', { d: `M${at} ${base}v4`, stroke: '#46565F' }), svgText(at, base + 15, significant(count * steps[0]), { ...tick, 'text-anchor': 'middle' }));
  }
  for (let count = 0; count * steps[1] <= highest; count += 1) {
    const at = y(count * steps[1]);
    node.append(svg('path', { d: `M${PLOT.left} ${at}h-4`, stroke: '#46565F' }), svgText(PLOT.left - 6, at + 4, significant(count * steps[1]), { ...tick, 'text-anchor': 'end' }));
  }
  const middle = (PLOT.left + PLOT.width - PLOT.right) / 2;
  node.append(
    svg('path', { d: `M${PLOT.left} ${PLOT.top}V${base}H${PLOT.width - PLOT.right}`, fill: 'none', stroke: '#12232E', 'stroke-width': 1.2 }),
    svgText(middle, PLOT.height - 6, words('side.axis_reach', { unit: US ? 'ft' : 'm' }), { ...tick, 'text-anchor': 'middle' }),
    svgText(-(PLOT.top + base) / 2, 11, words('side.axis_pull', { unit: US ? 'lb' : 'N' }), { ...tick, 'text-anchor': 'middle', transform: 'rotate(-90)' }));
}
