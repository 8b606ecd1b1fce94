// What the storm asks of a float's rig, part by part, and whether the primary holds: three answers apart.
const shared = (k) => DATA.texts[k];

function loads(f) {
  const get = (key) => workValue(f, key);
  if (get('mean_pull') === null) return [el('h3', { text: words('load.title') }), el('p', { class: 'note', text: words('load.not_known') })];
  const up = (key) => (get(key) === null ? words('work.not_known') : forceWords(get(key), upward));
  const rows = [
    [words('load.wind', { speed: speedWords(windOf(f)) }), up('wind_drag')],
    [words('load.drift', { far: heightWords(get('wave_height')) }), up('drift')],
    get('current_drag') > 0 ? [words('load.current'), up('current_drag')] : null,
    [words('load.mean'), up('mean_pull'), '', true],
    [words('load.gust'), up('gust_drag')],
    [words('load.snatch', { far: heightWords(get('highest_wave')) }), up('storm_snatch')],
    [words('load.wake', { far: heightWords(get('wake_height')) }), up('wake_snatch')],
    [words('load.peak'), up('peak'), '', true],
  ].filter(Boolean);
  return [el('h3', { text: words('load.title') }), pairs(rows, 'figures'),
    el('p', { class: 'note', text: [worstCase(get), words('load.note')].filter(Boolean).join(' ') })];
}

// Which case has the highest pull.
function worstCase(get) {
  if (get('peak') === null) return '';
  const cases = [[get('mean_pull') + get('storm_snatch'), 'load.worst_snatch'],
    [get('gust_drag') + get('drift') + (get('current_drag') || 0), 'load.worst_gust'], [get('wake_snatch'), 'load.worst_wake']];
  return words(cases.sort((a, b) => b[0] - a[0])[0][1]);
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
    const note = k === f.weak ? 'part.weakest' : limit === null ? 'part.unpublished' : limit === 0 ? 'part.by_angle' : '';
    return el('tr', {},
      el('td', { class: 'what' }, el('b', { text: `${capital(name)} ${size}` }), note ? el('small', { text: words(note) }) : null),
      el('td', { class: 'amount', text: limit ? forceWords(limit, downward) : '' }),
      el('td', { class: `share${share > 1 ? ' v-conflict' : ''}` }, share === null ? '' : shareBar(share), share === null ? '' : el('b', { text: `${upward(share * 100).toLocaleString('en-US')} %` })));
  });
  return [el('h3', {}, words('part.title'), ' ', el('small', { text: words('part.under') })),
    el('table', { class: 'clears parts' }, el('tbody', {}, ...rows)),
    el('p', { class: 'note', text: [peak === null ? '' : words('part.against', { force: forceWords(peak, upward) }), words('part.note')].filter(Boolean).join(' ') })];
}

function holding(f) {
  const names = ['hold.practice', 'hold.lying', 'hold.settled'];
  const boxes = f.holds.map((said, k) => el('div', { class: 'answer' }, el('b', { text: words(names[k]) }), el('p', { text: said })));
  return [el('h3', {}, words('hold.title'), ' ', el('small', { text: words('hold.under') })), ...boxes,
    ...(f.turns.length ? [el('p', { class: 'note strong', text: words('hold.turns') }), el('ul', { class: 'plain' }, ...f.turns.map((k) => el('li', { text: shared(k) })))] : [])];
}

// The three ways side by side; a way that no number of blocks makes has one cell.
function waysTable(found) {
  const parts = [...new Set(found.flatMap((way) => way.choices.map(([what]) => shared(what))))];
  const chosen = (way, part) => way.choices.find(([what]) => shared(what) === part);
  const size = (said) => (said === 'no row of the table does' ? words('way.none') : said);
  const rows = [
    [words('way.secondary'), (way) => words('way.blocks', { count: way.secondary })],
    ...['low', 'normal', 'high'].map((name, k) => [words(`way.uplift_${name}`), (way) => (way.uplift[k] === null ? words('work.not_known') : forceWords(way.uplift[k], upward))]),
    [words('way.peak'), (way) => (way.peak === null ? words('work.not_known') : forceWords(way.peak, upward))],
    ...parts.map((part) => [capital(part), (way) => (chosen(way, part) ? size(shared(chosen(way, part)[1])) : '')]),
  ];
  const cell = (way, value, k) => (way.secondary !== null ? el('td', { text: value(way) })
    : k === 0 ? el('td', { rowspan: rows.length, text: words('way.never') }) : null);
  return el('table', { class: 'ways' },
    el('thead', {}, el('tr', {}, el('td'), ...found.map((way) => el('th', { scope: 'col' }, way.name, way.stands ? el('small', { class: 'tag', text: words('way.stands') }) : null)))),
    el('tbody', {}, ...rows.map(([name, value], k) => el('tr', {}, el('th', { scope: 'row', text: name }), ...found.map((way) => cell(way, value, k))))));
}

// What asks for each choice, those with one reason together.
function reasons(way) {
  const by = new Map();
  for (const [what, , because] of way.choices) by.set(because, [...(by.get(because) || []), shared(what)]);
  return el('ul', { class: 'plain' }, ...[...by].map(([because, whats]) => el('li', { text: words('way.reason', { parts: capital(whats.join('; ')), reason: shared(because) }) })));
}

function ways(f) {
  if (!f.ways.length) return [];
  const found = f.ways.map(([name, means, secondary, uplift, peak, stands, choices]) => ({ name: capital(shared(name)), means: shared(means), secondary, uplift, peak, stands, choices }));
  return [el('details', { class: 'fold' }, el('summary', {}, words('way.fold'), icon('down')),
    el('p', { class: 'note', text: words('way.note') }), waysTable(found),
    ...found.map((way) => el('div', { class: 'way' }, el('p', {}, el('b', { text: `${way.name}. ` }), way.means), way.choices.length ? reasons(way) : null)))];
}

function floatItself(f) {
  const get = (key) => workValue(f, key);
  const reserve = get('reserve');
  const most = get('edge_people');
  return [el('h3', { text: words('deck.title') }), pairs([
    ...f.floatRows,
    [words('deck.lift', { count: DATA.people }), reserve < 0 ? words('deck.too_little', { force: forceWords(-reserve, upward) }) : forceWords(reserve, downward)],
    [words('deck.edge'), most === null ? words('work.not_known') : words('deck.people', { count: most })],
    [words('deck.tilt', { count: Math.ceil(DATA.people / 2) }), get('heel') === null ? words('deck.under') : `${get('heel').toFixed(1)}°`],
    [words('deck.metacentric'), get('gm') === null ? words('work.not_known') : heightWords(get('gm'), downward)],
    [words('deck.heave'), get('heave_period') === null ? words('work.not_known') : `${get('heave_period').toFixed(1)} s`],
  ], 'figures')];
}
