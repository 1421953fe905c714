/**
 * A line through points of the report.
 */
import { setProps } from '../dom.js';
import { linePath, sv } from '../svg.js';

/**
 * @param {string} className of the stroke: `curve`, `curve p`, `curve n`, `dotted`, `pinned`
 * @returns {{root: SVGPathElement, draw: (xs: ArrayLike<number>, ys: ArrayLike<number>) => void, clear: () => void}} px
 */
export function curveMark(className) {
  const root = sv('path', { class: className });
  return {
    root,
    draw: (xs, ys) => setProps(root, { d: linePath(xs, ys) }),
    clear: () => setProps(root, { d: null }),
  };
}
