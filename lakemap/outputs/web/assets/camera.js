// The map of plain metres: the library moves it; one canvas over it is drawn anew at each move.
const SCALE_ROOM = 130; // px for the longer scale
const OPENING_CIRCLE = 26; // px across that every circle shall have on a phone's first view

class Camera {
  constructor({ width, height, ppm, left, top, pixelScale }) {
    Object.assign(this, { width, height, ppm, left, top, pixelScale });
  }

  metres(px, py) { return [(px - this.left) / this.ppm, (this.top - py) / this.ppm]; }
}

const latLng = (x, y) => L.latLng(y, x);

function makeMap(node) {
  const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  const map = L.map(node, {
    crs: L.CRS.Simple, zoomControl: false, attributionControl: false, zoomSnap: 0, zoomDelta: 0.5,
    wheelPxPerZoomLevel: 90, zoomAnimation: false, fadeAnimation: false, markerZoomAnimation: false,
    inertia: !still, minZoom: -8, maxZoom: 7, keyboard: true, keyboardPanDelta: 60,
  });
  map.setView(latLng((BOUNDS[0] + BOUNDS[2]) / 2, (BOUNDS[1] + BOUNDS[3]) / 2), 0);
  return map;
}

function cameraOf(map) {
  const size = map.getSize();
  const origin = map.getPixelOrigin();
  const pane = L.DomUtil.getPosition(map.getPane('mapPane'));
  return new Camera({
    width: size.x, height: size.y, ppm: 2 ** map.getZoom(),
    left: pane.x - origin.x, top: pane.y - origin.y, pixelScale: window.devicePixelRatio || 1,
  });
}

function fitCanvas(canvas, camera) {
  const [width, height] = [camera.width, camera.height].map((v) => Math.round(v * camera.pixelScale));
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
    canvas.style.width = `${camera.width}px`;
    canvas.style.height = `${camera.height}px`;
  }
  const context = canvas.getContext('2d');
  context.setTransform(camera.pixelScale, 0, 0, camera.pixelScale, 0, 0);
  return context;
}

// The longest of 1, 2, 5 times a power of ten that has room.
function roundLength(most) {
  const power = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((step) => step * power).find((value) => value <= most * 1.0001);
}

function scaleBar(ppm, room = SCALE_ROOM) {
  const feet = roundLength(room / (ppm * FOOT));
  const metres = roundLength(room / ppm);
  const [wide, narrow] = [feet * FOOT * ppm, metres * ppm];
  const x = 5;
  const bar = svg('svg', { width: Math.ceil(Math.max(wide, narrow)) + 44, height: 46, role: 'img', 'aria-label': words('map.scale', { feet, metres }) });
  const ink = '#12232E';
  bar.append(
    svg('rect', { x, y: 19, width: wide, height: 5, fill: '#fff', stroke: ink, 'stroke-width': 1.2 }),
    svg('rect', { x, y: 19, width: wide / 2, height: 5, fill: ink }),
    svg('path', { d: `M${x} 27v5h${narrow}v-5M${x + narrow / 2} 32v-3.5`, stroke: ink, 'stroke-width': 1.2, fill: 'none' }),
    svgText(x, 12, '0', { 'text-anchor': 'middle' }),
    svgText(x + wide / 2, 12, String(feet / 2), { 'text-anchor': 'middle' }),
    svgText(x + wide - 8, 12, `${feet} ft`),
    svgText(x + narrow / 2, 44, String(metres / 2), { 'text-anchor': 'middle' }),
    svgText(x + narrow - 8, 44, `${metres} m`));
  return bar;
}
