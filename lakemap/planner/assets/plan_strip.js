// Lake level and wind: sliders and a dial; every float lies as it would there.
const METRIC = DATA.plan.units === 'm-kg';
const MPH = 0.44704; // m/s
const SPEED = METRIC ? { unit: 'm/s', size: 1, most: 36 } : { unit: 'mph', size: MPH, most: 80 };
const LEVEL_STEP = METRIC ? 0.05 : FOOT / 10;
const REST_MS = 200; // after the last move of a slider, before verdicts are asked
const DIAL = 36; // px, its radius
const signed = (metres) => {
  const value = Math.round((metres / DATA.unitM) * (METRIC ? 100 : 10)) / (METRIC ? 100 : 10);
  return `${value < 0 ? '−' : value > 0 ? '+' : ''}${Math.abs(value)} ${DATA.unit}`;
};

class Strip {
  constructor(planner) {
    this.planner = planner;
    this.box = byId('strip');
    this.levels = DATA.plan.levels_m;
    const { storm } = DATA.plan;
    const strong = Math.max(storm.gust_m_s || 0, storm.wind_m_s) / SPEED.size;
    this.most = Math.max(SPEED.most, Math.ceil((strong * 1.2) / 10) * 10);
    this.steps = Math.max(Math.round((this.levels.high - this.levels.low) / LEVEL_STEP), 1);
    this.stored = { level: 0, wind: Math.min(Math.round(storm.wind_m_s / SPEED.size), this.most), from: Math.round(DATA.wind === null ? 270 : DATA.wind) % 360 };
    this.build();
    this.reset();
  }

  build() {
    const low = signed(this.levels.low);
    const high = signed(this.levels.high);
    this.level = this.slider('level', words('strip.level'), this.steps, [low, high]);
    this.wind = this.slider('wind', words('strip.wind'), this.most, [words('strip.calm'), `${this.most} ${SPEED.unit}`]);
    this.dial = el('div', { class: 'dial', role: 'slider', tabindex: '0', 'aria-label': words('strip.from'), 'aria-valuemin': '0', 'aria-valuemax': '359' });
    this.bearing = el('b', { class: 'bearing' });
    this.lies = el('small');
    this.undo = choice(words('strip.reset'), () => { this.reset(); this.show(null); });
    this.undo.setAttribute('aria-label', words('strip.reset_long'));
    this.box.replaceChildren(this.level.node, this.wind.node,
      el('div', { class: 'from' }, this.dial, el('div', {}, el('span', { class: 'name', text: words('strip.from') }), this.bearing, this.lies)),
      el('div', { class: 'checks' }, this.check('strip.was', true, (on) => { this.planner.field.old = on; this.planner.field.redraw(); }),
        this.allowed = this.check('strip.allowed', false, (on) => this.planner.places.showAllowed(on)), this.undo));
    this.dial.addEventListener('keydown', (event) => this.turn(event));
    this.dial.addEventListener('pointerdown', (event) => { this.dial.setPointerCapture(event.pointerId); this.point(event); });
    this.dial.addEventListener('pointermove', (event) => { if (this.dial.hasPointerCapture(event.pointerId)) this.point(event); });
  }

  slider(name, label, most, [first, last]) {
    const says = el('output', { for: `slide-${name}` });
    const input = el('input', { id: `slide-${name}`, type: 'range', min: '0', max: String(most), step: '1' });
    input.addEventListener('input', () => this.moved());
    return { input, says, node: el('div', { class: 'slide' }, el('div', { class: 'ends' }, el('label', { for: `slide-${name}`, text: label }), says), input,
      el('div', { class: 'ends', 'aria-hidden': 'true' }, el('span', { text: first }), el('span', { text: last }))) };
  }

  check(key, isOn, act) {
    const input = el('input', { type: 'checkbox', checked: isOn });
    input.addEventListener('change', () => act(input.checked));
    return el('label', { class: 'check' }, input, words(key));
  }

  get level_m() { return roundTo(this.levels.low + (Number(this.level.input.value) / this.steps) * (this.levels.high - this.levels.low)) || 0; }

  reset() {
    this.isOn = false;
    clearTimeout(this.timer);
    this.level.input.value = this.stored.level;
    this.wind.input.value = this.stored.wind;
    this.from = this.stored.from;
    this.say();
  }

  // --- what the hand does
  turn(event) {
    const by = { ArrowRight: 5, ArrowUp: 5, ArrowLeft: -5, ArrowDown: -5, PageUp: 45, PageDown: -45 }[event.key];
    if (by === undefined && event.key !== 'Home') return;
    event.preventDefault();
    this.from = event.key === 'Home' ? 0 : (this.from + by + 360) % 360;
    this.moved();
  }

  point(event) {
    const box = this.dial.getBoundingClientRect();
    const [dx, dy] = [event.clientX - box.left - box.width / 2, event.clientY - box.top - box.height / 2];
    if (Math.hypot(dx, dy) < 4) return;
    this.from = (Math.round((Math.atan2(dx, -dy) * 180) / Math.PI) + 360) % 360;
    this.dial.focus({ preventScroll: true });
    this.moved();
    event.preventDefault();
  }

  moved() {
    this.isOn = true;
    this.say();
    this.ask({ quick: true });
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.ask(), REST_MS);
  }

  // --- what the machine says
  ask({ quick = false } = {}) {
    if (!this.isOn) return;
    const body = { changes: this.planner.steps.changes, level_m: this.level_m, wind_m_s: Number(this.wind.input.value) * SPEED.size, from_deg: this.from, quick };
    this.planner.talk.ask('lie', body, { then: (answer) => { if (this.isOn) this.show(answer); }, failed: (texts) => say(words('lost.failed', { says: texts.join(' ') })) });
  }

  show(answer) {
    setLying(answer);
    layPlaces(this.planner.hand.withHeld(this.planner.steps.changes));
    if (!answer) byId('level-note').textContent = '';
    else if (answer.headline) byId('level-note').textContent = this.level_m > this.levels.low + 0.001 ? words('strip.of_low', answer) : answer.headline;
    this.planner.field.redraw();
  }

  say() {
    const level = signed(this.level_m);
    const named = { low: this.levels.low, normal: this.levels.normal, high: this.levels.high };
    const name = Object.keys(named).find((key) => Math.abs(named[key] - this.level_m) < LEVEL_STEP / 4);
    const wind = Number(this.wind.input.value);
    const speed = wind ? `${wind} ${SPEED.unit}` : words('strip.calm');
    const point = words('strip.wind_says', { point: this.compass(), degrees: this.from });
    for (const [part, text] of [[this.level, name ? words(`strip.${name}`, { level }) : level], [this.wind, speed]]) {
      part.says.textContent = text;
      part.input.setAttribute('aria-valuetext', text);
      const { min, max, value } = part.input;
      part.input.style.setProperty('--share', `${((value - min) / (max - min)) * 100}%`);
    }
    this.bearing.textContent = point;
    this.lies.textContent = words(this.isOn || DATA.wind !== null ? 'strip.lies' : 'strip.stored');
    this.dial.setAttribute('aria-valuenow', String(this.from));
    this.dial.setAttribute('aria-valuetext', point);
    this.undo.disabled = !this.isOn;
    this.drawDial();
  }

  compass() { return ['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE', 'S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'][Math.round(this.from / 22.5) % 16]; }

  drawDial() {
    const size = 2 * DIAL + 28;
    const middle = size / 2;
    const node = svg('svg', { viewBox: `0 0 ${size} ${size}`, width: size, height: size, 'aria-hidden': 'true' });
    const at = (bearing, r) => [middle + Math.sin((bearing * Math.PI) / 180) * r, middle - Math.cos((bearing * Math.PI) / 180) * r];
    node.append(svg('circle', { cx: middle, cy: middle, r: DIAL, fill: '#E6F0F3', stroke: '#6F8089', 'stroke-width': 1.2 }));
    for (let k = 0; k < 16; k += 1) {
      const [[ax, ay], [zx, zy]] = [at(k * 22.5, DIAL), at(k * 22.5, DIAL - (k % 4 ? 3.5 : 6))];
      node.append(svg('path', { d: `M${ax} ${ay}L${zx} ${zy}`, stroke: '#46565F', 'stroke-width': 1 }));
    }
    const [[fx, fy], [tx, ty]] = [at(this.from, DIAL), at(this.from + 180, DIAL - 9)];
    const [[lx, ly], [rx, ry]] = [at(this.from + 180 - 22, DIAL - 18), at(this.from + 180 + 22, DIAL - 18)];
    node.append(svg('path', { d: `M${fx} ${fy}L${tx} ${ty}M${lx} ${ly}L${tx} ${ty}L${rx} ${ry}`, stroke: '#0B5570', 'stroke-width': 2.6, fill: 'none', 'stroke-linecap': 'round', 'stroke-linejoin': 'round' }),
      svg('circle', { cx: fx, cy: fy, r: 7, fill: '#fff', stroke: '#0B5570', 'stroke-width': 2.6 }),
      svgText(middle, 9, 'N', { 'text-anchor': 'middle', 'font-size': 10.5, 'font-weight': 700 }));
    this.dial.replaceChildren(node);
  }
}
