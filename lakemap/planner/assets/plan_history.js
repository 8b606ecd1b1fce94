// The plan: whole sets of changes, one to a step; what is not saved outlives a reload.
const RUN_MS = 1000; // presses of keys within it are one step
const KEEP = `lakemap plan ${DATA.plan.folder}`;
const keepName = (stamp) => `${KEEP}\n${stamp}`;

class Steps {
  constructor() { this.restart(); }

  restart() {
    this.steps = [{ changes: {}, run: null, at: 0 }];
    this.now = 0;
  }

  get changes() { return this.steps[this.now].changes; }

  get count() { return Object.keys(this.changes).length; }

  get canUndo() { return this.now > 0; }

  get canRedo() { return this.now < this.steps.length - 1; }

  // Steps of one run (typing in one field, presses of keys) are one.
  set(changes, run = null, within = RUN_MS) {
    const last = this.steps[this.now];
    const at = performance.now();
    const goesOn = run !== null && last.run === run && at - last.at < within;
    this.steps.length = this.now + 1;
    if (goesOn) this.steps[this.now] = { changes, run, at };
    else {
      this.steps.push({ changes, run, at });
      this.now += 1;
    }
    this.keep();
  }

  // The same step, without what changed nothing.
  amend(changes) {
    this.steps[this.now].changes = changes;
    this.keep();
  }

  go(by) {
    this.endRun(); // a run does not go on over an undo
    this.now += by;
    this.endRun();
    this.keep();
  }

  endRun() { this.steps[this.now].run = null; }

  // What was kept over a reload is saved, or given up.
  forget() {
    try { localStorage.removeItem(keepName(DATA.plan.stamp)); } catch { /* nothing was kept */ }
  }

  // Of which float alone the last step changed the place.
  movedLast() {
    if (!this.canUndo) return null;
    const [before, after] = [this.steps[this.now - 1].changes, this.changes];
    const ids = Object.keys({ ...before, ...after }).filter((id) => JSON.stringify(before[id]) !== JSON.stringify(after[id]));
    if (ids.length !== 1) return null;
    const bare = (one) => JSON.stringify({ ...one, x: 0, y: 0 });
    return bare(before[ids[0]]) === bare(after[ids[0]]) ? ids[0] : null;
  }

  keep() {
    try {
      if (this.count) localStorage.setItem(keepName(DATA.plan.stamp), JSON.stringify(this.changes));
      else localStorage.removeItem(keepName(DATA.plan.stamp));
    } catch { /* no room, or not allowed: the plan stays in the window */ }
  }
}

// The plan of this folder that was not saved; of the files as they are now, or as they were.
function keptPlan() {
  try {
    const names = Object.keys(localStorage).filter((name) => name.startsWith(`${KEEP}\n`));
    const own = keepName(DATA.plan.stamp);
    const name = names.includes(own) ? own : names.pop();
    if (!name) return null;
    const changes = JSON.parse(localStorage.getItem(name));
    if (name !== own) localStorage.removeItem(name);
    const isPlan = changes && typeof changes === 'object' && Object.keys(changes).length > 0;
    return isPlan ? { changes, isOlder: name !== own } : null;
  } catch { return null; }
}

// Changes with those of one float put in; none of it left where nothing differs.
function withChange(changes, id, change) {
  const rest = { ...changes };
  delete rest[id];
  return change && Object.keys(change).length ? { ...rest, [id]: change } : rest;
}

// The number of the next new float, beside those that a plan has given.
function nextNumber(changes) {
  const given = Object.keys(changes).filter((id) => changes[id].new).map(Number);
  return String(Math.max(Number(DATA.plan.next_id), ...given.map((id) => id + 1)));
}

// New floats of an older plan get other numbers where the folder has given theirs since.
function renumbered(changes) {
  let fresh = Object.fromEntries(Object.entries(changes).filter(([id, one]) => !one.new && SAVED.has(id)));
  for (const one of Object.values(changes)) if (one.new) fresh = { ...fresh, [nextNumber(fresh)]: one };
  return fresh;
}
