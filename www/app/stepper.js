/**
 * A stepper row: a set-point with its range, −, value and +, what one step does, and its refusal.
 *
 * The value is a text field that is also a spinbutton: ↑ ↓ one step, Page Up and Page Down the next larger, Home and End
 * the limits, digits type. Enter takes what was typed, Escape leaves the old. A held button steps five times a second and
 * makes one undo entry.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./units.js').StepOf} StepOf
 */
import { el, setAttribute, setText, show } from './dom.js';
import { MINUS, NARROW, decimals, placesOf, two } from './numbers.js';
import { capital, fieldName } from './names.js';
import { chosenUnit, jobUnit, lastName, shownValue, stepText, stepped, stepsOf } from './units.js';
import { valueAt } from './store.js';
import { askedField, setField, typeField } from './edit.js';

const FITS_ITSELF = CSS.supports('field-sizing', 'content');
const COARSE = window.matchMedia('(pointer: coarse)');
const HOLD_AFTER = 400;
const HOLD_EVERY = 200;

/** Steps of a kind share one choice: all flows, all walls, … */
const KIND_NAMES = new Map([
  ['sccm', 'flow'],
  ['slm', 'flow'],
  ['mbar', 'pressure'],
  ['V', 'voltage'],
]);

/**
 * The kind under which the chosen step of a field is kept.
 * @param {string} path
 * @returns {string}
 */
export function stepKind(path) {
  const name = lastName(path);
  return name === 'wall_c' || name === 'inlet_c' || name === 'flange_c' ? 'wall' : (KIND_NAMES.get(jobUnit(path)) ?? name);
}

/**
 * Whether fingers are the main way in.
 * @returns {boolean}
 */
export function coarsePointer() {
  return COARSE.matches;
}

/**
 * The steps of a field and the one that is chosen.
 * @param {string} path
 * @param {State} state
 * @param {Result} result
 * @returns {{steps: StepOf[], index: number, step: StepOf}}
 */
export function chosenStep(path, state, result) {
  const value = valueAt(state.job, path);
  const pinned = state.pin ? valueAt(state.pin.job, path) : undefined;
  const point = result.points.get(path);
  // 1 % of the reading is that of the pin, so that + and − return to the same number.
  const reading = point && typeof pinned === 'number' ? { ...point, value: pinned } : point;
  const steps = stepsOf(path, state.settings, reading, typeof value === 'number' ? value : 0);
  const index = Math.min(state.steps[stepKind(path)] ?? (coarsePointer() ? 1 : 0), steps.length - 1);
  return { steps, index, step: steps[index] };
}

let holds = 0;

/**
 * @param {Context} ctx
 * @param {{path: string, label?: string, optional?: boolean, onTouch?: (path: string) => void}} of
 * @returns {import('./view.js').StepperRow & {path: string}}
 */
export function stepperRow(ctx, of) {
  const { path } = of;
  const id = `row-${path.replace(/[^\w]+/g, '-')}`;
  const name = el('label', { class: 'row-name', for: id });
  const range = el('span', { class: 'row-range' });
  const back = el('button', { type: 'button', class: 'link back', hidden: true, on: { click: () => ctx.store.act.putBack(path) } });
  const less = el('button', { type: 'button', class: 'step less' }, MINUS);
  const more = el('button', { type: 'button', class: 'step more' }, '+');
  const input = el('input', { id, type: 'text', role: 'spinbutton', autocomplete: 'off', spellcheck: 'false', enterkeyhint: 'done', inputmode: coarsePointer() ? 'none' : 'text' });
  const unit = el('span', { class: 'row-unit', 'aria-hidden': 'true' });
  const box = el('div', { class: 'row-value', on: { click: () => input.focus() } }, input, unit);
  const out = el('button', { type: 'button', class: 'link leave', hidden: true, text: 'leave out', on: { click: () => leaveOut(ctx, path) } });
  const hints = [el('span'), el('span')];
  const words = el('p', { class: 'refusal', id: `${id}-why`, hidden: true });
  const why = el('b');
  const kept = el('span');
  words.append(why, ' ', kept);
  const limit = el('p', { class: 'row-limit', hidden: true });
  const root = el('div', { class: 'row', data: { path } }, el('div', { class: 'row-head' }, name, range, out, back), el('div', { class: 'row-set' }, less, box, more), el('div', { class: 'row-hints' }, ...hints), limit, words);
  const touch = () => of.onTouch?.(path);
  const entry = valueEntry(ctx, path, input, touch);
  const move = (/** @type {1 | -1} */ sign, /** @type {string | undefined} */ merge) => {
    touch();
    entry.leave();
    const reached = stepBy(ctx, path, sign, 0, merge);
    setText(limit, reached);
    show(limit, reached !== '');
    if (reached && !merge) ctx.say(reached);
    return reached === '';
  };
  holdable(less, (merge) => move(-1, merge));
  holdable(more, (merge) => move(1, merge));
  input.addEventListener('keydown', (event) => stepKeys(ctx, path, event, entry, (text) => {
    setText(limit, text);
    show(limit, text !== '');
  }));
  let shownFor = '';
  return {
    root,
    path,
    draw(state, result) {
      const value = valueAt(state.job, path);
      const point = result.points.get(path);
      const number = typeof value === 'number' ? value : null;
      const shown = number === null ? { text: '', unit: chosenUnit(jobUnit(path), state.settings).unit } : shownValue(path, number, state.settings, point);
      const draft = Object.hasOwn(state.drafts, path) ? state.drafts[path] : null;
      const title = capital(of.label ?? fieldName(state.job, path));
      setText(name, title);
      setText(unit, shown.unit);
      entry.show(draft ? draft.text : shown.text);
      setAttribute(input, 'placeholder', number === null ? 'left out' : null);
      show(out, !!of.optional && number !== null);
      spinValues(input, number, shown, point, state);
      setAttribute(less, 'aria-label', `${title}: less`);
      setAttribute(more, 'aria-label', `${title}: more`);
      drawRange(root, range, back, path, number, state, point);
      show(words, draft !== null && draft.refusal !== '');
      setText(why, draft?.refusal ?? '');
      setText(kept, draft?.kept ?? '');
      setAttribute(input, 'aria-invalid', draft?.refusal ? 'true' : null);
      setAttribute(input, 'aria-describedby', draft?.refusal ? `${id}-why` : null);
      setAttribute(root, 'data-refused', !!draft?.refusal);
      const now = String(number);
      if (now !== shownFor && !limit.hidden && !limit.textContent?.includes(shown.text)) show(limit, false);
      shownFor = now;
      drawHints(hints, path, number, state, result);
    },
  };
}

/**
 * An optional field goes back to what holds without it.
 * @param {Context} ctx
 * @param {string} path
 */
function leaveOut(ctx, path) {
  void askedField(ctx, path, undefined, '');
}

/**
 * @param {HTMLElement} input
 * @param {number | null} number
 * @param {{text: string, unit: string}} shown
 * @param {import('./store.js').SetPoint | undefined} point
 * @param {State} state
 */
function spinValues(input, number, shown, point, state) {
  const chosen = chosenUnit(point?.unit ?? '', state.settings);
  const limit = (/** @type {number} */ value) => Number((value * chosen.factor + chosen.offset).toPrecision(12));
  setAttribute(input, 'aria-valuenow', number === null ? 0 : limit(number));
  setAttribute(input, 'aria-valuetext', number === null ? 'not set' : `${shown.text} ${shown.unit}`.trim());
  const bounded = point && point.max > point.min;
  setAttribute(input, 'aria-valuemin', bounded ? limit(point.min) : null);
  setAttribute(input, 'aria-valuemax', bounded ? limit(point.max) : null);
}

/**
 * Range at the right of the head, or the way back to the pin.
 * @param {HTMLElement} root
 * @param {HTMLElement} range
 * @param {HTMLElement} back
 * @param {string} path
 * @param {number | null} number
 * @param {State} state
 * @param {import('./store.js').SetPoint | undefined} point
 */
function drawRange(root, range, back, path, number, state, point) {
  const pinned = state.pin ? valueAt(state.pin.job, path) : undefined;
  const changed = typeof pinned === 'number' && number !== null && pinned !== number;
  setAttribute(root, 'data-changed', changed);
  show(back, changed);
  show(range, !changed);
  if (changed) {
    const text = shownValue(path, pinned, state.settings, point);
    setText(back, `put back ${text.text}`);
    setAttribute(back, 'aria-label', `put back ${text.text} ${text.unit}`.trim());
  }
  const bounded = point && point.max > point.min;
  const words = (/** @type {number} */ value) => shownValue(path, value, state.settings, point).text;
  setText(range, bounded ? `${words(point.min)} to ${words(point.max)}` : '');
}

/**
 * What one step down and one step up do to the tightest quantity.
 * @param {HTMLElement[]} hints
 * @param {string} path
 * @param {number | null} value
 * @param {State} state
 * @param {Result} result
 */
function drawHints(hints, path, value, state, result) {
  const { step } = chosenStep(path, state, result);
  const lever = result.levers?.levers.find((one) => one.path === path);
  const index = result.levers?.tightest ?? null;
  const figure = index === null || index === undefined ? null : result.levers?.figures[index];
  [-1, 1].forEach((sign, at) => {
    const way = /** @type {1 | -1} */ (sign);
    const moved = value === null ? null : stepped(value, step, way);
    const effect = lever && figure && moved !== null && value !== null ? (moved - value) * (lever.effects[index ?? 0] ?? 0) : null;
    const words = effect === null || !figure ? '' : effectWords(effect, figure);
    setText(hints[at], value === null ? '' : `${stepText(step, way)}${words ? `: ${words}` : ''}`);
    setAttribute(hints[at], 'data-old', !result.leversFresh);
  });
}

/**
 * A change of a figure in words: "58 nm shorter", "0.3 nm thicker", "doping − 2.1 %".
 * @param {number} effect
 * @param {import('./store.js').Levers['figures'][number]} figure
 * @returns {string}
 */
export function effectWords(effect, figure) {
  const amount = Math.abs(effect);
  if (figure.path.includes('length_nm.mean') || figure.path.includes('diameter_nm')) {
    const places = figure.u > 0 ? Math.min(placesOf(figure.u), 1) : 1;
    const text = decimals(amount, amount < 10 ? Math.max(places, 1) : 0);
    if (/^[0.]*$/.test(text)) return 'no change';
    const wide = figure.path.includes('diameter_nm');
    return `${text}${NARROW}nm ${wide ? (effect > 0 ? 'thicker' : 'thinner') : effect > 0 ? 'longer' : 'shorter'}`;
  }
  const whole = figure.path.endsWith('.cv') ? 0.01 : Math.abs(figure.value) / 100;
  const percent = whole > 0 ? amount / whole : 0;
  if (percent < 0.005) return 'no change';
  // Net doping is negative for p: more of it is further from zero.
  const more = effect * (figure.value < 0 ? -1 : 1) > 0;
  return `${figure.path.endsWith('.cv') ? 'spread' : 'doping'} ${more ? '+' : MINUS}\u00a0${percent < 0.1 ? decimals(percent, 2) : two(percent)}${NARROW}%`;
}

/**
 * One step of a field.
 * @param {Context} ctx
 * @param {string} path
 * @param {1 | -1} sign
 * @param {number} larger 0 the chosen step, 1 the next larger
 * @param {string} [merge]
 * @returns {string} which limit was met, in words; empty if none
 */
function stepBy(ctx, path, sign, larger, merge) {
  const { state, result } = ctx.store;
  const value = valueAt(state.job, path);
  if (typeof value !== 'number') return '';
  const { steps, index } = chosenStep(path, state, result);
  const step = steps[Math.min(index + larger, steps.length - 1)];
  const next = stepped(value, step, sign);
  const point = result.points.get(path);
  if (point && point.max > point.min && (next > point.max || next < point.min)) {
    const limit = sign > 0 ? point.max : point.min;
    const text = shownValue(path, limit, state.settings, point);
    return `${sign > 0 ? 'At most' : 'At least'} ${text.text} ${text.unit}${limit === value ? '' : `: no room for a step of ${step.text}`}.`;
  }
  void setField(ctx, path, next, { merge });
  return '';
}

/**
 * @param {Context} ctx
 * @param {string} path
 * @param {KeyboardEvent} event
 * @param {{typing: () => boolean, leave: () => void, take: () => void}} entry
 * @param {(text: string) => void} limited
 */
function stepKeys(ctx, path, event, entry, limited) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const ways = /** @type {Record<string, [1 | -1, number]>} */ ({ ArrowUp: [1, 0], ArrowDown: [-1, 0], PageUp: [1, 1], PageDown: [-1, 1] });
  const way = ways[event.key];
  if (way) {
    event.preventDefault();
    entry.leave();
    limited(stepBy(ctx, path, way[0], way[1], event.repeat ? `key-${path}` : undefined));
    return;
  }
  if ((event.key === 'Home' || event.key === 'End') && !entry.typing()) {
    const point = ctx.store.result.points.get(path);
    if (!point || !(point.max > point.min)) return;
    event.preventDefault();
    void setField(ctx, path, event.key === 'Home' ? point.min : point.max);
  } else if (event.key === 'Enter') {
    event.preventDefault();
    entry.take();
  } else if (event.key === 'Escape') {
    event.stopPropagation();
    entry.leave();
    ctx.store.act.draft(path, null);
  }
}

/**
 * The typing of a value: text is the user's until it is taken or left.
 * @param {Context} ctx
 * @param {string} path
 * @param {HTMLInputElement} input
 * @param {() => void} touch
 */
function valueEntry(ctx, path, input, touch) {
  let typing = false;
  let standing = '';
  const size = () => {
    // Where the browser cannot fit a field to its text.
    if (!FITS_ITSELF) input.style.width = `${Math.max([...input.value].length, 1) + 0.6}ch`;
  };
  const show = (/** @type {string} */ text) => {
    standing = text;
    if (!typing && input.value !== text) {
      input.value = text;
      // A number of many figures is set smaller, so that a narrow row cuts none of them.
      input.toggleAttribute('data-long', text.length > 5);
      size();
      // What is typed next replaces it, as it does when the field is entered.
      if (document.activeElement === input) input.select();
    }
  };
  const leave = () => {
    typing = false;
    show(standing);
  };
  const take = () => {
    if (!typing) return;
    typing = false;
    if (document.activeElement === input) input.select();
    void typeField(ctx, path, input.value);
  };
  input.addEventListener('focus', () => {
    touch();
    input.select();
  });
  input.addEventListener('click', () => {
    if (coarsePointer()) ctx.open('keypad', { path });
  });
  input.addEventListener('input', () => {
    typing = true;
    size();
    // Half-typed text outlives a reload.
    ctx.store.act.draft(path, { text: input.value, refusal: '' });
  });
  input.addEventListener('blur', take);
  return { show, leave, take, typing: () => typing };
}

/**
 * A button that steps once when pressed, and five times a second when held.
 * @param {HTMLButtonElement} button
 * @param {(merge: string | undefined) => boolean} step whether it could
 */
function holdable(button, step) {
  let timer = 0;
  let held = false;
  const stop = () => {
    window.clearTimeout(timer);
    window.clearInterval(timer);
    timer = 0;
  };
  button.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    held = false;
    stop();
    timer = window.setTimeout(() => {
      held = true;
      const merge = `hold-${(holds += 1)}`;
      step(merge);
      timer = window.setInterval(() => {
        if (!step(merge)) stop();
      }, HOLD_EVERY);
    }, HOLD_AFTER);
  });
  for (const event of ['pointerup', 'pointerleave', 'pointercancel', 'blur']) button.addEventListener(event, stop);
  button.addEventListener('contextmenu', (event) => event.preventDefault());
  button.addEventListener('click', () => {
    stop();
    if (!held) step(undefined);
    held = false;
  });
}
