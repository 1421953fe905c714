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

/**
 * Widths of the pictures of a view, px, measured together before the first is drawn: to measure one after drawing another
 * would lay the page out again each time.
 * @type {Map<import('../view.js').Picture, number>}
 */
const measuredWidths = new Map();

/** Size of the smallest text, px: 14 at normal size. */
let measuredTick = 14;

/** @param {import('../view.js').Picture[]} pictures those that are drawn next */
export function measurePictures(pictures) {
  measuredTick = Number.parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--tick')) * remPx() || 14;
  for (const picture of pictures) measuredWidths.set(picture, picture.width());
}

/** Width inside a picture, px. @param {import('../view.js').Picture} picture */
export const widthOf = (picture) => measuredWidths.get(picture) ?? picture.width();

/** Size of the smallest text, px. */
export const tickSize = () => measuredTick;

/**
 * Draws a view again when its own width changes, as a scroll bar comes or goes.
 * @param {HTMLElement} root of the view
 * @param {import('../view.js').Context} ctx
 */
export function redrawByWidth(root, ctx) {
  let before = 0;
  new ResizeObserver(() => {
    if (root.clientWidth === before) return;
    before = root.clientWidth;
    ctx.redraw();
  }).observe(root);
}

/** Width of a view, in rem, below which its parts stand below each other. */
const NARROW_VIEW = 52;

/**
 * Says by an attribute whether a view is narrow, before its pictures measure their place.
 * @param {HTMLElement} root of the view
 */
export function markNarrow(root) {
  setAttribute(root, 'data-narrow', root.clientWidth < NARROW_VIEW * remPx() ? 'yes' : null);
}

/**
 * The table of a picture, made only while tables are read: most of the time nobody sees its rows, and there may be a
 * hundred.
 * @param {import('../view.js').Picture} picture
 * @param {string[]} columns
 * @param {() => (string | number | Node)[][]} rows
 */
export function tableWhenRead(picture, columns, rows) {
  if (document.body.dataset.tables === 'on') picture.table(columns, rows());
}
