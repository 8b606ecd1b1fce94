// The lake's own levels in the panel: the plot and what it says, as they stand in the part for readers without scripts.
ICONS.levels = ['M3 8q4.5-4 9 0t9 0', 'M3 16q4.5-4 9 0t9 0'];

App = class extends App {
  constructor() {
    super();
    const inFoot = el('button', { class: 'lake', text: words('gauge.open') });
    const inMenu = el('button', { class: 'narrow' }, icon('levels'), words('gauge.open')); // where there is no room for a foot
    for (const button of [inFoot, inMenu]) button.addEventListener('click', () => this.openLake());
    document.querySelector('.foot .facts').append(inFoot);
    byId('levels').after(inMenu);
    document.addEventListener('keydown', (event) => {
      if (event.key !== 'Escape' || !this.showsLake) return;
      event.stopImmediatePropagation();
      this.choose(null);
    });
    window.addEventListener('resize', () => {
      if (this.showsLake && isPhone() !== Boolean(this.panel.querySelector('.handle'))) this.fillLake();
    });
  }

  get showsLake() { return Boolean(this.panel.querySelector('.told')); }

  openLake() {
    const from = document.activeElement;
    this.choose(null);
    closeMenus();
    this.cameFrom = from;
    this.node.classList.add('is-open');
    this.nameLake('gauge.close_whole', 'gauge.panel');
    this.listSheet.set(0);
    this.fillLake();
    this.panel.scrollTop = 0;
    this.panelSheet.set(0);
    this.map.invalidateSize({ animate: false, pan: false });
    if (!isPhone()) this.showWhole();
    this.panel.querySelector('h2').focus({ preventScroll: true });
    this.redraw();
  }

  fillLake() {
    const shut = el('button', { class: 'shut', 'aria-label': words('gauge.close') }, icon('shut'));
    shut.addEventListener('click', () => this.choose(null));
    const [title, told] = byId('gauge').children;
    this.panel.replaceChildren(...(isPhone() ? [panelHandle(() => this.stepPanel())] : []), el('div', { class: 'inside' },
      el('div', { class: 'top' }, el('h2', { text: title.textContent, tabindex: '-1' }), shut), told.cloneNode(true)));
  }

  choose(f, options = {}) {
    if (this.showsLake) {
      this.filled = null;
      this.nameLake('map.close_float', 'map.chosen_float');
    }
    super.choose(f, options);
  }

  nameLake(back, panel) {
    byId('back').setAttribute('aria-label', words(back));
    this.panel.setAttribute('aria-label', words(panel));
  }
};
