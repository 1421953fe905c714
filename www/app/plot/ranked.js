/**
 * Ranked bars: one row a cause, its name at the left, the bar from zero, its number at the end, where it comes from at
 * the right. On a narrow picture name and source stand above the bar.
 */
import { keepLength, setProps, setText, show } from '../dom.js';
import { px1, sv } from '../svg.js';
import { roomOfText } from './scale.js';

/**
 * @typedef {object} RankedRow
 * @property {string} name
 * @property {number} value at least 0
 * @property {string} text the number beside the bar
 * @property {string} [source]
 * @property {boolean} [plain] drawn as an outline: not a cause of its own ("other")
 */

/** @returns {{root: SVGGElement, draw: (rows: RankedRow[], width: number, size: number, most?: number) => number}} gives its height */
export function rankedBars() {
  const zero = sv('path', { class: 'axis' });
  const group = sv('g');
  /** @type {SVGGElement[]} */
  const nodes = [];
  return {
    root: sv('g', {}, group, zero),
    draw(rows, width, size, most = Math.max(...rows.map((row) => row.value), 0)) {
      keepLength(group, nodes, rows.length, () => sv('g', {}, sv('text'), sv('rect'), sv('text'), sv('text')));
      const longest = (/** @type {(row: RankedRow) => string} */ of) => Math.max(0, ...rows.map((row) => roomOfText(of(row), size)));
      const names = longest((row) => row.name) + 10;
      // Numbers are bold, so wider.
      const numbers = longest((row) => row.text) * 1.15 + 12;
      const sources = longest((row) => row.source ?? '');
      const narrow = width < names + numbers + sources + 140;
      const left = narrow ? 1 : names;
      const long = Math.max(20, width - left - numbers - (narrow ? 0 : sources + 12));
      const pitch = narrow ? size * 2.9 : size * 1.9;
      rows.forEach((row, index) => rankedRow(nodes[index], row, {
        y: index * pitch, left, long: most > 0 ? (row.value / most) * long : 0, width, size, narrow,
      }));
      const height = rows.length * pitch;
      // On a narrow picture the names stand above the bars, so the zero line is drawn beside the bars alone.
      const zeros = rows.map((_, index) => `M${px1(left)} ${px1(index * pitch + size * 1.35)}v${px1(size * 1.3)}`).join('');
      setProps(zero, { d: rows.length ? (narrow ? zeros : `M${px1(left)} 0V${px1(height)}`) : null });
      return height;
    },
  };
}

/**
 * @param {SVGGElement} group
 * @param {RankedRow} row
 * @param {{y: number, left: number, long: number, width: number, size: number, narrow: boolean}} place
 */
function rankedRow(group, row, { y, left, long, width, size, narrow }) {
  const [name, bar, number, source] = group.children;
  const middle = y + size * (narrow ? 2 : 0.95);
  const line = narrow ? y + size : middle + size * 0.35;
  setProps(name, { x: narrow ? 1 : px1(left - 10), y: px1(line), class: narrow ? 't' : 't e' });
  setText(name, row.name);
  setProps(bar, { x: px1(left), y: px1(middle - size * 0.5), width: px1(Math.max(long, 1)), height: px1(size), class: row.plain ? 'rank plain' : 'rank' });
  setProps(number, { x: px1(left + long + 7), y: px1(middle + size * 0.35), class: 't b' });
  setText(number, row.text);
  // What has no room beside its name is in the table.
  show(source, Boolean(row.source) && (!narrow || roomOfText(row.name + (row.source ?? ''), size) + 8 < width));
  setProps(source, { x: px1(width - 1), y: px1(line), class: 't m e' });
  setText(source, row.source ?? '');
}
