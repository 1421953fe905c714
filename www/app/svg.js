/**
 * SVG that is built once and then only has its attributes set.
 */
import { put, setProps } from './dom.js';

const SVG_SPACE = 'http://www.w3.org/2000/svg';

/**
 * Makes an SVG element; properties as for `el`.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, unknown>} [props]
 * @param {...(Node | string | null | undefined)} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function sv(tag, props = {}, ...children) {
  const node = document.createElementNS(SVG_SPACE, tag);
  setProps(node, props);
  put(node, ...children);
  return /** @type {SVGElementTagNameMap[T]} */ (node);
}

/**
 * Tenths of a px are enough, and keep paths short.
 * @param {number} value
 * @returns {number}
 */
export function px1(value) {
  return Math.round(value * 10) / 10;
}

/**
 * A line through points.
 * @param {ArrayLike<number>} xs px
 * @param {ArrayLike<number>} ys px
 * @returns {string} the `d` of a path; empty without points
 */
export function linePath(xs, ys) {
  const count = Math.min(xs.length, ys.length);
  let d = '';
  for (let index = 0; index < count; index += 1) {
    d += `${index ? 'L' : 'M'}${px1(xs[index])} ${px1(ys[index])}`;
  }
  return d;
}

/**
 * Text of a picture, class `t` (14 px at the least); more classes: `m` second ink, `b` bold, `h` head, `c` middle, `e` end.
 * @param {number} x
 * @param {number} y baseline
 * @param {string} text
 * @param {string} [more] classes
 * @returns {SVGTextElement}
 */
export function label(x, y, text, more = '') {
  return sv('text', { x: px1(x), y: px1(y), class: more ? `t ${more}` : 't', text });
}

/**
 * Fill of a segment, pattern included, to be used as `fill`.
 * @param {'p' | 'n' | 'i' | null | undefined} doping null: nothing grew or nothing known
 * @returns {string}
 */
export function dopingFill(doping) {
  if (doping === 'p') return 'url(#doped-p)';
  if (doping === 'n') return 'url(#doped-n)';
  return 'var(--i)';
}

/**
 * The patterns of the doping, to be put into the page once: p has bars across the wire, n slanted lines, i is plain.
 * @returns {SVGSVGElement}
 */
export function dopingPatterns() {
  const lines = (/** @type {'p' | 'n'} */ doping, /** @type {string | null} */ turn) =>
    sv(
      'pattern',
      { id: `doped-${doping}`, width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: turn },
      sv('rect', { width: 7, height: 7, style: `fill:var(--${doping})` }),
      sv('path', { d: 'M3.5 0v7', style: `stroke:var(--on-${doping});stroke-width:1;opacity:.5` }),
    );
  return sv('svg', { width: 0, height: 0, 'aria-hidden': 'true', style: 'position:absolute' }, sv('defs', {}, lines('p', null), lines('n', 'rotate(45)')));
}

/**
 * Outline of the seed as a cap of true contact angle on a wire that ends at `x`, its axis at `y`, growing to the right.
 * @param {number} x
 * @param {number} y
 * @param {number} half half the wire's width, px
 * @param {number} angle contact angle, degrees, 90 to 180
 * @returns {string} the `d` of a path
 */
export function capPath(x, y, half, angle) {
  const beta = (Math.min(Math.max(angle, 90), 165) * Math.PI) / 180;
  const radius = half / Math.sin(beta);
  return `M${px1(x)} ${px1(y - half)}A${px1(radius)} ${px1(radius)} 0 ${beta > Math.PI / 2 ? 1 : 0} 1 ${px1(x)} ${px1(y + half)}Z`;
}

/**
 * Labelled ticks of an axis: 3 to 6 round numbers (1-2-5) inside a range.
 * @param {number} from
 * @param {number} to
 * @param {number} [most] most ticks
 * @returns {number[]}
 */
export function roundTicks(from, to, most = 6) {
  const span = to - from;
  if (!(span > 0) || !Number.isFinite(span)) return [from];
  const power = 10 ** Math.floor(Math.log10(span / most));
  let step = power * 10;
  for (const factor of [1, 2, 5]) {
    if (span / (power * factor) <= most) {
      step = power * factor;
      break;
    }
  }
  const ticks = [];
  const first = Math.ceil(from / step - 1e-9);
  for (let index = 0; index <= most; index += 1) {
    const tick = (first + index) * step;
    if (tick > to + step * 1e-9) break;
    ticks.push(Math.abs(tick) < step * 1e-9 ? 0 : tick);
  }
  return ticks;
}

/** @type {CanvasRenderingContext2D | null} */
let measuring = null;
/** @type {Map<string, number>} */
const measured = new Map();
let measuredFont = '';

/**
 * Width of a text of a picture, px; measured once a text, without laying out the page.
 * @param {string} text
 * @param {number} size px
 * @param {boolean} [bold]
 * @returns {number}
 */
export function textWidth(text, size, bold = false) {
  // The page has one face; asking for it again would make the browser lay out the page.
  measuredFont ||= getComputedStyle(document.body).fontFamily;
  if (measured.size > 2000) measured.clear();
  const key = `${bold ? 1 : 0}${text}`;
  let width = measured.get(key);
  if (width === undefined) {
    measuring ??= document.createElement('canvas').getContext('2d');
    if (!measuring) return text.length * size * 0.6;
    measuring.font = `${bold ? 650 : 400} 100px ${measuredFont}`;
    width = measuring.measureText(text).width / 100;
    measured.set(key, width);
  }
  return width * size;
}

/**
 * A text cut to a width, with an ellipsis where something is missing.
 * @param {string} text
 * @param {number} width px
 * @param {number} size px
 * @param {boolean} [bold]
 * @returns {string}
 */
export function fittedText(text, width, size, bold = false) {
  if (textWidth(text, size, bold) <= width) return text;
  const letters = [...text];
  let low = 0;
  let high = letters.length;
  // Halving: a name has at most 200 letters.
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (textWidth(`${letters.slice(0, middle).join('')}…`, size, bold) <= width) low = middle;
    else high = middle - 1;
  }
  return low > 0 ? `${letters.slice(0, low).join('').trimEnd()}…` : '';
}
