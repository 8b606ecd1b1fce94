// Pull at the hook against reach: one line, three named bands, the taut limit and the storm.
const PLOT = { width: 396, height: 236, left: 44, right: 14, top: 14, bottom: 40 };

function roundStep(range, most) {
  const rough = range / most;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((one) => one * ten).find((one) => one >= rough);
}

function pullPlot(f) {
  const c = f.curve;
  const perForce = US ? OTHER.N[1] : 1;
  const perLength = US ? 1 / FOOT : 1;
  const pulls = c.p.map((one) => one * perForce);
  const reaches = c.r.map((one) => one * CM * perLength);
  const taut = c.taut * CM * perLength;
  const [stormPull, stormReach] = [c.storm[0] * perForce, c.storm[1] * CM * perLength];
  const highest = pulls[pulls.length - 1];
  const from = Math.min(...reaches);
  const room = Math.max(taut - from, 0.2) * 1.08;
  const x = (value) => PLOT.left + ((value - from) / room) * (PLOT.width - PLOT.left - PLOT.right);
  const y = (value) => PLOT.height - PLOT.bottom - (value / highest) * (PLOT.height - PLOT.top - PLOT.bottom);
  const storm = `storm, ${forceWords(c.storm[0], Math.ceil)}: ${heightWords(c.storm[1] * CM)}`;
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${PLOT.width} ${PLOT.height}`, role: 'img',
    'aria-label': `Pull on the float against its reach; ${storm}; no pull takes it beyond ${heightWords(c.taut * CM)}` });
  node.append(svg('rect', { x: 0, y: 0, width: PLOT.width, height: PLOT.height, fill: '#F7FAFB' }));
  plotBands(node, y, highest, [c.lifts * perForce, c.uplift * perForce]);
  plotAxes(node, { x, y, from, room, highest });
  const path = reaches.map((reach, k) => `${k ? 'L' : 'M'}${x(reach).toFixed(1)} ${y(pulls[k]).toFixed(1)}`).join('');
  const end = x(stormReach) > PLOT.width * 0.55;
  node.append(
    svg('path', { d: `M${x(taut)} ${PLOT.top}V${y(0)}`, stroke: '#B3200C', 'stroke-width': 1.6, 'stroke-dasharray': '5 3' }),
    svgText(x(taut) - 5, y(0) - 6, `taut: ${heightWords(c.taut * CM)}`, { 'text-anchor': 'end', 'font-weight': 600, fill: '#B3200C', ...HALO }),
    svg('path', { d: path, fill: 'none', stroke: '#12232E', 'stroke-width': 2.6, 'stroke-linejoin': 'round' }),
    svg('circle', { cx: x(stormReach), cy: y(stormPull), r: 5.5, fill: '#fff', stroke: '#12232E', 'stroke-width': 2 }),
    svg('circle', { cx: x(stormReach), cy: y(stormPull), r: 2, fill: '#12232E' }),
    svgText(x(stormReach) + (end ? -11 : 11), y(stormPull) + 4, storm, { 'font-weight': 700, 'text-anchor': end ? 'end' : 'start', ...HALO }));
  return node;
}

function plotBands(node, y, highest, [lifts, uplift]) {
  const bands = [[0, lifts, '#EEF2F3', 'the secondary rests'], [lifts, uplift, '#D9E9EF', 'the secondary lifts'],
    [uplift, highest, '#FBE3DD', 'the primary is pulled up']];
  let below = PLOT.height;
  for (const [low, high, fill, name] of bands) {
    const [bottom, top] = [y(Math.min(low, highest)), y(Math.min(high, highest))];
    if (bottom - top < 0.5) continue;
    node.append(svg('rect', { x: PLOT.left, y: top, width: PLOT.width - PLOT.left - PLOT.right, height: bottom - top, fill }));
    const line = Math.min((top + bottom) / 2 + 4, below - 13);
    below = line;
    node.append(svgText(PLOT.left + 6, line, name, { 'font-size': 11, fill: fill === '#FBE3DD' ? '#8A1A0A' : '#12232E' }));
  }
}

function plotAxes(node, { x, y, from, room, highest }) {
  const tick = { 'font-size': 10.5, fill: '#46565F' };
  const base = y(0);
  const steps = [roundStep(room, 6), roundStep(highest, 5)];
  for (let value = Math.ceil(from / steps[0]) * steps[0]; value <= from + room; value += steps[0]) {
    node.append(svg('path', { d: `M${x(value)} ${base}v4`, stroke: '#46565F' }), svgText(x(value), base + 15, significant(value), { ...tick, 'text-anchor': 'middle' }));
  }
  for (let value = 0; value <= highest; value += steps[1]) {
    node.append(svg('path', { d: `M${PLOT.left} ${y(value)}h-4`, stroke: '#46565F' }), svgText(PLOT.left - 6, y(value) + 4, significant(value), { ...tick, 'text-anchor': 'end' }));
  }
  const middle = (PLOT.left + PLOT.width - PLOT.right) / 2;
  node.append(
    svg('path', { d: `M${PLOT.left} ${PLOT.top}V${base}H${PLOT.width - PLOT.right}`, fill: 'none', stroke: '#12232E', 'stroke-width': 1.2 }),
    svgText(middle, PLOT.height - 6, `reach of the float from its primary, ${US ? 'ft' : 'm'}`, { ...tick, 'text-anchor': 'middle' }),
    svgText(-(PLOT.top + base) / 2, 11, `pull on the float, ${US ? 'lb' : 'N'}`, { ...tick, 'text-anchor': 'middle', transform: 'rotate(-90)' }));
}
