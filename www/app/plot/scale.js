/**
 * Scales: a number of the report to a place in px, and the marks of an axis. Charts are laid out again for each width in
 * real px and never scaled, so a scale is made anew with each layout and is a plain object.
 *
 * @typedef {object} Scale
 * @property {number} from number at `start`
 * @property {number} to number at `end`
 * @property {number} start px
 * @property {number} end px
 * @property {boolean} log whether equal distances are equal ratios
 * @property {(value: number) => number} at px of a number; numbers outside are carried on, or held at the end of a log scale
 *
 * @typedef {object} Tick
 * @property {number} at px
 * @property {string} text
 */
import { decimals, powerText, three } from '../numbers.js';
import { roundTicks } from '../svg.js';

/**
 * Equal distances for equal differences.
 * @param {number} from
 * @param {number} to
 * @param {number} start
 * @param {number} end
 * @returns {Scale}
 */
export function linearScale(from, to, start, end) {
  const each = to === from ? 0 : (end - start) / (to - from);
  return { from, to, start, end, log: false, at: (value) => start + (value - from) * each };
}

/**
 * Equal distances for equal ratios; what is below `from`, 0 too, stands at `start`.
 * @param {number} from above 0
 * @param {number} to
 * @param {number} start
 * @param {number} end
 * @returns {Scale}
 */
export function logScale(from, to, start, end) {
  const each = (end - start) / Math.log10(to / from);
  return {
    from, to, start, end, log: true,
    at: (value) => start + Math.log10(Math.min(Math.max(value, from), to) / from) * each,
  };
}

/**
 * Whole decades that hold the values, `most` of them at most: what is lower is held at the lowest.
 * @param {number[]} values those that are not above 0 do not count
 * @param {number} most
 * @returns {{from: number, to: number}}
 */
export function decadesAround(values, most) {
  const found = values.filter((value) => value > 0 && Number.isFinite(value)).map(Math.log10);
  if (!found.length) return { from: 1, to: 10 };
  const top = Math.ceil(Math.max(...found) + 1e-9);
  const low = Math.max(Math.floor(Math.min(...found) - 1e-9), top - most);
  return { from: 10 ** low, to: 10 ** Math.max(top, low + 1) };
}

/**
 * Marks of a linear scale, at least `apart` px from each other.
 * @param {Scale} scale
 * @param {number} apart
 * @param {number} [most]
 * @returns {Tick[]}
 */
export function linearTicks(scale, apart, most = 6) {
  const room = Math.floor(Math.abs(scale.end - scale.start) / apart) + 1;
  const values = roundTicks(scale.from, scale.to, Math.max(2, Math.min(most, room)));
  const step = values.length > 1 ? values[1] - values[0] : 0;
  const places = step > 0 ? Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)) : 0;
  return values.map((value) => ({ at: scale.at(value), text: step > 0 ? decimals(value, places) : three(value) }));
}

/**
 * Marks of a log scale: one a decade, fewer where they would stand closer than `apart` px.
 * @param {Scale} scale
 * @param {number} apart
 * @returns {Tick[]}
 */
export function decadeTicks(scale, apart) {
  const first = Math.round(Math.log10(scale.from));
  const last = Math.round(Math.log10(scale.to));
  const room = Math.abs(scale.end - scale.start) / Math.max(1, last - first);
  const stride = Math.max(1, Math.ceil(apart / room));
  const ticks = [];
  for (let power = first; power <= last; power += stride) {
    ticks.push({ at: scale.at(10 ** power), text: powerText(10 ** power).replace(/^1 × /, '') });
  }
  return ticks;
}

/**
 * Those of some marks that leave `apart` px between them; earlier ones go first.
 * @param {Tick[]} ticks in the order of their weight
 * @param {number} apart
 * @returns {Tick[]}
 */
export function withoutCrowding(ticks, apart) {
  /** @type {Tick[]} */
  const kept = [];
  for (const tick of ticks) if (kept.every((other) => Math.abs(other.at - tick.at) >= apart)) kept.push(tick);
  return kept;
}

/** Room that a text takes, px; a wide face, so that a guess is never too narrow. @param {string} text @param {number} size px */
export function roomOfText(text, size) {
  return [...text].length * size * 0.58;
}
