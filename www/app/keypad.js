/**
 * Our own keypad, in the panel's place, so that the gauge stays in sight while a gloved finger types.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 */
import { el, setAttribute, setText, show } from './dom.js';
import { MINUS } from './numbers.js';
import { capital, fullName } from './names.js';
import { shownValue } from './units.js';
import { valueAt } from './store.js';
import { typeField } from './edit.js';

/** Three keys of a row, and the act at its end. */
const PAD_ROWS = [['7', '8', '9'], ['4', '5', '6'], ['1', '2', '3'], ['.', '0', MINUS]];

/** @type {{draw: (state: State, result: Result, argument: {path: string} | null) => void} | null} */
let padParts = null;

/** @type {import('./view.js').Panel} */
export const keypadPanel = {
  id: 'keypad',
  name: 'Type a value',
  build(root, ctx) {
    padParts = buildKeypad(root, ctx);
  },
  draw(state, result, argument) {
    padParts?.draw(state, result, argument);
  },
};

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
function buildKeypad(root, ctx) {
  let path = '';
  let fresh = true;
  const name = el('label', { class: 'row-name', for: 'pad-text' });
  const range = el('span', { class: 'row-range' });
  const input = el('input', { id: 'pad-text', class: 'field pad-text', type: 'text', inputmode: 'none', autocomplete: 'off', spellcheck: 'false' });
  const unit = el('span', { class: 'row-unit' });
  const why = el('b');
  const kept = el('span');
  const words = el('p', { class: 'refusal', id: 'pad-why', hidden: true }, why, ' ', kept);
  const keep = () => ctx.store.act.draft(path, { text: input.value, refusal: '' });
  const typed = (/** @type {string} */ text) => {
    // The first key replaces what stood there, as typing over a selection does.
    input.value = fresh ? text : input.value + text;
    fresh = false;
    keep();
  };
  const press = {
    power: () => typed(fresh ? '1e' : 'e'),
    rub: () => {
      input.value = fresh ? '' : [...input.value].slice(0, -1).join('');
      fresh = false;
      keep();
    },
    set: async () => {
      if (await typeField(ctx, path, input.value)) ctx.close();
    },
    leave: () => {
      ctx.store.act.draft(path, null);
      ctx.close();
    },
  };
  input.addEventListener('input', () => {
    fresh = false;
    keep();
  });
  input.addEventListener('keydown', (event) => {
    if (event.key === 'Enter') void press.set();
    if (event.key === 'Escape') {
      event.stopPropagation();
      press.leave();
    }
  });
  const key = (/** @type {string} */ text, /** @type {() => void} */ act, /** @type {string} */ kind = '', /** @type {string} */ label = '') =>
    el('button', { type: 'button', class: `pad-key ${kind}`, text, 'aria-label': label || null, on: { click: act } });
  const ends = [key('⌫', press.rub, '', 'rub out'), key('× 10ⁿ', press.power, 'power', 'times ten to the'), key('Leave', press.leave, 'power'), key('Set', () => void press.set(), 'go')];
  const keys = PAD_ROWS.flatMap((row, index) => [...row.map((text) => key(text, () => typed(text), '', { '.': 'point', [MINUS]: 'minus' }[text])), ends[index]]);
  const field = el('div', { class: 'pad-field' }, el('div', { class: 'row-head' }, name, range), el('div', { class: 'pad-line' }, input, unit), words);
  root.append(el('div', { class: 'pad-both' }, field, el('div', { class: 'pad' }, ...keys)));
  return {
    /**
     * @param {State} state
     * @param {Result} result
     * @param {{path: string} | null} argument
     */
    draw(state, result, argument) {
      if (!argument) return;
      const value = valueAt(state.job, argument.path);
      const point = result.points.get(argument.path);
      const shown = shownValue(argument.path, typeof value === 'number' ? value : 0, state.settings, point);
      const draft = Object.hasOwn(state.drafts, argument.path) ? state.drafts[argument.path] : null;
      if (path !== argument.path) {
        path = argument.path;
        fresh = true;
        input.value = draft?.text ?? (typeof value === 'number' ? shown.text : '');
      }
      setText(name, capital(fullName(state.job, path)));
      setText(unit, shown.unit);
      const words2 = (/** @type {number} */ limit) => shownValue(path, limit, state.settings, point).text;
      setText(range, point && point.max > point.min ? `${words2(point.min)} to ${words2(point.max)}` : '');
      const refused = !!draft?.refusal;
      setText(why, draft?.refusal ?? '');
      setText(kept, draft?.kept ?? '');
      show(words, refused);
      setAttribute(input, 'aria-invalid', refused ? 'true' : null);
      setAttribute(input, 'aria-describedby', refused ? 'pad-why' : null);
    },
  };
}

/** The keypad begins anew when it is opened again. */
export function resetKeypad() {
  padParts?.draw(/** @type {any} */ ({}), /** @type {any} */ ({}), null);
}
