'use strict';
// One canvas over the map: everything in metres, drawn at the scale of the moment.
const COLOUR = {
  ink: '#12232E', accent: '#0B5570', conflict: '#B3200C', tight: '#6B4300', amber: '#FFC44A', clear: '#1D4A63',
  unknown: '#4A4760', zone: '#2F4A45', shore: '#3F525C', contour: '#3E7391', contourText: '#1A4560',
  sounding: '#234E68', land: '#F2F1EC', grey: '#B9BEC0',
  water: ['#E4F1F2', '#CDE4EA', '#B3D3E0', '#97C0D5', '#7BABC9', '#6096BB'],
};
const SUN = { ...COLOUR, land: '#DAD7CC', clear: '#0B1418', conflict: '#9A1404',
  water: ['#F4FAFB', '#E4F0F5', '#D2E5EF', '#BDD9E8', '#A7CBDF', '#8FBDD4'] };

function bandColours(count, palette) {
  // fewer bands keep the light end; never more than six
  return palette.water.slice(0, Math.max(1, count));
}

class Drawing {
  constructor(view) { this.view = view; this.patterns = {}; }

  begin(context, width, height) {
    this.c = context; this.w = width; this.h = height;
    this.palette = this.view.sun ? SUN : COLOUR;
    this.bold = this.view.sun ? 1.45 : 1;
    this.boxes = [];
  }
  pt(x, y) { return this.view.toPixel(x, y); }
  get ppm() { return this.view.pixelsPerMetre(); }

  trace(points, close) {
    const c = this.c;
    for (let k = 0; k < points.length; k += 2) {
      const [x, y] = this.pt(points[k], points[k + 1]);
      if (k === 0) c.moveTo(x, y); else c.lineTo(x, y);
    }
    if (close) c.closePath();
  }
  area(polygons) {
    this.c.beginPath();
    for (const rings of polygons) for (const ring of rings) this.trace(ring, true);
  }
  circle(x, y, metres) {
    const [px, py] = this.pt(x, y);
    this.c.beginPath(); this.c.arc(px, py, Math.max(metres * this.ppm, 0), 0, 2 * Math.PI);
  }
  stroke(style, width, dash = []) {
    const c = this.c;
    c.strokeStyle = style; c.lineWidth = width; c.setLineDash(dash); c.stroke(); c.setLineDash([]);
  }

  pattern(name) {
    if (this.patterns[name]) return this.patterns[name];
    const size = { dots: 6, grid: 6, lines: 7, cross: 8, bare: 9, hatch: 5 }[name];
    const tile = document.createElement('canvas');
    const scale = window.devicePixelRatio || 1;
    tile.width = tile.height = size * scale;
    const t = tile.getContext('2d');
    t.scale(scale, scale);
    t.strokeStyle = t.fillStyle = name === 'bare' ? '#8B969C' : name === 'hatch' ? COLOUR.conflict : COLOUR.zone;
    t.lineWidth = name === 'hatch' ? 2 : 0.8;
    const line = (a, b, d, e) => { t.beginPath(); t.moveTo(a, b); t.lineTo(d, e); t.stroke(); };
    if (name === 'dots') { t.beginPath(); t.arc(3, 3, 0.8, 0, 7); t.fill(); }
    if (name === 'grid') { line(0, 3, 6, 3); line(3, 0, 3, 6); }
    if (name !== 'dots' && name !== 'grid') {
      for (const d of [-size, 0, size]) line(d, size, d + size, 0);
      if (name === 'cross') for (const d of [-size, 0, size]) line(d, 0, d + size, size);
    }
    const made = this.c.createPattern(tile, 'repeat');
    if (made.setTransform) made.setTransform(new DOMMatrix().scale(1 / scale));
    this.patterns[name] = made;
    return made;
  }

  text(words, x, y, { size = 11, weight = 400, colour = this.palette.ink, halo = 3, align = 'center' } = {}) {
    const c = this.c, lines = String(words).split('\n');
    c.font = `${weight} ${size * (this.view.sun ? 1.12 : 1)}px system-ui, sans-serif`;
    c.textAlign = align; c.textBaseline = 'middle'; c.lineJoin = 'round';
    lines.forEach((line, k) => {
      const at = y + (k - (lines.length - 1) / 2) * size * 1.2;
      if (halo) { c.strokeStyle = 'rgba(255,255,255,.92)'; c.lineWidth = halo; c.strokeText(line, x, at); }
      c.fillStyle = colour; c.fillText(line, x, at);
    });
  }
  free(x, y, w, h) {
    const box = [x - w / 2, y - h / 2, x + w / 2, y + h / 2];
    if (this.boxes.some((b) => b[0] < box[2] && b[2] > box[0] && b[1] < box[3] && b[3] > box[1])) return false;
    this.boxes.push(box);
    return true;
  }

  lake() {
    const c = this.c, p = this.palette;
    c.fillStyle = p.land; c.fillRect(0, 0, this.w, this.h);
    this.area(SCENE.water); c.fillStyle = p.water[0]; c.fill('evenodd');
    SCENE.bands.forEach((band, k) => { this.area(band); c.fillStyle = p.water[k + 1] || p.water[5]; c.fill('evenodd'); });
    SCENE.contours.forEach(({ lines }, k) => {
      c.beginPath();
      for (const line of lines) this.trace(line, false);
      this.stroke(p.contour, (k % 2 ? 1 : 0.7) * this.bold);
    });
    if (SCENE.bare.length) {
      this.area(SCENE.bare); c.fillStyle = '#E6E8E7'; c.fill('evenodd'); c.fillStyle = this.pattern('bare'); c.fill('evenodd');
    }
    if (this.ppm * DATA.unitM > 0.5) {
      c.fillStyle = p.sounding; c.globalAlpha = 0.42;
      for (const [x, y] of SCENE.soundings) {
        const [a, b] = this.pt(x * M, y * M);
        if (a > 0 && b > 0 && a < this.w && b < this.h) { c.beginPath(); c.arc(a, b, 0.85, 0, 7); c.fill(); }
      }
      c.globalAlpha = 1;
    }
  }
  zones() {
    const c = this.c, p = this.palette;
    const fill = { swim_area: 'dots', intake: 'grid', hazard: 'lines', no_float: 'cross' };
    for (const z of SCENE.zones) {
      if (z.kind === 'frontage') {
        this.area(z.area); c.globalAlpha = 0.38; this.stroke(p.zone, 0.8 * this.bold, [3, 3]); c.globalAlpha = 1;
        continue;
      }
      if (z.keep.length && this.ppm * DATA.unitM > 0.45) {
        this.area(z.keep); c.lineCap = 'round'; this.stroke(p.zone, 1, [1, 3.4]); c.lineCap = 'butt';
      }
      this.area(z.area);
      if (z.kind === 'ramp' || z.kind === 'dock') { c.fillStyle = z.kind === 'ramp' ? '#6F777A' : '#5C5750'; c.fill('evenodd'); continue; }
      c.fillStyle = `rgba(255,255,255,${z.kind === 'channel' ? 0.38 : 0.5})`; c.fill('evenodd');
      if (fill[z.kind]) { c.fillStyle = this.pattern(fill[z.kind]); c.fill('evenodd'); }
      this.stroke(p.zone, 1.5 * this.bold, z.kind === 'channel' ? [10, 5] : []);
    }
    this.area(SCENE.water); this.stroke(p.shore, 1.6 * this.bold);
  }
  names() {
    for (const z of SCENE.zones) {
      const [x, y] = this.pt(z.x, z.y);
      if (x < -50 || y < -50 || x > this.w + 50 || y > this.h + 50) continue;
      const lot = z.kind === 'frontage';
      const scale = this.ppm * DATA.unitM;
      if (z.kind === 'dock' || (lot && scale < 1.5)) continue;
      const short = z.name.length > 24 ? `${z.name.slice(0, 23)}…` : z.name;
      const words = short.replace(/ (swim area|nesting|intake)$/, '\n$1');
      const width = Math.max(...words.split('\n').map((w) => w.length)) * 6.2;
      if (!this.free(x, y, width, 14 * words.split('\n').length)) continue;
      this.text(words, x, y, { size: 11.5, weight: lot ? 400 : 600, colour: this.palette.zone });
    }
    for (const [name, x, y] of DATA.islands) {
      const [a, b] = this.pt(x * M, y * M);
      if (this.free(a, b, name.length * 6.4, 14)) this.text(name, a, b, { size: 11.5, weight: 600, colour: this.palette.zone });
    }
    for (const { label, lines } of SCENE.contours) this.contourLabels(label, lines);
    if (this.ppm * DATA.unitM >= 2.2) {
      for (const [x, y, depth] of SCENE.soundings) {
        const [a, b] = this.pt(x * M, y * M);
        if (a < 0 || b < 0 || a > this.w || b > this.h || !this.free(a, b, 26, 14)) continue;
        if (FLOATS.some((f) => f.radii[0] && Math.hypot(f.px - x * M, f.py - y * M) < f.radii[0])) continue;
        this.text(depth, a, b, { colour: this.palette.sounding, halo: 2 });
      }
    }
  }
  contourLabels(label, lines) {
    for (const line of lines) {
      let run = 170;
      for (let k = 2; k < line.length; k += 2) {
        const [x0, y0] = this.pt(line[k - 2], line[k - 1]), [x1, y1] = this.pt(line[k], line[k + 1]);
        run += Math.hypot(x1 - x0, y1 - y0);
        if (run < 250 || x1 < 0 || y1 < 0 || x1 > this.w || y1 > this.h) continue;
        if (FLOATS.some((f) => { const [a, b] = this.pt(f.px, f.py); return Math.hypot(a - x1, b - y1) < (f.radii[0] || 0) * this.ppm + 15; })) continue;
        if (!this.free(x1, y1, 38, 16)) continue;
        this.text(label, x1, y1, { colour: this.palette.contourText, halo: 3 });
        run = 0;
      }
    }
  }

  // Floats far too small for a circle become marks; near ones join, the worst verdict leads.
  joined() {
    const rank = { conflict: 0, tight: 1, unknown: 2, clear: 3, retired: 4 };
    const cells = new Map();
    for (const f of FLOATS) {
      const [x, y] = this.pt(f.px, f.py);
      if (x < -20 || y < -20 || x > this.w + 20 || y > this.h + 20 || f.verdict === 'retired') continue;
      const key = `${Math.round(x / 18)},${Math.round(y / 18)}`;
      const held = cells.get(key);
      if (!held) cells.set(key, { x, y, verdict: f.verdict, count: 1 });
      else { held.count += 1; if (rank[f.verdict] < rank[held.verdict]) { held.verdict = f.verdict; held.x = x; held.y = y; held.count = 1; } else if (f.verdict !== held.verdict && held.verdict === 'conflict') held.count -= 1; }
    }
    return [...cells.values()].sort((a, b) => rank[b.verdict] - rank[a.verdict]);
  }
  marks() {
    const c = this.c, p = this.palette;
    for (const m of this.joined()) {
      c.beginPath(); c.arc(m.x, m.y, 7, 0, 7); c.fillStyle = m.verdict === 'tight' ? p.amber : '#fff'; c.fill();
      this.stroke('#fff', 5); c.beginPath(); c.arc(m.x, m.y, 6, 0, 7);
      this.stroke(p[m.verdict], m.verdict === 'conflict' ? 3.4 : 1.8, m.verdict === 'unknown' ? [1, 3] : m.verdict === 'tight' ? [5, 3] : []);
      if (m.count > 1) this.text(m.count, m.x, m.y, { size: 9, weight: 700, halo: 2 });
    }
  }

  ring(f, level) {
    const c = this.c, p = this.palette, r = f.radii[level];
    if (r === null || r === undefined) return;
    this.circle(f.px, f.py, r);
    if (f.verdict === 'conflict') {
      c.globalAlpha = 0.78; c.fillStyle = '#FFE1DA'; c.fill(); c.globalAlpha = 1;
      this.hatchOverlap(f, r);
      this.circle(f.px, f.py, r); this.stroke('#fff', 5 * this.bold); this.stroke(p.conflict, 2.8 * this.bold);
    } else if (f.verdict === 'tight') {
      c.globalAlpha = 0.6; c.fillStyle = '#FFF3D2'; c.fill(); c.globalAlpha = 1;
      this.stroke(p.amber, 4 * this.bold); this.stroke(p.tight, 1.9 * this.bold, [7, 4.5]);
    } else if (f.verdict === 'unknown') {
      c.lineCap = 'round'; this.stroke('#fff', 4); this.stroke(p.unknown, 2.2 * this.bold, [0.1, 4.6]); c.lineCap = 'butt';
    } else {
      this.stroke('rgba(255,255,255,.8)', 2.6); this.stroke(p.clear, 1.15 * this.bold);
    }
  }
  hatchOverlap(f, r) {
    const c = this.c;
    for (const one of f.clear) {
      if (one.state !== 'conflict' || one.gap === undefined || one.gap >= 0) continue;
      c.save(); this.circle(f.px, f.py, r); c.clip();
      if (one.kind === 'float') {
        const other = BY_ID.get(one.against);
        this.circle(other.px, other.py, other.radii[0] || 0);
      } else {
        const zone = SCENE.zones.find((z) => z.kind === one.kind && one.kind !== 'frontage' && one.name.toLowerCase() === z.name.toLowerCase());
        if (!zone) { c.restore(); continue; }
        this.area(zone.area);
      }
      c.fillStyle = this.pattern('hatch'); c.fill('evenodd'); c.restore();
    }
  }
  rig(f) {
    const c = this.c, p = this.palette, scale = this.ppm * DATA.unitM, near = scale >= 2;
    const [x, y] = this.pt(f.px, f.py), [hx, hy] = this.pt(f.hx, f.hy);
    const faint = f.status === 'retired' ? 0.55 : 1;
    c.globalAlpha = faint;
    if (f.sx !== null && f.status !== 'retired') {
      const [sx, sy] = this.pt(f.sx, f.sy), dash = f.guess ? [3, 2] : [];
      c.beginPath(); c.moveTo(x, y); c.lineTo(sx, sy); this.stroke(p.ink, (near ? 2 : 1.3) * this.bold, dash);
      c.beginPath(); c.moveTo(sx, sy); c.lineTo(hx, hy); this.stroke(p.ink, (near ? 1.4 : 0.9) * this.bold, dash);
    }
    this.deck(f, hx, hy, scale);
    const side = near ? Math.max(4.6, 2.6 * DATA.unitM * this.ppm * 0.5) : 4.6;
    if (f.sx !== null && f.status !== 'retired') {
      const [sx, sy] = this.pt(f.sx, f.sy), s = side * 0.8;
      c.fillStyle = '#fff'; c.fillRect(sx - s / 2, sy - s / 2, s, s);
      c.beginPath(); c.rect(sx - s / 2, sy - s / 2, s, s); this.stroke(p.ink, 1.2);
    }
    if (f.status !== 'retired') {
      if (f.located) { c.fillStyle = p.ink; c.fillRect(x - side / 2, y - side / 2, side, side); }
      else { c.beginPath(); c.rect(x - side / 2, y - side / 2, side, side); this.stroke(p.ink, 1, [2, 1.5]); }
    }
    c.globalAlpha = 1;
  }
  deck(f, hx, hy, scale) {
    const c = this.c, p = this.palette;
    const long = Math.max(f.long * this.ppm, 7), short = Math.max(f.short * this.ppm, 5);
    c.save(); c.translate(hx, hy); c.rotate((f.lies - 90) * Math.PI / 180);
    const start = f.edge ? 0 : -long / 2;
    c.beginPath(); c.rect(start, -short / 2, long, short);
    c.fillStyle = f.verdict === 'conflict' ? '#FFD3C9' : f.verdict === 'tight' ? '#FFE9B0' : '#fff'; c.fill();
    this.stroke(p.ink, (scale >= 2 ? 1.6 : 1.2) * this.bold, f.status === 'proposed' ? [2.2, 1.6] : f.status === 'retired' ? [1, 2] : []);
    if (scale >= 3) for (let k = 1; k < 6; k++) {
      c.beginPath(); c.moveTo(start + (long * k) / 6, -short / 2); c.lineTo(start + (long * k) / 6, short / 2);
      c.globalAlpha = 0.35; this.stroke(p.ink, 0.8); c.globalAlpha = 1;
    }
    c.restore();
  }
  label(f) {
    const r = (f.radii[this.view.level] || 3) * this.ppm, [x, y] = this.pt(f.px, f.py);
    if (r < 12) return;
    if (f.status === 'retired') { this.c.globalAlpha = 0.75; this.text(`${f.id} retired`, x, y + 13, { size: 11, halo: 3 }); this.c.globalAlpha = 1; return; }
    const way = (f.lies * Math.PI) / 180;
    const away = Math.min(r * 0.52, Math.max(13, 9 + 2 * this.ppm));
    const colour = f.verdict === 'clear' || f.verdict === 'retired' ? this.palette.ink : this.palette[f.verdict];
    const lx = x - Math.cos(way) * away * -1, ly = y + Math.sin(way) * away * 1;
    const at = r < 20 ? [x, y + r * 0.48] : [lx, ly];
    this.text(f.id.length > 8 ? `${f.id.slice(0, 7)}…` : f.id, at[0], at[1], { weight: 700, size: this.ppm * DATA.unitM >= 2 ? 15 : 11, colour });
    if (f.status === 'proposed') this.text('proposed', x, y + r + 8, { size: 11, halo: 3 });
    else if (f.verdict === 'unknown') this.text('no depth known', x, y + r + 8, { size: 11, halo: 3, colour: this.palette.unknown });
  }
  lit(f) {
    const r = f.radii[this.view.level];
    if (!r) return;
    const [x, y] = this.pt(f.px, f.py), c = this.c;
    c.beginPath(); c.arc(x, y, r * this.ppm + 5, 0, 7); this.stroke('#fff', 5);
    c.beginPath(); c.arc(x, y, r * this.ppm + 5, 0, 7); this.stroke(this.palette.ink, 2);
    if (f.radii[2] !== null) { this.circle(f.px, f.py, f.radii[2]); this.stroke(this.palette.ink, 1.2, [2, 3]); }
    if (f.walkM) { this.circle(f.px, f.py, f.walkM); this.stroke(this.palette.ink, 1, [5, 3]); }
  }
  floats() {
    const level = this.view.level, scale = this.ppm * DATA.unitM;
    const biggest = Math.max(...FLOATS.map((f) => (f.radii[0] || 0)), 0.1) * this.ppm * 2;
    if (scale < 0.4 && biggest < 20 && FLOATS.length > 1) { this.marks(); return; }
    const seen = FLOATS.filter((f) => { const [x, y] = this.pt(f.px, f.py); const r = (f.radii[0] || 5) * this.ppm + 30; return x > -r && y > -r && x < this.w + r && y < this.h + r; });
    const late = { clear: 0, retired: 0, unknown: 1, tight: 2, conflict: 3 };
    seen.sort((a, b) => late[a.verdict] - late[b.verdict]);
    for (const f of seen) if (f.verdict !== 'retired') this.ring(f, level);
    for (const f of [this.view.hovered, this.view.chosen]) if (f) this.lit(f);
    for (const f of seen) this.rig(f);
    for (const f of seen) this.label(f);
    if (this.view.chosen) this.lengths(this.view.chosen);
  }
  // What the chosen float is near: a bar with end ticks and its length in a pill.
  lengths(f) {
    const r = f.radii[0];
    if (r === null) return;
    const shown = f.clear.filter((one) => one.to && one.kind !== 'shore_max');
    const worst = shown.filter((one) => one.state === 'conflict');
    const rest = shown.filter((one) => one.state !== 'conflict' && one.gap * M * this.ppm < 260);
    const chosen = [...worst, ...rest].slice(0, Math.max(worst.length, 3));
    const bars = chosen.map((one) => this.bar(f, one, r));
    for (const bar of bars) if (bar.run >= 10) this.boxes.push([Math.min(bar.x0, bar.x1) - 8, Math.min(bar.y0, bar.y1) - 8, Math.max(bar.x0, bar.x1) + 8, Math.max(bar.y0, bar.y1) + 8]);
    const [px, py] = this.pt(f.px, f.py);
    this.boxes.push([px - r * this.ppm * 0.7, py - r * this.ppm * 0.7, px + r * this.ppm * 0.7, py + r * this.ppm * 0.7]);
    chosen.forEach((one, k) => this.pill(f, one, bars[k], r));
  }
  bar(f, one, r) {
    const c = this.c, p = this.palette, tox = one.to[0] * M, toy = one.to[1] * M;
    const d = Math.hypot(tox - f.px, toy - f.py) || 1;
    // inside a zone the way out points back over the primary
    const back = one.gap < 0 && one.kind !== 'float' && one.kind !== 'frontage' && d < -one.gap * M - r ? -1 : 1;
    const ux = back * (tox - f.px) / d, uy = back * (toy - f.py) / d, b = r + one.gap * M;
    const [x0, y0] = this.pt(f.px + ux * r, f.py + uy * r), [x1, y1] = this.pt(f.px + ux * b, f.py + uy * b);
    const colour = one.state === 'conflict' ? p.conflict : p.clear, run = Math.hypot(x1 - x0, y1 - y0);
    if (run >= 10) {
      const nx = -(y1 - y0) / run * 7, ny = (x1 - x0) / run * 7;
      for (const [style, width] of [['#fff', 6.5], [colour, 3]]) {
        c.beginPath(); c.moveTo(x0, y0); c.lineTo(x1, y1);
        c.moveTo(x0 - nx, y0 - ny); c.lineTo(x0 + nx, y0 + ny); c.moveTo(x1 - nx, y1 - ny); c.lineTo(x1 + nx, y1 + ny);
        this.stroke(style, width);
      }
    } else { c.beginPath(); c.arc(x0, y0, 3.2, 0, 7); c.fillStyle = colour; c.fill(); }
    return { x0, y0, x1, y1, ux, uy, run, colour };
  }
  pill(f, one, bar, r) {
    const c = this.c, mx = (bar.x0 + bar.x1) / 2, my = (bar.y0 + bar.y1) / 2, size = this.w < 500 ? 12 : 12.5;
    c.font = `700 ${size}px system-ui, sans-serif`;
    const w = c.measureText(one.pill).width + 20, clampX = (x) => Math.min(Math.max(x, w / 2 + 6), this.w - w / 2 - 6);
    const clampY = (y) => Math.min(Math.max(y, this.w < 500 ? 60 : 18), this.h - 18);
    let place = null;
    for (const far of [26, 44, 66, 92, 124]) {
      for (const turn of [0, 40, -40, 80, -80, 120, -120]) {
        const a = Math.atan2(-bar.uy, bar.ux) + (turn * Math.PI) / 180;
        const x = clampX(mx + Math.cos(a) * (far + (w / 2) * Math.abs(Math.cos(a)))), y = clampY(my + Math.sin(a) * far);
        if (this.free(x, y, w + 6, 30)) { place = [x, y]; break; }
      }
      if (place) break;
    }
    if (!place) { if (one.state !== 'conflict') return; place = [clampX(mx), clampY(my - 30)]; }
    const [ax, ay] = place;
    c.beginPath(); c.moveTo(mx, my); c.lineTo(ax, ay); this.stroke(bar.colour, 1.2);
    c.beginPath();
    if (c.roundRect) c.roundRect(ax - w / 2, ay - 12, w, 24, 12); else c.rect(ax - w / 2, ay - 12, w, 24);
    c.fillStyle = '#fff'; c.fill(); this.stroke(bar.colour, 2);
    this.text(one.pill, ax, ay, { size, weight: 700, colour: bar.colour, halo: 0 });
  }
  all() {
    this.lake(); this.zones();
    const reserve = FLOATS.length < 400 ? FLOATS : [];
    for (const f of reserve) { const [x, y] = this.pt(f.px, f.py), d = (f.radii[0] || 3) * this.ppm * 1.5; this.boxes.push([x - d / 2, y - d / 2, x + d / 2, y + d / 2]); }
    this.names(); this.boxes = []; this.floats();
    if (this.view.here) {
      const [x, y] = this.pt(this.view.here.x, this.view.here.y);
      this.circle(this.view.here.x, this.view.here.y, this.view.here.sure); this.c.fillStyle = 'rgba(11,85,112,.15)'; this.c.fill();
      this.c.beginPath(); this.c.arc(x, y, 7, 0, 7); this.c.fillStyle = '#0B5570'; this.c.fill(); this.stroke('#fff', 3);
    }
  }
}
