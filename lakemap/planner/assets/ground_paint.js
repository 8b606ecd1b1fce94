// Everything that is drawn: picture or grid, water, zones, depths, floats, and what the hand is at.
const ZONE_LOOK = { swim_area: 'dots', intake: 'grid', hazard: 'lines', no_float: 'cross' };
const HANDLE = 4.5; // px
const LEAST_FOR_GHOSTS = 46; // px of a side that shows where a corner can be added

function ringPath(brush, lines, closed) {
  const path = new Path2D();
  for (const line of lines) {
    line.forEach(([x, y], k) => {
      const [px, py] = brush.at(x, y);
      if (k) path.lineTo(px, py); else path.moveTo(px, py);
    });
    if (closed) path.closePath();
  }
  return path;
}

function dotPath(px, py, radius) {
  const path = new Path2D();
  path.arc(px, py, radius, 0, 2 * Math.PI);
  return path;
}

class Painter {
  constructor(app) { this.app = app; }

  paint(brush) {
    const { state } = this.app.model;
    this.brush = brush;
    this.isOver = this.app.picture.isFixed && this.app.picture.isShown;
    brush.c.clearRect(0, 0, brush.cam.width, brush.cam.height);
    this.picture();
    if (this.app.isPinning) { this.points(state); this.marks(); return; }
    if (state.middle && !this.isOver && IS_NEW) this.grid();
    this.water(state);
    const zones = state.shapes.filter((shape) => !SHORE_KINDS.has(shape.kind));
    for (const isFrontage of [true, false]) for (const shape of zones) if ((shape.kind === 'frontage') === isFrontage) this.zone(shape);
    this.floats();
    this.depths(state);
    this.names(state);
    this.open(state);
    this.chosen(state);
    this.points(state);
    this.marks();
  }

  picture() {
    const { picture } = this.app;
    if (!picture.isShown || (picture.isLoose && !this.app.isPinning)) return;
    const { c, cam } = this.brush;
    const [a, b, cc, d, e, f] = picture.matrix;
    c.save();
    c.globalAlpha = picture.strength;
    c.transform(a * cam.ppm, -b * cam.ppm, cc * cam.ppm, -d * cam.ppm, e * cam.ppm + cam.left, cam.top - f * cam.ppm);
    c.imageSmoothingQuality = 'high';
    c.drawImage(picture.bitmap, 0, 0, picture.size[0], picture.size[1]);
    c.restore();
  }

  grid() {
    const { brush } = this;
    const per = isMetric(this.app.model.state.units) ? 1 : FOOT;
    const step = roundLength(90 / (brush.cam.ppm * per)) * per;
    const path = new Path2D();
    const [left, top] = brush.cam.metres(0, 0);
    const [right, bottom] = brush.cam.metres(brush.cam.width, brush.cam.height);
    for (let x = Math.ceil(left / step) * step; x < right; x += step) {
      const [px] = brush.at(x, 0);
      path.moveTo(px, 0);
      path.lineTo(px, brush.cam.height);
    }
    for (let y = Math.ceil(bottom / step) * step; y < top; y += step) {
      const [, py] = brush.at(0, y);
      path.moveTo(0, py);
      path.lineTo(brush.cam.width, py);
    }
    brush.stroke(path, '#DAD9D2', 1);
    this.app.gridSays = `A square is ${lengthWords(step, this.app.model.state.units).replace(/\.0 /, ' ')}`;
  }

  water(state) {
    const { brush } = this;
    const shore = state.shapes.filter((shape) => SHORE_KINDS.has(shape.kind));
    const path = ringPath(brush, shore.flatMap((shape) => shape.lines), true);
    brush.fill(path, brush.palette.water[1], this.isOver ? 0.18 : 1);
    if (this.isOver) brush.stroke(path, '#fff', 4);
    brush.stroke(path, brush.palette.shore, 2);
  }

  zone(shape) {
    const { brush } = this;
    const path = ringPath(brush, shape.lines, !shape.line);
    const { zone } = brush.palette;
    if (shape.line) {
      const wide = widthOf(shape, this.app.model.state.units) * brush.cam.ppm;
      brush.c.lineJoin = 'round';
      brush.c.lineCap = shape.kind === 'channel' ? 'butt' : 'round';
      brush.c.globalAlpha = shape.kind === 'channel' ? 0.5 : 0.8;
      brush.stroke(path, shape.kind === 'channel' ? '#fff' : '#7E8890', Math.max(wide, 3));
      brush.c.globalAlpha = 1;
      brush.stroke(path, '#fff', 3.5);
      brush.stroke(path, zone, 1.6, [10, 5]);
      return;
    }
    if (shape.kind === 'frontage') {
      if (this.isOver) brush.stroke(path, '#fff', 3);
      brush.c.globalAlpha = this.isOver ? 1 : 0.5;
      brush.stroke(path, zone, 1, [3, 3]);
      brush.c.globalAlpha = 1;
      return;
    }
    brush.fill(path, '#fff', this.isOver ? 0.3 : 0.5);
    if (ZONE_LOOK[shape.kind]) brush.fill(path, brush.pattern(ZONE_LOOK[shape.kind]));
    if (this.isOver) brush.stroke(path, '#fff', 3.5);
    brush.stroke(path, zone, 1.6);
  }

  floats() {
    const { brush } = this;
    const { effect } = this.app.checker.found;
    for (const one of DATA.floats) {
      const verdict = effect ? effect.verdicts[one.id] : one.verdict;
      const [px, py] = brush.at(one.x, one.y);
      if (!brush.isSeen(px, py, 60) || verdict === null) continue;
      const radius = Math.max((one.r || 0) * brush.cam.ppm, 4);
      const ring = dotPath(px, py, radius);
      if (verdict === 'conflict') {
        brush.fill(ring, '#FFE1DA', 0.78);
        brush.stroke(ring, '#fff', 5);
        brush.stroke(ring, brush.palette.conflict, 2.8);
      } else if (verdict === 'tight') {
        brush.stroke(ring, brush.palette.amber, 4);
        brush.stroke(ring, brush.palette.tight, 1.9, [7, 4.5]);
      } else if (verdict === 'unknown') brush.dots(ring, brush.palette.unknown, 2.2, [0.1, 4.6]);
      else brush.stroke(ring, brush.palette.clear, 1.15);
      brush.room.take(boxAt(px, py, 2 * radius, 2 * radius));
      if (radius > 12) brush.text(cut(one.id, 6), px, py, { weight: 700 });
    }
  }

  depths(state) {
    const { brush } = this;
    const look = { size: 11, colour: brush.palette.sounding };
    const gone = new Set(state.gone);
    this.showsFigures = brush.perFoot > 0.8 || DATA.soundings.length < 60;
    for (const [x, y, text, row] of DATA.soundings) {
      if (gone.has(row)) continue;
      const [px, py] = brush.at(x, y);
      const box = this.showsFigures ? boxAt(px, py, 24, 13) : boxAt(px, py, 3, 3);
      if (!brush.isSeen(px, py) || !brush.room.isFree(box)) continue;
      brush.room.take(box);
      if (this.showsFigures) brush.text(text, px, py, { ...look, alpha: 0.8 });
      else brush.fill(dotPath(px, py, 0.85), brush.palette.sounding, 0.42);
    }
    state.depths.forEach((one, k) => {
      const [px, py] = brush.at(one.x, one.y);
      if (!brush.isSeen(px, py, 20)) return;
      brush.room.take(boxAt(px, py - 6, 30, 24));
      const isChosen = this.app.look.chosen && this.app.look.chosen.depth === k;
      brush.fill(dotPath(px, py, isChosen ? 4 : 2.4), isChosen ? brush.palette.accent : brush.palette.sounding);
      brush.text(one.depth || '?', px, py - 10, { ...look, size: 12.5, weight: 700 });
    });
  }

  names(state) {
    const { brush } = this;
    for (const shape of state.shapes) {
      const [west, south, east, north] = boxOf(shape.lines.flat());
      const name = shape.name || (shape.kind === 'frontage' && shape.lot ? `lot ${shape.lot}` : '');
      if (!name || shape.kind === 'outline') continue;
      const [px, py] = shape.line ? brush.at(...between(...middleSide(shape.lines[0]))) : brush.at((west + east) / 2, (south + north) / 2);
      const shown = cut(name);
      const isWide = shape.line || shape.kind === 'island' || (east - west) * brush.cam.ppm > 40;
      const wide = brush.widthOf(shown, 11.5, 600) + 4;
      const down = [0, -16, 16, -30, 30].find((dy) => brush.room.isFree(boxAt(px, py + dy, wide, 16)));
      if (!isWide || !brush.isSeen(px, py, 60) || down === undefined) continue;
      brush.room.take(boxAt(px, py + down, wide, 16));
      brush.text(shown, px, py + down, { size: 11.5, weight: 600, colour: brush.palette.zone });
    }
  }

  open({ open }) {
    if (!open) return;
    const { brush } = this;
    const { hover } = this.app.look;
    const points = hover && this.app.look.tool === 'draw' ? [...open.points, hover.point] : open.points;
    const path = ringPath(brush, [points], false);
    brush.stroke(path, '#fff', 5);
    brush.stroke(path, brush.palette.accent, 2.4);
    if (!open.line && points.length > 2) {
      const closing = ringPath(brush, [[points[points.length - 1], points[0]]], false);
      brush.stroke(closing, brush.palette.accent, 1.4, [4, 4]);
    }
    open.points.forEach(([x, y], k) => this.handle(...brush.at(x, y), k === 0 && !open.line && open.points.length > 2 ? 'first' : 'corner'));
  }

  chosen(state) {
    const { chosen } = this.app.look;
    const shape = chosen && state.shapes.find((one) => one.key === chosen.key);
    if (!shape) return;
    const { brush } = this;
    const path = ringPath(brush, shape.lines, !shape.line);
    brush.stroke(path, '#fff', 5);
    brush.stroke(path, brush.palette.accent, 2.6);
    for (const line of shape.lines) {
      for (let k = 0; k < sideCount(line, !shape.line); k += 1) {
        const [a, b] = [brush.at(...line[k]), brush.at(...atCorner(line, k + 1))];
        if (away(a, b) < LEAST_FOR_GHOSTS || !brush.isSeen(...between(a, b), 20)) continue;
        brush.fill(dotPath(...between(a, b), 3), '#fff');
        brush.stroke(dotPath(...between(a, b), 3), brush.palette.accent, 1.2);
      }
    }
    shape.lines.forEach((line, at) => {
      const corners = line.map(([x, y]) => brush.at(x, y));
      const isDense = corners.length > 2 && this.lengthOf(corners) / corners.length < 11;
      corners.forEach(([px, py], k) => {
        const isOne = chosen.corner && chosen.corner[0] === at && chosen.corner[1] === k;
        if ((!isDense || isOne) && brush.isSeen(px, py, 20)) this.handle(px, py, isOne ? 'chosen' : 'corner');
      });
    });
  }

  lengthOf(points) { return points.slice(1).reduce((sum, p, k) => sum + away(p, points[k]), 0); }

  handle(px, py, kind) {
    const { brush } = this;
    const radius = kind === 'corner' ? HANDLE : HANDLE + 2.5;
    const path = dotPath(px, py, radius);
    brush.fill(path, kind === 'chosen' ? brush.palette.accent : '#fff');
    brush.stroke(path, brush.palette.accent, 2);
    if (kind === 'first') brush.stroke(dotPath(px, py, radius + 4), brush.palette.accent, 1.4);
  }

  // Points of the picture: a cross, with the number that the list has.
  points({ picture }) {
    if (!picture || this.app.look.step !== 'picture') return;
    const { brush } = this;
    picture.points.forEach((one, k) => {
      const [px, py] = brush.at(...applied(this.app.picture.matrix, [one.u, one.v]));
      const cross = new Path2D(`M${px - 12} ${py}h9M${px + 3} ${py}h9M${px} ${py - 12}v9M${px} ${py + 3}v9`);
      brush.stroke(cross, '#fff', 5);
      brush.stroke(cross, brush.palette.ink, 2.2);
      brush.text(String(k + 1), px + 13, py - 12, { size: 14, weight: 700, halo: 4 });
    });
  }

  // Where something crosses, where it would snap, where the keys are.
  marks() {
    const { brush } = this;
    const { hover, cross } = this.app.look;
    for (const at of this.app.crossings()) {
      const [px, py] = brush.at(...at);
      const sign = new Path2D(`M${px - 7} ${py - 7}l14 14M${px + 7} ${py - 7}l-14 14`);
      brush.stroke(sign, '#fff', 7);
      brush.stroke(sign, brush.palette.conflict, 3.4);
    }
    if (hover && hover.to) brush.stroke(dotPath(...brush.at(...hover.point), 9), brush.palette.accent, 2);
    if (cross) {
      const [px, py] = cross;
      const sign = new Path2D(`M${px - 14} ${py}h28M${px} ${py - 14}v28`);
      brush.stroke(sign, '#fff', 5);
      brush.stroke(sign, brush.palette.ink, 2);
    }
  }
}

const middleSide = (line) => { const k = Math.max(0, Math.floor((line.length - 1) / 2)); return [line[k], line[Math.min(k + 1, line.length - 1)]]; };

// A width as typed, in metres as far as the page can read it; the machine reads it all.
function widthOf(shape, units) {
  const found = /^\s*([\d.]+)\s*(ft|m)?\s*$/.exec(shape.width || '');
  if (!found) return 0;
  return Number(found[1]) * ((found[2] || lengthUnit(units)) === 'm' ? 1 : FOOT);
}
