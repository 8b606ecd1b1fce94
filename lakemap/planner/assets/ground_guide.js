// The steps on the left: what is done, what is missing, and what lies in each.
const STEPS = [
  ['picture', 'Picture'], ['outline', 'Outline'], ['islands', 'Islands'], ['areas', 'Areas to keep clear of'],
  ['depths', 'Depths'], ['levels', 'Levels and storm'], ['save', 'Save'],
];

const MOST_ROWS = 5; // of floats, above the steps

class Guide {
  constructor(app) {
    this.app = app;
    this.rows = byId('rows');
    this.shown = '';
  }

  fill() {
    const { app } = this;
    this.head();
    const keep = document.activeElement && this.rows.contains(document.activeElement) ? document.activeElement.dataset.id : null;
    const top = this.rows.scrollTop;
    this.rows.replaceChildren(...this.effect(), ...STEPS.flatMap(([step, title], k) => this.step(step, title, k + 1)));
    this.rows.scrollTop = top;
    if (keep) { const again = [...this.rows.querySelectorAll('[data-id]')].find((node) => node.dataset.id === keep); if (again) again.focus({ preventScroll: true }); }
    byId('state').textContent = app.saidOfState();
  }

  head() {
    const { effect } = this.app.checker.found;
    const next = this.next();
    const isBare = !IS_NEW && !DATA.floats.length;
    byId('headline').textContent = isBare ? 'No floats yet' : effect ? effect.headline : IS_NEW ? 'Draw your lake' : 'The floats can\u2019t be checked';
    const told = next ? `Next: ${next[1].toLowerCase()}` : 'Everything is there. Save it.';
    byId('brief').textContent = isBare ? 'Go on to the floats once the lake is as it should be.' : effect ? effect.was : IS_NEW ? told : 'Mend what is marked red first.';
    byId('onward').textContent = next ? capital(next[1]) : 'Save';
    byId('onward').dataset.step = next ? next[0] : 'save';
  }

  // The first step of those that a lake can't do without, or should not.
  next() {
    return STEPS.find(([step]) => ['missing', 'wrong'].includes(this.stateOf(step)[0])) || null;
  }

  // done, missing, wrong or free (may be left out); and what to say.
  stateOf(step) {
    const { app } = this;
    const wrong = app.checker.of(step).find((one) => one.stops && !(step === 'outline' && /is missing$/.test(one.text)));
    if (wrong && app.model.state.middle) return ['wrong', wrong.text];
    const caution = app.checker.of(step).find((one) => !one.stops);
    const [state, says] = this[`of_${step}`](app.model.state);
    return [state, caution ? caution.text : says];
  }

  of_picture({ ground, picture, middle }) {
    if (picture && !picture.matrix) return ['missing', `${plural(picture.points.filter((one) => one.place).length, 'point')} of the two that it needs`];
    if (picture) return ['done', this.app.picture.told && this.app.picture.told.rms ? `Fixed by ${picture.points.filter((one) => one.place).length} points, rms ${this.app.picture.told.rms}` : 'Fixed'];
    if (ground === 'grid') return middle ? ['done', 'A plain grid'] : ['missing', 'Where the lake is'];
    return ground === 'field' ? ['free', 'None; it is not needed here'] : ['missing', 'A photo, a scanned map, or a plain grid'];
  }

  of_outline({ shapes, open }) {
    const outlines = shapes.filter((shape) => shape.kind === 'outline');
    if (open && open.kind === 'outline') return ['missing', `${plural(open.points.length, 'corner')} so far`];
    if (!outlines.length) return ['missing', `${CLICK} along the shore at normal level`];
    if (outlines.some((shape) => shape.rough)) return ['missing', 'Only a rough square: draw the real shore'];
    return ['done', this.sizes(outlines)];
  }

  of_islands({ shapes }) {
    const count = shapes.filter((shape) => shape.kind === 'island').length;
    return count ? ['done', plural(count, 'island')] : ['free', 'None; skip this if there are none'];
  }

  of_areas({ shapes }) {
    const count = shapes.filter((shape) => !SHORE_KINDS.has(shape.kind)).length;
    return count ? ['done', plural(count, 'area')] : ['free', 'Swim areas, boat channels, docks and more'];
  }

  of_depths({ depths }) {
    const count = depths.filter((one) => one.depth).length + DATA.soundings.length - this.app.model.state.gone.length;
    return count ? ['done', plural(count, 'depth')] : ['missing', 'Without depths no circle can be checked'];
  }

  of_levels({ levels }) {
    if (['low', 'normal', 'high'].every((key) => levels[key])) return ['done', `${levels.low} to ${levels.high}`.replaceAll('-', '\u2212')];
    return ['missing', 'How far the lake falls and rises'];
  }

  of_save() {
    const { app } = this;
    if (app.savedNote) return ['done', app.savedNote.files.join(', ')];
    const count = app.checker.stops.length;
    if (!app.model.isChanged) return ['free', 'Nothing has changed'];
    if (!app.model.state.shapes.length) return ['free', 'Once the outline is drawn'];
    return ['free', count ? `${plural(count, 'thing')} to mend first` : 'Ready'];
  }

  sizes(shapes) {
    const found = shapes.map((shape) => this.app.checker.found.sizes[shape.key]).filter(Boolean);
    return found.length ? found.map((one) => `${one.area}, ${one.length} of shore`).join('; ') : 'Closed';
  }

  // What the drawing does to the floats that stand already.
  effect() {
    const { effect } = this.app.checker.found;
    if (!effect || !DATA.floats.length || !this.app.model.isChanged) return [];
    const still = effect.conflicts.filter((one) => !one.then);
    return [...this.group('What that changes', effect.changed), ...this.group('Still in conflict', still)];
  }

  group(title, rows) {
    if (!rows.length) return [];
    return [el('div', { class: 'group' }, el('span', { text: title }), el('span', { text: String(rows.length) })),
      ...rows.slice(0, MOST_ROWS).map((one) => el('div', { class: `row${one.verdict === 'conflict' ? ' is-conflict' : ''}` }, mark(one.verdict),
        el('span', { class: `num v-${one.verdict}`, text: one.id }),
        el('span', { class: 'say' }, el('span', { text: one.text }), one.then ? el('small', { text: one.then }) : '')))];
  }

  step(step, title, number) {
    const { app } = this;
    const [state, says] = this.stateOf(step);
    const isOpen = app.look.step === step;
    const words = { done: 'done', missing: 'to do', wrong: 'to mend', free: '' }[state];
    const sign = el('span', { class: `sign is-${state}`, text: state === 'done' ? '' : String(number) }, state === 'done' ? icon('done') : '');
    const head = el('button', { class: 'step', 'data-id': `step ${step}`, 'aria-expanded': String(isOpen), 'aria-current': isOpen ? 'step' : false },
      sign, el('span', { class: 'say' }, el('b', { text: title }), el('small', { class: state === 'wrong' ? 'v-conflict' : '', text: says })),
      el('span', { class: 'vh', text: words }));
    head.addEventListener('click', () => app.setStep(step));
    return [head, ...(isOpen ? this.inside(step) : [])];
  }

  // The shapes of a step, each a row.
  inside(step) {
    const { app } = this;
    const held = app.model.state.shapes.filter((shape) => stepOf(shape.kind) === step);
    const rows = held.map((shape) => {
      const isChosen = Boolean(app.look.chosen && app.look.chosen.key === shape.key);
      const wrong = app.checker.ofShape(shape.key)[0];
      const size = app.checker.found.sizes[shape.key];
      const what = shape.name ? KINDS.get(shape.kind).name : '';
      const under = wrong ? wrong.text : [what, size ? size.area || size.length : ''].filter(Boolean).join(', ');
      const row = el('button', { class: 'held', 'data-id': shape.key, 'aria-current': isChosen ? 'true' : false },
        el('span', { class: 'say' }, el('span', { text: titleOf(shape) }), el('small', { class: wrong && wrong.stops ? 'v-conflict' : '', text: under })));
      row.addEventListener('click', () => { app.choose({ key: shape.key, corner: null }); app.showShape(shape); });
      return row;
    });
    return rows.length ? [el('div', { class: 'within' }, ...rows)] : [];
  }
}

const stepOf = (kind) => ({ outline: 'outline', island: 'islands' }[kind] || 'areas');
const titleOf = (shape) => shape.name || (shape.kind === 'frontage' && shape.lot ? `Frontage of lot ${shape.lot}` : capital(KINDS.get(shape.kind).name));
