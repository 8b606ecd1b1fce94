// A sheet at the bottom of a phone: folded, part way, full; dragged by its head or stepped by its handle.
const DRAG_STARTS = 6; // px

class Sheet {
  // stops: heights as functions of the room there is [px]; below the first it calls onShut, if there is one.
  constructor(node, { stops, isOn, onShut = null, onMove = () => {} }) {
    this.node = node;
    this.stops = stops;
    this.isOn = isOn;
    this.onShut = onShut;
    this.onMove = onMove;
    this.stop = 0;
    this.drag = null;
    node.addEventListener('pointerdown', (event) => this.down(event));
    node.addEventListener('pointermove', (event) => this.moved(event));
    for (const type of ['pointerup', 'pointercancel']) node.addEventListener(type, (event) => this.up(event));
  }

  // Letters of the reader's own size may make the header higher.
  get room() { return window.innerHeight - document.querySelector('.head').offsetHeight; }

  heightOf(stop) { return Math.round(this.stops[stop](this.room)); }

  set(stop) {
    this.stop = stop;
    this.node.dataset.stop = String(stop);
    this.node.style.height = this.isOn() ? `${this.heightOf(stop)}px` : '';
    const handle = this.node.querySelector('button.handle');
    if (handle) handle.setAttribute('aria-expanded', String(stop > 0));
    this.onMove();
  }

  step() { this.set(this.stop === this.stops.length - 1 ? 0 : this.stop + 1); }

  down(event) {
    if (!this.isOn() || !event.target.closest('.handle, .grip')) return;
    this.drag = { y: event.clientY, height: this.node.offsetHeight, id: event.pointerId, live: false };
  }

  moved(event) {
    const drag = this.drag;
    if (!drag || event.pointerId !== drag.id) return;
    const by = drag.y - event.clientY;
    if (!drag.live && Math.abs(by) < DRAG_STARTS) return;
    if (!drag.live) {
      drag.live = true;
      this.node.setPointerCapture(drag.id);
      this.node.classList.add('is-dragged');
    }
    this.node.style.height = `${Math.min(Math.max(drag.height + by, 40), this.room)}px`;
  }

  up(event) {
    const drag = this.drag;
    this.drag = null;
    if (!drag || !drag.live || event.pointerId !== drag.id) return;
    this.node.classList.remove('is-dragged');
    const height = this.node.offsetHeight;
    this.justDragged = true;
    setTimeout(() => { this.justDragged = false; }, 0);
    if (this.onShut && height < this.heightOf(0) * 0.6) { this.onShut(); return; }
    const distances = this.stops.map((_, k) => Math.abs(this.heightOf(k) - height));
    // a clear flick goes one stop on in its direction
    const flick = Math.sign(drag.y - event.clientY) * (Math.abs(drag.y - event.clientY) > 40 ? 1 : 0);
    const nearest = distances.indexOf(Math.min(...distances));
    const wanted = nearest === this.stop ? this.stop + flick : nearest;
    this.set(Math.min(Math.max(wanted, 0), this.stops.length - 1));
  }
}
