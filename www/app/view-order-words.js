/**
 * The order in words, and an order made of what a recipe already grows.
 *
 * @typedef {import('./store.js').Job} Job
 */
import { NARROW, powerText, setPointText, shareText } from './numbers.js';
import { nice125 } from './units.js';

/** How many wires are wanted. @param {any} order */
export function wiresWords(order) {
  if (order.area_cm2 !== undefined) {
    const pitch = order.pitch_nm === undefined ? '' : ` at ${setPointText(order.pitch_nm)}${NARROW}nm pitch`;
    return `${setPointText(order.area_cm2)}${NARROW}cm²${pitch}`;
  }
  return order.wires === undefined ? 'any number of wires' : `${powerText(order.wires)} wires`;
}

/** What is accepted of diameter and spread. @param {any} order */
export function spreadWords(order) {
  const tolerance = order.diameter_tolerance_nm === undefined ? `± 5${NARROW}%` : `± ${setPointText(order.diameter_tolerance_nm)}${NARROW}nm`;
  return `${tolerance}; ${order.spread_cv === undefined ? 'any spread' : `spread at most ${shareText(order.spread_cv)}`}; ${wiresWords(order)}`;
}

/**
 * An order that asks for what the recipe grows now, in round numbers: a place to start typing from.
 * @param {Job} job
 * @param {any} report
 */
export function orderOfReport(job, report) {
  const segments = report?.wires?.segments ?? [];
  const round = (/** @type {number} */ nm) => Math.max(10, Math.round(nm / 10) * 10);
  return {
    diameter_nm: Math.round(report?.wires?.diameter_nm?.tip?.mean || job.seeds?.mobility_diameter_nm || 60),
    segments: job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => {
      const segment = segments[index];
      const mean = segment?.length_nm?.mean > 0 ? segment.length_nm.mean : 1000;
      const net = Math.abs(segment?.net_per_cm3?.mean ?? 0);
      return {
        length_nm: round(mean),
        tolerance_nm: round(mean / 10),
        doping: segment?.doping ?? 'i',
        // For an undoped segment the most that is accepted: twice of what it is, so that it starts inside.
        carriers_per_cm3: net > 1e12 ? nice125(segment?.doping === 'i' ? net * 2 : net) : 1e17,
      };
    }),
  };
}
