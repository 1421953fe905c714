/**
 * Axes: a line, short marks, their labels, and the unit at the end. At the left and at the bottom only.
 */
import { keepLength, setProps, setText, show } from '../dom.js';
import { px1, sv } from '../svg.js';

/**
 * @typedef {import('./scale.js').Tick} Tick
 *
 * @typedef {object} AxisPlace
 * @property {number} at px of the line: y of a bottom axis, x of a left one
 * @property {number} from px where it begins: left end, or top
 * @property {number} to px where it ends: right end, or bottom
 * @property {string} [unit]
 * @property {number} size px of the text
 * @property {number | null} [grid] px up to which a hair line goes from each mark; none without
 *
 * @typedef {object} Axis
 * @property {SVGGElement} root
 * @property {(ticks: Tick[], place: AxisPlace) => void} draw
 */

/** Length of a mark, px. */
const TICK = 5;

/** @returns {Axis} */
export function bottomAxis() {
  const parts = axisParts();
  return {
    root: parts.root,
    draw(ticks, { at, from, to, unit = '', size, grid = null }) {
      setProps(parts.line, { d: `M${px1(from)} ${px1(at)}H${px1(to)}${ticks.map((tick) => `M${px1(tick.at)} ${px1(at)}v${TICK}`).join('')}` });
      setProps(parts.hair, { d: grid === null ? null : ticks.map((tick) => `M${px1(tick.at)} ${px1(at)}V${px1(grid)}`).join('') });
      axisLabels(parts, ticks, (node, tick) => setProps(node, { x: px1(tick.at), y: px1(at + TICK + size), class: 't m c' }));
      show(parts.unit, unit !== '');
      setProps(parts.unit, { x: px1(to), y: px1(at + TICK + size), class: 't m e' });
      setText(parts.unit, unit);
    },
  };
}

/** @returns {Axis} */
export function leftAxis() {
  const parts = axisParts();
  return {
    root: parts.root,
    draw(ticks, { at, from, to, unit = '', size, grid = null }) {
      setProps(parts.line, { d: `M${px1(at)} ${px1(from)}V${px1(to)}${ticks.map((tick) => `M${px1(at)} ${px1(tick.at)}h${-TICK}`).join('')}` });
      setProps(parts.hair, { d: grid === null ? null : ticks.map((tick) => `M${px1(at)} ${px1(tick.at)}H${px1(grid)}`).join('') });
      axisLabels(parts, ticks, (node, tick) => setProps(node, { x: px1(at - TICK - 4), y: px1(tick.at + size * 0.35), class: 't m e' }));
      show(parts.unit, unit !== '');
      setProps(parts.unit, { x: px1(at - TICK - 4), y: px1(from - size * 0.75), class: 't m e' });
      setText(parts.unit, unit);
    },
  };
}

function axisParts() {
  const hair = sv('path', { class: 'hair' });
  const line = sv('path', { class: 'axis' });
  const labels = sv('g');
  const unit = sv('text');
  /** @type {SVGTextElement[]} */
  const nodes = [];
  return { root: sv('g', {}, hair, line, labels, unit), hair, line, labels, unit, nodes };
}

/**
 * @param {ReturnType<typeof axisParts>} parts
 * @param {Tick[]} ticks
 * @param {(node: SVGTextElement, tick: Tick) => void} place
 */
function axisLabels(parts, ticks, place) {
  keepLength(parts.labels, parts.nodes, ticks.length, () => sv('text'));
  ticks.forEach((tick, index) => {
    place(parts.nodes[index], tick);
    setText(parts.nodes[index], tick.text);
  });
}
