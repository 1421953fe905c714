/**
 * The gauge: the predicted wire laid in the order, one px per nm the same both ways, and one reading a segment.
 *
 * Every segment has its own slot with its own datum, because each has its own tolerance. The scale is one number for the
 * whole gauge, the largest that fits.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 *
 * @typedef {object} Slot what one slot shows, all in nm
 * @property {string} name
 * @property {'p' | 'n' | 'i' | null} doping
 * @property {string} carriers in words; empty where nothing grew
 * @property {number} mean
 * @property {number} sd of the wires
 * @property {number} u standard uncertainty of the mean; 0 while it is not known
 * @property {number | null} pin
 * @property {number | null} ordered
 * @property {number} low
 * @property {number} high
 * @property {string} margin "22 nm too short"
 * @property {boolean} outside the length
 * @property {boolean} doped as ordered, or not ordered
 * @property {boolean} known whether there is a prediction
 */
import { el, remPx, setAttribute, setText, show } from './dom.js';
import { capPath, dopingFill, label, px1, sv, textWidth } from './svg.js';
import { decimals, placed, placesOf, plusMinus, setPointText, triangle, two } from './numbers.js';
import { stageName } from './names.js';

/** Width of the wire above which the scale stops growing, and below which the diameter is not to scale, px. */
const WIDEST = 24;
const THINNEST = 5;
/** Room behind the upper limit, nm: for the whisker and the number above the jaw. */
const BEHIND = 110;

/**
 * The slots of a result.
 * @param {State} state
 * @param {Result} result
 * @returns {Slot[]}
 */
export function gaugeSlots(state, result) {
  const job = result.job ?? state.job;
  const segments = result.report?.wires?.segments ?? [];
  return job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => {
    const segment = segments[index];
    const ordered = job.order?.segments?.[index] ?? null;
    const mean = segment?.length_nm?.mean ?? 0;
    const pinned = result.pin?.wires?.segments?.[index]?.length_nm?.mean;
    return {
      name: stageName(job, index),
      doping: segment?.doping ?? ordered?.doping ?? null,
      carriers: segment?.net_per_cm3 ? two(Math.abs(segment.net_per_cm3.mean)) : '',
      mean,
      known: segment !== undefined,
      sd: segment?.length_nm?.sd ?? 0,
      u: leverUncertainty(result, `wires.segments[${index}].length_nm.mean`),
      pin: typeof pinned === 'number' ? pinned : null,
      ordered: ordered ? ordered.length_nm : null,
      low: ordered ? ordered.length_nm - ordered.tolerance_nm : 0,
      high: ordered ? ordered.length_nm + ordered.tolerance_nm : mean * 1.1,
      ...slotMargin(result, index, segment?.length_nm?.sd ?? 0),
    };
  });
}

/**
 * Standard uncertainty of the mean of a figure, as far as it is known.
 * @param {Result} result
 * @param {string} path
 */
export function leverUncertainty(result, path) {
  return result.levers?.figures.find((figure) => figure.path === path)?.u ?? 0;
}

/**
 * @param {Result} result
 * @param {number} index
 * @param {number} sd
 */
function slotMargin(result, index, sd) {
  const items = result.report?.verdict?.items ?? [];
  const item = (/** @type {string} */ field) => items.find((/** @type {any} */ one) => one.what === `order.segments[${index}].${field}`);
  const length = item('length_nm');
  const carriers = item('carriers_per_cm3');
  if (!length || length.margin === null) return { margin: '', outside: !!length && !length.met, doped: true };
  if (!length.met) {
    const how = length.predicted > length.ordered ? 'too long' : 'too short';
    return { margin: `${placed(Math.abs(length.margin), sd)} nm ${how}`, outside: true, doped: true };
  }
  if (carriers && !carriers.met) return { margin: 'doping outside', outside: false, doped: false };
  return { margin: `${placed(length.margin, sd)} nm to spare`, outside: false, doped: true };
}

/**
 * Where the slots stand.
 * @param {number[]} extents nm that each slot must hold
 * @param {number} width px of a row, the diameter's place taken off the last
 * @param {{least: number[], gap: number, diameter: number, tail: number}} how least width of each slot, gap, nm of the diameter, px behind the last slot
 * @returns {{scale: number, rows: number[][], widths: number[]}} px per nm, slots by row, width of each
 */
export function gaugeLayout(extents, width, how) {
  const count = extents.length;
  let wanted = 1;
  const perRowOf = (/** @type {number} */ lines) => Math.ceil(count / lines);
  const widest = Math.max(...how.least);
  const all = how.least.reduce((sum, one) => sum + one + how.gap, 0);
  while (wanted < count && (wanted > 1 ? perRowOf(wanted) * (widest + how.gap) : all) + how.tail > width) wanted += 1;
  const perRow = perRowOf(wanted);
  /** @type {number[][]} */
  const rows = [];
  for (let first = 0; first < count; first += perRow) rows.push(extents.map((_, index) => index).slice(first, first + perRow));
  const most = how.diameter > 0 ? WIDEST / how.diameter : 0.4;
  const fits = (/** @type {number} */ scale) =>
    rows.every((row) => row.reduce((sum, index) => sum + Math.max(how.least[index], extents[index] * scale), 0) + row.length * how.gap + how.tail <= width);
  let low = 0;
  let high = most;
  if (fits(high)) low = high;
  // 24 halvings: far below a tenth of a px.
  for (let round = 0; round < 24 && low < high; round += 1) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return { scale: low, rows, widths: extents.map((extent, index) => Math.max(how.least[index], extent * low)) };
}

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 * @returns {{draw: (state: State, result: Result) => void}}
 */
export function buildGauge(root, ctx) {
  const caption = el('figcaption', { class: 'sr', text: 'How does the wire lie in its order?' });
  const body = el('div', { class: 'laid' });
  const words = el('p', { class: 'scale-words note', hidden: true, text: 'Diameter not to scale.' });
  root.append(el('figure', { class: 'gauge-figure' }, caption, body, words));
  /** @type {ReturnType<typeof gaugeRow>[]} */
  let rows = [];
  let shape = '';
  let width = 0;
  new ResizeObserver(([entry]) => {
    if (entry.contentRect.width === width) return;
    width = entry.contentRect.width;
    ctx.redraw();
  }).observe(body);
  return {
    draw(state, result) {
      const slots = gaugeSlots(state, result);
      width ||= body.clientWidth;
      const layout = layoutFor(root, width, slots, state, result);
      const key = JSON.stringify(layout.rows);
      if (key !== shape) {
        shape = key;
        body.textContent = '';
        rows = layout.rows.map((row, index) => gaugeRow(body, row.length, index === layout.rows.length - 1, ctx));
      }
      show(words, layout.thin && !layout.phone);
      layout.rows.forEach((indexes, index) => rows[index].draw(indexes, slots, layout, state, result));
    },
  };
}

/**
 * @param {HTMLElement} root
 * @param {number} width px inside
 * @param {Slot[]} slots
 * @param {State} state
 * @param {Result} result
 */
function layoutFor(root, width, slots, state, result) {
  const f = remPx() / 16;
  const phone = window.innerWidth <= 600;
  const portrait = !phone && window.innerWidth <= 1000;
  const job = result.job ?? state.job;
  const tip = result.report?.wires?.diameter_nm?.tip;
  const diameter = tip?.mean ?? job.order?.diameter_nm ?? 60;
  const extents = slots.map((slot) => Math.max(slot.high + (phone ? BEHIND / 2 : BEHIND), slot.mean + slot.sd + diameter, (slot.pin ?? 0) + 20, 60));
  const gap = f * (phone ? 8 : 16);
  // Three lines side by side where they fit, else name, margin, change and order each on a line of its own.
  const many = slots.length > 4;
  const needs = readingWidths(slots, tip, many ? f * 0.85 : f);
  const wide = { least: needs.lines.map((line) => Math.max(200 * f, line)), gap, diameter, tail: Math.max(150 * f, needs.tail) };
  const stacked = phone || portrait || many || wide.least.reduce((sum, one) => sum + one + gap, wide.tail) > width;
  const narrow = f * (phone ? 88 : many ? 146 : 160);
  const tight = many ? f * 10 : gap;
  const size = phone ? 0.73 : many ? 1 : 0.87;
  const inline = !phone || needs.values.reduce((sum, value) => sum + Math.max(narrow, value * size) + tight, 0) <= width;
  const least = needs.values.map((value) => (inline ? Math.max(narrow, value * size) : narrow));
  const tail = phone ? 0 : stacked ? Math.max(122 * f, needs.value * size) : wide.tail;
  const layout = gaugeLayout(extents, width, stacked ? { least, gap: tight, diameter, tail } : wide);
  root.classList.toggle('many', many && !phone);
  // Large type on a low screen: the third line folds, as it does in the other views.
  root.classList.toggle('low', !phone && window.innerHeight < 720 * f);
  root.classList.toggle('narrow', !inline);
  const thick = Math.max(diameter * layout.scale, THINNEST);
  root.classList.toggle('stacked', stacked);
  return { ...layout, width, f, phone, gap: stacked ? tight : gap, tail, thick, thin: diameter * layout.scale < THINNEST };
}

/**
 * How wide readings are in the face that this device has: the value of each segment, its widest line, and those of the
 * diameter.
 * @param {Slot[]} slots
 * @param {{mean: number, sd: number} | undefined} tip
 * @param {number} f
 */
function readingWidths(slots, tip, f) {
  const valueWidth = (/** @type {number} */ mean, /** @type {number} */ sd) => textWidth(placed(mean, sd), 28 * f, true) + textWidth(` ${plusMinus(sd)} nm`, 20 * f) + 6 * f;
  const values = slots.map((slot) => valueWidth(slot.mean, slot.sd));
  const order = (/** @type {Slot} */ slot) => (slot.ordered === null ? '' : ` order ${setPointText(slot.ordered)} ± ${setPointText(slot.high - slot.ordered)}`);
  const lines = slots.map((slot, index) => Math.max(values[index], textWidth(`▼ 000 from pin${order(slot)}`, 15 * f) + 12 * f));
  const value = valueWidth(tip?.mean ?? 60, tip?.sd ?? 2.9);
  return { values, lines, value, tail: Math.max(value, textWidth('▼ 0.0 from pin order 60 nm', 15 * f) + 12 * f) };
}

/** @typedef {ReturnType<typeof layoutFor>} GaugeLayout */

/**
 * One row of slots with its readings; the last row has the diameter.
 * @param {HTMLElement} body
 * @param {number} count
 * @param {boolean} last
 * @param {Context} ctx
 */
function gaugeRow(body, count, last, ctx) {
  const svg = sv('svg', { role: 'img' });
  const readings = el('div', { class: 'readings' });
  /** @type {ReturnType<typeof slotMarks>[]} */
  const marks = [];
  /** @type {ReturnType<typeof readingButton>[]} */
  const buttons = [];
  for (let index = 0; index < count; index += 1) {
    marks.push(slotMarks(svg));
    buttons.push(readingButton(readings, ctx));
  }
  const section = last ? sectionMarks(svg) : null;
  const across = last ? readingButton(readings, ctx) : null;
  body.append(svg, readings);
  return {
    /**
     * @param {number[]} indexes
     * @param {Slot[]} slots
     * @param {GaugeLayout} layout
     * @param {State} state
     * @param {Result} result
     */
    draw(indexes, slots, layout, state, result) {
      const top = layout.phone ? 26 * layout.f : 24 * layout.f + Math.max(0, (14 - layout.thick) / 2);
      const height = top + layout.thick + (layout.phone ? 18 : 22);
      setAttribute(svg, 'width', px1(Math.max(layout.width, 0)));
      setAttribute(svg, 'height', px1(height));
      let x = 0;
      indexes.forEach((slot, place) => {
        marks[place].draw(slots[slot], x, top, layout, slot, slot === slots.length - 1, contactAngle(state));
        buttons[place].draw(slots[slot], `wires.segments[${slot}].length_nm.mean`, layout);
        x += layout.widths[slot] + layout.gap;
      });
      const columns = indexes.map((slot) => `${px1(layout.widths[slot])}px`).join(' ');
      readings.style.gridTemplateColumns = layout.phone ? columns : `${columns} minmax(0, 1fr)`;
      readings.style.columnGap = `${layout.gap}px`;
      if (section && across) {
        section.draw(slots, x, top, layout);
        across.diameter(state, result, layout);
      }
      setAttribute(svg, 'aria-label', rowSentence(indexes.map((slot) => slots[slot])));
    },
  };
}

/** @param {State} state */
function contactAngle(state) {
  const angle = state.job.kinetics?.seed?.contact_angle_deg;
  return typeof angle === 'number' ? angle : 115;
}

/** @param {Slot[]} slots */
function rowSentence(slots) {
  const parts = slots.map((slot) => `${slot.name} ${placed(slot.mean, slot.sd)} nm${slot.ordered === null ? '' : ` between ${setPointText(slot.low)} and ${setPointText(slot.high)}`}${slot.margin ? `, ${slot.margin}` : ''}`);
  return `Each segment laid in its gauge, to scale: ${parts.join('; ')}.`;
}

/**
 * The marks of a slot, built once.
 * @param {SVGElement} svg
 */
function slotMarks(svg) {
  const well = sv('rect', { class: 'well' });
  const bar = sv('rect', { class: 'segment' });
  const plate = sv('rect', { class: 'plate' });
  const cap = sv('path', { class: 'cap' });
  const jaws = sv('path', { class: 'jaws' });
  const pin = sv('path', { class: 'pinned' });
  const low = label(0, 0, '', 'm c');
  const high = label(0, 0, '', 'm c');
  const letter = label(0, 0, '', 'b');
  const carriers = label(0, 0, '');
  const spread = sv('rect', { class: 'spread', rx: 1 });
  const known = sv('path', { class: 'known' });
  const dot = sv('circle', { r: 3.4, class: 'known-dot' });
  const group = sv('g', {}, well, bar, plate, cap, jaws, pin, low, high, letter, carriers, spread, known, dot);
  svg.append(group);
  return {
    /**
     * @param {Slot} slot
     * @param {number} x px of the datum
     * @param {number} y px of the wire's upper edge
     * @param {GaugeLayout} layout
     * @param {number} index
     * @param {boolean} last
     * @param {number} angle
     */
    draw(slot, x, y, layout, index, last, angle) {
      const { scale, thick, phone, f } = layout;
      const at = (/** @type {number} */ nm) => x + nm * scale;
      const end = at(slot.mean);
      const jaw = 7;
      setAttribute(group, 'class', slot.outside ? 'slot outside' : 'slot');
      box(bar, x, y, end - x, thick);
      setAttribute(bar, 'fill', dopingFill(slot.doping));
      setAttribute(cap, 'd', last && slot.mean > 0 ? capPath(end, y + thick / 2, thick / 2, angle) : '');
      const ordered = slot.ordered !== null;
      show(well, ordered);
      show(jaws, ordered);
      if (ordered) {
        box(well, at(slot.low), y - jaw, at(slot.high) - at(slot.low), thick + 2 * jaw);
        const tall = thick + 2 * jaw + 2;
        setAttribute(jaws, 'd', `M${px1(at(slot.low) + 6)} ${px1(y - jaw - 1)}h-6v${px1(tall)}h6M${px1(at(slot.high) - 6)} ${px1(y - jaw - 1)}h6v${px1(tall)}h-6`);
      }
      const moved = slot.pin !== null && Math.abs(slot.pin - slot.mean) * scale > 1.5;
      setAttribute(pin, 'd', moved ? `M${px1(at(slot.pin ?? 0))} ${px1(y - 4)}v${px1(thick + 8)}` : '');
      limitNumbers(low, high, slot, at, y - jaw - 5 * f, ordered && !phone ? x + layout.widths[index] + layout.gap / 2 : -1, f);
      slotLetter(letter, carriers, plate, slot, x, y, end, layout);
      const below = y + thick + 14;
      box(spread, at(slot.mean - slot.sd), below - 4, 2 * slot.sd * scale, slot.sd > 0 ? 8 : 0);
      setAttribute(known, 'd', slot.u > 0 && slot.mean > 0 ? whiskerPath(at(slot.mean - slot.u), at(slot.mean + slot.u), x - layout.gap / 3, x + layout.widths[index] + layout.gap / 3, below) : '');
      setAttribute(dot, 'cx', px1(end));
      setAttribute(dot, 'cy', px1(below));
      show(dot, slot.mean > 0);
    },
  };
}

/**
 * How far the mean is known; an end that lies outside of the slot has no bar: it goes on.
 * @param {number} from
 * @param {number} to
 * @param {number} least
 * @param {number} most
 * @param {number} y
 */
function whiskerPath(from, to, least, most, y) {
  const [left, right] = [Math.max(from, least), Math.min(to, most)];
  const bar = (/** @type {number} */ at, /** @type {boolean} */ shown) => (shown ? `M${px1(at)} ${px1(y - 4)}v8` : '');
  return `M${px1(left)} ${px1(y)}H${px1(right)}${bar(left, left === from)}${bar(right, right === to)}`;
}

/**
 * @param {SVGElement} rect
 * @param {number} x
 * @param {number} y
 * @param {number} width
 * @param {number} height
 */
function box(rect, x, y, width, height) {
  setAttribute(rect, 'x', px1(x));
  setAttribute(rect, 'y', px1(y));
  setAttribute(rect, 'width', px1(Math.max(width, 0)));
  setAttribute(rect, 'height', px1(Math.max(height, 0)));
}

/**
 * The ordered limits above their jaws, pushed apart where they would touch; left out where the slot is too short for both.
 * @param {SVGElement} low
 * @param {SVGElement} high
 * @param {Slot} slot
 * @param {(nm: number) => number} at
 * @param {number} y
 * @param {number} most right end of the slot, px; below 0: none are shown
 * @param {number} f
 */
function limitNumbers(low, high, slot, at, y, most, f) {
  const texts = [setPointText(slot.low), setPointText(slot.high)];
  const halves = texts.map((text) => textWidth(text, 14 * f) / 2);
  const apart = halves[0] + halves[1] + 6;
  const push = Math.max(0, (apart - (at(slot.high) - at(slot.low))) / 2);
  const right = Math.min(at(slot.high) + push, most - halves[1]);
  const left = Math.min(at(slot.low) - push, right - apart);
  const shown = most > 0 && left - halves[0] > at(0) + 10 * f;
  [low, high].forEach((node, index) => {
    show(node, shown);
    if (!shown) return;
    setText(node, texts[index]);
    setAttribute(node, 'x', px1(index === 0 ? left : right));
    setAttribute(node, 'y', px1(y));
  });
}

/**
 * Letter and carriers: in the segment where it is long and high enough, else the letter above its datum.
 * @param {SVGElement} letter
 * @param {SVGElement} carriers
 * @param {SVGElement} plate
 * @param {Slot} slot
 * @param {number} x
 * @param {number} y
 * @param {number} end
 * @param {GaugeLayout} layout
 */
function slotLetter(letter, carriers, plate, slot, x, y, end, layout) {
  const { thick, f } = layout;
  const inside = end - x >= 112 * f && thick >= 16 && slot.doping !== null;
  setText(letter, slot.doping ?? '');
  setText(carriers, inside ? slot.carriers : '');
  show(plate, inside);
  const ink = inside ? `var(--on-${slot.doping})` : 'var(--ink)';
  letter.style.fill = ink;
  carriers.style.fill = ink;
  const baseline = inside ? y + thick / 2 + 5 * f : y - 5;
  setAttribute(letter, 'x', px1(inside ? x + 12 * f : x));
  setAttribute(letter, 'y', px1(baseline));
  setAttribute(carriers, 'x', px1(x + 28 * f));
  setAttribute(carriers, 'y', px1(baseline));
  if (inside) {
    // Plain ground, so that the pattern does not run through the words.
    box(plate, x + 4, y + 1, (30 + slot.carriers.length * 7.2) * f, thick - 2);
    plate.style.fill = `var(--${slot.doping})`;
  }
}

/**
 * The section and the scale bar at the far right.
 * @param {SVGElement} svg
 */
function sectionMarks(svg) {
  const circle = sv('circle', { class: 'segment' });
  const bar = sv('path', { class: 'scale-bar' });
  const words = label(0, 0, '200 nm', 'm c');
  svg.append(circle, bar, words);
  return {
    /**
     * @param {Slot[]} slots
     * @param {number} x
     * @param {number} y
     * @param {GaugeLayout} layout
     */
    draw(slots, x, y, layout) {
      const { scale, thick, phone, f } = layout;
      for (const node of [circle, bar, words]) show(node, !phone);
      setAttribute(circle, 'cx', px1(x + thick / 2 + 1));
      setAttribute(circle, 'cy', px1(y + thick / 2));
      setAttribute(circle, 'r', px1(thick / 2));
      setAttribute(circle, 'fill', dopingFill(slots[slots.length - 1]?.doping));
      // A round length that fits beside the section.
      const room = layout.tail - thick - 30;
      const nm = [200, 500, 1000, 2000, 5000, 10_000].find((length) => length * scale >= 30) ?? 10_000;
      const length = Math.min(nm * scale, room);
      setText(words, nm < 1000 ? `${nm} nm` : `${nm / 1000} µm`);
      setAttribute(bar, 'd', `M${px1(x + thick + 16)} ${px1(y + thick / 2 - 5)}v5h${px1(length)}v-5`);
      setAttribute(words, 'x', px1(x + thick + 16 + length / 2));
      setAttribute(words, 'y', px1(y + thick / 2 + 17 * f));
    },
  };
}

/**
 * A reading: a button of three lines that opens where its number comes from.
 * @param {HTMLElement} parent
 * @param {Context} ctx
 */
function readingButton(parent, ctx) {
  const name = el('b');
  const margin = el('span', { class: 'margin' });
  const value = el('span', { class: 'num' });
  const spread = el('i');
  const pin = el('span', { class: 'from-pin' });
  const order = el('span', { class: 'ordered' });
  let path = '';
  const root = el(
    'button',
    { type: 'button', class: 'reading', on: { click: () => ctx.why(path) } },
    el('span', { class: 'k' }, name, ' ', margin),
    el('span', { class: 'v' }, value, ' ', spread),
    el('span', { class: 'd' }, pin, ' ', order),
    el('span', { class: 'sr', text: ' Where from' }),
  );
  parent.append(root);
  const write = (/** @type {{head: string, margin: string, mean: number, sd: number, pinned: number | null, order: string, outside: boolean, misdoped?: boolean, known: boolean}} */ of) => {
    const long = of.mean >= 9999.5;
    const factor = long ? 1e-3 : 1;
    setText(name, of.head);
    setText(margin, of.margin);
    setText(value, of.known ? (of.mean > 0 ? placed(of.mean * factor, of.sd * factor) : '0') : '–');
    setText(spread, of.known ? `${plusMinus(of.sd * factor)} ${long ? 'µm' : 'nm'}`.trim() : '');
    setAttribute(root, 'data-outside', of.outside);
    setAttribute(margin, 'data-outside', of.outside || of.misdoped);
    const difference = of.pinned === null ? null : of.mean - of.pinned;
    setText(pin, difference === null ? '' : pinText(difference, of.sd));
    setText(order, of.order);
  };
  return {
    /**
     * @param {Slot} slot
     * @param {string} figure
     * @param {GaugeLayout} layout
     */
    draw(slot, figure, layout) {
      path = figure;
      const order = slot.ordered === null ? '' : `order ${setPointText(slot.ordered)} ± ${setPointText(slot.high - slot.ordered)}`;
      write({ head: slot.name, margin: slot.margin, mean: slot.mean, sd: slot.sd, pinned: slot.pin, order: layout.phone ? '' : order, outside: slot.outside, misdoped: !slot.doped, known: slot.known });
    },
    /**
     * @param {State} state
     * @param {Result} result
     * @param {GaugeLayout} layout
     */
    diameter(state, result, layout) {
      path = 'wires.diameter_nm.tip.mean';
      const tip = result.report?.wires?.diameter_nm?.tip;
      const item = result.report?.verdict?.items.find((/** @type {any} */ one) => one.what === 'order.diameter_nm');
      const pinned = result.pin?.wires?.diameter_nm?.tip?.mean ?? null;
      const ordered = (result.job ?? state.job).order?.diameter_nm;
      const how = item && !item.met ? `${placed(Math.abs(item.margin), tip?.sd)} nm too ${item.predicted > item.ordered ? 'thick' : 'thin'}` : '';
      setAttribute(root, 'data-diameter', true);
      write({ head: 'Diameter', margin: how, mean: tip?.mean ?? 0, sd: tip?.sd ?? 0, pinned, order: ordered === undefined || layout.phone ? '' : `order ${setPointText(ordered)} nm`, outside: how !== '', known: tip !== undefined && tip !== null });
    },
  };
}

/**
 * The change since the pin: "▼ 175 from pin", "as pinned".
 * @param {number} difference
 * @param {number} sd
 */
export function pinText(difference, sd) {
  const places = sd > 0 ? placesOf(sd) : 1;
  const text = decimals(Math.abs(difference), places);
  return /^[0.]*$/.test(text) ? 'as pinned' : `${triangle(difference)}\u00a0${text} from pin`;
}
