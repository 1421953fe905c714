/**
 * Arrows from zero: what one step up of a set-point does, to the mean in the left column and to the spread in the right.
 */
import { keepLength, setProps, setText, show } from '../dom.js';
import { px1, sv } from '../svg.js';
import { roomOfText } from './scale.js';

/**
 * @typedef {object} ArrowRow
 * @property {string} name
 * @property {string} step "1 °C up"
 * @property {(number | null)[]} moves one a column, in the column's unit
 * @property {string[]} texts one a column
 */

/** @returns {{root: SVGGElement, draw: (rows: ArrowRow[], heads: string[], width: number, size: number) => number}} gives its height */
export function leverArrows() {
  const zeros = sv('path', { class: 'axis' });
  const group = sv('g');
  const headGroup = sv('g');
  /** @type {SVGGElement[]} */
  const nodes = [];
  /** @type {SVGTextElement[]} */
  const headNodes = [];
  return {
    root: sv('g', {}, zeros, group, headGroup),
    draw(rows, heads, width, size) {
      keepLength(group, nodes, rows.length, () => sv('g', {}, sv('text'), sv('text'), sv('g'), sv('g')));
      keepLength(headGroup, headNodes, heads.length, () => sv('text'));
      const columns = arrowColumns(rows, heads, width, size);
      heads.forEach((head, index) => {
        // One column needs no head: what it shows stands in the note above.
        show(headNodes[index], columns.places.length > 1);
        const { left, right } = columns.places[index] ?? columns.places[0];
        setProps(headNodes[index], { x: px1((left + right) / 2), y: px1(size), class: 't m c' });
        setText(headNodes[index], head);
      });
      const top = columns.places.length > 1 ? size * 1.6 : 0;
      rows.forEach((row, index) => arrowRow(nodes[index], row, columns, top + index * columns.pitch, size));
      const height = top + rows.length * columns.pitch;
      // Where names stand above the arrows, the zero line is drawn beside the arrows alone.
      const beside = rows.flatMap((_, index) => columns.places.map(({ zero }) => `M${px1(zero)} ${px1(top + index * columns.pitch + size * 1.45)}v${px1(size * 1.2)}`));
      setProps(zeros, { d: columns.narrow ? beside.join('') : columns.places.map(({ zero }) => `M${px1(zero)} ${px1(top)}V${px1(height)}`).join('') });
      return height;
    },
  };
}

/**
 * Where the columns stand. Each has its own scale: they are different units, or different things. Where there is no room
 * for all, the first one alone is drawn, below its names; the table has the others.
 * @param {ArrowRow[]} rows
 * @param {string[]} heads
 * @param {number} width
 * @param {number} size
 */
function arrowColumns(rows, heads, width, size) {
  const count = heads.length;
  const names = Math.max(0, ...rows.map((row) => roomOfText(row.name, size))) + 12;
  const steps = Math.max(0, ...rows.map((row) => roomOfText(row.step, size))) + 12;
  const narrow = width < names + steps + count * Math.max(size * 13, ...heads.map((head) => roomOfText(head, size) + size));
  const from = narrow ? 0 : names + steps;
  const drawn = narrow ? 1 : count;
  const each = (width - from) / drawn;
  const places = Array.from({ length: drawn }, (_, column) => {
    const left = from + column * each;
    const right = left + each - (column < drawn - 1 ? size * 1.5 : 4);
    const up = rows.map((row) => Math.max(row.moves[column] ?? 0, 0));
    const down = rows.map((row) => Math.max(-(row.moves[column] ?? 0), 0));
    const number = Math.max(...rows.map((row) => roomOfText(row.texts[column] ?? '', size)), 0) + 10;
    const most = Math.max(...up, ...down, 0);
    // Room for a number on either side that has an arrow; the zero moves so that both sides share one scale.
    const sum = Math.max(...up, 0) + Math.max(...down, 0);
    const long = Math.max(20, right - left - (Math.max(...down, 0) > 0 ? 2 * number : number));
    const scale = sum > 0 ? long / sum : 0;
    const zero = left + (Math.max(...down, 0) > 0 ? number + Math.max(...down, 0) * scale : 6);
    return { left, right, zero, scale: most > 0 ? scale : 0 };
  });
  return { places, narrow, names, pitch: size * (narrow ? 3 : 2) };
}

/**
 * @param {SVGGElement} group
 * @param {ArrowRow} row
 * @param {ReturnType<typeof arrowColumns>} columns
 * @param {number} y
 * @param {number} size
 */
function arrowRow(group, row, { places, narrow, names }, y, size) {
  const [name, step, first, second] = group.children;
  const line = y + size * (narrow ? 1 : 1.35);
  const middle = y + size * (narrow ? 2.05 : 1);
  setProps(name, { x: 0, y: px1(line), class: 't' });
  setText(name, row.name);
  setProps(step, narrow ? { x: px1(places[places.length - 1].right), y: px1(line), class: 't m e' } : { x: px1(names), y: px1(line), class: 't m' });
  setText(step, row.step);
  [first, second].forEach((node, column) => {
    const place = places[column];
    const move = row.moves[column];
    show(node, Boolean(place) && move !== null && move !== undefined);
    if (!place || move === null || move === undefined) return;
    while (node.children.length < 2) node.append(node.children.length ? sv('text') : sv('path'));
    const [arrow, number] = node.children;
    const long = move * place.scale;
    const left = move < 0 && row.texts[column] !== '0';
    setProps(arrow, { d: arrowPath(place.zero, middle, long, size), class: 'arrow' });
    setProps(number, {
      x: px1(place.zero + (left ? long - 7 : Math.max(long, 0) + 7)), y: px1(middle + size * 0.35), class: left ? 't b e' : 't b',
    });
    setText(number, row.texts[column] ?? '');
  });
}

/**
 * A bar that ends in a point; a mere mark where it is shorter than its point.
 * @param {number} x
 * @param {number} y
 * @param {number} long px, negative to the left
 * @param {number} size
 */
function arrowPath(x, y, long, size) {
  const side = long < 0 ? -1 : 1;
  const head = Math.min(Math.abs(long), size * 0.6);
  const half = size * 0.17;
  if (Math.abs(long) < 1.5) return `M${px1(x - 1)} ${px1(y - size * 0.35)}h2v${px1(size * 0.7)}h-2z`;
  const neck = px1(x + long - side * head);
  return `M${px1(x)} ${px1(y - half)}H${neck}V${px1(y - size * 0.4)}L${px1(x + long)} ${px1(y)}L${neck} ${px1(y + size * 0.4)}V${px1(y + half)}H${px1(x)}Z`;
}
