/**
 * Figures of the levers as they are read: a name, a unit that keeps numbers short, and limits with their sign taken off.
 *
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} FigureSeen
 * @property {string} name "absorber length"
 * @property {string} unit of the numbers below
 * @property {number} factor from the unit of the core to it, sign included
 * @property {number} value
 * @property {string} text the value to the place of its uncertainty
 * @property {number} places decimals of it
 * @property {number} u
 * @property {number | null} low null: no limit below
 * @property {number | null} high
 */
import { decimals, placesOf, roundedExponent } from './numbers.js';
import { stageName } from './names.js';

/**
 * @param {Job} job
 * @param {any} figure of the levers
 * @returns {FigureSeen}
 */
export function figureSeen(job, figure) {
  const segment = /^wires\.segments\[(\d+)\]\.(length_nm|net_per_cm3)\.mean$/.exec(figure.path);
  if (segment?.[2] === 'net_per_cm3') return dopingSeen(job, figure, Number(segment[1]));
  if (figure.path === 'wires.length_nm.cv') return seenFigure(figure, 'spread of the whole wire', '%', 100);
  return seenFigure(figure, segment ? `${stageName(job, Number(segment[1]))} length` : 'diameter at the tip', figure.unit || 'nm', 1);
}

/** Doping as its amount, in powers of ten of carriers. @param {Job} job @param {any} figure @param {number} stage */
function dopingSeen(job, figure, stage) {
  const size = Math.max(Math.abs(figure.value), Math.abs(figure.low ?? 0), Math.abs(figure.high ?? 0));
  const power = size > 0 ? roundedExponent(size, 2) : 0;
  const raised = [...String(power)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '⁻').join('');
  const sign = figure.value < 0 ? -1 : 1;
  const seen = seenFigure(figure, `${stageName(job, stage)} doping`, `10${raised} cm⁻³`, sign * 10 ** -power);
  // An amount has no limit below 0: undoped is from as many holes to as many electrons.
  return seen.low !== null && seen.low < 0 ? { ...seen, low: null } : seen;
}

/** @param {any} figure @param {string} name @param {string} unit @param {number} factor @returns {FigureSeen} */
function seenFigure(figure, name, unit, factor) {
  const limit = (/** @type {number | null | undefined} */ value) => (typeof value === 'number' ? value * factor : null);
  const [low, high] = factor < 0 ? [limit(figure.high), limit(figure.low)] : [limit(figure.low), limit(figure.high)];
  const value = figure.value * factor;
  const u = Math.abs((figure.u ?? 0) * factor);
  const places = u > 0 ? placesOf(u) : placesOf(Math.abs(value) || 1);
  return { name, unit, factor, value, text: decimals(value, places), places, u, low: low === 0 ? null : low, high };
}
