// What the storm asks of a float's rig, part by part, and whether the primary holds: three answers apart.
const shared = (k) => DATA.texts[k];

function loads(f) {
  const get = (key) => workValue(f, key);
  if (get('mean_pull') === null) return [el('h3', { text: 'Loads in the storm' }), el('p', { class: 'note', text: 'Not known: the open water around it or its depth is missing.' })];
  const up = (key) => forceWords(get(key), Math.ceil);
  const wind = speedWords(windOf(f));
  const rows = [
    [`Wind on the float, ${wind}`, up('wind_drag')],
    [`Waves pushing, ${heightWords(get('wave_height'))} high`, up('drift')],
    get('current_drag') > 0 ? ['Current pushing', up('current_drag')] : null,
    ['Steady pull', up('mean_pull'), '', true],
    ['Gust on the float', up('gust_drag')],
    [`Snatch of the highest wave, ${heightWords(get('highest_wave'))}`, get('storm_snatch') === null ? 'not known' : up('storm_snatch')],
    [`Snatch of a ${heightWords(get('wake_height'))} wake`, get('wake_snatch') === null ? 'not known' : up('wake_snatch')],
    ['Highest pull in the line', get('peak') === null ? 'not known' : up('peak'), '', true],
  ].filter(Boolean);
  return [el('h3', { text: 'Loads in the storm' }), pairs(rows, 'figures'),
    el('p', { class: 'note', text: 'Storm and wake are separate cases: the worse counts, never their sum. Snatches are upper bounds: no damping is counted.' })];
}

function windOf(f) {
  const [, , , , , , , , , , terms] = WORK.steps[KEY.wind_drag];
  return slotValue(f, terms[0][3]);
}

function shareBar(share) {
  const width = 70;
  const run = Math.min(share, 1) * width;
  const over = share > 1;
  return svg('svg', { viewBox: `0 0 ${width + 2} 12`, width: width + 2, height: 12, 'aria-hidden': 'true' },
    svg('rect', { x: 1, y: 2, width, height: 8, rx: 1.5, fill: '#fff', stroke: '#6F8089' }),
    svg('rect', { x: 1, y: 2, width: Math.max(run, 1), height: 8, rx: 1.5, fill: over ? '#B3200C' : '#7BABC9', stroke: over ? '#B3200C' : '#1D4A63' }));
}

function lineParts(f) {
  const peak = workValue(f, 'peak');
  const rows = DATA.lines[f.line].map(([name, size], k) => {
    const limit = f.limits[k];
    const share = limit === null || peak === null ? null : peak / limit;
    return el('tr', {},
      el('td', { class: 'what' }, el('b', { text: `${capital(name)} ${size}` }),
        k === f.weak ? el('small', { text: 'weakest part' }) : limit === null ? el('small', { text: 'no published strength' }) : null),
      el('td', { class: 'amount', text: limit === null ? '' : forceWords(limit, Math.floor) }),
      el('td', { class: 'bar' }, share === null ? '' : shareBar(share)),
      el('td', { class: `amount${share > 1 ? ' v-conflict' : ''}`, text: share === null ? '' : `${Math.ceil(share * 100)} %` }));
  });
  return [el('h3', {}, 'Line parts ', el('small', { text: 'hook to primary: what each may carry, share used' })),
    el('table', { class: 'clears parts' }, el('tbody', {}, ...rows)),
    el('p', { class: 'note', text: peak === null ? '' : `Against the highest pull in the line, ${forceWords(peak, Math.ceil)}. New parts, each by the factor of its own standard.` })];
}

function holding(f) {
  const names = ['By common practice', 'Lying on the bed', 'Settled in'];
  const boxes = f.holds.map((words, k) => el('div', { class: 'answer' }, el('b', { text: names[k] }), el('p', { text: words })));
  return [el('h3', {}, 'Does the primary hold? ', el('small', { text: 'three answers, kept apart' })), ...boxes,
    ...(f.turns.length ? [el('p', { class: 'note strong', text: 'What would turn them' }), el('ul', { class: 'plain' }, ...f.turns.map((k) => el('li', { text: shared(k) })))] : [])];
}

function ways(f) {
  if (!f.ways.length) return [];
  const blocks = f.ways.map(([name, means, secondary, uplift, peak, chosen, choices]) => el('div', { class: 'way' },
    el('p', {}, el('b', { text: capital(shared(name)) }), chosen ? el('small', { class: 'tag', text: 'as it stands' }) : null),
    el('p', { class: 'note', text: shared(means) }),
    secondary === null ? el('p', { text: 'No number of blocks does it.' }) : pairs([
      ['Secondary', `${secondary} block${secondary === 1 ? '' : 's'}`],
      ['Uplift at low, normal, high water', uplift.map((one) => (one === null ? '?' : forceWords(one, Math.ceil))).join(', ')],
      ['Highest pull', peak === null ? 'not known' : forceWords(peak, Math.ceil)],
      ...choices.map(([what, size, because]) => [capital(shared(what)), shared(size), `for ${shared(because)}`]),
    ])));
  return [el('details', { class: 'fold' }, el('summary', {}, 'Three ways to build it', icon('down')),
    el('p', { class: 'note', text: 'Each part the lightest in its table that carries the load.' }), ...blocks)];
}

function floatItself(f) {
  const get = (key) => workValue(f, key);
  const people = (n) => `${n} ${n === 1 ? 'person' : 'people'}`;
  const reserve = get('reserve');
  const most = get('edge_people');
  return [el('h3', { text: 'Float' }), pairs([
    ...f.floatRows,
    [`Left with ${DATA.people} people aboard`, reserve < 0 ? `${forceWords(-reserve, Math.ceil)} too little` : forceWords(reserve, Math.floor)],
    ['At one edge it carries', most === null ? 'not known' : people(most)],
    [`Tilt with ${people(Math.ceil(DATA.people / 2))} there`, get('heel') === null ? 'the edge goes under' : `${get('heel').toFixed(1)}°`],
    ['Metacentric height', get('gm') === null ? 'not known' : heightWords(get('gm'))],
    ['Heaves by itself in', get('heave_period') === null ? 'not known' : `${get('heave_period').toFixed(1)} s`],
  ], 'figures')];
}
