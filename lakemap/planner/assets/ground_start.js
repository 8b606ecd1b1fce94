// Everything is wired here, once.
document.documentElement.classList.add('scripted');
for (const node of document.querySelectorAll('[data-icon]')) node.prepend(icon(node.dataset.icon));
const app = new App();

const WIRED = {
  undo: () => app.undo(),
  redo: () => app.redo(),
  snap: () => { app.look.snap = !app.look.snap; app.refresh(); },
  save: () => app.save(),
  list: () => { app.node.classList.toggle('show-list'); },
  step: () => { if (!app.listSheet.justDragged) app.listSheet.step(); },
  onward: () => { const { step } = byId('onward').dataset; app.setStep(step); if (step === 'save' && isNarrow()) app.openPanel(); },
  nearer: () => app.map.zoomIn(0.5),
  farther: () => app.map.zoomOut(0.5),
  whole: () => app.showWhole(),
  hush: () => say(''),
  undepth: () => app.removeDepth(app.look.chosen.depth),
};
for (const node of document.querySelectorAll('[data-act]')) node.addEventListener('click', WIRED[node.dataset.act]);

byId('depth').addEventListener('submit', (event) => {
  event.preventDefault();
  app.closeDepth();
  byId('field').focus({ preventScroll: true });
  app.refresh();
});

// A picture may be dropped onto the page, too.
byId('map').addEventListener('dragover', (event) => event.preventDefault());
byId('map').addEventListener('drop', (event) => {
  event.preventDefault();
  const [file] = event.dataTransfer.files;
  if (file) { app.setStep('picture'); app.picture.choose(file); }
});

window.addEventListener('resize', () => {
  app.listSheet.set(app.listSheet.stop);
  app.panelSheet.set(app.panelSheet.stop);
  app.map.invalidateSize({ animate: false });
  app.redraw();
});
window.addEventListener('pagehide', () => app.model.keep());

if (isNarrow()) app.node.classList.remove('is-open');
if (app.savedNote) { app.look.step = 'save'; if (isNarrow()) app.openPanel(); }
for (const text of DATA.notes) say(capital(text));
app.listSheet.set(0);
app.refresh();
app.showWhole();
if (app.model.state.middle) app.checker.now();
app.picture.restore().then(() => { app.isReady = true; app.refresh(); });
