// Moving floats by hand: dragged by mouse or finger, pushed by arrow keys; taps choose and add.
const GRAB = { touch: 26, mouse: 24 }; // px about the chosen float's primary
const STARTS = 3; // px before a drag begins
const STEP_M = DATA.plan.units === 'm-kg' ? 0.25 : FOOT;
const ARROWS = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };
const SETTLE_MS = 250; // after the last press of a key
const roundTo = (value) => Math.round(value * 1000) / 1000; // mm

class Hand {
  constructor(planner) {
    this.planner = planner;
    this.field = planner.field;
    this.drag = null;
    this.justDragged = false;
    const { node, map } = this.field;
    const host = byId('map');
    // before the map's own: a held float must not pull the map along
    host.addEventListener('pointerdown', (event) => this.down(event), true);
    host.addEventListener('pointermove', (event) => this.moved(event), true);
    for (const type of ['pointerup', 'pointercancel']) host.addEventListener(type, (event) => this.up(event), true);
    map.on('click', (event) => this.clicked(event.originalEvent));
    node.addEventListener('pointerleave', () => this.field.hover(null));
  }

  // Of the chosen float its handle; with a mouse the primary of any.
  grabbed(event) {
    const { chosen } = this.field.look;
    const at = this.field.metres(event);
    const { ppm } = cameraOf(this.field.map);
    const isMouse = event.pointerType === 'mouse';
    if (this.field.joined.length) return null;
    if (chosen && chosen.verdict !== 'retired' && Math.hypot(chosen.x - at[0], chosen.y - at[1]) * ppm <= GRAB[isMouse ? 'mouse' : 'touch']) return chosen;
    const f = isMouse ? this.field.nearest(at, HANDLE, false) : null;
    return f && f.verdict !== 'retired' ? f : null;
  }

  down(event) {
    if (event.button !== 0 || !event.isPrimary || !this.field.node.contains(event.target) || this.field.isAdding || this.field.asked) return;
    const f = this.grabbed(event);
    if (!f) return;
    const [x, y] = this.field.metres(event);
    this.drag = { f, id: event.pointerId, from: [event.clientX, event.clientY], off: [f.x - x, f.y - y], start: [f.x, f.y], at: [f.x, f.y], live: false };
    this.field.map.dragging.disable();
    this.field.map.touchZoom.disable();
  }

  moved(event) {
    const { drag } = this;
    if (!drag) { this.pointed(event); return; }
    if (event.pointerId !== drag.id) return;
    if (!drag.live && Math.hypot(event.clientX - drag.from[0], event.clientY - drag.from[1]) < STARTS) return;
    if (!drag.live) this.begin(drag, event);
    const [x, y] = this.field.metres(event);
    drag.at = [roundTo(x + drag.off[0]), roundTo(y + drag.off[1])];
    this.move(drag.f);
    event.preventDefault();
  }

  begin(drag, event) {
    drag.live = true;
    byId('map').setPointerCapture(event.pointerId);
    if (this.field.look.chosen !== drag.f) this.planner.choose(drag.f, { quick: true });
    this.field.held = drag.f;
    this.field.node.classList.add('is-held');
  }

  // The circle goes with the hand at once; the machine's answer follows.
  move(f) {
    shiftFloat(f, ...this.drag.at);
    this.planner.askPlan({ quick: true });
    this.field.redraw();
  }

  // The plan with the float where the hand has it.
  withHeld(changes) {
    if (!this.drag || !this.drag.live) return changes;
    const { f: { id }, at: [x, y] } = this.drag;
    return withChange(changes, id, { ...changes[id], x, y });
  }

  up(event) {
    const { drag } = this;
    if (!drag || event.pointerId !== drag.id) return;
    if (event.type === 'pointercancel' && drag.live) { this.cancel(); return; }
    const isLive = drag.live;
    const changes = this.withHeld(this.planner.steps.changes);
    this.release();
    if (!isLive) return;
    this.planner.set(changes);
  }

  release() {
    const isLive = this.drag && this.drag.live;
    this.drag = null;
    this.field.held = null;
    this.field.node.classList.remove('is-held');
    this.field.map.dragging.enable();
    this.field.map.touchZoom.enable();
    if (!isLive) return;
    this.justDragged = true; // the click that follows chooses nothing
    setTimeout(() => { this.justDragged = false; }, 50);
  }

  // Puts a held float back where the drag began.
  cancel() {
    if (!this.drag || !this.drag.live) return false;
    const { f, start } = this.drag;
    this.release();
    shiftFloat(f, ...start);
    this.planner.refresh();
    say(words('form.is_back', { float: f.id }));
    return true;
  }

  // One step of the arrow keys; a run of them is one step of the plan.
  push(key, isLong) {
    const f = this.field.look.chosen;
    if (!f || f.verdict === 'retired' || this.drag) return;
    const [dx, dy] = ARROWS[key];
    const far = STEP_M * (isLong ? 10 : 1);
    const { changes } = this.planner.steps;
    shiftFloat(f, roundTo(f.x + dx * far), roundTo(f.y + dy * far));
    this.planner.set(withChange(changes, f.id, { ...changes[f.id], x: f.x, y: f.y }), { run: `move ${f.id}`, quick: true });
    clearTimeout(this.settling);
    this.settling = setTimeout(() => this.planner.askPlan(), SETTLE_MS);
    this.field.show(f.x, f.y);
  }

  pointed(event) {
    if (event.pointerType !== 'mouse' || !this.field.node.contains(event.target)) return;
    const at = this.field.metres(event);
    const f = this.field.isAdding || this.field.joined.length ? null : this.field.nearest(at, 22);
    this.field.hover(f);
    this.field.node.classList.toggle('is-over', Boolean(f) || Boolean(this.planner.places.at(at)));
    this.field.node.classList.toggle('is-grab', Boolean(!this.field.isAdding && this.grabbed(event)));
  }

  clicked(event) {
    if (this.justDragged) return;
    const at = this.field.metres(event);
    if (this.field.isAdding) { this.planner.places.why(...at); return; }
    const many = this.field.markAt(at);
    if (many) { this.field.map.setView(latLng(many.first.x, many.first.y), this.field.map.getZoom() + 2, { animate: false }); return; }
    const place = this.planner.places.at(at);
    if (place) { this.planner.places.choose(place); return; }
    this.planner.choose(this.field.nearest(at, 24), { from: 'map' });
  }
}
