/**
 * The verdict bar: a glyph (two jaws and a dot), the core's sentence, and at most one remedy.
 *
 * State is carried by the place of the dot and by words; colour comes last.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 */
import { el, fill, setAttribute, setText, show } from './dom.js';
import { chanceText, clockText } from './numbers.js';
import { capital, fullName } from './names.js';
import { shownValue } from './units.js';
import { sv } from './svg.js';

/** Chance from which a lot is surely inside. */
const SURELY = 0.8;

/**
 * Where the dot of the glyph stands, in words.
 * @param {Result} result
 * @returns {'inside' | 'unsure' | 'short' | 'long' | 'none'}
 */
export function verdictState(result) {
  const verdict = result.report?.verdict;
  if (!verdict) return 'none';
  if (verdict.met) {
    const chance = result.levers?.chance;
    return typeof chance === 'number' && chance < SURELY ? 'unsure' : 'inside';
  }
  const worst = verdict.items.find((/** @type {any} */ item) => !item.met);
  return (worst?.predicted ?? 0) > (worst?.ordered ?? 0) ? 'long' : 'short';
}

const GLYPH_NAMES = {
  inside: 'Inside the order',
  unsure: 'Inside the order, not surely',
  short: 'Outside the order, below',
  long: 'Outside the order, above',
  none: 'No order, or no prediction',
};
const DOT_AT = { inside: 30, unsure: 42, short: 7, long: 53, none: 30 };

/**
 * The sentence of the result: state, the rest of it, and the chance where it is not in it already.
 * @param {State} state
 * @param {Result} result
 * @returns {{state: string, rest: string, chance: string, old: boolean}}
 */
export function verdictWords(state, result) {
  const whole = wholeSentence(state, result);
  const end = sentenceEnd(whole);
  const chance = result.levers?.chance;
  const judged = !whole.includes(' in 100') && typeof chance === 'number' && !!result.report?.verdict && !result.stale;
  const known = judged && typeof chance === 'number' ? `${capital(chanceText(chance))} that the lot meets the order.` : '';
  return { state: whole.slice(0, end), rest: whole.slice(end).trim(), chance: known, old: judged && !result.leversFresh };
}

/**
 * @param {State} state
 * @param {Result} result
 */
function wholeSentence(state, result) {
  if (result.trap) return 'The model stopped on this recipe. It is kept; save it and go back one step.';
  if (result.refused) return `No prediction: ${String(result.refused.text).replace(/\.$/, '')}.`;
  if (result.stale && result.faults.length > 0) {
    const { path, value, reason, text } = result.faults[0];
    return `No prediction. ${capital(fullName(state.job, path))}: ${reason ? `${value} ${reason}`.trim() : text}.`;
  }
  if (!result.report) return result.broken ? 'No prediction in this browser.' : 'Reading the recipe.';
  if (result.leversFresh && result.levers?.text) return result.levers.text;
  return result.sentence;
}

/**
 * What is wrong, without the path: for places where the field is named already.
 * @param {import('./store.js').Fault} fault
 * @returns {string}
 */
export function faultWords(fault) {
  const accepted = fault.accepted ? `; accepted: ${fault.accepted}` : '';
  if (fault.reason) return `${fault.value ? `${fault.value} ` : ''}${fault.reason}${accepted}`;
  return fault.path && fault.text.startsWith(fault.path) ? fault.text.slice(fault.path.length).replace(/^:\s*/, '') : fault.text;
}

/**
 * Where the first sentence ends: a full stop with a blank behind it, or the end.
 * @param {string} text
 */
function sentenceEnd(text) {
  const end = text.search(/\.\s/);
  return end < 0 ? text.length : end + 1;
}

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 * @returns {{draw: (state: State, result: Result) => void}}
 */
export function buildVerdict(root, ctx) {
  const glyph = verdictGlyph();
  const words = el('p', { class: 'words', id: 'verdict', tabindex: '0' });
  let written = '';
  const fixHead = el('b');
  const fixWords = el('small');
  const fix = el('button', { type: 'button', class: 'fix', hidden: true }, fixHead, fixWords);
  let remedy = () => {};
  fix.addEventListener('click', () => remedy());
  // On the smallest screens all scrolls and only this stays.
  const stuck = el('p', { class: 'stuck', 'aria-hidden': 'true' });
  root.append(stuck, el('div', { class: 'verdict' }, glyph.root, words, fix));
  return {
    draw(state, result) {
      const where = result.stale ? 'none' : verdictState(result);
      const text = verdictWords(state, result);
      glyph.draw(where);
      setAttribute(root, 'data-verdict', where);
      const age = afterwords(result);
      const key = JSON.stringify([text, age]);
      if (key !== written) {
        written = key;
        setText(stuck, text.state);
        // Made anew, so that nothing that was read is moved aside.
        fill(words, el('b', { text: text.state }), ' ', el('span', { text: text.rest }), ' ', el('span', { class: 'chance', 'data-old': text.old, text: text.chance }), ' ', el('span', { class: 'age', text: age }));
      }
      const offer = remedyOf(state, result, ctx);
      show(fix, offer !== null);
      if (offer) {
        setText(fixHead, offer.head);
        setText(fixWords, offer.words);
        remedy = offer.press;
      }
    },
  };
}

/**
 * What is said last: how old the numbers are that still stand, or that no single set-point helps.
 * @param {Result} result
 */
function afterwords(result) {
  if (result.stale && result.report) return `Numbers as of ${clockText(result.at)}, before the change.`;
  const searched = result.leversFresh && !result.stale && result.report?.verdict?.met === false;
  return searched && !result.levers?.bring_back ? 'No single set-point brings it back.' : '';
}

/**
 * The one thing that helps: go back after a trap, or the single set-point that brings the order back.
 * @param {State} state
 * @param {Result} result
 * @param {Context} ctx
 * @returns {{head: string, words: string, press: () => void} | null}
 */
function remedyOf(state, result, ctx) {
  const { act } = ctx.store;
  if ((result.trap || (result.stale && result.refused)) && state.undo.length > 0) {
    return { head: 'Undo', words: state.undo[state.undo.length - 1].label, press: () => void act.undo() };
  }
  if (!bringsBack(result)) return null;
  const { path, from, to } = /** @type {NonNullable<import('./store.js').Levers['bring_back']>} */ (result.levers?.bring_back);
  const before = shownValue(path, from, state.settings).text;
  const after = shownValue(path, to, state.settings);
  const words = `${fullName(state.job, path)} ${before} → ${after.text} ${after.unit}`;
  return { head: 'Bring it back', words, press: () => act.edit(path, to, { label: `Bring it back: ${words}` }) };
}

/**
 * Whether there is a single set-point that brings this recipe back.
 * @param {Result} result
 */
export function bringsBack(result) {
  return result.leversFresh && !result.stale && result.report?.verdict?.met === false && !!result.levers?.bring_back;
}

/** Two jaws and a dot; jaws broken and no dot where there is nothing to judge. */
function verdictGlyph() {
  const jaws = sv('path', { d: 'M25 5h-9v34h9M37 5h9v34h-9', class: 'jaws' });
  const dot = sv('circle', { cx: 30, cy: 22, r: 6.5, class: 'dot' });
  const root = sv('svg', { class: 'glyph', viewBox: '0 0 60 44', width: 60, height: 44, role: 'img' }, jaws, dot);
  return {
    root,
    draw(/** @type {keyof typeof DOT_AT} */ where) {
      setAttribute(root, 'aria-label', GLYPH_NAMES[where]);
      setAttribute(jaws, 'stroke-dasharray', where === 'none' ? '7 4' : null);
      setAttribute(dot, 'cx', DOT_AT[where]);
      setAttribute(dot, 'visibility', where === 'none' ? 'hidden' : null);
    },
  };
}
