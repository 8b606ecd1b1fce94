// Colours and the few strokes that everything on the map is drawn with.
const COLOUR = {
  ink: '#12232E', accent: '#0B5570', conflict: '#B3200C', tight: '#6B4300', amber: '#FFC44A',
  clear: '#1D4A63', unknown: '#4A4760', retired: '#46565F', zone: '#2F4A45', shore: '#3F525C',
  contour: '#3E7391', contourText: '#1A4560', sounding: '#234E68', land: '#F2F1EC',
  water: ['#E4F1F2', '#CDE4EA', '#B3D3E0', '#97C0D5', '#7BABC9', '#6096BB'],
};
const SUN = {
  ...COLOUR, land: '#DAD7CC', clear: '#0B1418', conflict: '#9A1404', contour: '#1F5573', sounding: '#12344A',
  water: ['#FFFFFF', '#ECF4F8', '#D6E7F0', '#C0DAE8', '#A8CBDE', '#8FBDD4'],
};
const TILES = { dots: 6, grid: 6, lines: 7, cross: 8, bare: 9, hatch: 7 };
const FONT = 'system-ui, sans-serif';
const CELL = 64; // of the table of taken room [px]
// letters on the map grow with those of the page, as far as there is room for them
const TEXT_SCALE = Math.min(Math.max(parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1, 1), 1.6);

// Room on the screen that labels have taken; boxes are left, top, right, bottom.
class Room {
  constructor() { this.cells = new Map(); }

  * cellsOf(box) {
    for (let i = Math.floor(box[0] / CELL); i <= Math.floor(box[2] / CELL); i += 1) {
      for (let j = Math.floor(box[1] / CELL); j <= Math.floor(box[3] / CELL); j += 1) yield i * 65536 + j;
    }
  }

  take(box) {
    for (const cell of this.cellsOf(box)) {
      if (!this.cells.has(cell)) this.cells.set(cell, []);
      this.cells.get(cell).push(box);
    }
  }

  isFree(box) {
    for (const cell of this.cellsOf(box)) {
      for (const other of this.cells.get(cell) || []) {
        if (other[0] < box[2] && other[2] > box[0] && other[1] < box[3] && other[3] > box[1]) return false;
      }
    }
    return true;
  }
}
const boxAt = (x, y, width, height) => [x - width / 2, y - height / 2, x + width / 2, y + height / 2];

function tileOf(name, scale, colour) {
  const size = TILES[name];
  const tile = document.createElement('canvas');
  tile.width = Math.round(size * scale);
  tile.height = tile.width;
  const c = tile.getContext('2d');
  c.scale(tile.width / size, tile.width / size);
  c.strokeStyle = colour;
  c.fillStyle = colour;
  c.lineWidth = name === 'hatch' ? 2 : 0.8;
  c.beginPath();
  if (name === 'dots') {
    c.arc(size / 2, size / 2, 0.85, 0, 7);
    c.fill();
  } else if (name === 'grid') {
    c.moveTo(0, size / 2);
    c.lineTo(size, size / 2);
    c.moveTo(size / 2, 0);
    c.lineTo(size / 2, size);
  } else {
    for (const d of [-size, 0, size]) {
      c.moveTo(d, size);
      c.lineTo(d + size, 0);
      if (name === 'cross') { c.moveTo(d, 0); c.lineTo(d + size, size); }
    }
  }
  c.stroke();
  return tile;
}

// A camera says where a metre lies on a canvas; a brush draws through it.
class Brush {
  constructor(context, camera, look) {
    this.c = context;
    this.cam = camera;
    this.look = look;
    this.scale = camera.pixelScale;
    this.palette = look.sun ? SUN : COLOUR;
    this.bold = look.sun ? 1.45 : 1;
    this.room = new Room();
    this.tiles = new Map();
    this.matrix = new DOMMatrix([camera.ppm, 0, 0, -camera.ppm, camera.left, camera.top]);
  }

  get perFoot() { return this.cam.ppm * FOOT; }

  at(x, y) { return [x * this.cam.ppm + this.cam.left, this.cam.top - y * this.cam.ppm]; }

  isSeen(px, py, margin = 0) {
    return px > -margin && py > -margin && px < this.cam.width + margin && py < this.cam.height + margin;
  }

  holds(box) { return box[0] > 0 && box[1] > 0 && box[2] < this.cam.width && box[3] < this.cam.height; }

  placed(path) {
    const onScreen = new Path2D();
    onScreen.addPath(path, this.matrix);
    return onScreen;
  }

  circle(x, y, metres) {
    const [px, py] = this.at(x, y);
    const path = new Path2D();
    path.arc(px, py, Math.max(metres * this.cam.ppm, 0), 0, 2 * Math.PI);
    return path;
  }

  stroke(path, style, width, dash = []) {
    const c = this.c;
    c.strokeStyle = style;
    c.lineWidth = width;
    c.setLineDash(dash);
    c.stroke(path);
    c.setLineDash([]);
  }

  dots(path, style, width, dash) {
    this.c.lineCap = 'round';
    this.stroke(path, style, width, dash);
    this.c.lineCap = 'butt';
  }

  fill(path, style, alpha = 1) {
    const c = this.c;
    c.globalAlpha = alpha;
    c.fillStyle = style;
    c.fill(path, 'evenodd');
    c.globalAlpha = 1;
  }

  // The pattern moves with the map, else it would seem to swim under a moving hand.
  pattern(name) {
    if (!this.tiles.has(name)) {
      const colour = { bare: '#8B969C', hatch: this.palette.conflict }[name] || this.palette.zone;
      const tile = tileOf(name, this.scale, colour);
      const made = this.c.createPattern(tile, 'repeat');
      const size = TILES[name];
      const share = size / tile.width;
      made.setTransform(new DOMMatrix([share, 0, 0, share, this.cam.left % size, this.cam.top % size]));
      this.tiles.set(name, made);
    }
    return this.tiles.get(name);
  }

  font(size, weight = 400) {
    const px = size * (this.look.sun ? 1.12 : 1) * TEXT_SCALE;
    this.c.font = `${weight} ${px}px ${FONT}`;
    return px;
  }

  widthOf(words, size, weight) {
    this.font(size, weight);
    return Math.max(...words.split('\n').map((line) => this.c.measureText(line).width));
  }

  text(words, x, y, { size = 11, weight = 400, colour = this.palette.ink, halo = 3, turn = 0, alpha = 1 } = {}) {
    const c = this.c;
    const px = this.font(size, weight);
    const lines = words.split('\n');
    c.save();
    c.translate(x, y);
    c.rotate(turn);
    c.textAlign = 'center';
    c.textBaseline = 'middle';
    c.lineJoin = 'round';
    c.globalAlpha = alpha;
    lines.forEach((line, k) => {
      const down = (k - (lines.length - 1) / 2) * px * 1.18 + px * 0.05;
      if (halo) {
        c.strokeStyle = '#fff';
        c.lineWidth = halo;
        c.strokeText(line, 0, down);
      }
      c.fillStyle = colour;
      c.fillText(line, 0, down);
    });
    c.restore();
  }
}
const cut = (words, most = 24) => (words.length > most ? `${words.slice(0, most - 1)}…` : words);
