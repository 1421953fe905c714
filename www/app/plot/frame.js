/**
 * The SVG of a picture: as wide as its place, as high as it turns out, in real px.
 */
import { remPx, setAttribute, setProps } from '../dom.js';
import { sv } from '../svg.js';

/**
 * @param {HTMLElement} plot of the picture
 * @param {...Element} marks from back to front
 */
export function plotFrame(plot, ...marks) {
  const root = sv('svg', { 'aria-hidden': 'true', focusable: 'false' }, ...marks);
  plot.append(root);
  return {
    root,
    /** @param {number} width @param {number} height px */
    size(width, height) {
      setProps(root, { width: Math.floor(width), height: Math.ceil(height) });
    },
  };
}

/** Size of the smallest text, px: 14 at normal size. */
export const tickSize = () => Number.parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--tick')) * remPx() || 14;

/** Width of a view, in rem, below which its parts stand below each other. */
const NARROW_VIEW = 52;

/**
 * Says by an attribute whether a view is narrow, before its pictures measure their place.
 * @param {HTMLElement} root of the view
 */
export function markNarrow(root) {
  setAttribute(root, 'data-narrow', root.clientWidth < NARROW_VIEW * remPx() ? 'yes' : null);
}
