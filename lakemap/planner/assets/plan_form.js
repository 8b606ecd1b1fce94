// The chosen float: what can be typed, and what that gives.
const TYPED_MS = 250; // after the last key, before the machine is asked
const WHOLE = new Set(['primary_blocks', 'secondary_blocks']);

const careBox = (texts) => el('div', { class: 'safety' }, el('h3', { text: words('form.care') }), lines(texts));

class Form {
  constructor(planner) {
    this.planner = planner;
    this.box = byId('panel');
    this.id = null;
    this.known = new Map(); // forms by float, as last told
    this.texts = new Map(); // saved texts of columns by float
    this.fields = new Map();
    this.typing = null;
    this.empty();
  }

  empty() {
    this.id = null;
    this.fields.clear();
    this.box.replaceChildren(el('div', { class: 'inside' }, el('h2', { class: 'none', text: words('form.none') }), el('p', { class: 'note', text: words('form.hint') }), careBox(DATA.care)));
  }

  forget() {
    this.known.clear();
    this.texts.clear();
    this.id = null;
  }

  // Fills what is shown; while somebody types in a field, that field is left alone.
  fill(form, wrong) {
    const f = this.planner.field.look.chosen;
    if (!f) { if (this.id !== null) this.empty(); return; }
    if (form && form.id === f.id) this.learn(form);
    const known = this.known.get(f.id);
    if (this.id !== f.id) this.build(f);
    this.showVerdict(f);
    if (!known) return;
    if (!this.fields.size) this.buildFields(known.fields);
    for (const field of known.fields) this.showField(field, wrong.find((one) => one.id === f.id && one.column === field.column));
    this.showGives(known.gives);
    this.showCare(known.care);
    this.showActs(f);
  }

  learn(form) {
    const before = this.known.get(form.id);
    const told = new Set(form.gives.map(([name]) => name));
    // while the hand moves the sizing is left out: what was last known of it stays
    const rest = before ? before.gives.filter(([name]) => !told.has(name)) : [];
    this.known.set(form.id, { ...form, gives: [...form.gives, ...rest] });
    const texts = this.texts.get(form.id) || {};
    const change = this.planner.steps.changes[form.id] || {};
    for (const { column, value } of form.fields) if (!(column in change)) texts[column] = value;
    this.texts.set(form.id, texts);
  }

  // What was typed and is what is saved, in other words, is no change.
  asSaved(form, wrong) {
    const texts = this.texts.get(form.id) || {};
    const change = this.planner.steps.changes[form.id] || {};
    const isSame = ({ column, value }) => column in change && value === texts[column] && !wrong.some((one) => one.id === form.id && one.column === column);
    return change.new ? [] : form.fields.filter(isSame).map((one) => one.column);
  }

  build(f) {
    this.id = f.id;
    this.fields.clear();
    const shut = el('button', { class: 'shut onbig', 'aria-label': words('form.close') }, icon('shut'));
    shut.addEventListener('click', () => this.planner.choose(null));
    this.verdict = el('div', { class: 'verdict' });
    this.rows = el('div', { class: 'fields' });
    this.gives = el('tbody');
    this.acts = el('div', { class: 'acts' });
    this.about = el('small');
    this.care = el('div');
    const metric = DATA.plan.units === 'm-kg';
    const keys = words('form.keys', { small: metric ? '0.25 m' : '1 ft', large: metric ? '2.5 m' : '10 ft' });
    this.box.replaceChildren(el('div', { class: 'inside' },
      el('div', { class: 'top' }, el('h2', { tabindex: '-1' }, `${words('form.title', { float: f.id })} `, this.about), shut),
      this.verdict, el('h3', { text: words('form.rig') }), this.rows, el('h3', { text: words('form.gives') }),
      el('table', { class: 'gives' }, this.gives), this.acts,
      el('p', { class: 'note onbig', text: keys }), el('p', { class: 'note onsmall', text: words('form.touch') }), this.care));
    this.box.scrollTop = 0;
  }

  showVerdict(f) {
    this.about.textContent = f.lot ? words('side.lot', { lot: f.lot }) : SAVED.has(f.id) ? '' : words('form.new');
    const said = `${f.atLow} ${f.says}`;
    if (this.verdict.dataset.said === said) return;
    this.verdict.dataset.said = said;
    this.verdict.className = `verdict v-${f.atLow}`;
    this.verdict.setAttribute('role', 'status');
    this.verdict.replaceChildren(mark(f.atLow), el('p', {}, el('b', { text: `${words(`verdict_begins.${f.atLow}`)} ` }), el('span', { text: f.says })));
  }

  buildFields(fields) {
    const named = new Map(fields.map((one) => [one.column, one]));
    const deck = el('div', { class: 'line deck' }, el('span', { class: 'name', text: words('form.deck') }),
      el('span', { class: 'pair' }, this.input(named.get('length')), el('span', { 'aria-hidden': 'true', text: words('form.by') }), this.input(named.get('width'))), this.notes('length'), this.notes('width'));
    const rest = fields.filter(({ column }) => !['length', 'width', 'status'].includes(column)).map((one) => el('div', { class: 'line' },
      el('label', { class: 'name', for: `of-${one.column}`, text: one.label }), this.input(one), this.notes(one.column)));
    this.rows.replaceChildren(deck, ...rest);
  }

  input({ column, label }) {
    const isDeck = column === 'length' || column === 'width';
    const input = el('input', { id: `of-${column}`, type: 'text', autocomplete: 'off', spellcheck: 'false', 'aria-describedby': `about-${column}`,
      'aria-label': isDeck ? label : null, inputmode: WHOLE.has(column) ? 'numeric' : null });
    input.addEventListener('input', () => this.typed(column, input));
    input.addEventListener('change', () => this.flush());
    input.addEventListener('blur', () => { this.planner.steps.endRun(); this.planner.refill(); });
    input.addEventListener('keydown', (event) => this.key(event, input));
    this.fields.set(column, { input });
    return input;
  }

  notes(column) {
    const note = el('p', { class: 'of', id: `about-${column}` });
    this.fields.get(column).note = note;
    return note;
  }

  showField({ column, value, chosen, was, hint }, wrong) {
    const field = this.fields.get(column);
    if (!field) return;
    const { input, note } = field;
    const change = this.planner.steps.changes[this.id] || {};
    const text = wrong ? change[column] : value;
    if (document.activeElement !== input && input.value !== text) input.value = text;
    input.placeholder = hint;
    input.setAttribute('aria-invalid', String(Boolean(wrong)));
    note.className = wrong ? 'of wrong' : 'of';
    const about = wrong ? capitalised(wrong.text) : [chosen, was && words('form.was', { was })].filter(Boolean).join(', ');
    if (note.textContent !== about) note.textContent = about;
  }

  showGives(gives) {
    const said = JSON.stringify(gives);
    if (this.gives.dataset.said === said) return;
    this.gives.dataset.said = said;
    this.gives.replaceChildren(...gives.map(([name, value, was]) => el('tr', {}, el('th', { scope: 'row', text: name }),
      el('td', {}, el('b', { text: value }), was ? el('small', { text: ` ${was}` }) : null))));
  }

  showCare(texts) {
    const said = JSON.stringify(texts);
    if (this.care.dataset.said === said) return;
    this.care.dataset.said = said;
    this.care.replaceChildren(careBox(texts));
  }

  showActs(f) {
    const isNew = !SAVED.has(f.id);
    const isRetired = f.status === 'retired';
    const change = this.planner.steps.changes[f.id];
    const said = [isNew, isRetired, Boolean(change)].join();
    if (this.acts.dataset.said === said) return;
    this.acts.dataset.said = said;
    const retire = () => this.status(f, isRetired);
    this.acts.replaceChildren(...[
      change && !isNew ? choice(words('form.back'), () => this.planner.putBack(f.id)) : null,
      isNew ? choice(words('form.remove'), () => this.planner.putBack(f.id)) : choice(words(isRetired ? 'form.return' : 'form.retire'), retire),
    ].filter(Boolean));
  }

  status(f, isReturning) {
    const { changes } = this.planner.steps;
    const { status, ...rest } = changes[f.id] || {};
    const saved = SAVED.get(f.id).status;
    const wanted = isReturning ? (saved === 'retired' ? 'set' : saved) : 'retired';
    this.planner.set(withChange(changes, f.id, wanted === saved ? rest : { ...rest, status: wanted }));
  }

  // --- typing
  typed(column, input) {
    clearTimeout(this.timer);
    this.typing = { id: this.id, column, text: input.value };
    this.timer = setTimeout(() => this.flush(), TYPED_MS);
  }

  flush() {
    clearTimeout(this.timer);
    if (!this.typing) return;
    const { id, column, text } = this.typing;
    this.typing = null;
    const { changes } = this.planner.steps;
    const { [column]: _, ...rest } = changes[id] || {};
    const isAsSaved = text.trim() === ((this.texts.get(id) || {})[column] || '') && !(changes[id] || {}).new;
    const change = isAsSaved ? rest : { ...rest, [column]: text.trim() };
    if (JSON.stringify(change) === JSON.stringify(changes[id] || {})) return;
    this.planner.set(withChange(changes, id, change), { run: `type ${id} ${column}`, within: Infinity });
  }

  // Enter takes what is typed now; Esc does too, and goes back to the map.
  key(event, input) {
    if (event.key === 'Enter') this.flush();
    if (event.key !== 'Escape') return;
    event.stopPropagation();
    this.flush();
    input.blur();
    byId('field').focus({ preventScroll: true });
  }
}
