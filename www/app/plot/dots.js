/**
 * Chance as something to count: equally likely means, stacked on an axis between the jaws; a full dot is inside, an open
 * one outside.
 */
import { keepLength, setProps } from '../dom.js';
import { px1, sv } from '../svg.js';

/** How many dots are drawn. */
export const CHANCE_DOTS = 20;

/**
 * Quantile of the standard normal law, by halving the range of its distribution function. Forty halvings
 * give more digits than a dot can show.
 * @param {number} share 0 to 1, neither of them
 */
function standardQuantile(share) {
  let low = -8;
  let high = 8;
  for (let round = 0; round < 40; round += 1) {
    const middle = (low + high) / 2;
    if (standardShare(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Share of a standard normal law below a value: Simpson's rule over its density. @param {number} value */
function standardShare(value) {
  const parts = 64;
  const step = value / parts;
  let sum = 0;
  for (let part = 0; part <= parts; part += 1) {
    const weight = part === 0 || part === parts ? 1 : part % 2 ? 4 : 2;
    sum += weight * Math.exp(-0.5 * (part * step) ** 2);
  }
  return 0.5 + (sum * step) / 3 / Math.sqrt(2 * Math.PI);
}

/** Middles of equally likely parts of the standard normal law. */
const LIKELY = Array.from({ length: CHANCE_DOTS }, (_, dot) => standardQuantile((dot + 0.5) / CHANCE_DOTS));

/**
 * Equally likely means of a figure.
 * @param {number} mean
 * @param {number} u its standard uncertainty
 */
export const likelyMeans = (mean, u) => LIKELY.map((value) => mean + value * u);

/**
 * @typedef {import('./scale.js').Scale} Scale
 * @returns {{root: SVGGElement, draw: (means: number[], inside: (mean: number) => boolean, limits: number[], x: Scale, base: number, top: number) => void}}
 *   limits: px of the jaws, left to right; a column of dots never stands across one
 */
export function chanceDots() {
  const root = sv('g');
  /** @type {SVGCircleElement[]} */
  const dots = [];
  return {
    root,
    draw(means, inside, limits, x, base, top) {
      keepLength(root, dots, means.length, () => sv('circle'));
      const { radius, places } = stackedDots(means.map(x.at), limits, base - top);
      means.forEach((mean, dot) => {
        const [at, level] = places[dot];
        setProps(dots[dot], { cx: px1(at), cy: px1(base - radius * (2 * level + 1) - 2), r: px1(radius - 1), class: inside(mean) ? 'dot in' : 'dot' });
      });
    },
  };
}

/** Largest radius of a dot, px. */
const WIDEST_DOT = 9;

/**
 * Places of dots in columns a dot wide, which begin at the limits, and the largest radius with which the highest column
 * fits.
 * @param {number[]} at px, rising
 * @param {number[]} limits px
 * @param {number} height
 * @returns {{radius: number, places: number[][]}}
 */
function stackedDots(at, limits, height) {
  const between = limits.length > 1 ? limits[1] - limits[0] : 0;
  const least = between > 4 ? Math.max(1, Math.round(between / (2 * WIDEST_DOT))) : 1;
  for (let round = 0; ; round += 1) {
    // A whole number of columns between the jaws, more and narrower ones from round to round.
    const wide = between > 4 ? between / (least + round) : 2 * WIDEST_DOT * 0.9 ** round;
    /** @type {Map<number, number>} */
    const levels = new Map();
    const places = at.map((px) => {
      const column = Math.floor((px - (limits[0] ?? 0)) / wide);
      const level = levels.get(column) ?? 0;
      levels.set(column, level + 1);
      return [(limits[0] ?? 0) + (column + 0.5) * wide, level];
    });
    const radius = Math.min(wide / 2, WIDEST_DOT * 1.3);
    if (Math.max(...levels.values()) * 2 * radius + 4 <= height || round > 24) return { radius, places };
  }
}
