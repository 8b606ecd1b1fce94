// What can be done with shapes, corners, depths and points; each act is one change that can be undone.
const COMPASS = ['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE', 'S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'];
const LEAST_CORNERS = { line: 2, area: 3 };
const NOTE = `lakemap saved ${DATA.place}`;

// What the last save wrote, told once after the page was loaded anew.
function takeNote() {
  const text = window.sessionStorage.getItem(NOTE);
  window.sessionStorage.removeItem(NOTE);
  return text ? JSON.parse(text) : null;
}

function metresOf(text, units) {
  const found = /^\s*([\d.]+)\s*(ft|m|')?\s*(?:([\d.]+)\s*(?:in|"))?\s*$/.exec(text);
  if (!found || !(Number(found[1]) >= 0)) return null;
  const feet = (found[2] || lengthUnit(units)) !== 'm';
  return feet ? (Number(found[1]) + Number(found[3] || 0) / 12) * FOOT : Number(found[1]);
}

function degreesOf(text) {
  const at = COMPASS.indexOf(text.trim().toUpperCase());
  if (at >= 0) return at * 22.5;
  const found = /^\s*(\d+(?:\.\d+)?)\s*\u00b0?\s*$/.exec(text);
  return found && Number(found[1]) <= 360 ? Number(found[1]) : null;
}

const ACTS = {
  begin(kind) {
    const { model, look } = this;
    const line = LINES_FIRST.has(kind) || (look.asLine && KINDS.get(kind).line);
    this.closeDepth();
    look.tool = 'draw';
    model.change(`began ${article(KINDS.get(kind).name)}`, { open: { kind, line, points: [] } });
    this.setTool('draw');
    byId('field').focus({ preventScroll: true });
  },

  addCorner(point) {
    const { model } = this;
    const { open } = model.state;
    model.change('added a corner', { open: { ...open, points: [...open.points, point] } });
  },

  // Ends the shape that is being drawn.
  finish() {
    const { model, look } = this;
    const { open, shapes, next } = model.state;
    if (!open) return;
    const least = open.line ? LEAST_CORNERS.line : LEAST_CORNERS.area;
    if (open.points.length < least) { say(`${capital(KINDS.get(open.kind).name)}: ${least} corners at least. Go on, or leave it.`); return; }
    const shape = { key: `n${next}`, kind: open.kind, line: open.line, lines: [open.points], name: '', width: '', clearance: '', lot: '', source: '', row: null };
    look.tool = 'choose';
    look.hover = null;
    look.tracing = false;
    model.change(`drew ${article(KINDS.get(open.kind).name)}`, { open: null, next: next + 1, shapes: [...shapes, shape] });
    this.choose({ key: shape.key, corner: null });
    if (!SHORE_KINDS.has(shape.kind)) { // its name or width comes next
      if (isPhone()) this.openPanel();
      const input = byId('panel').querySelector(`[data-id="${shape.key} ${shape.line ? 'width' : shape.kind === 'frontage' ? 'lot' : 'name'}"]`);
      if (input && !isPhone()) input.focus({ preventScroll: true });
    }
  },

  // Leaves what is being done; a half-drawn shape can be had back by undoing.
  leave({ keep = false } = {}) {
    const { model, look } = this;
    this.closeDepth();
    if (model.state.open && !keep) model.change('left the shape', { open: null });
    Object.assign(look, { tool: 'choose', hover: null, cross: null, tracing: false });
    if (!keep) this.refresh();
  },

  // Enter on the map: into the corners of the chosen shape.
  enter() {
    const { look, model } = this;
    const shape = look.chosen && model.shape(look.chosen.key);
    if (shape) this.choose({ key: shape.key, corner: [0, 0], inside: true });
    else if (look.chosen && look.chosen.depth >= 0) this.openDepth(look.chosen.depth);
  },

  nudge(dx, dy) {
    const { model, look } = this;
    const { key, corner, depth, point } = look.chosen;
    if (corner) {
      const [at, k] = corner;
      const line = model.shape(key).lines[at].map((old, j) => (j === k ? [old[0] + dx, old[1] + dy] : old));
      model.change('moved a corner', model.withLine(key, at, line));
      speak(this.cornerSays());
    } else if (depth >= 0) {
      const one = model.state.depths[depth];
      model.change('moved a depth point', model.withDepth(depth, { x: one.x + dx, y: one.y + dy }));
    } else if (point >= 0) {
      const { picture } = model.state;
      const moved = picture.points.map((one, k) => {
        if (k !== point) return one;
        const [x, y] = applied(this.picture.matrix, [one.u, one.v]);
        const [u, v] = undone(this.picture.matrix, [x + dx, y + dy]);
        return { ...one, u, v };
      });
      this.picture.setPoints('moved a point of the picture', moved);
    }
  },

  remove() {
    const { chosen } = this.look;
    if (!chosen) return;
    if (chosen.corner) this.removeCorner();
    else if (chosen.key) this.removeShape(chosen.key);
    else if (chosen.depth >= 0) this.removeDepth(chosen.depth);
    else if (chosen.point >= 0) this.picture.setPoints('took a point away', this.model.state.picture.points.filter((_, k) => k !== chosen.point));
  },

  removeShape(key) {
    const { model } = this;
    const shape = model.shape(key);
    model.change(`deleted ${shape.name || `the ${KINDS.get(shape.kind).name}`}`, { shapes: model.state.shapes.filter((one) => one.key !== key) });
    this.choose(null);
    speak(`${titleOf(shape)} deleted.`);
  },

  removeCorner() {
    const { model, look } = this;
    const { key, corner: [at, k], inside } = look.chosen;
    const shape = model.shape(key);
    const line = shape.lines[at];
    if (line.length <= (shape.line ? LEAST_CORNERS.line : LEAST_CORNERS.area)) { say('It needs the corners that are left. Delete the whole shape instead.'); return; }
    model.change('deleted a corner', model.withLine(key, at, line.filter((_, j) => j !== k)));
    this.choose({ key, corner: [at, Math.min(k, line.length - 2)], inside });
  },

  // A new corner in the middle of the side after the chosen one.
  addAfter() {
    const { model, look } = this;
    const { key, corner: [at, k], inside } = look.chosen;
    const shape = model.shape(key);
    const line = shape.lines[at];
    const isEnd = shape.line && k === line.length - 1;
    const first = isEnd ? k - 1 : k;
    const point = between(line[first], atCorner(line, first + 1));
    model.change('added a corner', model.withLine(key, at, [...line.slice(0, first + 1), point, ...line.slice(first + 1)]));
    this.choose({ key, corner: [at, first + 1], inside });
  },

  addLeg(lengthText, towardsText) {
    const { model } = this;
    const { open, units } = model.state;
    const [length, towards] = [metresOf(lengthText, units), degreesOf(towardsText)];
    if (length === null || length === 0) { say(`\u201c${cut(lengthText)}\u201d is no length: type it as 120 ${lengthUnit(units)}.`); return false; }
    if (towards === null) { say(`\u201c${cut(towardsText)}\u201d is no bearing: type degrees from true north, 0 to 360, or letters as ENE.`); return false; }
    say('');
    const { camera } = this;
    const points = open.points.length ? open.points : [camera.metres(camera.width / 2, camera.height / 2)];
    const [x, y] = points[points.length - 1];
    const turn = towards * Math.PI / 180;
    model.change('typed a corner', { open: { ...open, points: [...points, [x + length * Math.sin(turn), y + length * Math.cos(turn)]] } });
    return true;
  },

  addDepth(p) {
    const { model } = this;
    this.closeDepth();
    model.change('added a depth', { depths: [...model.state.depths, { x: p[0], y: p[1], depth: '' }] });
    this.openDepth(model.state.depths.length - 1);
  },

  // A depth of the file is taken up, to be changed or taken away.
  takeUp(row) {
    const { model } = this;
    this.closeDepth();
    model.change('took up a depth of the file', { gone: [...model.state.gone, row], depths: [...model.state.depths, FILED.get(row)] });
    this.openDepth(model.state.depths.length - 1);
  },

  openDepth(index) {
    const { model, look, camera } = this;
    const box = byId('depth');
    const one = model.state.depths[index];
    if (!box.hidden && look.chosen.depth === index) return;
    this.closeDepth(); // may take one away before it
    look.chosen = { depth: model.state.depths.indexOf(one) };
    box.hidden = false;
    byId('depth-label').textContent = `Depth, ${lengthUnit(model.state.units)}`;
    const input = byId('depth-value');
    input.value = one.depth;
    const [px, py] = [one.x * camera.ppm + camera.left, camera.top - one.y * camera.ppm];
    if (!isPhone()) {
      box.style.left = `${Math.min(Math.max(px - 40, 8), Math.max(8, camera.width - 300))}px`;
      box.style.top = `${py + 76 < camera.height ? py + 14 : py - 72}px`;
    }
    input.focus({ preventScroll: true });
    input.select();
    this.refresh();
  },

  // What was typed holds; a point without a depth is taken away again.
  closeDepth() {
    const box = byId('depth');
    if (box.hidden) return;
    box.hidden = true;
    const { model, look } = this;
    const index = look.chosen ? look.chosen.depth : -1;
    const one = model.state.depths[index];
    look.chosen = null;
    if (!one) return;
    const depth = byId('depth-value').value.trim();
    if (!depth) model.amend({ depths: model.state.depths.filter((_, k) => k !== index) });
    else if (!one.depth) model.amend(model.withDepth(index, { depth }));
    else if (depth !== one.depth) model.change('changed a depth', model.withDepth(index, { depth }));
  },

  removeDepth(index) {
    const { model } = this;
    byId('depth').hidden = true;
    this.look.chosen = null;
    model.change('took a depth away', { depths: model.state.depths.filter((_, k) => k !== index) });
  },

  addPoint(p) {
    const { model, picture } = this;
    if (!picture.isShown) return;
    const [u, v] = undone(picture.matrix, p);
    if (u < 0 || v < 0 || u > picture.size[0] || v > picture.size[1]) { say('That is beside the picture. Click on it.'); return; }
    const { points } = model.state.picture;
    this.look.tool = 'choose';
    picture.setPoints('marked a point', [...points, { u, v, place: '' }]);
    if (isNarrow()) this.openPanel();
    this.refresh();
    const input = byId('panel').querySelector(`[data-id="point ${points.length}"]`);
    if (input) input.focus({ preventScroll: isPhone() });
  },

  async startGrid() {
    const { model } = this;
    const { start, units } = model.state;
    try {
      const told = await ask('ground-start', { ...start, units });
      model.change('set the grid', { ground: 'grid', middle: told.middle, span: told.span_m });
      say('');
      this.showWhole();
      this.setStep('outline');
    } catch (error) { say(error.message); }
  },

  redrawOutline(key) {
    const { model } = this;
    model.change('began the real shore', { shapes: model.state.shapes.filter((one) => one.key !== key) });
    this.begin('outline');
  },

  async save() {
    const { model, checker, picture } = this;
    this.closeDepth();
    if (model.state.open) { say('A shape is not finished yet: finish it with Enter, or leave it with Esc.'); return; }
    if (!model.state.middle) { say('Nothing is drawn yet that could be saved. Begin with step 1.'); return; }
    this.isSaving = true;
    this.refresh();
    try {
      await checker.now();
      if (checker.stops.length) throw new Error(`Not saved: ${checker.stops[0].text}.${checker.stops.length > 1 ? ` ${plural(checker.stops.length - 1, 'more thing')} to mend.` : ''}`);
      const told = await ask('ground-save', { drawing: model.body(), stamp: DATA.stamp });
      if (!told.saved) throw new Error(`The files have changed since this page was loaded: ${told.underneath.join(' ')} Your drawing is in ${told.kept}; load the page again to start from the new files.`);
      const kept = await picture.settle().catch((error) => `The picture is not kept: ${error.message}`);
      model.forget();
      window.sessionStorage.setItem(NOTE, JSON.stringify({ files: told.written, says: [...told.says, kept].filter(Boolean) }));
      window.location.reload();
    } catch (error) {
      this.isSaving = false;
      this.setStep('save');
      say(error.message);
    }
  },

  throwAway() {
    this.model.state = this.model.base;
    this.model.forget();
    shelf('readwrite', (store) => store.delete(DATA.place)).then(() => window.location.reload());
  },
};
Object.assign(App.prototype, ACTS);
