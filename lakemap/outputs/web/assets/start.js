// Everything is wired here, once.
for (const node of document.querySelectorAll('[data-icon]')) node.prepend(icon(node.dataset.icon));
const app = new App();

for (const node of document.querySelectorAll('[data-act]')) {
  const act = {
    whole: () => { if (isPhone()) app.choose(null); app.showWhole(); },
    back: () => { app.choose(null); app.showWhole(); },
    nearer: () => app.map.zoomIn(0.5),
    farther: () => app.map.zoomOut(0.5),
    where: () => app.locate(),
    sun: () => app.setSun(!app.look.sun),
    print: () => window.print(),
    list: () => toggle('show-list', node),
    tools: () => toggle('show-tools', node),
    key: () => toggle('show-key', node),
    map: () => app.showMap(),
    hush: () => { say(''); byId('field').focus({ preventScroll: true }); app.redraw(); },
    step: () => { if (!app.listSheet.justDragged) app.listSheet.step(); },
    mine: () => { app.listSheet.set(2); app.list.find.focus(); },
  }[node.dataset.act];
  node.addEventListener('click', act);
}
[...byId('levels').children].forEach((button, k) => button.addEventListener('click', () => app.setLevel(k)));

let opener = null;
function toggle(name, from = null) {
  const on = !app.node.classList.contains(name);
  const inside = { 'show-tools': '#tools button', 'show-key': '#fold' }[name];
  // what opened a menu is shown when the menu in between is gone
  if (on && !(from && from.closest('#tools'))) opener = from;
  closeMenus();
  setMenu(name, on);
  if (on && inside) [...document.querySelectorAll(inside)].find((node) => node.offsetParent).focus({ preventScroll: true });
  if (!on) giveBack();
  app.redraw();
}

function giveBack() {
  if (opener && opener.offsetParent) opener.focus({ preventScroll: true });
  opener = null;
}

byId('fold').addEventListener('click', () => {
  if (app.node.classList.contains('show-key')) { toggle('show-key'); return; }
  const isFolded = byId('key').classList.toggle('is-folded');
  byId('fold').setAttribute('aria-expanded', String(!isFolded));
  app.redraw();
});

document.addEventListener('keydown', (event) => {
  const typing = document.activeElement === app.list.find;
  if (event.key === 'Escape') {
    if (app.node.classList.contains('show-tools') || app.node.classList.contains('show-key')) { closeMenus(); giveBack(); }
    else if (app.look.chosen) app.choose(null);
    else if (typing && app.list.find.value) { app.list.find.value = ''; app.list.fill(); } else if (typing) app.list.find.blur();
    else { closeMenus(); giveBack(); app.clearSpot(); app.listSheet.set(0); }
    app.redraw();
  }
  if (typing || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === '/') {
    if (isPhone()) app.listSheet.set(2);
    else if (!byId('list').offsetParent) setMenu('show-list', true);
    app.list.find.focus();
    event.preventDefault();
  }
  // the map itself answers to these when it has the focus
  if (document.activeElement === byId('field')) return;
  if (event.key === '+' || event.key === '=') app.map.zoomIn(0.5);
  if (event.key === '-') app.map.zoomOut(0.5);
});

let wasPhone = isPhone();
window.addEventListener('resize', () => {
  app.listSheet.set(app.listSheet.stop);
  app.panelSheet.set(app.panelSheet.stop);
  if (wasPhone !== isPhone() && app.look.chosen) app.fill();
  wasPhone = isPhone();
  app.map.invalidateSize({ animate: false });
  app.redraw();
});
for (const name of ['hashchange', 'popstate']) window.addEventListener(name, () => app.readAddress());

if (window.matchMedia('(prefers-contrast: more)').matches) app.setSun(true);
app.listSheet.set(0);
app.open();
if (!app.readAddress() && FLOATS.length === 1) app.choose(FLOATS[0], { write: false });
if (FLOATS.length > FOLD_OVER && !isPhone() && !app.look.chosen) app.list.find.focus();
app.paint();
// a phone's list is folded at first: the map need not wait for its rows
if (isPhone()) setTimeout(() => app.list.fill(), 60);
else app.list.fill();
document.documentElement.classList.remove('is-starting');
