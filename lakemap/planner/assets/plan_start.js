// Everything is wired here, once: tabs of the small screen, buttons, keys.
const PARTS = [['side', 'tab.changes'], ['panel', 'tab.float'], ['strip', 'tab.water']];
const Tabs = {
  at: 'side',
  sheet: null,
  buttons: new Map(),

  build() {
    for (const [id, key] of PARTS) {
      const button = el('button', { role: 'tab', id: `tab-${id}`, 'aria-controls': id, text: words(key) });
      button.addEventListener('click', () => Tabs.tapped(id));
      Tabs.buttons.set(id, button);
    }
    byId('tabs').append(...Tabs.buttons.values());
    byId('tabs').addEventListener('keydown', (event) => Tabs.key(event));
    Tabs.sheet = new Sheet(byId('sheet'), {
      stops: [() => byId('tabs').offsetHeight + 24, (room) => room * 0.5, (room) => room - byId('doing').offsetHeight], isOn: isSmall, onMove: () => Tabs.moved(),
    });
    Tabs.place();
  },

  // On a small screen the three parts stand in the sheet, else beside the map.
  place() {
    const small = isSmall();
    for (const [name, node] of [['--head', document.querySelector('.head')], ['--doing', byId('doing')]]) byId('app').style.setProperty(name, `${node.offsetHeight}px`);
    if (small !== (byId('side').parentNode === byId('sheet'))) {
      if (small) byId('sheet').append(...PARTS.map(([id]) => byId(id)));
      else { byId('map').before(byId('side')); byId('map').after(byId('panel'), byId('strip')); }
    }
    for (const [id] of PARTS) {
      const isOn = id === Tabs.at;
      byId(id).classList.toggle('is-tab', isOn);
      if (small) byId(id).setAttribute('role', 'tabpanel');
      else byId(id).removeAttribute('role');
      Tabs.buttons.get(id).setAttribute('aria-selected', String(isOn));
      Tabs.buttons.get(id).tabIndex = isOn ? 0 : -1;
    }
    Tabs.sheet.set(Tabs.sheet.stop);
  },

  name(id, text) {
    const button = Tabs.buttons.get(id);
    if (button && button.textContent !== text) button.textContent = text;
  },

  tapped(id) {
    if (Tabs.sheet.justDragged) return;
    if (id === Tabs.at && Tabs.sheet.stop > 0) Tabs.fold();
    else Tabs.open(id);
  },

  open(id) {
    Tabs.at = id;
    if (Tabs.sheet.stop === 0) Tabs.sheet.stop = 1;
    Tabs.place();
    planner.side.drawMore();
    const { chosen } = planner.field.look;
    if (chosen) planner.field.show(chosen.x, chosen.y);
  },

  get height() { return Tabs.sheet.heightOf(Tabs.sheet.stop); },

  fold() { if (Tabs.sheet.stop > 0) Tabs.sheet.set(0); },

  moved() {
    byId('sheet').classList.toggle('is-folded', Tabs.sheet ? Tabs.sheet.stop === 0 : true);
    if (window.plannerIsUp) planner.field.redrawAll();
  },

  key(event) {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    const ids = PARTS.map(([id]) => id);
    Tabs.open(ids[(ids.indexOf(Tabs.at) + step + 3) % 3]);
    Tabs.buttons.get(Tabs.at).focus();
    event.preventDefault();
  },
};

document.documentElement.classList.add('scripted');
for (const node of document.querySelectorAll('[data-icon]')) node.prepend(icon(node.dataset.icon));
const planner = new Planner();
Tabs.build();

const ACTS = {
  undo: () => planner.go(-1),
  redo: () => planner.go(1),
  add: () => (planner.field.isAdding ? planner.places.stop() : planner.places.begin()),
  compare: () => { menu(false); planner.compare(!planner.isComparing); },
  save: () => planner.saving.begin(),
  more: () => menu(byId('menu').hidden),
  key: () => { menu(false); foldKey(!byId('key').classList.contains('is-folded')); },
  nearer: () => planner.field.map.zoomIn(0.5),
  farther: () => planner.field.map.zoomOut(0.5),
  whole: () => planner.field.showWhole(),
  hush: () => { if (planner.field.isAdding) planner.places.stop(); say(''); },
  step: () => { if (!Tabs.sheet.justDragged) Tabs.sheet.step(); },
};
for (const node of document.querySelectorAll('[data-do]')) node.addEventListener('click', () => ACTS[node.dataset.do]());
byId('fold').addEventListener('click', () => foldKey(!byId('key').classList.contains('is-folded')));

function menu(isOpen) {
  byId('menu').hidden = !isOpen;
  document.querySelector('[data-do="more"]').setAttribute('aria-expanded', String(isOpen));
}

function foldKey(isFolded) {
  byId('key').classList.toggle('is-folded', isFolded);
  byId('fold').setAttribute('aria-expanded', String(!isFolded));
  planner.field.redrawAll();
}

// What Esc ends, the nearest thing first; true where there was something.
function escaped() {
  const { field, hand, places, steps } = planner;
  if (!byId('menu').hidden) { menu(false); return; }
  if (hand.cancel()) return;
  if (Told.isOpen()) { Told.shut(); return; }
  if (field.isAdding) { places.stop(); return; }
  const { chosen } = field.look;
  if (chosen && steps.movedLast() === chosen.id) {
    planner.go(-1);
    say(words('form.is_back', { float: chosen.id }));
    return;
  }
  if (chosen) planner.choose(null);
  else if (places.chosen) places.choose(places.chosen);
  else if (planner.isComparing) planner.compare(false);
  else say('');
}

const isTyping = (node) => node.matches && node.matches('input:not([type="checkbox"]), textarea, select');
const takesArrows = (node) => isTyping(node) || node.closest('[role="slider"], [role="tab"], .rows');

function pressed(event) {
  const { target } = event;
  const isCommand = event.ctrlKey || event.metaKey;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (isCommand && key === 's') { event.preventDefault(); planner.saving.begin(); return; }
  if (isCommand && (key === 'z' || key === 'y') && !isTyping(target)) {
    event.preventDefault();
    planner.go(key === 'y' || event.shiftKey ? 1 : -1);
    return;
  }
  if (isCommand || event.altKey) return;
  if (key === 'Escape' && !isTyping(target)) { escaped(); return; }
  if (ARROWS[key] && planner.field.look.chosen && !planner.field.isAdding && !takesArrows(target)) {
    event.preventDefault();
    event.stopPropagation(); // else the map would move too
    planner.hand.push(key, event.shiftKey);
    return;
  }
  if (isTyping(target)) return;
  if (key === 'Enter' && target === byId('field') && planner.field.isAdding) { planner.places.why(...planner.field.middle()); return; }
  if (key === '/') {
    if (isSmall()) Tabs.open('side');
    planner.side.find.focus();
    event.preventDefault();
  }
  if (target === byId('field')) return; // the map itself answers to these
  if (key === '+' || key === '=') planner.field.map.zoomIn(0.5);
  if (key === '-') planner.field.map.zoomOut(0.5);
}
document.addEventListener('keydown', pressed, true);
for (const type of ['focus', 'blur']) byId('field').addEventListener(type, () => planner.field.redraw());

window.addEventListener('resize', () => {
  Tabs.place();
  planner.field.map.invalidateSize({ animate: false });
  planner.field.redrawAll();
});
window.addEventListener('beforeunload', (event) => {
  planner.form.flush();
  if (planner.steps.count && !planner.isLeaving) event.preventDefault();
});

planner.restore();
planner.showState();
planner.side.fill();
window.plannerIsUp = true;
planner.field.map.invalidateSize({ animate: false });
planner.field.open();
planner.askPlan();
planner.field.redrawAll();
