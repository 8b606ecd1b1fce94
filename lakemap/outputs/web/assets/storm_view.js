// The rig from the side under the storm's steady pull: the line as the statics give it.
function stormView(f, level) {
  const { s, line } = { s: f.side, line: f.storm.lines[level] };
  const scene = rigScene(s, line, level, { wave: f.storm.wave, sky: SIDE.stormSky });
  const said = {
    pull: words('side.pull', { force: forceWords(workValue(f, 'mean_pull'), upward) }),
    taut: [words('side.riser', { force: forceWords(line.tension, upward) }), words('side.angle', { degrees: Math.round(line.angle) })],
    lifted: line.lift > LEAST_M ? words('side.lifted', { far: heightWords(line.lift) }) : '',
    up: line.uplift >= 1 ? words('side.up', { force: forceWords(line.uplift, upward) }) : '',
    reach: words('side.reach', { far: heightWords(line.reach) }),
  };
  const parts = [said.pull, said.taut.join(' '), said.reach, said.lifted && words('side.second_lifted', { far: heightWords(line.lift) }),
    said.up && words('side.primary_up', { force: forceWords(line.uplift, upward) })].filter(Boolean);
  const node = rigPicture(scene, words('side.storm', { parts: parts.join(', ') }));
  stormWords(node, scene, said);
  return node;
}

function arrow(node, [x, y], [dx, dy], colour) {
  const size = Math.hypot(dx, dy);
  const [ux, uy] = [dx / size, dy / size];
  const [tx, ty] = [x + dx, y + dy];
  node.append(
    svg('path', { d: `M${x} ${y}L${tx - 7 * ux} ${ty - 7 * uy}`, stroke: colour, 'stroke-width': 2.4 }),
    svg('path', { d: `M${tx} ${ty}L${tx - 9 * ux - 4.5 * uy} ${ty - 9 * uy + 4.5 * ux}L${tx - 9 * ux + 4.5 * uy} ${ty - 9 * uy - 4.5 * ux}Z`, fill: colour }));
}

function stormWords(node, scene, said) {
  const { line, points, texts, deck } = scene;
  const small = { 'font-size': 11.5, ...HALO };
  const [px, [x2, y2], [hx, hy]] = [points[0][0], points[line.s], points[points.length - 1]];
  const [pullX, pullY] = [Math.min(hx, SIDE.width - 48), deck - 12];
  texts.take(pullX, pullY - 5, 40, 10);
  arrow(node, [pullX, pullY], [40, 0], '#12232E');
  if (said.up) {
    arrow(node, [px, SIDE.bed - 16], [0, -24], '#B3200C');
    texts.take(px - 5, SIDE.bed - 40, 10, 26);
  }
  if (said.lifted) {
    node.append(svg('path', { d: `M${x2} ${y2 + 2}V${SIDE.bed}M${x2 - 4} ${SIDE.bed}h8`, stroke: '#12232E', 'stroke-width': 1, 'stroke-dasharray': '2 2' }));
    texts.takeLine([[x2, y2], [x2, SIDE.bed]], 4);
  }
  texts.put(node, [said.pull], { ...small, 'font-weight': 600 }, [[pullX - 6, pullY, 'end'], [pullX + 20, pullY - 14, 'middle'], [pullX + 46, pullY, 'start']]);
  if (said.up) {
    texts.put(node, [said.up], { ...small, 'font-weight': 600, fill: '#B3200C' },
      [[px, SIDE.bed - 49, 'middle'], [px - 8, SIDE.bed - 34, 'end'], [px + 8, SIDE.bed - 30, 'start']]);
  }
  if (said.lifted) {
    texts.put(node, [said.lifted], small, [[x2 + 6, (y2 + SIDE.bed) / 2, 'start'], [x2 + 6, SIDE.bed - 9, 'start'], [x2 + 16, y2 + 2, 'start']]);
  }
  nameLevels(node, scene);
  const [mx, my] = [(x2 + hx) / 2, (y2 + hy) / 2];
  texts.put(node, said.taut, small, [[mx + 12, my + 10, 'start'], [mx + 16, my + 20, 'start'], [mx - 10, my - 12, 'end'], [mx - 16, my - 24, 'end']]);
  const y = SIDE.bed + 32;
  node.append(
    svgText(px, SIDE.bed + 18, words('map.primary'), { 'font-weight': 600, 'font-size': 11.5, 'text-anchor': 'middle' }),
    svg('path', { d: `M${px} ${y}H${hx}M${px} ${y - 4}v8M${hx} ${y - 4}v8`, fill: 'none', stroke: '#12232E', 'stroke-width': 1.2 }),
    svgText(Math.max((px + hx) / 2, 46), y + 14, said.reach, { 'font-size': 11.5, 'text-anchor': 'middle' }));
}
