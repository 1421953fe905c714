/**
 * Share of wires against their length: bars that touch, and the outline of another such picture as a broken line.
 */
import { setProps } from '../dom.js';
import { px1, sv } from '../svg.js';

/**
 * @typedef {import('./scale.js').Scale} Scale
 * @typedef {{edges_nm: number[], share: number[]}} Histogram
 */

/**
 * Bars, each with its outline, as one path.
 * @param {Histogram} histogram
 * @param {Scale} x
 * @param {Scale} y
 */
export function barsPath(histogram, x, y) {
  let d = '';
  histogram.share.forEach((share, bin) => {
    if (!(share > 0)) return;
    const left = px1(x.at(histogram.edges_nm[bin]));
    const right = px1(x.at(histogram.edges_nm[bin + 1]));
    d += `M${left} ${px1(y.start)}V${px1(y.at(share))}H${right}V${px1(y.start)}`;
  });
  return d;
}

/**
 * The outline of all bars together. Bins of another width are brought to `width`, so that areas compare.
 * @param {Histogram} histogram
 * @param {Scale} x
 * @param {Scale} y
 * @param {number} width nm of a bin of the bars it is laid over
 */
export function outlinePath(histogram, x, y, width) {
  const { edges_nm: edges, share } = histogram;
  if (!share.length) return '';
  let d = `M${px1(x.at(edges[0]))} ${px1(y.start)}`;
  share.forEach((part, bin) => {
    const height = px1(y.at((part * width) / (edges[bin + 1] - edges[bin])));
    d += `V${height}H${px1(x.at(edges[bin + 1]))}`;
  });
  return `${d}V${px1(y.start)}`;
}

/** Width of the bins, nm; 1 where there are none. @param {Histogram | null | undefined} histogram */
export function binWidth(histogram) {
  return histogram && histogram.edges_nm.length > 1 ? histogram.edges_nm[1] - histogram.edges_nm[0] : 1;
}

/**
 * Middle of a second peak, nm; null where there is one peak. A second one stands apart: between it and the first the
 * share falls under half of it, and it holds at least one wire in a hundred.
 * @param {Histogram} histogram
 * @returns {number | null}
 */
export function secondPeak(histogram) {
  const { share, edges_nm: edges } = histogram;
  let first = 0;
  share.forEach((part, bin) => {
    if (part > share[first]) first = bin;
  });
  let best = -1;
  for (const side of [-1, 1]) {
    let least = share[first];
    for (let bin = first + side; bin >= 0 && bin < share.length; bin += side) {
      least = Math.min(least, share[bin]);
      if (share[bin] > 0.003 && least < share[bin] / 2 && (best < 0 || share[bin] > share[best])) best = bin;
    }
  }
  if (best < 0) return null;
  let hill = 0;
  for (const side of [0, 1]) {
    for (let bin = best + side; bin >= 0 && bin < share.length && share[bin] > share[best] / 10; bin += side ? 1 : -1) hill += share[bin];
  }
  return hill >= 0.01 ? (edges[best] + edges[best + 1]) / 2 : null;
}

/** @returns {{root: SVGGElement, draw: (histogram: Histogram, pinned: Histogram | null, x: Scale, y: Scale, fill: string) => void}} */
export function histogramMark() {
  const bars = sv('path', { class: 'bars' });
  const pin = sv('path', { class: 'pinned' });
  return {
    root: sv('g', {}, bars, pin),
    draw(histogram, pinned, x, y, fill) {
      setProps(bars, { d: barsPath(histogram, x, y), fill });
      setProps(pin, { d: pinned ? outlinePath(pinned, x, y, binWidth(histogram)) : null });
    },
  };
}
