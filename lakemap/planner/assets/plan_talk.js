// Page and machine: of each ask one at a time, and of those that wait the newest.
const PAGE = Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => byte.toString(16).padStart(2, '0')).join('');
const TRY_AGAIN = [500, 1000, 2000, 4000]; // ms; the last one goes on
const TIMED = 1000; // times of answers that are kept
const pause = (ms) => new Promise((done) => { setTimeout(done, ms); });

// What came of one ask: an answer, problems in words, or that nothing answers.
async function post(name, body) {
  let reply;
  try {
    reply = await fetch(`ask/${name}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  } catch { return { lost: '' }; }
  let answer;
  try { answer = await reply.json(); } catch { return { lost: '' }; }
  const told = (answer.problems || []).map((problem) => problem.text);
  if (reply.ok) return { answer };
  return [403, 408, 503].includes(reply.status) ? { lost: told.join(' ') } : { problems: told };
}

class Talk {
  constructor({ onLost, onFound }) {
    this.on = { lost: onLost, found: onFound };
    this.lines = new Map();
    this.seq = 0;
    this.failing = 0;
    this.took = [];
  }

  // `then` gets the answer, `failed` the problems; `patient`: asked again until something answers.
  ask(name, body, { then, failed = () => {}, patient = true }) {
    if (!this.lines.has(name)) this.lines.set(name, { busy: false, next: null });
    const line = this.lines.get(name);
    line.next = { body, then, failed, patient, since: performance.now() };
    if (!line.busy) this.run(name, line);
  }

  isBusy(name) { return Boolean(this.lines.get(name)?.busy); }

  async run(name, line) {
    line.busy = true;
    while (line.next) {
      const one = line.next;
      line.next = null;
      this.seq += 1;
      const came = await post(name, { ...one.body, stamp: DATA.plan.stamp, page: PAGE, seq: this.seq });
      if (came.lost === undefined) this.heard();
      if (came.lost !== undefined && one.patient) {
        await this.wait(came.lost);
        line.next = line.next || one;
      } else this.tell(one, came);
    }
    line.busy = false;
  }

  tell(one, came) {
    if (came.lost !== undefined || came.problems) one.failed(came.problems || [came.lost], came.lost !== undefined);
    else if (!came.answer.stale) one.then(came.answer, one.since);
  }

  heard() {
    if (this.failing) this.on.found();
    this.failing = 0;
  }

  async wait(says) {
    this.on.lost(says);
    const ms = TRY_AGAIN[Math.min(this.failing, TRY_AGAIN.length - 1)];
    this.failing += 1;
    await pause(ms);
  }

  // From the ask to what it changed on the screen.
  painted(since) {
    this.took.push(performance.now() - since);
    if (this.took.length > TIMED) this.took.shift();
  }
}
