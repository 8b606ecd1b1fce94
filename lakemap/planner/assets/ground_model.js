// The drawing as it stands, what it was before, and the copy that the browser keeps.
const KEPT_AS = `lakemap drawing ${DATA.place} ${DATA.stamp}`;
const VERSION = 1;
const FILED = new Map(DATA.soundings.map(([x, y, depth, row]) => [row, { x, y, depth, row }])); // depths that stand in the file
const MOST_STEPS = 300; // that can be undone

function freshState() {
  return {
    version: VERSION, middle: DATA.middle, ground: IS_NEW && !DATA.shapes.length ? null : 'field', anchored: !IS_NEW || DATA.shapes.length > 0,
    name: DATA.name, units: DATA.units, start: { place: '', size: '' }, picture: null,
    shapes: DATA.shapes.map((shape, k) => ({ ...shape, key: `f${k + 1}` })), depths: [], gone: [],
    levels: DATA.levels, storm: DATA.storm, open: null, next: 1,
  };
}

class Model {
  constructor(onChange) {
    this.onChange = onChange;
    this.base = freshState();
    this.state = this.kept() || this.base;
    this.wasKept = this.state !== this.base;
    this.past = [];
    this.future = [];
    this.jumps = 0; // grows where fields have to be filled anew
    this.timer = 0;
  }

  get isChanged() { return this.state !== this.base; }

  // One change that can be undone as one.
  change(said, parts) {
    this.past.push({ state: this.held || this.state, said });
    if (this.past.length > MOST_STEPS) this.past.shift();
    this.held = null;
    this.future = [];
    this.state = { ...this.state, ...parts };
    say('');
    this.keepSoon();
    this.onChange();
  }

  // While a hand moves or types: the last change goes on.
  amend(parts) {
    this.state = { ...this.state, ...parts };
    this.keepSoon();
    this.onChange();
  }

  // A hand begins to move something; what is shown until it lets go is one change with it.
  hold() { this.held = this.state; }

  letGo(said) {
    if (!this.held || this.held === this.state) { this.held = null; return; }
    this.change(said, {});
  }

  undo() { this.jump(this.past, this.future, 'Undone'); }

  redo() { this.jump(this.future, this.past, 'Done again'); }

  jump(from, to, said) {
    const step = from.pop();
    if (!step) return;
    to.push({ state: this.state, said: step.said });
    this.state = step.state;
    this.jumps += 1;
    this.keepSoon();
    this.onChange();
    speak(`${said}: ${step.said}.`);
  }

  shape(key) { return this.state.shapes.find((shape) => shape.key === key); }

  withShape(key, parts) { return { shapes: this.state.shapes.map((shape) => (shape.key === key ? { ...shape, ...parts } : shape)) }; }

  withLine(key, at, line) {
    const shape = this.shape(key);
    return this.withShape(key, { lines: shape.lines.map((old, k) => (k === at ? line : old)), rough: false });
  }

  withDepth(index, parts) { return { depths: this.state.depths.map((one, k) => (k === index ? { ...one, ...parts } : one)) }; }

  // What the machine is sent.
  body() {
    const { middle, name, units, shapes, depths, gone, levels, storm } = this.state;
    const isAsFiled = (one) => { const filed = FILED.get(one.row); return filed && filed.x === one.x && filed.y === one.y && filed.depth === one.depth; };
    const asFiled = new Set(depths.filter(isAsFiled).map((one) => one.row));
    return { middle, name, units, shapes, levels, storm, depths: depths.filter((one) => one.depth && !isAsFiled(one)), gone: gone.filter((row) => !asFiled.has(row)) };
  }

  kept() {
    try {
      const found = JSON.parse(window.localStorage.getItem(KEPT_AS));
      return found && found.version === VERSION ? found : null;
    } catch { return null; }
  }

  keepSoon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.keep(), 250);
  }

  keep() {
    clearTimeout(this.timer);
    try {
      if (this.isChanged) window.localStorage.setItem(KEPT_AS, JSON.stringify(this.state));
      else window.localStorage.removeItem(KEPT_AS);
    } catch { say('The browser has no room to keep this drawing: save it before you load the page again.'); }
  }

  forget() {
    clearTimeout(this.timer);
    this.base = this.state;
    window.localStorage.removeItem(KEPT_AS);
  }
}

function say(text) {
  byId('said').textContent = text;
  byId('message').hidden = !text;
}
const speak = (text) => { byId('spoken').textContent = text; };
