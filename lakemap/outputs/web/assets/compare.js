// What changed: where floats were, dotted, with an arrow to where they are; first in the list, and in the panel.
const CHANGES = {
  ...DATA.compare,
  rows: DATA.compare.rows.map((one) => ({
    ...one, f: one.at === null ? null : FLOATS[one.at],
    was: one.was && { x: one.was[0] * CM, y: one.was[1] * CM, radii: [one.was[2] === null ? null : one.was[2] * CM] },
  })),
};
const changeLook = { on: true, brush: null, labels: [], unfolded: false };
const FIRST_CHANGES = 12; // in the list before the rest is asked for
const LEAST_OLD_CIRCLE = 6; // px of radius, to be drawn
const LEAST_LABELLED = 12; // px of radius, to be written at
const LEAST_ARROW = 14; // px
const ARROW_HEAD = 8; // px
const LEAST_APART = 3; // px between an old and a new circle

const isLit = (b, one) => one.f && (one.f === b.look.chosen || one.f === b.look.hovered);

// A circle that lies on its old one as far as the eye can tell is not drawn twice.
function isApart(b, one) {
  const { was, f } = one;
  if (!f || one.verdict === 'retired' || isLit(b, one)) return true;
  const apart = Math.max(Math.hypot(f.x - was.x, f.y - was.y), Math.abs((was.radii[0] || 0) - (f.radii[0] || 0)));
  return apart * b.cam.ppm >= LEAST_APART;
}

// Beside the old circle, on the side that the float came from first.
function placeChange(b, one, taken) {
  const { was } = one;
  const [px, py] = b.at(was.x, was.y);
  const r = (was.radii[0] || 0) * b.cam.ppm;
  if (!one.label || (r < LEAST_LABELLED && !isLit(b, one)) || !b.isSeen(px, py, r) || !isApart(b, one)) return null;
  const size = 11.5;
  const words = cut(one.label, 34);
  const width = b.widthOf(words, size, 600) + 8;
  const to = one.f && one.arrow ? b.at(one.f.x, one.f.y) : [px, py - 1];
  const back = Math.atan2(py - to[1], px - to[0]);
  const boxes = [0, 0.7, -0.7, 1.4, -1.4, 2.2, -2.2, Math.PI].map((turn) => {
    const [ux, uy] = [Math.cos(back + turn), Math.sin(back + turn)];
    return boxAt(px + ux * (r + 6 + width / 2 * Math.abs(ux)), py + uy * (r + 12), width, size + 8);
  }).filter((box) => b.holds(box) && b.room.isFree(box));
  // beside the float that is looked at words may lie on a circle, but not on a card
  const box = boxes.find((one) => taken.floats.isFree(one) && taken.cards.isFree(one))
    || (isLit(b, one) ? boxes.find((one) => taken.cards.isFree(one)) : null);
  if (!box) return null;
  b.room.take(box);
  return { words, size, x: (box[0] + box[2]) / 2, y: (box[1] + box[3]) / 2 };
}

function paintArrow(b, from, to, lit) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const far = Math.hypot(dx, dy);
  if (far < LEAST_ARROW) return;
  const [ux, uy] = [dx / far, dy / far];
  const tip = [to[0] - ux * 5, to[1] - uy * 5];
  const base = [tip[0] - ux * ARROW_HEAD, tip[1] - uy * ARROW_HEAD];
  const line = new Path2D();
  line.moveTo(...from);
  line.lineTo(...base);
  const head = new Path2D();
  head.moveTo(...tip);
  head.lineTo(base[0] - uy * 4.5, base[1] + ux * 4.5);
  head.lineTo(base[0] + uy * 4.5, base[1] - ux * 4.5);
  head.closePath();
  b.stroke(line, '#fff', 5);
  b.stroke(head, '#fff', 3);
  b.stroke(line, b.palette.accent, (lit ? 2.8 : 2) * b.bold);
  b.fill(head, b.palette.accent);
}

function paintChange(b, one) {
  const { was } = one;
  const from = b.at(was.x, was.y);
  const r = was.radii[0] === null ? 0 : was.radii[0] * b.cam.ppm;
  const to = one.arrow ? b.at(one.f.x, one.f.y) : from;
  if (!b.isSeen(...from, r + 20) && !b.isSeen(...to, 20)) return;
  const lit = isLit(b, one);
  if (r >= LEAST_OLD_CIRCLE && isApart(b, one)) b.stroke(b.circle(was.x, was.y, was.radii[0]), b.palette.ink, (lit ? 2 : 1.5) * b.bold, [2, 3.4]);
  if (one.arrow) {
    paintArrow(b, from, to, lit);
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) >= LEAST_ARROW) paintSquare(b, from, 5, { open: true });
  } else if (!one.f) paintSquare(b, from, 5, { open: true });
}

// Room for the words is taken before the map's own names are written.
const paintLakeUnchanged = paintLake;
paintLake = (b) => {
  paintLakeUnchanged(b);
  if (!changeLook.on || b.look !== app.look) return; // not in a float's own small picture
  changeLook.brush = b;
  const taken = { cards: new Room(), floats: new Room() };
  for (const box of b.look.cards) taken.cards.take(box);
  if (!showsMarks(b)) for (const f of seenFloats(b)) taken.floats.take(boxAt(...b.at(f.x, f.y), ...Array(2).fill((f.radii[0] || 0) * b.cam.ppm * 1.7)));
  changeLook.labels = CHANGES.rows.filter((one) => one.was).map((one) => placeChange(b, one, taken)).filter(Boolean);
};

const fillPanelUnchanged = fillPanel;
fillPanel = (panel, f, look, options) => {
  fillPanelUnchanged(panel, f, look, options);
  const one = CHANGES.rows.find((row) => row.f === f);
  const verdict = panel.querySelector('.verdict');
  if (one && verdict) verdict.after(changePart(one));
};

// The old figure stands beside the new one.
function changePart(one) {
  const rows = one.figures.map(([name, was, now]) => [name, now, `was ${was}`]);
  return el('div', { class: 'change-part' },
    el('h3', {}, `${CHANGES.title} `, el('small', { text: CHANGES.since })),
    el('p', {}, el('b', { text: `${one.what}. ` }), capital(one.then), '.'),
    rows.length ? pairs(rows) : null);
}

List = class extends List {
  constructor(act) {
    super(act);
    this.changeRows = [];
  }

  fill() {
    super.fill();
    this.changeRows = [];
    if (!this.filter && !this.find.value.trim()) this.box.prepend(this.changesPart());
  }

  changesPart() {
    const all = changeLook.unfolded || CHANGES.rows.length <= FIRST_CHANGES + 3;
    const shown = all ? CHANGES.rows : CHANGES.rows.slice(0, FIRST_CHANGES);
    this.changeRows = shown.map((one) => this.changeRow(one));
    const part = el('div', { class: 'changes' }, this.changeHead(CHANGES.title, CHANGES.since, CHANGES.rows.length),
      el('div', { class: 'change-first' }, el('p', { text: CHANGES.brief }), this.changeSwitch()));
    if (CHANGES.fieldFirst) part.append(...this.fieldPart());
    part.append(...this.changeRows);
    if (!all) {
      const more = el('button', { class: 'link change-more', text: `${CHANGES.more} (${CHANGES.rows.length})` });
      more.addEventListener('click', () => { changeLook.unfolded = true; this.fill(); });
      part.append(more);
    }
    if (!CHANGES.fieldFirst) part.append(...this.fieldPart());
    part.addEventListener('keydown', (event) => this.changeKey(event));
    return part;
  }

  fieldPart() {
    if (!CHANGES.field.length) return [];
    return [this.changeHead(CHANGES.fieldTitle, '', CHANGES.field.length), el('ul', { class: 'change-field' }, ...CHANGES.field.map((text) => el('li', { text })))];
  }

  changeHead(title, under, count) {
    return el('div', { class: 'group', role: 'heading', 'aria-level': '3' },
      el('span', {}, title, under ? el('small', { text: ` ${under}` }) : null), el('span', { text: String(count) }));
  }

  changeSwitch() {
    if (!CHANGES.rows.some((one) => one.was)) return null;
    const box = el('input', { type: 'checkbox', checked: changeLook.on });
    box.addEventListener('change', () => app.showChanges(box.checked));
    return el('label', { class: 'change-switch' }, box, CHANGES.switch);
  }

  changeRow(one) {
    const row = el('button', { class: `row change-row is-${one.verdict}`, 'data-at': one.f ? one.f.index : null,
      'aria-current': one.f && this.act.isChosen(one.f) ? 'true' : null },
    mark(one.verdict), el('span', { class: `num v-${one.verdict}`, text: one.id }),
    el('span', { class: 'say' }, one.what, el('small', { text: one.then }), one.says ? el('small', { text: one.says }) : null));
    if (!one.f) row.addEventListener('click', () => app.showOld(one));
    return row;
  }

  changeKey(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const k = this.changeRows.indexOf(document.activeElement);
    if (!step || k < 0) return;
    event.preventDefault();
    event.stopPropagation();
    const next = k + step < 0 ? this.find : this.changeRows[k + step] || this.rows[0];
    if (next) next.focus();
  }

  showChosen(f) {
    const own = this.changeRows.find((row) => f && Number(row.dataset.at) === f.index && row.dataset.at !== undefined);
    for (const row of this.changeRows) if (row !== own) row.removeAttribute('aria-current');
    if (!own || !own.isConnected) { super.showChosen(f); return; }
    own.setAttribute('aria-current', 'true');
    for (const row of this.rows) {
      if (Number(row.dataset.at) === f.index) row.setAttribute('aria-current', 'true');
      else row.removeAttribute('aria-current');
    }
    own.scrollIntoView({ block: 'nearest' });
  }
};

App = class extends App {
  paint() {
    changeLook.brush = null;
    super.paint();
    const b = changeLook.brush;
    if (!b) return;
    for (const one of CHANGES.rows) if (one.was && !isLit(b, one)) paintChange(b, one);
    for (const one of CHANGES.rows) if (one.was && isLit(b, one)) paintChange(b, one);
    for (const one of changeLook.labels) b.text(one.words, one.x, one.y, { size: one.size, weight: 600 });
  }

  showChanges(on) {
    changeLook.on = on;
    this.node.classList.toggle('changes-off', !on);
    this.redraw();
  }

  // A float that is no longer there: the map goes to where it was.
  showOld(one) {
    if (this.look.chosen) this.choose(null);
    this.node.classList.remove('show-list');
    this.listSheet.set(0);
    if (!one.was) return;
    if (!changeLook.on) { this.showChanges(true); this.list.fill(); }
    this.lookAt(one.was);
    this.redraw();
  }
};
