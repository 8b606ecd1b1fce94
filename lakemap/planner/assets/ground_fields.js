// The pieces that the panel is built of: fields that type into the drawing, and buttons.
function fieldOf(label, value, { id, hint = '', said, set, number = false, wide = false }) {
  const input = el('input', { 'data-id': id, autocomplete: 'off', spellcheck: 'false', inputmode: number ? 'decimal' : false });
  input.value = value;
  const { model } = app;
  input.addEventListener('input', () => {
    if (!model.held) model.hold();
    model.amend(set(input.value));
  });
  input.addEventListener('change', () => model.letGo(said));
  input.addEventListener('blur', () => model.letGo(said));
  return el('label', { class: wide ? 'field-row is-wide' : 'field-row' }, el('span', { class: 'named' }, el('span', { text: label }), hint ? el('small', { text: hint }) : ''), input);
}

function chooserOf(label, value, options, { id, set }) {
  const select = el('select', { 'data-id': id }, ...options.map(([key, name]) => el('option', { value: key, text: name, selected: key === value })));
  select.addEventListener('change', () => set(select.value));
  return el('label', { class: 'field-row is-wide' }, el('span', { class: 'named', text: label }), select);
}

function switchOf(label, value, options, set) {
  const buttons = options.map(([key, name]) => {
    const button = el('button', { type: 'button', text: name, 'aria-pressed': String(key === value), 'data-id': `${label} ${key}` });
    button.addEventListener('click', () => set(key));
    return button;
  });
  return el('div', { class: 'switched' }, el('span', { text: label }), el('div', { class: 'switch', role: 'group', 'aria-label': label }, ...buttons));
}

function tickOf(label, value, set) {
  const input = el('input', { type: 'checkbox', 'data-id': label, checked: value });
  input.addEventListener('change', () => set(input.checked));
  return el('label', { class: 'tick' }, input, el('span', { text: label }));
}

function buttonOf(text, act, { main = false, sign = null, id = text, off = false } = {}) {
  const button = el('button', { type: 'button', class: main ? 'act main' : 'act', 'data-id': id, disabled: off }, sign ? icon(sign) : '', el('span', { text }));
  button.addEventListener('click', act);
  return button;
}

const rowOf = (...nodes) => el('div', { class: 'acts' }, ...nodes);
const noteOf = (text) => el('p', { class: 'note', text });
const headOf = (text) => el('h3', { text });
