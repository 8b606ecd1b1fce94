// The list: groups by verdict, found by number, lot or (if they are in the file) owner; drawn only where it is seen.
const CHUNK = 120; // rows made at a time
const FOLD_OVER = 300; // a group larger than this starts folded

// A name as people write it: in small or great letters, with blanks or without, with noughts before a number or none.
const plainName = (text) => text.toLowerCase().replace(/\s+/g, '').replace(/(^|[^\d.])0+(?=\d)/g, '$1');

function floatCalled(text) {
  const plain = plainName(text);
  return BY_ID.get(text) || BY_ID.get(text.trim()) || FLOATS.find((f) => f.id.toLowerCase() === text.trim().toLowerCase())
    || FLOATS.find((f) => plain === plainName(f.id) || plain === plainName(words('panel.float', { float: f.id }))) || null;
}

function floatsOfLot(text) {
  const plain = plainName(text);
  return ORDER.filter((f) => f.lot && plain && (plain === plainName(f.lot) || plain === plainName(words('list.lot', { lot: f.lot }))));
}

class List {
  constructor({ choose, hover, isChosen }) {
    this.act = { choose, hover, isChosen };
    this.box = byId('rows');
    this.find = byId('find');
    this.filter = null;
    this.unfolded = new Set();
    this.rows = [];
    this.waiting = [];
    this.makeCounts();
    this.find.addEventListener('input', () => this.fill());
    this.find.addEventListener('keydown', (event) => this.findKey(event));
    this.box.addEventListener('keydown', (event) => this.rowKey(event));
    this.box.addEventListener('scroll', () => this.drawMore(), { passive: true });
    this.box.addEventListener('click', (event) => this.rowClick(event));
    for (const type of ['pointerover', 'focusin']) this.box.addEventListener(type, (event) => this.point(event));
    for (const type of ['pointerleave', 'focusout']) this.box.addEventListener(type, () => this.act.hover(null));
  }

  makeCounts() {
    for (const verdict of VERDICTS.slice(0, 4)) {
      const count = DATA.counts[verdict];
      const button = el('button', { class: `v-${verdict}`, 'aria-pressed': 'false', disabled: count === 0 },
        mark(verdict), el('span', { text: words(`count.${verdict}`, { count }) }));
      button.addEventListener('click', () => {
        this.filter = this.filter === verdict ? null : verdict;
        for (const other of byId('counts').children) other.setAttribute('aria-pressed', String(other === button && this.filter !== null));
        this.fill();
      });
      byId('counts').append(button);
    }
  }

  matches(f, text) {
    const called = [words('panel.float', { float: f.id }), f.lot && words('list.lot', { lot: f.lot }), ...(f.private || []).map(([, value]) => value)];
    return !text || called.some((name) => name && plainName(name).includes(text));
  }

  fill() {
    const text = plainName(this.find.value);
    this.box.replaceChildren();
    this.box.scrollTop = 0;
    this.rows = [];
    this.waiting = [];
    if (!FLOATS.length) {
      this.box.append(el('p', { class: 'empty', text: words('list.empty') }));
      return;
    }
    for (const [verdict, title] of DATA.groups) {
      if (this.filter && this.filter !== verdict) continue;
      const members = ORDER.filter((f) => f.verdict === verdict && this.matches(f, text));
      if (members.length) this.waiting.push({ verdict, title, members, next: 0, fold: this.isFolded(verdict, members, text) });
    }
    if (!this.waiting.length && text) {
      this.box.append(el('p', { class: 'empty', role: 'status', text: words('list.none', { text: this.find.value.trim() }) }));
    }
    this.drawMore();
  }

  isFolded(verdict, members, text) {
    return !text && !this.filter && members.length > FOLD_OVER && !this.unfolded.has(verdict);
  }

  // Rows are made as the reader nears them.
  drawMore() {
    let room = CHUNK;
    while (this.waiting.length && room > 0 && this.box.scrollHeight < this.box.scrollTop + this.box.clientHeight * 2 + 400 + (CHUNK - room) * 60) {
      const group = this.waiting[0];
      if (group.next === 0) this.box.append(this.groupHead(group));
      const end = group.fold ? group.members.length : Math.min(group.next + room, group.members.length);
      if (!group.fold) for (const f of group.members.slice(group.next, end)) this.box.append(this.row(f));
      room -= Math.max(end - group.next, 1);
      group.next = end;
      if (end >= group.members.length) this.waiting.shift();
    }
  }

  groupHead({ verdict, title, members, fold }) {
    const count = members.length;
    if (!fold) {
      const [word, ...rest] = title.split(': ');
      const words = el('span', {}, word, rest.length ? el('small', { text: `, ${rest.join(': ')}` }) : null);
      return el('div', { class: 'group', role: 'heading', 'aria-level': '3' }, words, el('span', { text: counted(count) }));
    }
    const button = el('button', { class: 'group' }, el('span', { text: words(`count.${verdict}`, { count }) }), icon('down'));
    button.addEventListener('click', () => { this.unfolded.add(verdict); this.fill(); });
    return button;
  }

  row(f) {
    const isBrief = f.verdict === 'clear' || f.verdict === 'retired';
    const under = [f.lot ? words('list.lot', { lot: f.lot }) : '', f.status === 'proposed' ? words('list.proposed') : ''].filter(Boolean).join(' · ');
    const row = el('button', { class: `row is-${f.verdict}${isBrief ? ' is-brief' : ''}`, 'data-at': f.index,
      'aria-current': this.act.isChosen(f) ? 'true' : null },
    mark(f.verdict), el('span', { class: 'vh', text: `${words('list.row', { verdict: words(`verdict.${f.verdict}`) })} ` }),
    el('span', { class: `num v-${f.verdict}`, text: f.id }),
    el('span', { class: 'say' }, isBrief ? f.brief : f.says, under ? el('small', { text: under }) : null));
    this.rows.push(row);
    return row;
  }

  floatOf(node) {
    const row = node instanceof Element ? node.closest('.row') : null;
    return row ? FLOATS[Number(row.dataset.at)] : null;
  }

  rowClick(event) {
    const f = this.floatOf(event.target);
    if (f) this.act.choose(f);
  }

  point(event) {
    if (event.pointerType !== 'touch') this.act.hover(this.floatOf(event.target));
  }

  findKey(event) {
    if (event.key === 'Enter' && this.rows.length) {
      this.act.choose(floatCalled(this.find.value) || floatsOfLot(this.find.value)[0] || this.floatOf(this.rows[0]));
    }
    if (event.key === 'ArrowDown' && this.rows.length) {
      this.rows[0].focus();
      event.preventDefault();
    }
  }

  rowKey(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const k = this.rows.indexOf(document.activeElement);
    if (!step || k < 0) return;
    event.preventDefault();
    if (k + step < 0) this.find.focus();
    else if (this.rows[k + step]) this.rows[k + step].focus();
  }

  showChosen(f) {
    for (const row of this.rows) {
      if (f && Number(row.dataset.at) === f.index) {
        row.setAttribute('aria-current', 'true');
        row.scrollIntoView({ block: 'nearest' });
      } else row.removeAttribute('aria-current');
    }
  }
}
