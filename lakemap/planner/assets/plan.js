// The planner: one plan, and how map, list, form and sliders answer each other.
class Planner {
  constructor() {
    this.node = byId('app');
    this.steps = new Steps();
    this.answer = null;
    this.soon = null; // a new float that is chosen once it is there
    this.since = null;
    this.isComparing = false;
    this.compared = null;
    this.isSaved = false;
    this.toldOf = null; // the changes that the floats on the screen are of
    this.talk = new Talk({ onLost: (says) => this.silent(says), onFound: () => this.found() });
    this.places = new Places(this);
    this.field = new Field(this);
    this.hand = new Hand(this);
    this.side = new Side(this);
    this.form = new Form(this);
    this.strip = new Strip(this);
    this.saving = new Saving(this);
  }

  // --- the plan
  set(changes, { run = null, within = undefined, quick = false } = {}) {
    this.steps.set(changes, run, within);
    this.refresh({ quick });
  }

  go(by) {
    this.form.flush();
    if (by < 0 ? !this.steps.canUndo : !this.steps.canRedo) return;
    this.steps.go(by);
    say('');
    this.refresh();
  }

  // Floats stand at once where the plan has them; the machine says what that does.
  refresh({ quick = false } = {}) {
    layPlaces(this.steps.changes);
    this.showState();
    this.askPlan({ quick });
    this.field.redraw();
  }

  refill() {
    if (this.answer) this.form.fill(this.answer.form, this.answer.wrong);
  }

  putBack(id) {
    this.set(withChange(this.steps.changes, id, null));
  }

  // --- the machine
  askPlan({ quick = false } = {}) {
    const { chosen } = this.field.look;
    const id = this.soon || (chosen && chosen.id);
    const body = { changes: this.hand.withHeld(this.steps.changes), quick, chosen: id || null };
    this.talk.ask('plan', body, {
      then: (answer, since) => { this.toldOf = body.changes; this.answered(answer, since, quick); },
      failed: (texts) => say(words('lost.failed', { says: texts.join(' ') })),
    });
  }

  answered(answer, since, isQuick) {
    this.answer = answer;
    layFloats(answer.floats);
    setOrder(answer.order);
    layPlaces(this.hand.withHeld(this.steps.changes));
    this.keepChosen();
    byId('headline').textContent = answer.headline;
    byId('brief').textContent = `${answer.headline}. `;
    byId('was').textContent = answer.was;
    this.side.fill();
    this.refill();
    this.nameTab();
    this.since = since;
    if (this.field.held || isQuick) this.field.redraw();
    else this.field.redrawAll();
    if (isQuick) return;
    this.prune(answer);
    this.strip.ask();
    if (this.isComparing) this.askCompare();
  }

  prune({ form, wrong }) {
    const { changes } = this.steps;
    const columns = form && this.toldOf === changes ? this.form.asSaved(form, wrong) : [];
    if (!columns.length) return;
    const rest = Object.entries(changes[form.id]).filter(([column]) => !columns.includes(column));
    this.steps.amend(withChange(changes, form.id, Object.fromEntries(rest)));
    this.toldOf = this.steps.changes;
    this.showState();
    this.side.fill();
  }

  // The chosen float may have come or gone with a step.
  keepChosen() {
    const { look } = this.field;
    if (this.soon && BY_ID.has(this.soon)) {
      const f = BY_ID.get(this.soon);
      this.soon = null;
      this.choose(f, { from: 'new', isTold: true });
    }
    if (look.chosen) look.chosen = BY_ID.get(look.chosen.id) || null;
    if (look.hovered) look.hovered = BY_ID.get(look.hovered.id) || null;
  }

  painted() {
    if (this.since !== null) this.talk.painted(this.since);
    this.since = null;
  }

  silent(says) {
    const box = byId('lost');
    const text = says ? words('lost.refused', { says }) : words('lost.silent');
    if (box.textContent !== text) box.textContent = text;
    box.hidden = false;
    if (!this.talk.isBusy('plan')) this.askPlan();
  }

  found() { byId('lost').hidden = true; }

  // --- choosing
  choose(f, { from = '', quick = false, isTold = false } = {}) {
    const { look } = this.field;
    this.form.flush();
    if (look.chosen === f && from !== 'list') return;
    look.chosen = f;
    look.hovered = null;
    this.side.showChosen(f);
    this.form.fill(null, this.answer ? this.answer.wrong : []);
    this.nameTab();
    if (f && from === 'list') {
      byId('field').focus({ preventScroll: true });
      if (isSmall()) Tabs.fold();
    }
    if (f && from) this.field.show(f.x, f.y, from === 'map' ? null : f.radii[0] || 8);
    this.field.redrawAll();
    if (f && !isTold) this.askPlan({ quick });
  }

  chooseSoon(id) { this.soon = id; }

  nameTab() {
    const { chosen } = this.field.look;
    Tabs.name('panel', chosen ? words('form.title', { float: chosen.id }) : words('tab.float'));
    Tabs.name('side', this.steps.count ? `${words('tab.changes')} ${this.steps.count}` : words('tab.changes'));
  }

  // --- what the head says
  showState() {
    const { count } = this.steps;
    const text = this.saving && this.saving.isOn ? words('plan.saving') : count ? words('plan.unsaved', { count }) : words(this.isSaved ? 'plan.saved' : 'plan.none');
    if (byId('unsaved').textContent !== text) byId('unsaved').textContent = text;
    const able = { undo: this.steps.canUndo, redo: this.steps.canRedo, save: count > 0 && !(this.saving && this.saving.isOn) };
    for (const [name, isAble] of Object.entries(able)) for (const button of document.querySelectorAll(`[data-do="${name}"]`)) this.able(button, isAble);
    this.nameTab();
  }

  // A button that had the focus keeps it, so that a second press of it is not lost.
  able(button, isAble) {
    if (!isAble && button === document.activeElement) byId('field').focus({ preventScroll: true });
    button.disabled = !isAble;
  }

  // --- saved
  // The floats on the screen become the saved ones; where they are of another plan, the page is read anew.
  rebase(stamp, changes, isSame) {
    const later = isSame ? {} : changesSince(changes, this.steps.changes);
    const isTold = isSame && this.toldOf === changes;
    this.steps.forget();
    DATA.plan.stamp = stamp;
    if (!isTold) {
      this.steps.restart();
      if (Object.keys(later).length) this.steps.set(later);
      return false;
    }
    DATA.plan.next_id = nextNumber(changes);
    keepAsSaved();
    this.form.forget();
    this.steps.restart();
    this.isSaved = true;
    this.refresh();
    return true;
  }

  readAgain() {
    this.isLeaving = true;
    location.reload();
  }

  restore() {
    const file = sessionStorage.getItem(SAVED_NOTE);
    sessionStorage.removeItem(SAVED_NOTE);
    if (file) say(words('save.meanwhile', { file }));
    const kept = keptPlan();
    if (!kept) return;
    const changes = kept.isOlder ? renumbered(kept.changes) : kept.changes;
    const count = Object.keys(changes).length;
    if (!count) return;
    this.steps.set(changes);
    if (!file) say(words(kept.isOlder ? 'kept.older' : 'kept.back', { count }), [[words('kept.drop'), () => this.drop()]]);
  }

  drop() {
    this.set({});
    say(words('kept.dropped'));
  }

  // --- beside the saved field
  compare(isOn) {
    this.isComparing = isOn;
    this.compared = null;
    for (const button of document.querySelectorAll('[data-do="compare"]')) button.setAttribute('aria-pressed', String(isOn));
    if (isOn) this.askCompare();
    if (isSmall() && isOn) Tabs.open('side');
    this.side.fill();
    this.field.redraw();
  }

  askCompare() {
    this.talk.ask('compare', { changes: this.steps.changes }, {
      then: (answer) => { this.compared = answer; this.side.fill(); },
      failed: (texts) => say(words('lost.failed', { says: texts.join(' ') })),
    });
  }
}

// What was changed while an earlier plan was being saved.
function changesSince(saved, now) {
  const later = {};
  for (const [id, change] of Object.entries(now)) {
    const { new: _, ...rest } = change;
    const before = saved[id] || {};
    const isMoved = before.x !== rest.x || before.y !== rest.y; // a place is both
    const isOther = (column) => (column === 'x' || column === 'y' ? isMoved : before[column] !== rest[column]);
    const differing = Object.fromEntries(Object.entries(rest).filter(([column]) => isOther(column)));
    if (Object.keys(differing).length) later[id] = saved[id] ? differing : change;
  }
  return later;
}
