// The list: what changed, what is still in conflict, places for new floats; made only where it is seen.
const CHUNK = 80; // rows made at a time

class Side {
  constructor(planner) {
    this.planner = planner;
    this.box = byId('rows');
    this.find = byId('find');
    this.isUnfolded = false;
    this.waiting = [];
    this.shown = '';
    this.find.addEventListener('input', () => { this.box.scrollTop = 0; this.fill(); });
    this.find.addEventListener('keydown', (event) => this.findKey(event));
    this.box.addEventListener('scroll', () => this.drawMore(), { passive: true });
    this.box.addEventListener('click', (event) => this.clicked(event));
    this.box.addEventListener('keydown', (event) => this.rowKey(event));
    for (const type of ['pointerover', 'focusin']) this.box.addEventListener(type, (event) => this.point(event));
    for (const type of ['pointerleave', 'focusout']) this.box.addEventListener(type, () => planner.field.hover(null));
  }

  fill() {
    const groups = this.groups();
    const said = JSON.stringify(groups);
    if (said === this.shown) return;
    this.shown = said;
    const [top, key] = [this.box.scrollTop, document.activeElement.dataset && this.box.contains(document.activeElement) ? document.activeElement.dataset.key : null];
    this.box.replaceChildren();
    this.waiting = groups.map((group) => ({ ...group, next: 0 }));
    this.drawMore(top);
    this.box.scrollTop = top;
    const again = key && [...this.box.querySelectorAll('[data-key]')].find((node) => node.dataset.key === key);
    if (again) again.focus({ preventScroll: true });
  }

  groups() {
    const { planner } = this;
    const text = this.find.value.trim().toLowerCase();
    if (text) return [this.found(text)];
    const answer = planner.answer || { changed: [], wrong: [] };
    if (planner.isComparing) {
      const rows = planner.compared ? planner.compared.rows : [];
      return [{ title: words('compare.title'), rows: rows.map((one) => this.changedRow(one)), note: planner.compared && !rows.length ? words('compare.same') : (planner.compared || {}).headline || '' }];
    }
    const changed = answer.changed.map((one) => this.changedRow(one));
    const listed = new Set(answer.changed.map((one) => one.id));
    const wrong = answer.wrong.map((one) => words('side.unreadable', { float: one.id, text: one.text }));
    const bad = ORDER.filter((f) => f.atLow === 'conflict').map((f) => this.floatRow(f, f.says));
    const rest = ORDER.filter((f) => f.atLow !== 'conflict' && !listed.has(f.id));
    return [
      { title: words('side.changed'), rows: changed, count: changed.length, wrong, note: changed.length ? '' : words('side.nothing') },
      { title: words('side.bad'), rows: bad, count: bad.length, note: bad.length || !FLOATS.length ? '' : words('side.no_bad') },
      { title: words('side.places'), places: planner.places.told() },
      this.isUnfolded ? { title: words('side.rest'), rows: rest.map((f) => this.floatRow(f, f.brief)), count: rest.length }
        : { title: words('side.rest'), fold: rest.length },
    ];
  }

  found(text) {
    const isFound = (f) => f.id.toLowerCase().includes(text) || (f.lot && words('side.lot', { lot: f.lot }).toLowerCase().includes(text));
    const members = ORDER.filter(isFound);
    return { title: words('side.found'), rows: members.map((f) => this.floatRow(f, f.atLow === 'conflict' ? f.says : f.brief)), count: members.length,
      note: members.length ? '' : words('list.none', { text: this.find.value.trim() }) };
  }

  changedRow(one) {
    const change = this.planner.steps.changes[one.id];
    return { id: one.id, verdict: one.verdict, text: one.what, more: [one.then, one.says].filter(Boolean), canPut: Boolean(change), isNew: Boolean(change && change.new), kind: 'changed' };
  }

  floatRow(f, text) {
    return { id: f.id, verdict: f.atLow, text: capitalised(text), more: f.lot ? [words('side.lot', { lot: f.lot })] : [], canPut: false, kind: 'float' };
  }

  // Rows are made as the reader nears them.
  drawMore(top = this.box.scrollTop) {
    let room = CHUNK;
    while (this.waiting.length && room > 0 && this.box.scrollHeight < top + this.box.clientHeight * 2 + 400) {
      const group = this.waiting[0];
      if (group.next === 0) this.box.append(...this.headOf(group));
      const rows = group.rows || [];
      const end = Math.min(group.next + 20, rows.length);
      for (const row of rows.slice(group.next, end)) this.box.append(this.row(row));
      room -= Math.max(end - group.next, 1);
      group.next = end;
      if (end >= rows.length) this.waiting.shift();
    }
  }

  headOf(group) {
    const head = el('div', { class: 'group', role: 'heading', 'aria-level': '2' }, el('span', { text: group.title }),
      group.count === undefined ? null : el('span', { text: counted(group.count) }));
    const parts = [head];
    if (group.note) parts.push(el('p', { class: 'empty', text: group.note }));
    for (const text of group.wrong || []) parts.push(el('p', { class: 'wrong', text }));
    if (group.places) parts.push(...this.planner.places.section());
    if (group.fold) parts.push(el('button', { class: 'unfold', 'data-key': 'unfold', text: words('side.show', { count: group.fold }) }));
    return parts;
  }

  row({ id, verdict, text, more, canPut, isNew, kind }) {
    const f = BY_ID.get(id);
    const button = el('button', { class: `row is-${verdict}`, 'data-key': `${kind} ${id}`, 'data-id': id, 'aria-current': f && f === this.planner.field.look.chosen ? 'true' : null, disabled: !f },
      mark(verdict), el('span', { class: 'vh', text: `${words('side.float', { float: '', verdict: words(`verdict.${verdict}`) })} ` }),
      el('span', { class: `num v-${verdict}`, text: id }),
      el('span', { class: 'say' }, text, ...more.map((line) => el('small', { text: line }))));
    const put = canPut ? el('button', { class: 'put', 'data-key': `put ${id}`, 'data-put': id, 'aria-label': words(isNew ? 'side.away_long' : 'side.back_long', { float: id }), text: words(isNew ? 'side.away' : 'side.back') }) : null;
    return el('div', { class: `item${canPut ? ' can-put' : ''}` }, button, put);
  }

  clicked(event) {
    const node = event.target.closest('[data-put], [data-id], .unfold');
    if (!node) return;
    if (node.dataset.put) this.planner.putBack(node.dataset.put);
    else if (node.dataset.id) this.planner.choose(BY_ID.get(node.dataset.id), { from: 'list' });
    else { this.isUnfolded = true; this.fill(); }
  }

  point(event) {
    const row = event.target.closest('[data-id]');
    if (event.pointerType !== 'touch') this.planner.field.hover(row ? BY_ID.get(row.dataset.id) || null : null);
  }

  findKey(event) {
    const first = this.box.querySelector('.row');
    if (event.key === 'Enter' && this.find.value.trim()) {
      const wanted = this.find.value.trim().toLowerCase();
      const f = FLOATS.find((one) => one.id.toLowerCase() === wanted) || (first && BY_ID.get(first.dataset.id));
      if (f) this.planner.choose(f, { from: 'list' });
    }
    if (event.key === 'ArrowDown' && first) {
      first.focus();
      event.preventDefault();
    }
    if (event.key === 'Escape') {
      if (this.find.value) { this.find.value = ''; this.fill(); } else this.find.blur();
      event.stopPropagation();
    }
  }

  rowKey(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const rows = [...this.box.querySelectorAll('.row')];
    const k = rows.indexOf(document.activeElement);
    if (!step || k < 0) return;
    event.preventDefault();
    if (k + step < 0) this.find.focus();
    else if (rows[k + step]) rows[k + step].focus();
  }

  showChosen(f) {
    for (const row of this.box.querySelectorAll('.row')) {
      if (f && row.dataset.id === f.id) row.setAttribute('aria-current', 'true');
      else row.removeAttribute('aria-current');
    }
  }
}
const capitalised = (text) => text.charAt(0).toUpperCase() + text.slice(1);
