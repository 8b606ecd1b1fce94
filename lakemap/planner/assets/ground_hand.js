// Pointer on the map: clicks add, drags move; what is no corner is left to the map to pan and pinch.
const SNAP = 10; // px
const MOVE_STARTS = 5; // px
const HIT = { mouse: 11, touch: 24, pen: 16 }; // px around a corner
const TRACED = 2.5; // px that a traced shore may lie off the hand

class Hand {
  constructor(app) {
    this.app = app;
    this.node = byId('field');
    this.press = null;
    this.pointers = new Set();
    this.touched = -Infinity;
    const on = (type, act, options = {}) => this.node.addEventListener(type, act, { capture: true, ...options });
    on('pointerdown', (event) => this.down(event));
    on('pointermove', (event) => this.moved(event));
    on('pointerup', (event) => this.up(event));
    on('pointercancel', (event) => this.cancel(event));
    // a touch makes mouse events after it, and the map would take the focus for them
    on('mousedown', (event) => { if (performance.now() - this.touched < 1000) { event.stopImmediatePropagation(); event.preventDefault(); } });
    on('pointerleave', () => { if (!this.press) this.hover(null); });
  }

  at(event) {
    const box = this.node.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  metres(px) { return this.app.camera.metres(px[0], px[1]); }

  within(type) { return (HIT[type] || HIT.mouse) / this.app.camera.ppm; }

  // What lies under the hand and can be moved.
  grip(px, type) {
    const { model, look } = this.app;
    const p = this.metres(px);
    const within = this.within(type);
    const { open, picture, depths } = model.state;
    if (look.tool === 'draw' && open) {
      const corner = nearestCorner([{ lines: [open.points] }], p, within);
      return corner ? { what: 'open', k: corner.k } : null;
    }
    if (picture && look.step === 'picture') {
      const k = nearestOf(picture.points.map((one) => applied(this.app.picture.matrix, [one.u, one.v])), p, within);
      if (k >= 0) return { what: 'point', k };
    }
    if (look.tool === 'point') return null;
    const filed = look.tool === 'depth' && this.filedAt(px, type);
    const depth = nearestOf(depths.map((one) => [one.x, one.y]), p, within);
    if (depth >= 0 && (look.step === 'depths' || look.tool === 'choose')) return { what: 'depth', k: depth };
    if (filed) return { what: 'filed', row: filed.row };
    const shape = look.chosen && model.shape(look.chosen.key);
    if (look.tool !== 'choose' || !shape) return null;
    const corner = nearestCorner([shape], p, within);
    if (corner) return { what: 'corner', key: shape.key, line: corner.line, k: corner.k };
    const side = nearestSide([shape], p, within * 0.8);
    return side ? { what: 'side', key: shape.key, line: side.line, k: side.k, point: side.point } : null;
  }

  // A depth of the file, where its figure is shown.
  filedAt(px, type) {
    const { model, painter, camera } = this.app;
    if (!painter.showsFigures) return null;
    const left = [...FILED.values()].filter((one) => !model.state.gone.includes(one.row));
    const k = nearestOf(left.map((one) => [one.x, one.y]), this.metres(px), (HIT[type] * 0.7) / camera.ppm);
    return k < 0 ? null : left[k];
  }

  down(event) {
    this.app.look.cross = null;
    this.pointers.add(event.pointerId);
    if (this.pointers.size > 1) { this.drop(); return; } // two fingers pinch
    if (event.button !== 0) return;
    const px = this.at(event);
    const grip = this.grip(px, event.pointerType);
    const isTracing = this.app.look.tracing && this.app.look.tool === 'draw';
    this.press = { id: event.pointerId, px, grip, isTracing: isTracing && !grip, type: event.pointerType, live: false, path: [] };
    if ((grip && grip.what !== 'filed') || this.press.isTracing) {
      this.app.map.dragging.disable();
      this.node.setPointerCapture(event.pointerId);
    }
  }

  moved(event) {
    const px = this.at(event);
    const { press } = this;
    if (!press) { this.hover(px, event); return; }
    if (event.pointerId !== press.id) return;
    if (!press.live && away(px, press.px) < MOVE_STARTS) return;
    if (!press.live) { press.live = true; this.begin(press); }
    if (press.grip && press.grip.what === 'filed') return;
    if (press.grip) this.drag(press, px, event);
    else if (press.isTracing) { press.path.push(this.metres(px)); this.trace(press); }
    if (event.pointerType === 'touch' && (press.grip || press.isTracing)) this.app.loupe(px);
  }

  up(event) {
    this.pointers.delete(event.pointerId);
    if (event.pointerType === 'touch') this.touched = performance.now();
    const { press } = this;
    if (!press || press.id !== event.pointerId) return;
    this.press = null;
    this.app.map.dragging.enable();
    this.app.loupe(null);
    if (press.live && press.isTracing) this.endTrace(press);
    else if (press.live && press.grip && press.grip.what !== 'filed') this.end(press);
    else if (!press.live) this.click(this.at(event), press, event);
    if (event.pointerType === 'touch') this.hover(null);
  }

  cancel(event) {
    this.pointers.delete(event.pointerId);
    this.drop();
  }

  // The hand lets go without having done anything.
  drop() {
    const { press } = this;
    this.press = null;
    this.app.map.dragging.enable();
    this.app.loupe(null);
    if (press && press.live && (press.grip || press.isTracing)) {
      const { model } = this.app;
      if (model.held) { model.amend(model.held); model.held = null; }
    }
  }

  snap(p, kind, without) {
    if (!this.app.look.snap || this.alt) return { point: p, to: null };
    return snapped(this.app.model.state.shapes, p, { within: SNAP / this.app.camera.ppm, kind, without });
  }

  hover(px, event) {
    this.alt = event ? event.altKey : false;
    const { look, model } = this.app;
    this.app.setWhere(px && this.metres(px));
    const had = look.hover;
    look.hover = null;
    if (px && look.tool === 'draw' && model.state.open) {
      const grip = this.grip(px, event.pointerType);
      const first = grip && grip.k === 0 && model.state.open.points.length > 2 && !model.state.open.line;
      look.hover = first ? { point: model.state.open.points[0], to: 'corner' } : this.snap(this.metres(px), model.state.open.kind, null);
    }
    this.node.classList.toggle('is-over', Boolean(px && this.grip(px, event.pointerType)));
    if (had || look.hover) this.app.redraw();
  }

  begin(press) {
    const { model } = this.app;
    model.hold();
    if (press.grip && press.grip.what === 'side') this.insert(press.grip);
  }

  // A corner is put into a side, and the hand goes on with it.
  insert(grip) {
    const { model } = this.app;
    const line = model.shape(grip.key).lines[grip.line];
    model.amend(model.withLine(grip.key, grip.line, [...line.slice(0, grip.k + 1), grip.point, ...line.slice(grip.k + 1)]));
    grip.what = 'corner';
    grip.k += 1;
    grip.isNew = true;
    this.app.choose({ key: grip.key, corner: [grip.line, grip.k] });
  }

  drag(press, px, event) {
    const { model } = this.app;
    const { grip } = press;
    this.alt = event.altKey;
    const p = this.metres(px);
    if (grip.what === 'corner') {
      const shape = model.shape(grip.key);
      const spot = this.snap(p, shape.kind, grip.key);
      this.app.look.hover = spot.to ? spot : null;
      this.app.look.chosen = { key: grip.key, corner: [grip.line, grip.k] };
      model.amend(model.withLine(grip.key, grip.line, shape.lines[grip.line].map((old, k) => (k === grip.k ? spot.point : old))));
    } else if (grip.what === 'open') {
      const { open } = model.state;
      const spot = this.snap(p, open.kind, null);
      model.amend({ open: { ...open, points: open.points.map((old, k) => (k === grip.k ? spot.point : old)) } });
    } else if (grip.what === 'depth') {
      this.app.look.chosen = { depth: grip.k };
      model.amend(model.withDepth(grip.k, { x: p[0], y: p[1] }));
    } else {
      const [u, v] = undone(this.app.picture.matrix, p);
      const { picture } = model.state;
      model.amend({ picture: { ...picture, points: picture.points.map((old, k) => (k === grip.k ? { ...old, u, v } : old)) } });
    }
  }

  end({ grip }) {
    const { model } = this.app;
    this.app.look.hover = null;
    const said = { corner: grip.isNew ? 'added a corner' : 'moved a corner', open: 'moved a corner', depth: 'moved a depth point', point: 'moved a point of the picture' }[grip.what];
    model.letGo(said);
    if (grip.what === 'point') this.app.picture.fix();
    if (grip.what === 'depth') this.app.closeDepth();
  }

  click(px, press, event) {
    const { look, model } = this.app;
    const p = this.metres(px);
    const { grip } = press;
    this.alt = event.altKey;
    if (look.tool === 'draw') this.clickDraw(px, grip);
    else if (grip && grip.what === 'depth') this.app.openDepth(grip.k);
    else if (grip && grip.what === 'filed') this.app.takeUp(grip.row);
    else if (grip && grip.what === 'point') this.app.choose({ point: grip.k });
    else if (look.tool === 'depth') this.app.addDepth(p);
    else if (look.tool === 'point') this.app.addPoint(p);
    else if (grip && grip.what === 'corner') this.app.choose({ key: grip.key, corner: [grip.line, grip.k] });
    else if (grip) {
      model.hold();
      this.insert(grip);
      model.letGo('added a corner');
    } else this.app.choose(this.under(p, press.type));
  }

  clickDraw(px, grip) {
    const { look, model } = this.app;
    const { open } = model.state;
    if (!open) return;
    const now = performance.now();
    const isSecond = this.last && now - this.last.time < 400 && away(px, this.last.px) < MOVE_STARTS;
    this.last = { time: now, px };
    if (isSecond || (grip && grip.k === 0 && open.points.length > 2 && !open.line)) { this.app.finish(); return; }
    if (grip && away(this.metres(px), open.points[open.points.length - 1]) * this.app.camera.ppm < MOVE_STARTS) return; // the last one again
    const spot = this.snap(this.metres(px), open.kind, null);
    look.hover = null;
    this.app.addCorner(spot.point);
  }

  // The shape under the hand: by its edge first, else the smallest that holds it.
  under(p, type) {
    const { shapes } = this.app.model.state;
    const side = nearestSide(shapes, p, this.within(type));
    if (side) return { key: side.shape.key, corner: null };
    const wide = shapes.find((shape) => shape.line && nearestSide([shape], p, widthOf(shape, this.app.model.state.units) / 2));
    if (wide) return { key: wide.key, corner: null };
    const inside = shapes.filter((shape) => !shape.line && shape.kind !== 'outline' && holdsPoint(shape.lines, p));
    const room = (shape) => { const [west, south, east, north] = boxOf(shape.lines.flat()); return (east - west) * (north - south); };
    inside.sort((a, b) => room(a) - room(b));
    return inside.length ? { key: inside[0].key, corner: null } : null;
  }

  trace(press) {
    const { model } = this.app;
    const { open } = model.held;
    if (!open) return;
    model.amend({ open: { ...open, points: [...open.points, ...thinned(press.path, TRACED / this.app.camera.ppm)] } });
  }

  endTrace() {
    const { model } = this.app;
    const { points, line } = model.state.open;
    model.letGo('traced with the hand');
    const isBack = !line && points.length > 3 && away(points[0], points[points.length - 1]) * this.app.camera.ppm < 2 * SNAP;
    if (isBack) { // the hand came back to the start
      model.amend({ open: { ...model.state.open, points: points.slice(0, -1) } });
      this.app.finish();
    }
  }
}

function nearestOf(points, p, within) {
  let [best, far] = [-1, within];
  points.forEach((point, k) => {
    const there = away(point, p);
    if (there <= far) [best, far] = [k, there];
  });
  return best;
}
