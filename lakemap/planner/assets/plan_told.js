// What the page says over the map: a line with choices, or a card that asks.
function say(text, choices = []) {
  byId('said').textContent = text;
  byId('choices').replaceChildren(...choices.map(([label, act]) => choice(label, () => { say(''); act(); })));
  byId('message').hidden = !text;
}

function choice(label, act, isFirst = false) {
  const button = el('button', { text: label, class: isFirst ? 'first' : '' });
  button.addEventListener('click', act);
  return button;
}

const Told = {
  isOpen: () => !byId('told').hidden,
  onShut: null,
  cameFrom: null,

  // Title, parts and choices; the focus goes in and, at the end, back.
  open(title, parts, choices, onShut = null, isLow = false) {
    const box = byId('told');
    if (!Told.isOpen()) Told.cameFrom = document.activeElement;
    Told.onShut = onShut;
    const buttons = choices.map(([label, act], k) => choice(label, () => { Told.shut(); if (act) act(); }, k === 0));
    box.replaceChildren(el('h2', { id: 'told-title', tabindex: '-1', text: title }),
      el('div', { class: 'inside' }, ...parts), el('div', { class: 'choices' }, ...buttons));
    box.classList.toggle('is-low', isLow);
    box.hidden = false;
    box.querySelector('h2').focus({ preventScroll: true });
  },

  shut() {
    if (!Told.isOpen()) return;
    const isInside = byId('told').contains(document.activeElement);
    byId('told').hidden = true;
    const [back, after] = [Told.cameFrom, Told.onShut];
    Told.onShut = null;
    if (isInside) (back && back.isConnected && !back.disabled && back !== document.body ? back : byId('field')).focus({ preventScroll: true });
    if (after) after();
  },
};

const lines = (texts) => el('ul', {}, ...texts.map((text) => el('li', { text })));
