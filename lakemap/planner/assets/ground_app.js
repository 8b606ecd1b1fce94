// What the page is at: the step, the tool, what is chosen; and the picture of it all.
const LOUPE = { size: 132, times: 2 }; // px
const CLICK = window.matchMedia('(pointer: coarse)').matches ? 'Tap' : 'Click';
const isPhone = () => window.matchMedia('(max-width: 599px)').matches;
const isNarrow = () => window.matchMedia('(max-width: 999px)').matches;
Object.assign(ICONS, {
  undo: ['M8.5 4.5L4 9l4.5 4.5', 'M4.5 9H15a5 5 0 0 1 0 10h-4'],
  redo: ['M15.5 4.5L20 9l-4.5 4.5', 'M19.5 9H9a5 5 0 0 0 0 10h4'],
  snap: ['M6 4v8a6 6 0 0 0 12 0V4', 'M6 8.5h3M15 8.5h3'],
  bin: ['M5 7h14M10 7V4.5h4V7', 'M7 7l1 12.5h8L17 7'],
  pen: ['M4.5 19.5l1-4.5L16 4.5l3.5 3.5L9 18.5z'],
  photo: ['M3.5 5.5h17v13h-17z', 'M4 16l5-5 4 4 3-3 4 4', 'M16 9.2v.1'],
  grid: ['M4 4h16v16H4z', 'M4 12h16M12 4v16'],
  done: ['M5 12.5l4.5 4.5L19 7.5'],
  hand: ['M4 17c4-9 6 6 9-2s4-8 7-9'],
});

class App {
  constructor() {
    this.node = byId('app');
    this.look = { step: IS_NEW ? 'picture' : 'areas', tool: 'choose', chosen: null, snap: true, hover: null, cross: null, tracing: false, asLine: false, armed: false, sun: false };
    this.savedNote = takeNote();
    this.model = new Model(() => { this.checker.soon(); this.soon(); });
    this.checker = new Checker(this.model, () => this.soon());
    this.picture = new Picture(this);
    this.painter = new Painter(this);
    this.guide = new Guide(this);
    this.panel = new Panel(this);
    this.map = makeMap(byId('field'));
    this.map.doubleClickZoom.disable();
    this.map.boxZoom.disable();
    this.canvas = el('canvas', { class: 'ink' });
    byId('field').append(this.canvas);
    this.map.on('move zoom resize', () => this.redraw());
    this.hand = new Hand(this);
    this.keys = new Keys(this);
    const stops = [() => 112, (room) => room * 0.6, (room) => room];
    this.listSheet = new Sheet(byId('list'), { stops, isOn: isPhone });
    this.panelSheet = new Sheet(byId('panel'), { stops: [(room) => room * 0.6, (room) => room], isOn: isPhone, onShut: () => this.closePanel() });
  }

  // A picture is being laid on the ground: what is drawn stays away until then.
  get isPinning() { return this.picture.isLoose && (this.look.step === 'picture' || !this.model.state.middle); }

  get camera() { return cameraOf(this.map); }

  soon() {
    if (this.frame) return;
    this.frame = requestAnimationFrame(() => { this.frame = 0; this.refresh(); });
  }

  // All that stands around the map, and the map.
  refresh() {
    this.tidy();
    this.guide.fill();
    this.panel.fill();
    fillBar(this);
    const { past, future } = this.model;
    for (const [name, steps] of [['undo', past], ['redo', future]]) {
      byId(name).disabled = !steps.length;
      byId(name).title = steps.length ? `${capital(name)}: ${steps[steps.length - 1].said}` : '';
    }
    byId('save').disabled = !this.model.isChanged || this.isSaving;
    byId('snap').setAttribute('aria-pressed', String(this.look.snap));
    byId('stride').textContent = isMetric(this.model.state.units) ? '0.25 m' : '1 ft';
    byId('strides').textContent = isMetric(this.model.state.units) ? '2.5 m' : '10 ft';
    this.redraw();
  }

  // What was chosen may be gone after an undo.
  tidy() {
    const { look, model } = this;
    const { chosen } = look;
    if (look.tool === 'draw' && !model.state.open) look.tool = 'choose';
    if (look.tool !== 'draw' && model.state.open) { look.tool = 'draw'; look.step = stepOf(model.state.open.kind); }
    if (!chosen) return;
    const shape = chosen.key && model.shape(chosen.key);
    if (chosen.key && !shape) look.chosen = null;
    else if (chosen.corner && !(shape.lines[chosen.corner[0]] || [])[chosen.corner[1]]) look.chosen = { ...chosen, corner: null };
    else if (chosen.depth >= model.state.depths.length) look.chosen = null;
    else if (chosen.point >= (model.state.picture ? model.state.picture.points.length : 0)) look.chosen = null;
  }

  redraw() {
    if (this.drawing) return;
    this.drawing = requestAnimationFrame(() => {
      this.drawing = 0;
      const { camera } = this;
      L.DomUtil.setPosition(this.canvas, L.point(0, 0));
      this.painter.paint(new Brush(fitCanvas(this.canvas, camera), camera, this.look));
      const isTrue = Boolean(this.model.state.middle) && !this.isPinning;
      byId('scale').hidden = !isTrue;
      if (isTrue) byId('scale').replaceChildren(scaleBar(camera.ppm));
      if (this.lensAt) this.drawLens(this.lensAt);
    });
  }

  // Where sides cross, for the red marks: what the hand is at, then what the machine found.
  crossings() {
    const { open } = this.model.state;
    const { hover, chosen, tool } = this.look;
    if (open) {
      const points = hover && tool === 'draw' && hover.point !== open.points[0] ? [...open.points, hover.point] : open.points;
      const last = crossingOf(points, false, points.length - 2) || firstCrossing(open.points);
      const closing = !last && !open.line && hover && hover.point === open.points[0] ? crossingOf(open.points, true, open.points.length - 1) : null;
      return [last, closing].filter(Boolean);
    }
    const shape = chosen && this.model.shape(chosen.key);
    const mine = shape && chosen.corner && !shape.line ? crossingAt(shape.lines[chosen.corner[0]], true, chosen.corner[1]) : null;
    const told = this.checker.isFresh ? this.checker.found.findings.filter((one) => one.stops && one.at && one.shape).map((one) => one.at) : [];
    return mine ? [mine] : told;
  }

  setStep(step) {
    this.leave({ keep: true });
    const wasPinning = this.isPinning;
    const { look, model } = this;
    Object.assign(look, { step, chosen: null, armed: false });
    const { shapes, middle, open } = model.state;
    if (open && stepOf(open.kind) !== step) model.change('left the shape', { open: null });
    if (wasPinning !== this.isPinning) this.showWhole();
    const hasOutline = shapes.some((shape) => shape.kind === 'outline');
    if (step === 'outline' && middle && !hasOutline && !open) this.begin('outline');
    else if (step === 'depths' && middle) this.setTool('depth');
    else if (step === 'picture' && this.picture.isShown && model.state.picture.points.length < 2) this.setTool('point');
    if (isNarrow()) {
      this.node.classList.remove('show-list');
      this.listSheet.set(0);
      if (look.tool === 'choose') this.openPanel(); else this.closePanel();
    }
    this.refresh();
  }

  setTool(tool) {
    this.closeDepth();
    Object.assign(this.look, { tool, hover: null, cross: null, chosen: null });
    if (tool === 'point') this.look.step = 'picture';
    if (tool === 'depth') this.look.step = 'depths';
    if (tool !== 'choose' && isNarrow()) { this.closePanel(); this.listSheet.set(0); this.node.classList.remove('show-list'); }
    this.refresh();
  }

  choose(chosen) {
    const { look } = this;
    this.closeDepth();
    look.chosen = chosen;
    look.hover = null;
    const shape = chosen && this.model.shape(chosen.key);
    if (shape) look.step = stepOf(shape.kind);
    if (shape && isNarrow() && !isPhone()) this.openPanel();
    if (shape) speak(chosen.corner ? this.cornerSays() : `${titleOf(shape)}, ${plural(shape.lines.reduce((sum, line) => sum + line.length, 0), 'corner')}. Enter goes through them.`);
    this.refresh();
  }

  openPanel() { this.node.classList.add('is-open'); if (isPhone()) this.panelSheet.set(0); this.panel.fill(); }

  closePanel() { this.node.classList.remove('is-open'); this.redraw(); }

  cornerSays() {
    const { key, corner: [at, k] } = this.look.chosen;
    const shape = this.model.shape(key);
    const line = shape.lines[at];
    const before = k > 0 || !shape.line ? atCorner(line, k - 1) : null;
    const there = before ? `, ${lengthWords(away(before, line[k]), this.model.state.units)} ${compassWord(bearingOf(before, line[k]))} of the one before` : '';
    return `Corner ${k + 1} of ${line.length}${there}.`;
  }

  undo() { this.closeDepth(); this.model.undo(); this.picture.fix(); }

  redo() { this.closeDepth(); this.model.redo(); this.picture.fix(); }

  boxOfAll() {
    const { state } = this.model;
    const points = this.isPinning ? [] : [...state.shapes.flatMap((shape) => shape.lines.flat()), ...state.depths.map((one) => [one.x, one.y]), ...(state.open ? state.open.points : [])];
    if (this.isPinning || (this.picture.isShown && this.picture.isFixed && (!points.length || IS_NEW))) {
      const [w, h] = this.picture.size;
      points.push(...[[0, 0], [w, 0], [0, h], [w, h]].map((corner) => applied(this.picture.matrix, corner)));
    }
    const span = state.span || 300;
    return points.length ? boxOf(points) : [-span / 2, -span / 2, span / 2, span / 2];
  }

  showBox([west, south, east, north]) {
    const isCovered = isPhone() && this.node.classList.contains('is-open');
    const below = isCovered ? byId('panel').offsetHeight + 20 : isPhone() ? 130 : 40;
    this.map.fitBounds([[south, west], [north, east]], { paddingTopLeft: [40, 60], paddingBottomRight: [40, below], animate: false });
    this.redraw();
  }

  showWhole() { this.showBox(this.boxOfAll()); }

  // Brings a shape into view, where it is out of it.
  showShape(shape) {
    const [west, south, east, north] = boxOf(shape.lines.flat());
    const bounds = this.map.getBounds();
    if (!bounds.contains([[south, west], [north, east]])) this.showBox([west, south, east, north]);
    if (isPhone()) { this.listSheet.set(0); this.openPanel(); }
  }

  setWhere(p) {
    const { middle, units } = this.model.state;
    byId('where').textContent = p && middle ? `${wholeWords(p[0], units)} ${p[0] < 0 ? 'west' : 'east'}, ${wholeWords(p[1], units)} ${p[1] < 0 ? 'south' : 'north'} of the middle` : '';
  }

  // What the finger hides, larger, in the corner away from it.
  loupe(px) {
    this.lensAt = px;
    byId('loupe').hidden = !px;
    if (px) this.redraw();
  }

  drawLens(px) {
    const lens = byId('loupe');
    const scale = window.devicePixelRatio || 1;
    lens.width = LOUPE.size * scale;
    lens.height = lens.width;
    const taken = LOUPE.size * scale / LOUPE.times;
    const c = lens.getContext('2d');
    c.fillStyle = COLOUR.land;
    c.fillRect(0, 0, lens.width, lens.height);
    c.drawImage(this.canvas, px[0] * scale - taken / 2, px[1] * scale - taken / 2, taken, taken, 0, 0, lens.width, lens.height);
    lens.classList.toggle('at-right', px[0] < this.camera.width / 2);
  }

  // What a save holds.
  countsSay() {
    const { shapes, depths } = this.model.state;
    const count = (wanted) => shapes.filter((shape) => wanted(shape.kind)).length;
    const parts = [[count((kind) => kind === 'island'), 'island'], [count((kind) => !SHORE_KINDS.has(kind)), 'area'], [depths.filter((one) => one.depth).length, 'new depth']];
    return ['The lake', ...parts.filter(([some]) => some).map(([some, noun]) => plural(some, noun))].join(', ');
  }

  saidOfState() {
    if (this.isSaving) return 'Saving\u2026';
    if (!this.model.isChanged) return this.savedNote ? 'Saved' : IS_NEW ? 'Nothing drawn yet' : 'As saved';
    const count = this.model.past.length + (this.model.held ? 1 : 0);
    return `${count ? plural(count, 'change') : 'A drawing from before'}, not saved`;
  }
}

function firstCrossing(points) {
  for (let k = 2; k < points.length - 1; k += 1) {
    const at = crossingOf(points.slice(0, k + 2), false, k);
    if (at) return at;
  }
  return null;
}
