// What the storm asks of a float's rig, part by part, and whether the primary holds: three answers apart.
const shared = (k) => DATA.texts[k];

function loads(f) {
  const get = (key) => workValue(f, key);
  if (get('mean_pull') === null) return [el('h3', { text: 'Loads in the storm' }), el('p', { class: 'note', text: 'Not known: the open water around it or its depth is missing.' })];
  const up = (key) => (get(key) === null ? 'not known' : forceWords(get(key), upward));
  const wind = speedWords(windOf(f));
  const rows = [
    [`Wind on the float, ${wind}`, up('wind_drag')],
    [`Waves pushing, ${heightWords(get('wave_height'))} high`, up('drift')],
    get('current_drag') > 0 ? ['Current pushing', up('current_drag')] : null,
    ['Steady pull', up('mean_pull'), '', true],
    ['Gust on the float', up('gust_drag')],
    [`Snatch of the highest wave, ${heightWords(get('highest_wave'))}`, up('storm_snatch')],
    [`Snatch of a ${heightWords(get('wake_height'))} wake`, up('wake_snatch')],
    ['Highest pull in the line', up('peak'), '', true],
  ].filter(Boolean);
  return [el('h3', { text: 'Loads in the storm' }), pairs(rows, 'figures'),
    el('p', { class: 'note', text: `${worstCase(get)}Storm and wake are separate cases: the worse counts, never their sum. Snatches are upper bounds: no damping is counted.` })];
}

// Which case has the highest pull.
function worstCase(get) {
  if (get('peak') === null) return '';
  const cases = [[get('mean_pull') + get('storm_snatch'), 'the steady pull and the snatch of the storm’s highest wave'],
    [get('gust_drag') + get('drift') + (get('current_drag') || 0), 'the gust and the push of the waves'], [get('wake_snatch'), 'the snatch of a wake']];
  return `The highest pull is that of ${cases.sort((a, b) => b[0] - a[0])[0][1]}. `;
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
    const share = !limit || peak === null ? null : peak / limit;
    const note = k === f.weak ? 'weakest part' : limit === null ? 'no published strength' : limit === 0 ? 'depends on the pull’s angle: not known' : '';
    return el('tr', {},
      el('td', { class: 'what' }, el('b', { text: `${capital(name)} ${size}` }), note ? el('small', { text: note }) : null),
      el('td', { class: 'amount', text: limit ? forceWords(limit, downward) : '' }),
      el('td', { class: `share${share > 1 ? ' v-conflict' : ''}` }, share === null ? '' : shareBar(share), share === null ? '' : el('b', { text: `${upward(share * 100).toLocaleString('en-US')} %` })));
  });
  return [el('h3', {}, 'Line parts ', el('small', { text: 'hook to primary: what each may carry, share used' })),
    el('table', { class: 'clears parts' }, el('tbody', {}, ...rows)),
    el('p', { class: 'note', text: `${peak === null ? '' : `Against the highest pull in the line, ${forceWords(peak, upward)}. `}New parts, each by the factor of its own standard.` })];
}

function holding(f) {
  const names = ['By common practice', 'Lying on the bed', 'Settled in'];
  const boxes = f.holds.map((words, k) => el('div', { class: 'answer' }, el('b', { text: names[k] }), el('p', { text: words })));
  return [el('h3', {}, 'Does the primary hold? ', el('small', { text: 'three answers, kept apart' })), ...boxes,
    ...(f.turns.length ? [el('p', { class: 'note strong', text: 'What would turn them' }), el('ul', { class: 'plain' }, ...f.turns.map((k) => el('li', { text: shared(k) })))] : [])];
}

// The three ways side by side; a way that no number of blocks makes has one cell.
function waysTable(found) {
  const parts = [...new Set(found.flatMap((way) => way.choices.map(([what]) => shared(what))))];
  const chosen = (way, part) => way.choices.find(([what]) => shared(what) === part);
  const size = (words) => (words === 'no row of the table does' ? 'none in our tables' : words);
  const rows = [
    ['Secondary', (way) => `${way.secondary} block${way.secondary === 1 ? '' : 's'}`],
    ...['low', 'normal', 'high'].map((name, k) => [`Uplift, ${name} water`, (way) => (way.uplift[k] === null ? 'not known' : forceWords(way.uplift[k], upward))]),
    ['Highest pull', (way) => (way.peak === null ? 'not known' : forceWords(way.peak, upward))],
    ...parts.map((part) => [capital(part), (way) => (chosen(way, part) ? size(shared(chosen(way, part)[1])) : '')]),
  ];
  const cell = (way, value, k) => (way.secondary !== null ? el('td', { text: value(way) })
    : k === 0 ? el('td', { rowspan: rows.length, text: 'No number of blocks does it.' }) : null);
  return el('table', { class: 'ways' },
    el('thead', {}, el('tr', {}, el('td'), ...found.map((way) => el('th', { scope: 'col' }, way.name, way.stands ? el('small', { class: 'tag', text: 'as it stands' }) : null)))),
    el('tbody', {}, ...rows.map(([name, value], k) => el('tr', {}, el('th', { scope: 'row', text: name }), ...found.map((way) => cell(way, value, k))))));
}

// What asks for each choice, those with one reason together.
function reasons(way) {
  const by = new Map();
  for (const [what, , because] of way.choices) by.set(because, [...(by.get(because) || []), shared(what)]);
  return el('ul', { class: 'plain' }, ...[...by].map(([because, whats]) => el('li', { text: `${capital(whats.join('; '))}: for ${shared(because)}.` })));
}

function ways(f) {
  if (!f.ways.length) return [];
  const found = f.ways.map(([name, means, secondary, uplift, peak, stands, choices]) => ({ name: capital(shared(name)), means: shared(means), secondary, uplift, peak, stands, choices }));
  return [el('details', { class: 'fold' }, el('summary', {}, 'Three ways to build it', icon('down')),
    el('p', { class: 'note', text: 'Each part the lightest in its table that carries the load.' }), waysTable(found),
    ...found.map((way) => el('div', { class: 'way' }, el('p', {}, el('b', { text: `${way.name}. ` }), way.means), way.choices.length ? reasons(way) : null)))];
}

function floatItself(f) {
  const get = (key) => workValue(f, key);
  const people = (n) => `${n} ${n === 1 ? 'person' : 'people'}`;
  const reserve = get('reserve');
  const most = get('edge_people');
  return [el('h3', { text: 'Float' }), pairs([
    ...f.floatRows,
    [`Lift left with ${people(DATA.people)} aboard`, reserve < 0 ? `${forceWords(-reserve, upward)} too little` : forceWords(reserve, downward)],
    ['At one edge it carries', most === null ? 'not known' : people(most)],
    [`Tilt with ${people(Math.ceil(DATA.people / 2))} there`, get('heel') === null ? 'the edge goes under' : `${get('heel').toFixed(1)}°`],
    ['Metacentric height', get('gm') === null ? 'not known' : heightWords(get('gm'), downward)],
    ['Heaves by itself in', get('heave_period') === null ? 'not known' : `${get('heave_period').toFixed(1)} s`],
  ], 'figures')];
}
