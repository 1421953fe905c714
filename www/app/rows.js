/**
 * Rows of the panel that are no steppers: a choice of words, a text, a button.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 *
 * @typedef {object} Row
 * @property {HTMLElement} root
 * @property {(state: State, result: Result) => void} draw
 */
import { el, setAttribute, setText, show } from './dom.js';
import { capital, fieldName } from './names.js';
import { askedField } from './edit.js';
import { valueAt } from './store.js';

/**
 * A choice between words that the job file knows.
 * @param {Context} ctx
 * @param {{path: string, label?: string, of: [any, string][]}} choice of: value in the job (undefined: left out) and word
 * @returns {Row}
 */
export function choiceRow(ctx, choice) {
  const name = el('span', { class: 'row-name', id: `choice-${choice.path.replace(/[^\w]+/g, '-')}` });
  const buttons = choice.of.map(([value, word]) =>
    el('button', { type: 'button', text: word, on: { click: () => void askedField(ctx, choice.path, value, word) } }),
  );
  const words = el('p', { class: 'refusal', hidden: true });
  const root = el('div', { class: 'row', data: { path: choice.path } }, el('div', { class: 'row-head' }, name), el('div', { class: 'choice', role: 'group', 'aria-labelledby': name.id }, ...buttons), words);
  return {
    root,
    draw(state) {
      setText(name, capital(choice.label ?? fieldName(state.job, choice.path)));
      const value = valueAt(state.job, choice.path);
      const at = choice.of.findIndex(([one]) => one === value);
      buttons.forEach((button, index) => setAttribute(button, 'aria-pressed', String(index === Math.max(at, value === undefined ? 0 : at))));
      const pinned = state.pin ? valueAt(state.pin.job, choice.path) : value;
      setAttribute(root, 'data-changed', pinned !== value);
      const draft = Object.hasOwn(state.drafts, choice.path) ? state.drafts[choice.path] : null;
      setText(words, draft?.refusal ?? '');
      show(words, !!draft?.refusal);
    },
  };
}

/**
 * A free text: name, title, note.
 * @param {Context} ctx
 * @param {{path: string, label?: string, long?: boolean}} of
 * @returns {Row}
 */
export function textRow(ctx, of) {
  const id = `text-${of.path.replace(/[^\w]+/g, '-')}`;
  const name = el('label', { class: 'row-name', for: id });
  const input = of.long ? el('textarea', { id, class: 'field', rows: 4, spellcheck: 'false' }) : el('input', { id, class: 'field', type: 'text', autocomplete: 'off', spellcheck: 'false' });
  const words = el('p', { class: 'refusal', id: `${id}-why`, hidden: true });
  const take = () => {
    const value = valueAt(ctx.store.state.job, of.path) ?? '';
    if (input.value !== value) void askedField(ctx, of.path, input.value, input.value);
  };
  input.addEventListener('change', take);
  const root = el('div', { class: 'row', data: { path: of.path } }, el('div', { class: 'row-head' }, name), input, words);
  return {
    root,
    draw(state) {
      setText(name, capital(of.label ?? fieldName(state.job, of.path)));
      const draft = Object.hasOwn(state.drafts, of.path) ? state.drafts[of.path] : null;
      const value = draft ? draft.text : (valueAt(state.job, of.path) ?? '');
      if (document.activeElement !== input && input.value !== value) input.value = value;
      setText(words, draft?.refusal ?? '');
      show(words, !!draft?.refusal);
      setAttribute(input, 'aria-invalid', draft?.refusal ? 'true' : null);
      setAttribute(input, 'aria-describedby', draft?.refusal ? words.id : null);
      const pinned = state.pin ? valueAt(state.pin.job, of.path) : undefined;
      setAttribute(root, 'data-changed', (pinned ?? '') !== (valueAt(state.job, of.path) ?? ''));
    },
  };
}

/**
 * A head between rows.
 * @param {string} text
 * @returns {Row}
 */
export function headRow(text) {
  return { root: el('h3', { class: 'row-title', text }), draw() {} };
}

/**
 * Buttons in a row: add, remove, change the kind of a part.
 * @param {[string, () => void][]} of
 * @returns {Row}
 */
export function buttonsRow(of) {
  const buttons = of.map(([text, press]) => el('button', { type: 'button', class: 'button', text, on: { click: press } }));
  return { root: el('div', { class: 'row buttons' }, ...buttons), draw() {} };
}
