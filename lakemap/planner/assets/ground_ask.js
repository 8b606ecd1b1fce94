// What the machine is asked, and the check that follows the hand.
const CHECK_AFTER = 120; // ms of rest

async function ask(name, body) {
  let answer;
  try {
    answer = await fetch(`ask/${name}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  } catch { throw new Error('The planner does not answer. Is it still running in its terminal? The drawing is kept in this browser.'); }
  let told;
  try { told = await answer.json(); } catch { throw new Error(`The planner answered what can't be read (${answer.status}).`); }
  if (answer.ok) return told;
  const problems = (told.problems || []).map((one) => one.text);
  throw new Error(problems.join('\n') || `The planner refused (${answer.status}).`);
}

// Asks once the hand rests; of several answers only the latest counts.
class Checker {
  constructor(model, onAnswer) {
    this.model = model;
    this.onAnswer = onAnswer;
    this.asked = null; // the state that was asked about last
    this.found = { findings: [], sizes: {}, effect: DATA.effect };
    this.timer = 0;
    this.number = 0;
  }

  get isFresh() { return this.asked === this.model.state && !this.busy; }

  soon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.now(), CHECK_AFTER);
  }

  async now() {
    clearTimeout(this.timer);
    const { state } = this.model;
    if (!state.middle) return;
    this.asked = state;
    this.busy = true;
    this.number += 1;
    const { number } = this;
    try {
      const found = await ask('ground-check', { drawing: this.model.body(), stamp: DATA.stamp });
      if (number !== this.number) return;
      this.found = found;
      this.isLost = false;
    } catch (error) {
      if (number !== this.number) return;
      if (!this.isLost) say(error.message);
      this.isLost = true;
    }
    this.busy = false;
    this.onAnswer();
  }

  of(step) { return this.found.findings.filter((one) => one.step === step); }

  ofShape(key) { return this.found.findings.filter((one) => one.shape === key); }

  get stops() { return this.found.findings.filter((one) => one.stops); }
}
