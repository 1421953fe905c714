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
