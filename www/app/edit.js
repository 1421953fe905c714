/**
 * A field is changed: at once where its instrument is known to take the value, else after the core was asked. What is
 * refused is kept as typed, with the core's words.
 *
 * @typedef {import('./store.js').Store} Store
 * @typedef {import('./view.js').Context} Context
 */
import { valueAt, withValue } from './store.js';
import { shownText, typedValue } from './units.js';
import { faultWords } from './verdict.js';
import { fieldName } from './names.js';

/**
 * Sets a number that lies within what its instrument can be set to.
 * @param {Context} ctx
 * @param {string} path
 * @param {number} value in the unit of the job
 * @param {{merge?: string, text?: string, label?: string}} [how] text: as it was typed
 * @returns {Promise<boolean>} whether it was taken
 */
export async function setField(ctx, path, value, how = {}) {
  const { state, result, act } = ctx.store;
  if (valueAt(state.job, path) === value) {
    if (Object.hasOwn(state.drafts, path)) act.draft(path, null);
    return true;
  }
  const point = result.points.get(path);
  const text = how.text ?? shownText(path, value, state.settings);
  if (point && point.max > point.min) {
    if (value >= point.min && value <= point.max) {
      act.edit(path, value, how);
      return true;
    }
    return refuseByCore(ctx, path, value, text, `${shownText(path, value, state.settings)} ${pointWords(ctx, path, value, point)}`);
  }
  return askedField(ctx, path, value, text, how);
}

/**
 * Why an instrument does not take a value: its own range, as the core gave it.
 * @param {Context} ctx
 * @param {string} path
 * @param {number} value
 * @param {import('./store.js').SetPoint} point
 */
function pointWords(ctx, path, value, point) {
  const { settings } = ctx.store.state;
  const limit = value > point.max ? point.max : point.min;
  return `${value > point.max ? point.above : point.below}, ${shownText(path, limit, settings)}.`;
}

/**
 * Out of an instrument's range: the core's own fault is said where there is one, else the instrument's.
 * @param {Context} ctx
 * @param {string} path
 * @param {number} value
 * @param {string} text
 * @param {string} words
 */
async function refuseByCore(ctx, path, value, text, words) {
  const { state } = ctx.store;
  const answer = await ctx.call('check_job', [withValue(state.job, path, value)]);
  const fault = answer.faults?.find((one) => one.path === path) ?? null;
  keepRefused(ctx, path, text, fault ? `${faultWords(fault)}.` : words);
  return false;
}

/**
 * Asks the core before the recipe is changed.
 * @param {Context} ctx
 * @param {string} path
 * @param {any} value
 * @param {string} text
 * @param {{merge?: string, label?: string}} how
 * @returns {Promise<boolean>}
 */
export async function askedField(ctx, path, value, text, how = {}) {
  const { state, act } = ctx.store;
  const job = withValue(state.job, path, value);
  const answer = await ctx.call('check_job', [job]);
  if (answer.faults) {
    const fault = answer.faults.find((one) => one.path === path) ?? answer.faults[0];
    const where = fault.path === path ? '' : `${fieldName(state.job, fault.path)}: `;
    keepRefused(ctx, path, text, `${where}${faultWords(fault)}.`);
    return false;
  }
  act.edit(path, value, how);
  return true;
}

/**
 * Keeps what was typed with why it was not taken, and says it.
 * @param {Context} ctx
 * @param {string} path
 * @param {string} text
 * @param {string} refusal
 */
function keepRefused(ctx, path, text, refusal) {
  const { state, act } = ctx.store;
  const value = valueAt(state.job, path);
  const kept = typeof value === 'number' ? `Kept as typed; the line still uses ${shownText(path, value, state.settings)}.` : 'Kept as typed.';
  act.draft(path, { text, refusal, kept });
  ctx.say(`${refusal} ${kept}`, true);
}

/**
 * A typed text is taken, or refused in words.
 * @param {Context} ctx
 * @param {string} path
 * @param {string} text
 * @returns {Promise<boolean>}
 */
export async function typeField(ctx, path, text) {
  const { state } = ctx.store;
  const value = typedValue(path, text, state.settings);
  if (value !== null) return setField(ctx, path, value, { text });
  // No number: the core says so in its own words, as of any text that stands where a number should.
  const answer = await ctx.call('check_job', [withValue(state.job, path, text)]);
  const fault = answer.faults?.find((one) => one.path === path) ?? answer.faults?.[0];
  keepRefused(ctx, path, text, fault ? `${faultWords(fault)}.` : `“${text}” is not a number.`);
  return false;
}

/**
 * Takes an optional field away, or gives it: asked of the core first.
 * @param {Context} ctx
 * @param {string} label
 * @param {import('./store.js').Job} job
 * @returns {Promise<boolean>}
 */
export async function askedChange(ctx, label, job) {
  const { state, act } = ctx.store;
  const answer = await ctx.call('check_job', [job]);
  if (answer.faults) {
    const words = answer.faults.slice(0, 3).map((fault) => `${fieldName(state.job, fault.path)}: ${faultWords(fault)}.`);
    act.notice(`Not done: ${label}.`, answer.faults);
    ctx.say(`Not done: ${label}. ${words.join(' ')}`, true);
    return false;
  }
  act.change(label, job);
  return true;
}
