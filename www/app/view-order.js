/**
 * Order: what is wanted, and does the wire meet it? The order as typed, drawn to scale; the set of one row beside it; and
 * below, each ordered quantity against the prediction.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./view.js').StepperRow} StepperRow
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 */
import { el, keepLength, put, setAttribute, setText, show } from './dom.js';
import { px1, sv } from './svg.js';
import { powerText, setPointText } from './numbers.js';
import { stageName } from './names.js';
import { withValue } from './store.js';
import { picture } from './view.js';
import { markNarrow, measurePictures, plotFrame, redrawByWidth, tableWhenRead, tickSize, widthOf } from './plot/frame.js';
import { roomOfText } from './plot/scale.js';
import { seedAngle, stripMark } from './plot/strip.js';
import { judgedPicture } from './view-order-judged.js';
import { orderOfReport, spreadWords, wiresWords } from './view-order-words.js';

/** Row of the whole wire in the list; segments are counted from 0. */
const WHOLE_WIRE = -1;

/** Which row is being set. Where the reader looks, not part of the recipe. */
let orderRow = 0;

/** @type {((state: State, result: Result) => void) | null} */
let drawOrder = null;

/** @type {import('./view.js').View} */
export const orderView = {
  id: 'order',
  name: 'Order',
  question: 'what is wanted?',
  build(root, ctx) {
    const none = noOrderCard(ctx);
    const list = orderedPicture(ctx, () => drawOrder?.(ctx.store.state, ctx.store.result));
    const set = setCard(ctx);
    const judged = judgedPicture(ctx);
    put(root, none, list.root, set.root, judged.root);
    redrawByWidth(root, ctx);
    drawOrder = (state, result) => {
      markNarrow(root);
      const order = state.job.order;
      orderRow = Math.min(orderRow, state.job.stages.length - 1);
      show(none, !order);
      show(list.root, Boolean(order));
      show(set.root, Boolean(order));
      if (order) {
        measurePictures([list.picture]);
        list.draw(state);
        set.draw(state, result);
      }
      judged.draw(state, result);
    };
  },
  draw(state, result) {
    drawOrder?.(state, result);
  },
};

/** @param {Context} ctx */
function noOrderCard(ctx) {
  const { store } = ctx;
  return el('section', { class: 'card wide' },
    el('h2', { text: 'What is ordered?' }),
    el('p', { text: 'No order yet, so no wire is judged. An order says how long and how doped each segment is to be, and how thick the wire.' }),
    el('p', { class: 'buttons' }, el('button', {
      type: 'button', class: 'button go', text: 'Order these wires',
      on: { click: () => store.act.change('order added', withValue(store.state.job, 'order', orderOfReport(store.state.job, store.result.report))) },
    })));
}

/**
 * The order as typed: the wire to scale with its dimensions, and the list of its rows.
 * @param {Context} ctx
 * @param {() => void} chosen another row was chosen
 */
function orderedPicture(ctx, chosen) {
  const shown = picture('ordered', 'What is ordered?');
  shown.root.classList.add('seven');
  const strip = stripMark();
  const dimensions = sv('path', { class: 'bracket' });
  const texts = sv('g');
  const frame = plotFrame(shown.plot, strip.root, dimensions, texts);
  // Roles are said again: on a narrow phone rows are laid out as blocks, which would take them away.
  const body = el('tbody', { role: 'rowgroup' });
  const head = el('thead', { role: 'rowgroup' }, el('tr', { role: 'row' }, ...['Segment', 'Doping', 'Length, nm', 'Carriers, cm⁻³'].map((text, index) => el('th', { scope: 'col', role: 'columnheader', text, class: index > 1 ? 'r' : '' }))));
  put(shown.foot, el('div', { class: 'rows', role: 'group', 'aria-label': 'Rows of the order' }, el('table', { class: 'order-list', role: 'table' }, head, body)));
  /** @type {HTMLTableRowElement[]} */
  const nodes = [];
  /** @type {ReturnType<typeof orderListRow>[]} */
  const rows = [];
  /** @type {SVGTextElement[]} */
  const labels = [];
  const choose = (/** @type {number} */ row) => {
    orderRow = row;
    chosen();
  };
  return {
    root: shown.root,
    picture: shown,
    /** @param {State} state */
    draw({ job }) {
      const { order } = job;
      const size = tickSize();
      const width = widthOf(shown);
      frame.size(width, drawOrdered({ strip, dimensions, texts, labels }, job, width, size));
      keepLength(body, nodes, job.stages.length + 1, (index) => (rows[index] = rows[index] ?? orderListRow()).root);
      nodes.forEach((_, index) => {
        const whole = index === job.stages.length;
        rows[index].draw(job, whole ? WHOLE_WIRE : index, choose);
      });
      shown.note(`${job.material}, ${setPointText(order.diameter_nm)} nm across, ${wiresWords(order)}.`);
      shown.say(job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => orderedSentence(job, index)).join('; '));
      tableWhenRead(shown, ['Segment', 'Doping', 'Length, nm', '±, nm', 'Carriers, cm⁻³'], () => job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => [stageName(job, index), ...orderedCells(order.segments[index])]));
    },
  };
}

/** @param {Job} job @param {number} index */
function orderedSentence(job, index) {
  const segment = job.order.segments[index];
  if (!segment) return `${stageName(job, index)}: not counted`;
  return `${stageName(job, index)}: ${segment.doping}, ${setPointText(segment.length_nm)} ± ${setPointText(segment.tolerance_nm)} nm`;
}

/** @param {any} segment of the order, or null @returns {string[]} */
function orderedCells(segment) {
  if (!segment) return ['–', 'not counted', '', ''];
  const carriers = powerText(segment.carriers_per_cm3);
  return [segment.doping, setPointText(segment.length_nm), setPointText(segment.tolerance_nm), segment.doping === 'i' ? `at most ${carriers}` : carriers];
}

/**
 * The ordered wire with a dimension over each segment.
 * @param {{strip: ReturnType<typeof stripMark>, dimensions: SVGPathElement, texts: SVGGElement, labels: SVGTextElement[]}} marks
 * @param {Job} job
 * @param {number} width
 * @param {number} size
 * @returns {number} height
 */
function drawOrdered({ strip, dimensions, texts, labels }, job, width, size) {
  const { order } = job;
  /** @type {any[]} */
  const segments = order.segments.filter((/** @type {any} */ segment) => segment);
  const sum = segments.reduce((all, segment) => all + segment.length_nm, 0);
  if (!sum) {
    strip.draw([], { y: 0, height: 0, angle: 90, size });
    setAttribute(dimensions, 'd', null);
    keepLength(texts, labels, 0, () => sv('text'));
    return 0;
  }
  const scale = (width - 4) / (sum + Math.min(order.diameter_nm, sum * 0.1));
  const thick = Math.min(Math.max(order.diameter_nm * scale, 5), size * 5);
  const top = size * 1.7;
  let x = 2;
  let d = '';
  keepLength(texts, labels, segments.length, () => sv('text'));
  const parts = segments.map((segment, index) => {
    const part = { from: x, to: x + segment.length_nm * scale, doping: segment.doping, letter: `${segment.doping} ${powerText(segment.carriers_per_cm3)}` };
    const full = `${setPointText(segment.length_nm)} ± ${setPointText(segment.tolerance_nm)}`;
    const text = roomOfText(full, size) < part.to - part.from - 12 ? full : setPointText(segment.length_nm);
    const room = roomOfText(text, size);
    const fits = room < part.to - part.from - 6;
    d += dimensionPath(part.from + 0.75, part.to - 0.75, top - size * 0.65, size, fits ? room + 8 : 0);
    setAttribute(labels[index], 'class', 't c halo');
    setAttribute(labels[index], 'x', px1((part.from + part.to) / 2));
    setAttribute(labels[index], 'y', px1(top - size * 0.3));
    setText(labels[index], fits ? text : '');
    x = part.to;
    return part;
  });
  setAttribute(dimensions, 'd', d);
  const thin = thick < size + 1 ? size * 1.3 : 0;
  strip.draw(parts, { y: top + thin + thick / 2, height: thick, angle: seedAngle(job), size });
  return top + thin + thick + 4;
}

/** A dimension line with room for its number. @param {number} from @param {number} to @param {number} y @param {number} size @param {number} room */
function dimensionPath(from, to, y, size, room) {
  const end = `m0 ${px1(-size * 0.35)}v${px1(size * 0.7)}m0 ${px1(-size * 0.35)}`;
  const half = Math.max(0, (to - from - room) / 2);
  return `M${px1(from)} ${px1(y)}${end}h${px1(half)}M${px1(to)} ${px1(y)}${end}h${px1(-half)}`;
}

/** A row of the list; its name is the button, the rest of the row answers to a touch too. */
function orderListRow() {
  const button = el('button', { type: 'button', class: 'row-button' });
  const swatch = sv('svg', { class: 'swatch', width: 34, height: 18, 'aria-hidden': 'true' }, sv('rect', { x: 1, y: 1, width: 32, height: 16, class: 'body' }));
  const letter = el('span');
  const doping = el('td', { role: 'cell' }, swatch, letter);
  const cells = [0, 1].map(() => el('td', { class: 'r', role: 'cell' }));
  const whole = el('td', { colspan: 3, role: 'cell' });
  let choose = () => {};
  const root = el('tr', { role: 'row', on: { click: () => choose() } }, el('th', { scope: 'row', role: 'rowheader' }, button), doping, ...cells, whole);
  return {
    root,
    /** @param {Job} job @param {number} row @param {(row: number) => void} chosen */
    draw(job, row, chosen) {
      choose = () => chosen(row);
      const segment = row === WHOLE_WIRE ? null : job.order.segments[row];
      setText(button, row === WHOLE_WIRE ? 'whole wire' : stageName(job, row));
      setAttribute(button, 'aria-pressed', String(orderRow === row));
      setAttribute(root, 'class', orderRow === row ? 'chosen' : '');
      for (const cell of [doping, ...cells]) show(cell, row !== WHOLE_WIRE);
      show(whole, row === WHOLE_WIRE);
      if (row === WHOLE_WIRE) {
        setText(whole, `${setPointText(job.order.diameter_nm)} nm across, ${spreadWords(job.order)}`);
        return;
      }
      const [, length, tolerance, carriers] = orderedCells(segment);
      show(swatch, Boolean(segment));
      if (segment) setAttribute(swatch.firstElementChild ?? swatch, 'fill', segment.doping === 'i' ? 'var(--i)' : `url(#doped-${segment.doping})`);
      setText(letter, segment ? segment.doping : 'not counted');
      [segment ? `${length} ± ${tolerance}` : '', carriers].forEach((text, index) => setText(cells[index], text));
    },
  };
}

/**
 * The set of the chosen row: its doping, its numbers, and where it stands.
 * @param {Context} ctx
 */
function setCard(ctx) {
  const title = el('h2');
  const segment = segmentSet(ctx);
  const whole = wholeSet(ctx);
  return {
    root: el('section', { class: 'card five order-set', 'aria-label': 'Set of the chosen row' }, title, segment.root, whole.root),
    /** @param {State} state @param {Result} result */
    draw(state, result) {
      setText(title, orderRow === WHOLE_WIRE ? 'Whole wire' : stageName(state.job, orderRow));
      show(segment.root, orderRow !== WHOLE_WIRE);
      show(whole.root, orderRow === WHOLE_WIRE);
      if (orderRow === WHOLE_WIRE) whole.draw(state, result);
      else segment.draw(state, result);
    },
  };
}

/** Ordered fields of a segment. @type {[string, string][]} */
const SEGMENT_FIELDS = [
  ['length_nm', 'Length'],
  ['tolerance_nm', 'Accepted above and below'],
  ['carriers_per_cm3', 'Carriers'],
];

/** @param {Context} ctx */
function segmentSet(ctx) {
  const { store } = ctx;
  const doping = dopingChoice((letter) => store.act.edit(`order.segments[${orderRow}].doping`, letter));
  const up = el('button', { type: 'button', class: 'button', text: 'Move up', on: { click: () => moveUp(store) } });
  const count = el('button', { type: 'button', class: 'button', on: { click: () => toggleCounted(store) } });
  const rows = el('div', { class: 'order-steps' });
  const words = el('p', { class: 'note' });
  /** A stepper row belongs to one field, so each segment has its own, made when it is first set. @type {StepperRow[][]} */
  const steppers = [];
  let shownFor = -1;
  return {
    root: el('div', {}, doping.root, rows, words, el('p', { class: 'buttons' }, up, count)),
    /** @param {State} state @param {Result} result */
    draw(state, result) {
      const segment = state.job.order.segments[orderRow];
      steppers[orderRow] = steppers[orderRow] ?? SEGMENT_FIELDS.map(([field, label]) => ctx.stepper({ label, path: `order.segments[${orderRow}].${field}` }));
      if (shownFor !== orderRow) rows.replaceChildren(...steppers[orderRow].map((row) => row.root));
      shownFor = orderRow;
      show(doping.root, Boolean(segment));
      show(rows, Boolean(segment));
      if (segment) {
        doping.draw(segment.doping);
        for (const row of steppers[orderRow]) row.draw(state, result);
      }
      setText(words, segment ? carriersWords(segment.doping) : 'This stage may grow what it likes: a buffer, or a shell. Nothing of it is counted.');
      setAttribute(up, 'disabled', orderRow === 0 || !segment);
      setText(count, segment ? 'Remove from the order' : 'Add to the order');
    },
  };
}

/** What carriers mean for a doping. @param {string} doping */
function carriersWords(doping) {
  return doping === 'i' ? 'Undoped: carriers are the most that is accepted.' : 'Doping is met from half to twice of the ordered carriers.';
}

/** @param {(letter: string) => void} choose */
function dopingChoice(choose) {
  const buttons = ['p', 'i', 'n'].map((letter) => {
    const swatch = sv('svg', { class: 'swatch', width: 34, height: 18, 'aria-hidden': 'true' },
      sv('rect', { x: 1, y: 1, width: 32, height: 16, class: 'body', fill: letter === 'i' ? 'var(--i)' : `url(#doped-${letter})` }));
    return el('button', { type: 'button', 'aria-label': `${letter} doping`, on: { click: () => choose(letter) } }, swatch, letter);
  });
  return {
    root: el('div', { class: 'choice doping-choice', role: 'group', 'aria-label': 'Doping' }, ...buttons),
    /** @param {string} now */
    draw(now) {
      buttons.forEach((button, index) => setAttribute(button, 'aria-pressed', String('pin'[index] === now)));
    },
  };
}

/** @param {import('./store.js').Store} store */
function moveUp(store) {
  const { job } = store.state;
  const [above, here] = [job.order.segments[orderRow - 1], job.order.segments[orderRow]];
  const moved = withValue(withValue(job, `order.segments[${orderRow - 1}]`, here), `order.segments[${orderRow}]`, above);
  const label = `order of ${stageName(job, orderRow)} moved up`;
  orderRow -= 1;
  store.act.change(label, moved);
}

/** Counts the segment of a stage, or no longer. @param {import('./store.js').Store} store */
function toggleCounted(store) {
  const { job } = store.state;
  const path = `order.segments[${orderRow}]`;
  if (job.order.segments[orderRow]) {
    store.act.change(`${stageName(job, orderRow)} removed from the order`, withValue(job, path, null));
    return;
  }
  const segment = orderOfReport(job, store.result.report).segments[orderRow];
  store.act.change(`${stageName(job, orderRow)} added to the order`, withValue(job, path, segment));
}

/**
 * Fields of the whole wire: path, label, what is offered while it is left out.
 * @type {{path: string, label: string, add?: string, value?: (job: Job) => number, without?: string}[]}
 */
const WHOLE_FIELDS = [
  { path: 'order.diameter_nm', label: 'Diameter' },
  { path: 'order.diameter_tolerance_nm', label: 'Accepted above and below', add: 'Set what is accepted', value: (job) => Number((job.order.diameter_nm * 0.05).toPrecision(3)), without: '5 % of the diameter is accepted above and below.' },
  { path: 'order.spread_cv', label: 'Most spread of the whole length, as a share', add: 'Order a spread', value: () => 0.05, without: 'Any spread of the length is accepted.' },
];

/** @param {Context} ctx */
function wholeSet(ctx) {
  const { store } = ctx;
  const fields = WHOLE_FIELDS.map((field) => optionalRow(ctx, field));
  const how = countChoice(store);
  const counts = ['order.area_cm2', 'order.pitch_nm', 'order.wires'].map((path, index) => ctx.stepper({ label: ['Area', 'Pitch', 'Wires'][index], path }));
  const remove = el('button', { type: 'button', class: 'button', text: 'Remove the order', on: { click: () => store.act.change('order removed', withValue(store.state.job, 'order', undefined)) } });
  return {
    root: el('div', {}, el('div', { class: 'order-steps' }, ...fields.map((field) => field.root)), how.root,
      el('div', { class: 'order-steps' }, ...counts.map((row) => row.root)), el('p', { class: 'buttons' }, remove)),
    /** @param {State} state @param {Result} result */
    draw(state, result) {
      const { order } = state.job;
      for (const field of fields) field.draw(state, result);
      how.draw(order);
      const byArea = order.area_cm2 !== undefined;
      counts.forEach((row, index) => {
        const used = index < 2 ? byArea : order.wires !== undefined;
        show(row.root, used);
        if (used) row.draw(state, result);
      });
    },
  };
}

/** A stepper row, or while the field is left out what holds then and a button that sets it. @param {Context} ctx @param {typeof WHOLE_FIELDS[number]} field */
function optionalRow(ctx, { path, label, add, value, without }) {
  const { store } = ctx;
  const row = ctx.stepper({ label, path });
  const name = path.slice('order.'.length);
  const offer = el('p', { class: 'offer' }, el('span', { text: without ?? '' }), ' ', el('button', {
    type: 'button', class: 'button', text: add ?? '', on: { click: () => store.act.edit(path, value?.(store.state.job)) },
  }));
  const away = el('button', { type: 'button', class: 'link', text: 'Take this away', on: { click: () => store.act.edit(path, undefined) } });
  return {
    root: el('div', {}, row.root, offer, away),
    /** @param {State} state @param {Result} result */
    draw(state, result) {
      const set = state.job.order[name] !== undefined;
      show(row.root, set);
      show(offer, !set && Boolean(add));
      show(away, set && Boolean(add));
      if (set) row.draw(state, result);
    },
  };
}

/** How many wires: by area and pitch, by number, or not said. @param {import('./store.js').Store} store */
function countChoice(store) {
  const ways = /** @type {[string, string, Record<string, number>][]} */ ([
    ['area', 'Area', { area_cm2: 100, pitch_nm: 500 }],
    ['wires', 'Number', { wires: 1e10 }],
    ['none', 'Not said', {}],
  ]);
  const buttons = ways.map(([, name, fields]) => el('button', {
    type: 'button', text: name,
    on: {
      click: () => {
        const { area_cm2: area, pitch_nm: pitch, wires, ...rest } = store.state.job.order;
        store.act.change(`order by ${name.toLowerCase()}`, withValue(store.state.job, 'order', { ...rest, ...fields }));
      },
    },
  }));
  return {
    root: el('div', { class: 'how-many' }, el('p', { text: 'How many wires' }), el('div', { class: 'choice', role: 'group', 'aria-label': 'How many wires' }, ...buttons)),
    /** @param {any} order */
    draw(order) {
      const way = order.area_cm2 !== undefined ? 'area' : order.wires !== undefined ? 'wires' : 'none';
      ways.forEach(([key], index) => setAttribute(buttons[index], 'aria-pressed', String(key === way)));
    },
  };
}
