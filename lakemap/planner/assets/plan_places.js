// New floats: the best places by letter, and any place that is pointed at, with why not there.
const LOOK_MS = 700; // between two asks how the search stands

class Places {
  constructor(planner) {
    this.planner = planner;
    this.state = 'none';
    this.says = '';
    this.shown = []; // the places found
    this.chosen = null;
    this.rings = null; // where a float may go, as found
    this.allowed = null; // the same, if it is to be shown
    this.wantsAllowed = false;
    this.asked = ''; // the plan that was searched
  }

  // The kind of float that is looked for: the chosen one's, else the commonest.
  get like() { return this.planner.field.look.chosen; }

  told() {
    return [this.state, this.says, this.isOld(), this.shown.map((one) => one.name).join(), this.chosen && this.chosen.name];
  }

  isOld() { return this.state === 'done' && this.asked !== JSON.stringify(this.planner.steps.changes); }

  section() {
    const parts = [];
    if (this.state === 'none') parts.push(el('p', { class: 'empty', text: words('place.hint') }));
    else parts.push(el('p', { class: 'empty', role: 'status', text: this.isOld() ? words('place.old') : this.says }));
    if (this.state !== 'working') {
      const look = choice(words(this.state === 'none' ? 'place.look' : 'place.again'), () => this.look());
      look.dataset.key = 'look';
      if (this.state !== 'done' || this.isOld()) parts.push(el('div', { class: 'choices' }, look));
    }
    return [...parts, ...this.shown.map((one) => this.row(one))];
  }

  row(one) {
    const isChosen = one === this.chosen;
    const row = el('button', { class: 'row place', 'data-key': `place ${one.name}`, 'aria-expanded': String(isChosen) },
      el('span', { class: 'letter' }, el('span', { class: 'vh', text: `${words('place.name', { name: '' })} ` }), one.name),
      el('span', { class: 'say' }, one.says, el('small', { text: one.then })));
    row.addEventListener('click', () => this.choose(one));
    const put = isChosen ? choice(words('place.put'), () => this.put(one)) : null;
    if (put) put.dataset.key = `here ${one.name}`;
    return el('div', { class: 'item' }, row, put && el('div', { class: 'choices' }, put));
  }

  look() {
    this.state = 'working';
    this.says = words('place.wait');
    this.shown = [];
    this.chosen = null;
    this.asked = JSON.stringify(this.planner.steps.changes);
    this.ask({ changes: this.planner.steps.changes, like: this.like && this.like.id });
    this.changed();
  }

  ask(body) {
    this.planner.talk.ask('sites', body, {
      then: (answer) => {
        this.state = answer.state;
        this.says = answer.says;
        if (answer.state === 'working') setTimeout(() => this.ask(body), LOOK_MS);
        else if (answer.state === 'done') this.found(answer);
        this.changed();
      },
      failed: (texts) => { this.state = 'failed'; this.says = texts.join(' '); this.changed(); },
    });
  }

  found(answer) {
    this.shown = answer.sites;
    this.rings = pathOf(unpackRings(answer.allowed), true);
    this.allowed = this.wantsAllowed ? this.rings : null;
  }

  changed() {
    this.planner.side.fill();
    this.planner.field.redrawAll();
  }

  showAllowed(isOn) {
    this.wantsAllowed = isOn;
    this.allowed = isOn ? this.rings : null;
    if (isOn && (this.state === 'none' || this.state === 'failed' || this.isOld())) this.look();
    else this.changed();
  }

  choose(one) {
    this.chosen = this.chosen === one ? null : one;
    if (this.chosen) this.planner.field.show(one.x, one.y, one.r * CM);
    this.changed();
  }

  at([x, y]) {
    const { ppm } = cameraOf(this.planner.field.map);
    return this.shown.find((one) => Math.hypot(one.x - x, one.y - y) * ppm <= (isSmall() ? 24 : 16)) || null;
  }

  put(one) {
    this.shown = this.shown.filter((other) => other !== one);
    this.chosen = null;
    this.add(one.x, one.y);
  }

  // --- a place that is pointed at
  begin() {
    this.planner.field.isAdding = true;
    this.mark(true);
    say(words(isSmall() ? 'add.where_touch' : 'add.where'), [[words('add.stop'), () => this.stop()]]);
    byId('field').focus({ preventScroll: true });
    this.planner.field.redraw();
  }

  stop() {
    this.planner.field.isAdding = false;
    this.planner.field.asked = null;
    this.mark(false);
    say('');
    this.planner.field.redraw();
  }

  mark(isOn) {
    byId('field').classList.toggle('is-adding', isOn);
    for (const button of document.querySelectorAll('[data-do="add"]')) button.setAttribute('aria-pressed', String(isOn));
  }

  why(x, y) {
    const body = { changes: this.planner.steps.changes, x: roundTo(x), y: roundTo(y), like: this.like && this.like.id };
    const { field, talk } = this.planner;
    field.asked = { x, y, nearest: null };
    field.redraw();
    say(words('add.asking'));
    talk.ask('why', body, {
      then: (answer) => { if (field.asked) this.because(body, answer); },
      failed: (texts) => { this.stop(); say(texts.join(' ')); },
    });
  }

  because({ x, y }, { allowed, says, nearest }) {
    this.stop();
    if (allowed) { this.add(x, y); return; }
    const { field } = this.planner;
    field.asked = { x, y, nearest };
    const choices = [[words('add.anyway'), () => this.add(x, y)], [words('add.no'), null]];
    if (nearest) choices.unshift([words('add.there'), () => this.add(nearest.x, nearest.y)]);
    Told.open(words('add.title'), [el('p', { text: says }), nearest ? el('p', { text: nearest.says }) : null].filter(Boolean), choices,
      () => { field.asked = null; field.redraw(); }, this.isHigh(y));
    field.uncover(x, y, byId('told'));
    field.redrawAll();
  }

  // In the upper half of what is seen of the map.
  isHigh(y) { return y > this.planner.field.middle()[1]; }

  add(x, y) {
    const { changes } = this.planner.steps;
    const id = nextNumber(changes);
    const deck = deckOf(this.like);
    this.planner.chooseSoon(id);
    this.planner.set(withChange(changes, id, { new: true, x, y, ...deck }));
    say(words('add.done', { float: id }));
    byId('field').focus({ preventScroll: true });
  }
}
