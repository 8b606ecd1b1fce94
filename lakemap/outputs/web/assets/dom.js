// Elements, icons and the verdicts' marks. All text goes in as text, never as markup.
const byId = (id) => document.getElementById(id);

function el(tag, options = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(options)) {
    if (name === 'text') node.textContent = value;
    else if (name === 'class') node.className = value;
    else if (value !== false && value !== null) node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== ''));
  return node;
}

function svg(tag, attributes = {}, ...children) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.append(...children);
  return node;
}

function svgText(x, y, words, attributes = {}) {
  const node = svg('text', { x, y, 'font-size': 11, fill: '#12232E', ...attributes });
  node.textContent = words;
  return node;
}

const ICONS = {
  search: ['M15.2 15.2L21 21', 'M17 10.5a6.5 6.5 0 1 1-13 0 6.5 6.5 0 0 1 13 0z'],
  where: ['M18 12a6 6 0 1 1-12 0 6 6 0 0 1 12 0z', 'M12 2v4M12 18v4M2 12h4M18 12h4', 'M12 11.4v1.2'],
  sun: ['M16 12a4 4 0 1 1-8 0 4 4 0 0 1 8 0z',
    'M12 2.5v2.6M12 18.9v2.6M2.5 12h2.6M18.9 12h2.6M5.3 5.3l1.8 1.8M16.9 16.9l1.8 1.8M5.3 18.7l1.8-1.8M16.9 7.1l1.8-1.8'],
  print: ['M7 9V3.5h10V9', 'M7 17.5H3.5V9h17v8.5H17', 'M7 14h10v6.5H7z'],
  whole: ['M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5'],
  shut: ['M5.5 5.5l13 13M18.5 5.5l-13 13'],
  list: ['M9 6h11M9 12h11M9 18h11', 'M4.5 6h.1M4.5 12h.1M4.5 18h.1'],
  more: ['M4 7h16M4 12h16M4 17h16'],
  key: ['M4 6h5v3H4zM4 15h5v3H4z', 'M13 7.5h7M13 16.5h7'],
  up: ['M5.5 15l6.5-6.5 6.5 6.5'],
  down: ['M5.5 9l6.5 6.5L18.5 9'],
  back: ['M15 5.5L8.5 12l6.5 6.5'],
  forward: ['M9 5.5l6.5 6.5L9 18.5'],
  plus: ['M12 4.5v15M4.5 12h15'],
  minus: ['M4.5 12h15'],
};

function icon(name) {
  const node = svg('svg', { class: 'icon', viewBox: '0 0 24 24', fill: 'none', stroke: 'currentColor',
    'stroke-width': 2.1, 'stroke-linecap': 'round', 'stroke-linejoin': 'round', 'aria-hidden': 'true' });
  for (const d of ICONS[name]) node.append(svg('path', { d }));
  return node;
}

// A verdict's mark is a picture of the gap itself: rings that overlap, touch, or stand apart.
function mark(verdict) {
  const node = svg('svg', { class: `mark v-${verdict}`, viewBox: '0 0 24 14', 'aria-hidden': 'true',
    fill: 'none', stroke: 'currentColor', 'stroke-width': 1.7, 'stroke-linecap': 'round' });
  const ring = (cx, r, extra = {}) => node.append(svg('circle', { cx, cy: 7, r, ...extra }));
  const line = (d, extra = {}) => node.append(svg('path', { d, ...extra }));
  if (verdict === 'conflict') {
    ring(8.6, 5.6);
    ring(15.4, 5.6);
    line('M10.6 8.2l2.8-2.8M10.9 10.3l2.4-2.4', { 'stroke-width': 1.2 });
  } else if (verdict === 'tight') {
    ring(6.2, 4.9, { fill: '#FFF3D6' });
    ring(17.8, 4.9, { fill: '#FFF3D6' });
    line('M12 2.6v8.8', { 'stroke-width': 2.4 });
  } else if (verdict === 'unknown') {
    ring(12, 6, { 'stroke-dasharray': '0.1 3.05', 'stroke-width': 2 });
    line('M10.3 5.6a1.75 1.75 0 1 1 2.3 1.9c-.5.2-.6.5-.6 1M12 10.4v.1', { 'stroke-width': 1.4 });
  } else if (verdict === 'clear') {
    ring(5.4, 4, { 'stroke-width': 1.4 });
    ring(18.6, 4, { 'stroke-width': 1.4 });
  } else if (verdict === 'retired') {
    ring(12, 5, { 'stroke-width': 1.3 });
    line('M8.6 10.4l6.8-6.8', { 'stroke-width': 1.3 });
  } else {
    line('M7 7h10', { 'stroke-width': 1.4 });
  }
  return node;
}
