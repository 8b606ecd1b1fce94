// The bar over the map: what is being drawn, and how it ends.
function fillBar(app) {
  const { look, model } = app;
  const { open } = model.state;
  const bar = byId('bar');
  const crossing = app.crossings().length > 0;
  bar.hidden = look.tool === 'choose' && !(crossing && look.chosen && look.chosen.corner);
  if (bar.hidden) return;
  const done = buttonOf('Done', () => app.leave(), { main: true, id: 'bar done' });
  if (look.tool === 'depth') { bar.replaceChildren(el('p', { text: `${CLICK} where a depth was taken, then type it.` }), done); return; }
  if (look.tool === 'point') { bar.replaceChildren(el('p', { text: `${CLICK} a point of the picture whose position you know.` }), done); return; }
  const warn = el('p', { class: 'v-conflict', role: 'alert', text: 'It crosses itself at the red mark.' });
  if (!open) { bar.replaceChildren(warn); return; }
  const least = open.line ? LEAST_CORNERS.line : LEAST_CORNERS.area;
  const count = open.points.length;
  const says = count < least ? `${CLICK.toLowerCase()} its corners one after the other` : open.line ? 'go on, or finish' : `${CLICK.toLowerCase()} the first one to close it`;
  const trace = buttonOf('Trace', () => { look.tracing = !look.tracing; app.refresh(); }, { sign: 'hand', id: 'bar trace' });
  trace.setAttribute('aria-pressed', String(look.tracing));
  trace.title = 'Draw by dragging along the shore';
  bar.replaceChildren(crossing ? warn : el('p', {}, el('b', { text: `${capital(KINDS.get(open.kind).name)}: ` }), `${plural(count, 'corner')}; ${look.tracing ? 'drag along it' : says}.`),
    trace, buttonOf('Finish', () => app.finish(), { main: true, id: 'bar finish', off: count < least }), buttonOf('Leave', () => app.leave(), { id: 'bar leave' }));
}
