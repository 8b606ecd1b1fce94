// The fields on the right: of what is chosen, else of the step.
class Panel {
  constructor(app) {
    this.app = app;
    this.node = byId('panel');
    this.signature = null;
    this.updates = [];
  }

  // Built anew only where something else is to be shown, so that typing is never disturbed.
  fill() {
    const { app } = this;
    const signature = this.signatureOf();
    if (signature === this.signature) { for (const update of this.updates) update(); return; }
    const isSame = this.signature !== null && signature.split('|')[0] === this.signature.split('|')[0];
    const focus = this.node.contains(document.activeElement) ? document.activeElement.dataset.id : null;
    const top = isSame ? this.node.scrollTop : 0;
    this.signature = signature;
    this.updates = [];
    const { chosen, step } = app.look;
    const shape = chosen && app.model.shape(chosen.key);
    const [title, ...rest] = shape ? this.ofShape(shape) : this[`of_${step}`](app.model.state);
    const heading = el('h2', { text: title, tabindex: '-1' });
    const shut = el('button', { class: 'shut narrow', 'aria-label': 'Close', 'data-id': 'shut' }, icon('shut'));
    shut.addEventListener('click', () => app.closePanel());
    const handle = el('button', { class: 'handle', 'aria-label': 'Unfold or fold these fields' });
    handle.addEventListener('click', () => { if (!app.panelSheet.justDragged) app.panelSheet.step(); });
    this.node.replaceChildren(handle, el('div', { class: 'inside' }, el('div', { class: 'top grip' }, heading, shut), ...rest));
    this.node.scrollTop = top;
    if (focus) { const again = [...this.node.querySelectorAll('[data-id]')].find((node) => node.dataset.id === focus); if (again) again.focus({ preventScroll: true }); }
    for (const update of this.updates) update();
  }

  signatureOf() {
    const { look, model, picture, savedNote } = this.app;
    const { state } = model;
    const shape = look.chosen && model.shape(look.chosen.key);
    const what = shape ? `shape ${shape.key} ${shape.kind} ${shape.line}` : `step ${look.step}`;
    const pictured = state.picture ? `${state.picture.points.length} ${state.picture.kind} ${picture.isShown}` : '';
    return [what, model.jumps, state.units, state.ground, pictured, Boolean(state.open), state.shapes.length, Boolean(savedNote), Boolean(look.armed)].join('|');
  }

  // Words that follow the drawing without the fields being built anew.
  live(node, of) {
    this.updates.push(() => { const text = of(); if (node.textContent !== text) node.textContent = text; node.hidden = !text; });
    return node;
  }

  problems(of) {
    const list = el('ul', { class: 'wrong' });
    this.updates.push(() => {
      const found = of();
      list.hidden = !found.length;
      list.replaceChildren(...found.map((one) => el('li', { class: one.stops ? '' : 'is-caution', text: one.text })));
    });
    return list;
  }

  ofShape(shape) {
    const { app } = this;
    const { model } = app;
    const isZone = !SHORE_KINDS.has(shape.kind);
    const set = (key) => (value) => model.withShape(shape.key, { [key]: value });
    const field = (label, key, more = {}) => fieldOf(label, shape[key], { id: `${shape.key} ${key}`, said: `changed the ${label.toLowerCase()}`, set: set(key), ...more });
    const kinds = [...KINDS].filter(([kind]) => !SHORE_KINDS.has(kind) && (!shape.line || KINDS.get(kind).line)).map(([kind, one]) => [kind, capital(one.name)]);
    const size = () => { const found = app.checker.found.sizes[shape.key]; return found ? [found.area, `${found.length} ${shape.line ? 'long' : 'around'}`].filter(Boolean).join(', ') : ''; };
    const corner = () => { const now = model.shape(shape.key); return now ? plural(now.lines.reduce((sum, line) => sum + line.length, 0), 'corner') : ''; };
    return [
      capital(KINDS.get(shape.kind).name),
      this.live(el('p', { class: 'about' }), () => [size(), corner()].filter(Boolean).join(' \u00b7 ')),
      this.problems(() => app.checker.ofShape(shape.key)),
      shape.kind === 'frontage' ? noteOf('A lot\u2019s piece of water: its float must stay inside.') : null,
      isZone ? chooserOf('Kind', shape.kind, kinds, { id: `${shape.key} kind`, set: (kind) => model.change('changed the kind', model.withShape(shape.key, { kind })) }) : null,
      shape.kind === 'outline' ? null : field('Name', 'name', { wide: true, hint: isZone ? 'as people call it' : '' }),
      shape.line ? field('Whole width', 'width', { hint: `in ${lengthUnit(model.state.units)} or with a unit` }) : null,
      shape.kind === 'frontage' ? field('Lot', 'lot') : null,
      isZone && shape.kind !== 'frontage' ? field('Distance to keep', 'clearance', { hint: 'blank: as field.toml says' }) : null,
      isZone ? field('Source', 'source', { wide: true, hint: 'who says so' }) : null,
      headOf('Corners'), ...this.cornerTools(shape),
      el('hr'),
      shape.kind === 'outline' && shape.rough ? buttonOf('Draw the real shore', () => app.redrawOutline(shape.key), { main: true }) : null,
      buttonOf(`Delete this ${KINDS.get(shape.kind).name}`, () => app.removeShape(shape.key), { sign: 'bin', id: 'delete' }),
    ];
  }

  cornerTools(shape) {
    const { app } = this;
    const chosen = () => app.look.chosen && app.look.chosen.corner;
    const says = () => (chosen() ? app.cornerSays() : `Drag a corner to move it. ${CLICK} or drag a side to add one.`);
    const add = buttonOf('Add after it', () => app.addAfter());
    const take = buttonOf('Delete it', () => app.removeCorner());
    this.updates.push(() => { for (const node of [add, take]) node.disabled = !chosen(); });
    return [this.live(el('p', { class: 'note' }), says), rowOf(add, take), shape.line ? null : ''];
  }

  of_picture(state) {
    const { app } = this;
    const { model, picture } = app;
    const file = el('input', { type: 'file', accept: 'image/png,image/jpeg', class: 'vh', id: 'file', tabindex: '-1' });
    file.addEventListener('change', () => { if (file.files[0]) picture.choose(file.files[0]); file.value = ''; });
    const choose = buttonOf(picture.isShown ? 'Another picture' : 'Choose a picture', () => file.click(), { main: !picture.isShown && state.ground !== 'grid', sign: 'photo', id: 'choose a picture' });
    const first = IS_NEW && !DATA.has_settings ? [
      fieldOf('Name of the lake', state.name, { id: 'name', said: 'changed the name', set: (name) => ({ name }), wide: true }),
      switchOf('Lengths in', state.units, [['ft-lb', 'feet'], ['m-kg', 'metres']], (units) => { model.change('changed the units', { units }); picture.fix(); }),
    ] : [];
    const over = picture.isShown ? this.pictured(state) : [
      noteOf('Draw over an aerial photo or a scanned lake map: a PNG or JPEG, seen from straight above. It stays on this machine.'),
      rowOf(choose, file),
      ...(IS_NEW ? this.gridded(state) : []),
    ];
    return ['Picture', ...first, ...over, ...(picture.isShown ? [el('hr'), rowOf(choose, buttonOf('Take it away', () => picture.takeAway(), { sign: 'bin' }), file)] : [])];
  }

  gridded(state) {
    const { app } = this;
    if (state.ground !== 'grid') {
      return [headOf('Or without a picture'), noteOf('Draw on a plain grid: by eye, or side by side with lengths that you type.'),
        rowOf(buttonOf('A plain grid', () => app.model.change('took a plain grid', { ground: 'grid' }), { sign: 'grid' }))];
    }
    const set = (key) => (value) => ({ start: { ...app.model.state.start, [key]: value } });
    return [headOf('A plain grid'), noteOf('Type where the lake is, as a phone shows it there, and how long it is about.'),
      fieldOf('Position', state.start.place, { id: 'place', hint: 'LAT, LON', said: 'changed the position', set: set('place'), wide: true }),
      fieldOf('Size', state.start.size, { id: 'size', hint: `as 600 ${lengthUnit(state.units)}`, said: 'changed the size', set: set('size') }),
      rowOf(buttonOf('Go there', () => app.startGrid(), { main: true }))];
  }

  // The picture's points: each with its position and what is left over there.
  pictured(state) {
    const { app } = this;
    const { model, picture } = app;
    const { points } = state.picture;
    const set = (k) => (place) => ({ picture: { ...model.state.picture, points: model.state.picture.points.map((one, j) => (j === k ? { ...one, place } : one)) } });
    const told = (k) => (picture.told && picture.told.points[k]) || {};
    const rows = points.map((one, k) => {
      const row = fieldOf(`Point ${k + 1}`, one.place, { id: `point ${k}`, said: 'typed a position', set: set(k), wide: true });
      row.querySelector('input').placeholder = 'LAT, LON';
      row.querySelector('input').addEventListener('change', () => picture.fix());
      const wrong = this.live(el('small', { class: 'v-conflict' }), () => told(k).problem || '');
      const left = this.live(el('small', { class: 'left' }), () => (told(k).residual ? `off by ${told(k).residual}` : ''));
      const bin = el('button', { class: 'bare', type: 'button', 'aria-label': `Take point ${k + 1} away`, 'data-id': `bin ${k}` }, icon('bin'));
      bin.addEventListener('click', () => picture.setPoints('took a point away', model.state.picture.points.filter((_, j) => j !== k)));
      return el('div', { class: 'point' }, row, bin, left, wrong);
    });
    const strength = el('input', { type: 'range', min: '20', max: '100', 'data-id': 'strength', 'aria-label': 'Strength of the picture' });
    strength.value = String(picture.strength * 100);
    strength.addEventListener('input', () => { picture.strength = strength.value / 100; app.redraw(); });
    return [
      noteOf(`${CLICK} a point of the picture whose position you know: the end of a dock, a corner of a house. Type its position as a phone shows it there. Two points fix the picture; three or more, far apart, tell how well.`),
      ...rows,
      rowOf(buttonOf('Mark a point', () => app.setTool('point'), { main: points.length < 2, sign: 'where' })),
      this.live(el('p', { class: 'result' }), () => (picture.told ? [picture.told.says, picture.told.scale ? `${picture.told.scale}.` : ''].join(' ') : '')),
      this.warnings(() => (picture.told ? picture.told.warnings : [])),
      points.length > 2 ? switchOf('The picture may', state.picture.kind, [['similarity', 'turn and scale'], ['affine', 'stretch, too']], (kind) => picture.setPoints('changed the fit', points, { kind })) : null,
      el('label', { class: 'field-row' }, el('span', { class: 'named', text: 'Strength' }), strength),
      tickOf('Keep the picture with the field', picture.keep, (keep) => { picture.keep = keep; app.refresh(); }),
    ];
  }

  warnings(of) { return this.problems(() => of().map((text) => ({ text, stops: false }))); }

  of_outline(state) { return ['Outline', ...this.drawing(state, ['outline'], `Go around the lake along the shore at normal level and ${CLICK.toLowerCase()} at each bend: twenty corners make a good start. ${CLICK} the first corner to close it.`)]; }

  of_islands(state) { return ['Islands', ...this.drawing(state, ['island'], 'Go around each island in the same way. Skip this step if there are none.')]; }

  of_areas(state) { return ['Areas to keep clear of', ...this.drawing(state, DATA.kinds.map((one) => one.kind), `Choose what it is, then ${CLICK.toLowerCase()} its corners. A channel, a ramp or a dock is drawn along its middle and has a width.`)]; }

  drawing(state, kinds, says) {
    const { app } = this;
    const where = state.middle ? [] : [el('p', { class: 'wrong is-caution', text: 'First step 1: fix a picture by two points, or take a plain grid.' })];
    if (state.open) return [noteOf(says), ...this.legs()];
    const start = kinds.map((kind) => buttonOf(`Draw ${kind === 'outline' ? 'the outline' : article(KINDS.get(kind).name)}`, () => app.begin(kind), { main: kinds.length === 1, sign: 'pen', id: kind, off: !state.middle }));
    const asLine = kinds.length > 1 ? [tickOf('Draw hazards, intakes and no-float areas as a line with a width', app.look.asLine, (value) => { app.look.asLine = value; })] : [];
    return [noteOf(says), ...where, el('div', { class: 'stack' }, ...start), ...asLine, this.problems(() => app.checker.of(app.look.step).filter((one) => app.model.state.middle && !/is missing$/.test(one.text)))];
  }

  // The next corner by its length and bearing, for those who have a tape and a compass.
  legs() {
    const { app } = this;
    const length = el('input', { 'data-id': 'leg', inputmode: 'decimal', autocomplete: 'off', placeholder: `120 ${lengthUnit(app.model.state.units)}` });
    const towards = el('input', { 'data-id': 'towards', inputmode: 'decimal', autocomplete: 'off', placeholder: '90' });
    const form = el('form', { class: 'legs' }, el('label', { class: 'field-row' }, el('span', { class: 'named', text: 'Length' }), length),
      el('label', { class: 'field-row' }, el('span', { class: 'named' }, el('span', { text: 'True bearing' }), el('small', { text: 'degrees, or as ENE' })), towards), el('button', { class: 'act', type: 'submit', text: 'Add this corner' }));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      if (app.addLeg(length.value, towards.value)) { length.value = ''; towards.value = ''; length.focus(); }
    });
    return [headOf('Or type the next corner'), form];
  }

  of_depths(state) {
    const { app } = this;
    const count = () => {
      const all = app.model.state.depths.filter((one) => one.depth).length;
      return all ? `${plural(all, 'new depth')}.` : '';
    };
    return ['Depths', noteOf(`${CLICK} where a depth was taken, type it, press Enter, go on. Eight spread over the lake are a start; more where floats lie.`),
      DATA.soundings.length ? noteOf(`${plural(DATA.soundings.length, 'depth')} stand in the field already; new ones are put to them. ${CLICK} the figure of one to change it or take it away. What depths do to the floats shows after the save.`) : null,
      rowOf(buttonOf('Add depths', () => app.setTool('depth'), { main: true, sign: 'plus', off: !state.middle })),
      this.live(el('p', { class: 'result' }), count),
      this.problems(() => app.checker.of('depths')),
      IS_NEW && !DATA.has_settings ? fieldOf('Gauge when they were taken', state.levels.soundings, { id: 'soundings', hint: 'blank: normal level', said: 'changed the gauge', set: (soundings) => ({ levels: { ...app.model.state.levels, soundings } }) }) : null];
  }

  of_levels(state) {
    const { app } = this;
    const { model } = app;
    if (DATA.has_settings) return ['Levels and storm', noteOf('They stand in field.toml; change them there.'), ...['low', 'normal', 'high'].map((key) => el('p', { class: 'pair' }, el('span', { text: capital(key) }), el('b', { text: state.levels[key] })))];
    const level = (key, hint) => fieldOf(`${capital(key)} water`, state.levels[key], { id: key, hint, said: `changed ${key} water`, set: (value) => ({ levels: { ...model.state.levels, [key]: value } }) });
    const storm = (key, label, hint) => fieldOf(label, state.storm[key], { id: key, hint, said: 'changed the storm', set: (value) => ({ storm: { ...model.state.storm, [key]: value } }) });
        return ['Levels and storm', noteOf(`Heights on the lake\u2019s own gauge in ${lengthUnit(state.units)}; up is +. Today\u2019s normal may be called 0. The lowest water that anybody remembers makes the circles largest.`),
      level('low', 'as \u22121.5'), level('normal', 'as 0'), level('high', 'as 1'),
      headOf('Storm'), noteOf('What the rigs are sized for. Left blank, an example stands there: a wind of 50 mph, gusts of 70.'),
      storm('wind', 'Wind', `10-minute mean, in ${isMetric(state.units) ? 'm/s' : 'mph'}`), storm('gust', 'Gust', '3 seconds; blank: from the wind'),
      this.problems(() => app.checker.of('levels'))];
  }

  of_save() {
    const { app } = this;
    const note = app.savedNote;
    if (note) {
      return ['Saved', el('ul', { class: 'written' }, ...note.files.map((name) => el('li', { text: name }))), ...note.says.map(noteOf),
        el('a', { class: 'act main', href: './', 'data-id': 'on', text: 'Go on to the floats' }), noteOf('Or go on drawing here; save again when you like.'), this.saveButton(false)];
    }
    const gap = (step) => app.guide.stateOf(step);
    const said = { depths: 'No depths: circles cannot be checked.', levels: 'No levels typed: guesses stand in field.toml until you write your own.' };
    const missing = () => ['depths', 'levels'].filter((step) => gap(step)[0] === 'missing').map((step) => ({ text: said[step], stops: false }));
    return ['Save', noteOf(IS_NEW ? `Writes the field\u2019s files into the folder ${DATA.folder}. Until then only this browser keeps the drawing.` : 'Writes what has changed into the field\u2019s own files; the files as they were are kept beside them.'),
      this.live(el('p', { class: 'result' }), () => app.countsSay()), this.problems(() => [...app.checker.stops, ...missing()]), this.saveButton(true), el('hr'), ...this.throwAway(),
      IS_NEW ? null : el('a', { class: 'act', href: './', 'data-id': 'on', text: 'Back to the floats' })];
  }

  saveButton(main) {
    const button = buttonOf('Save', () => this.app.save(), { main, id: 'save' });
    this.updates.push(() => { button.disabled = !this.app.model.isChanged || this.app.isSaving; });
    return rowOf(button);
  }

  throwAway() {
    const { app } = this;
    if (!app.model.isChanged) return [];
    if (!app.look.armed) return [rowOf(buttonOf('Throw this drawing away', () => { app.look.armed = true; app.refresh(); }, { sign: 'bin' }))];
    return [el('p', { class: 'note', text: 'All that was not saved is gone then.' }), rowOf(buttonOf('Throw it away', () => app.throwAway()), buttonOf('Keep it', () => { app.look.armed = false; app.refresh(); }))];
  }
}

const article = (name) => `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
