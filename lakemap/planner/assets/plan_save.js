// Saving, and what came of it in words.
const SETTLING_MS = 40; // between two looks whether the machine has read the plan
const SAVED_NOTE = 'lakemap saved';

class Saving {
  constructor(planner) {
    this.planner = planner;
    this.isOn = false;
  }

  begin() {
    const { steps } = this.planner;
    this.planner.form.flush();
    if (this.isOn) return;
    if (!steps.count) { say(words('save.none')); return; }
    this.isOn = true;
    this.planner.showState();
    this.settle();
  }

  // Only what the machine has read is saved; where it is silent, saving says so.
  settle() {
    const { talk, answer } = this.planner;
    if (talk.isBusy('plan') && !talk.failing) { setTimeout(() => this.settle(), SETTLING_MS); return; }
    const wrong = answer ? answer.wrong : [];
    if (wrong.length) this.wrong(wrong);
    else this.send(this.planner.steps.changes);
  }

  send(changes) {
    this.planner.talk.ask('save', { changes }, { then: (came) => this.ended(changes, came), failed: (texts, isSilent) => this.failed(texts, isSilent), patient: false });
  }

  wrong(wrong) {
    this.isOn = false;
    this.planner.showState();
    const texts = wrong.map((one) => words('side.unreadable', { float: one.id, text: one.text }));
    Told.open(words('save.wrong'), [lines(texts)], [[words('save.close'), () => {
      const f = BY_ID.get(wrong[0].id);
      if (f) this.planner.choose(f, { from: 'list' });
    }]]);
  }

  ended(changes, came) {
    this.isOn = false;
    if (came.saved) this.saved(changes, came);
    else this.underneath(came);
    this.planner.showState();
  }

  saved(changes, { file, kept, conflicts, stamp, notes = [] }) {
    const { planner } = this;
    const isSame = changes === planner.steps.changes;
    if (!planner.rebase(stamp, changes, isSame)) {
      sessionStorage.setItem(SAVED_NOTE, file);
      planner.readAgain();
      return;
    }
    const parts = [el('p', { text: words('save.file', { file }) }), kept ? el('p', { text: words('save.kept', { file: kept }) }) : null];
    if (notes.length) parts.push(lines(notes));
    if (conflicts.length) parts.push(el('p', {}, el('b', { text: words('save.conflicts', { count: conflicts.length }) })), lines(conflicts));
    else parts.push(el('p', { text: words('save.clear') }));
    Told.open(words('save.done'), parts.filter(Boolean), [[words('save.close'), null]]);
  }

  underneath({ underneath, kept }) {
    Told.open(words('save.underneath'), [lines(underneath), kept ? el('p', { text: words('save.plan_kept', { file: kept }) }) : null].filter(Boolean),
      [[words('save.reread'), () => this.planner.readAgain()], [words('save.close'), null]]);
  }

  failed(texts, isSilent) {
    this.isOn = false;
    this.planner.showState();
    if (isSilent) { this.planner.silent(texts.join(' ')); texts = [words('save.unsure')]; }
    Told.open(words('save.refused'), [lines(texts)], [[words('save.close'), null]]);
  }
}
