// Everything by keys as well: through shapes and corners, a foot at a time, and a cross to draw with.
const CROSS_STEP = { plain: 10, far: 60 }; // px
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const isTyping = (node) => node && ['INPUT', 'SELECT', 'TEXTAREA'].includes(node.tagName);

class Keys {
  constructor(app) {
    this.app = app;
    this.field = byId('field');
    document.addEventListener('keydown', (event) => this.anywhere(event));
    this.field.addEventListener('keydown', (event) => this.onMap(event), { capture: true });
    this.field.addEventListener('blur', () => { app.look.cross = null; app.redraw(); });
  }

  anywhere(event) {
    const isControl = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    if (isControl && !isTyping(event.target) && (key === 'z' || key === 'y')) {
      event.preventDefault();
      if (key === 'y' || event.shiftKey) this.app.redo(); else this.app.undo();
    }
    if (event.key === 'Escape' && event.target !== this.field) this.leave();
  }

  leave() {
    const { app } = this;
    if (!byId('message').hidden) say('');
    else if (!byId('depth').hidden) { app.closeDepth(); this.field.focus(); }
    else if (app.look.tool !== 'choose') app.leave();
    else if (app.look.chosen && app.look.chosen.corner) app.choose({ ...app.look.chosen, corner: null });
    else app.choose(null);
  }

  onMap(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = this.actOf(event);
    if (!act) return;
    event.preventDefault();
    event.stopPropagation();
    act();
  }

  actOf(event) {
    const { app } = this;
    const { tool, chosen } = app.look;
    const isPlacing = tool !== 'choose';
    if (ARROWS[event.key]) return this.arrowOf(ARROWS[event.key], event.shiftKey);
    switch (event.key) {
      case 'Escape': return () => this.leave();
      case 'Enter': return () => (tool === 'draw' ? app.finish() : app.enter());
      case ' ': return isPlacing ? () => this.place() : null;
      case 'Delete': case 'Backspace': return () => (tool === 'draw' ? app.undo() : app.remove());
      case 'Insert': return chosen && chosen.corner ? () => app.addAfter() : null;
      case 'Tab': return this.tabOf(event.shiftKey ? -1 : 1);
      default: return null;
    }
  }

  arrowOf([dx, dy], isFar) {
    const { app } = this;
    const { tool, chosen } = app.look;
    if (tool !== 'choose' && !(chosen && (chosen.depth >= 0 || chosen.point >= 0))) return () => this.moveCross(dx, dy, isFar);
    if (!chosen || (!chosen.corner && chosen.depth === undefined && chosen.point === undefined)) return null;
    const step = strideOf(app.model.state.units) * (isFar ? 10 : 1);
    return () => app.nudge(dx * step, dy * step);
  }

  moveCross(dx, dy, isFar) {
    const { look, camera } = this.app;
    const step = isFar ? CROSS_STEP.far : CROSS_STEP.plain;
    const [px, py] = look.cross || [camera.width / 2, camera.height / 2];
    look.cross = [px + dx * step, py - dy * step];
    const over = [look.cross[0] - Math.min(Math.max(look.cross[0], 20), camera.width - 20), look.cross[1] - Math.min(Math.max(look.cross[1], 20), camera.height - 20)];
    if (over[0] || over[1]) { // the map follows at its edge
      this.app.map.panBy(over, { animate: false });
      look.cross = [look.cross[0] - over[0], look.cross[1] - over[1]];
    }
    if (this.app.model.state.open) look.hover = this.app.hand.snap(this.crossPoint(), this.app.model.state.open.kind, null);
    this.app.setWhere(this.crossPoint());
    this.app.redraw();
  }

  crossPoint() { return this.app.camera.metres(...this.app.look.cross); }

  place() {
    const { app } = this;
    if (!app.look.cross) { this.moveCross(0, 0, false); return; }
    const p = this.crossPoint();
    if (app.look.tool === 'depth') app.addDepth(p);
    else if (app.look.tool === 'point') app.addPoint(p);
    else if (app.model.state.open) app.addCorner(app.hand.snap(p, app.model.state.open.kind, null).point);
  }

  // Through the corners of the chosen shape, else through the shapes; past the last one Tab leaves the map.
  tabOf(by) {
    const { app } = this;
    const { chosen, tool } = app.look;
    if (tool !== 'choose') return null;
    const shape = chosen && app.model.shape(chosen.key);
    if (shape && chosen.inside) {
      const all = shape.lines.flatMap((line, at) => line.map((_, k) => [at, k]));
      const now = chosen.corner ? all.findIndex(([at, k]) => at === chosen.corner[0] && k === chosen.corner[1]) : -1;
      const next = now < 0 && by < 0 ? all.length - 1 : now + by;
      return next >= 0 && next < all.length ? () => app.choose({ key: shape.key, corner: all[next], inside: true }) : null;
    }
    const { shapes } = app.model.state;
    const now = shape ? shapes.indexOf(shape) : -1;
    const next = now < 0 && by < 0 ? -1 : now + by;
    return next >= 0 && next < shapes.length ? () => app.choose({ key: shapes[next].key, corner: null }) : null;
  }
}
