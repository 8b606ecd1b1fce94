// Open water round a float: rays towards the bearings that the storm may come from, on the lake's own outline.
const ROSE = { width: 396, height: 240, pad: 14 };
const pointWords = (bearing) => words(`compass.${Math.round((((bearing % 360) + 360) % 360) / 22.5) % 16}`);

function rosePlot(f) {
  const rose = f.rose;
  const ends = rose.from.map((bearing, k) => {
    const angle = (bearing * Math.PI) / 180;
    return [f.x + rose.fetch[k] * Math.sin(angle), f.y + rose.fetch[k] * Math.cos(angle)];
  });
  const box = boundsOf([Float64Array.from([f.x, f.y, ...ends.flat()])]);
  const span = Math.max(box[2] - box[0], box[3] - box[1], 20);
  const margin = span * 0.12;
  const k = Math.min((ROSE.width - 2 * ROSE.pad) / (box[2] - box[0] + 2 * margin), (ROSE.height - 2 * ROSE.pad) / (box[3] - box[1] + 2 * margin));
  const [cx, cy] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
  const px = (x) => (ROSE.width / 2 + (x - cx) * k).toFixed(1);
  const py = (y) => (ROSE.height / 2 - (y - cy) * k).toFixed(1);
  const says = words('side.rose', { point: pointWords(rose.from[rose.worst]), far: fetchWords(rose.fetch[rose.worst]), wave: rose.wave });
  const node = svg('svg', { class: 'side', viewBox: `0 0 ${ROSE.width} ${ROSE.height}`, role: 'img', 'aria-label': words('side.rose_whole', { float: f.id, says }) });
  const rings = waterRings.flat().map((ring) => {
    let d = '';
    for (let i = 0; i < ring.length; i += 2) d += `${i ? 'L' : 'M'}${px(ring[i])} ${py(ring[i + 1])}`;
    return `${d}Z`;
  });
  node.append(
    svg('rect', { x: 0, y: 0, width: ROSE.width, height: ROSE.height, fill: '#F2F1EC' }),
    svg('path', { d: rings.join(''), fill: '#E4F1F2', stroke: '#3F525C', 'stroke-width': 1.2, 'fill-rule': 'evenodd' }));
  ends.forEach(([x, y], i) => {
    if (i !== rose.worst) node.append(svg('path', { d: `M${px(f.x)} ${py(f.y)}L${px(x)} ${py(y)}`, stroke: '#3E7391', 'stroke-width': 1 }));
  });
  const [wx, wy] = ends[rose.worst];
  node.append(
    svg('path', { d: `M${px(f.x)} ${py(f.y)}L${px(wx)} ${py(wy)}`, stroke: '#12232E', 'stroke-width': 3 }),
    svg('circle', { cx: px(f.x), cy: py(f.y), r: 5, fill: '#fff', stroke: '#12232E', 'stroke-width': 2 }),
    ...ends.map(([x, y]) => svg('circle', { cx: px(x), cy: py(y), r: 1.7, fill: '#3E7391' })),
    svg('rect', { x: ROSE.width - 30, y: 4, width: 24, height: 44, rx: 4, fill: '#F7FAFB', 'fill-opacity': 0.85 }),
    svg('path', { d: `M${ROSE.width - 18} 30V12m-4 6l4-7 4 7`, fill: 'none', stroke: '#12232E', 'stroke-width': 1.6 }),
    svgText(ROSE.width - 18, 44, words('map.north'), { 'text-anchor': 'middle', 'font-weight': 700 }));
  return el('div', {}, node, el('p', { class: 'note strong', text: `${capital(says)}.` }));
}

const fetchWords = (metres) => (US ? `${Math.round(metres / FOOT).toLocaleString('en-US')} ft` : `${Math.round(metres).toLocaleString('en-US')} m`);
