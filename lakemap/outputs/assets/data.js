'use strict';
// The page's data: one JSON block, whole centimetres; here it becomes metres.
const DATA = JSON.parse(document.getElementById('field-data').textContent);
const M = 0.01;

function unpack(steps) {
  const points = new Float64Array(steps.length);
  let x = 0, y = 0;
  for (let k = 0; k < steps.length; k += 2) {
    x += steps[k]; y += steps[k + 1];
    points[k] = x * M; points[k + 1] = y * M;
  }
  return points;
}
const unpackArea = (polygons) => polygons.map((rings) => rings.map(unpack));

const SCENE = {
  water: unpackArea(DATA.water),
  bands: DATA.bands.map(unpackArea),
  bare: unpackArea(DATA.bare),
  contours: DATA.contours.map(([label, lines]) => ({ label, lines: lines.map(unpack) })),
  zones: DATA.zones.map((z) => ({ ...z, area: unpackArea(z.area), keep: unpackArea(z.keep),
    x: z.at[0] * M, y: z.at[1] * M })),
  soundings: DATA.soundings,
};
const FLOATS = DATA.floats.map((f, index) => ({
  ...f, index, px: f.x * M, py: f.y * M, radii: f.r.map((r) => (r === null ? null : r * M)),
  walkM: f.walk === null ? null : f.walk * M,
  sx: f.second ? f.second[0] * M : null, sy: f.second ? f.second[1] * M : null,
  hx: f.hook[0] * M, hy: f.hook[1] * M, long: f.deck[0] * M, short: f.deck[1] * M,
}));
const BY_ID = new Map(FLOATS.map((f) => [f.id, f]));
const ORDER = DATA.order.map((k) => FLOATS[k]);
const WORDS = { conflict: 'conflict', tight: 'tight', unknown: 'unknown', clear: 'clear', retired: 'retired' };

function el(tag, options = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(options)) {
    if (name === 'text') node.textContent = value;
    else if (name === 'class') node.className = value;
    else if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else if (value !== false && value !== null) node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.filter((c) => c !== null && c !== undefined));
  return node;
}
function svg(tag, attributes = {}, ...children) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.append(...children);
  return node;
}

// A verdict's mark is a picture of the gap itself.
function mark(verdict) {
  const node = svg('svg', { class: 'mark', viewBox: '0 0 22 14', 'aria-hidden': 'true', fill: 'none',
    stroke: 'currentColor', 'stroke-width': 1.8 });
  const ring = (cx, extra = {}) => node.append(svg('circle', { cx, cy: 7, r: 5, ...extra }));
  if (verdict === 'conflict') {
    ring(8); ring(14);
    for (const dx of [-1.2, 0.8]) node.append(svg('path', { d: `M${10.4 + dx} 9.6l2-5`, 'stroke-width': 1.1 }));
  } else if (verdict === 'tight') {
    ring(5.6, { r: 4.4 }); ring(16.4, { r: 4.4 });
    node.append(svg('path', { d: 'M11 3v8', 'stroke-width': 2.6 }));
  } else if (verdict === 'unknown') {
    ring(11, { 'stroke-dasharray': '0.1 3', 'stroke-linecap': 'round', r: 5.6 });
    node.append(svg('path', { d: 'M9.6 5.8a1.5 1.5 0 1 1 1.5 1.7v.7M11.1 9.9v.3', 'stroke-width': 1.3 }));
  } else if (verdict === 'clear') {
    ring(5, { r: 3.8, 'stroke-width': 1.5 }); ring(17, { r: 3.8, 'stroke-width': 1.5 });
  } else {
    ring(11, { r: 4.6, 'stroke-width': 1.3 }); node.append(svg('path', { d: 'M7.8 10.2l6.4-6.4', 'stroke-width': 1.3 }));
  }
  return node;
}
