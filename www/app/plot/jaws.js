/**
 * Jaws: the limits of the order, with well tint between them. They close on what is drawn, so they stand outside of it.
 */
import { setProps, show } from '../dom.js';
import { px1, sv } from '../svg.js';

/** Depth of a jaw, px. */
const JAW = 7;

/**
 * @returns {{root: SVGGElement, tint: SVGRectElement, draw: (low: number | null, high: number | null, top: number, bottom: number, outside: boolean) => void}}
 *   `tint` goes below what is drawn, `root` above it; `low`, `high` in px from left to right, null: no limit there
 */
export function jawsMark() {
  const tint = sv('rect', { class: 'tint' });
  const jaws = sv('path', { class: 'jaws' });
  return {
    root: sv('g', {}, jaws),
    tint,
    draw(low, high, top, bottom, outside) {
      const shown = low !== null || high !== null;
      show(tint, low !== null && high !== null);
      show(jaws, shown);
      if (!shown) return;
      if (low !== null && high !== null) {
        setProps(tint, { x: px1(low), y: px1(top), width: px1(Math.max(0, high - low)), height: px1(bottom - top) });
      }
      const side = (/** @type {number | null} */ at, /** @type {number} */ depth) =>
        at === null ? '' : `M${px1(at + depth)} ${px1(top)}H${px1(at)}V${px1(bottom)}`;
      setProps(jaws, { d: side(low, JAW) + side(high, -JAW), class: outside ? 'jaws out' : 'jaws' });
    },
  };
}
