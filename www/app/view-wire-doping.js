/**
 * Where is it doped? The mean wire to scale, and below it the net carriers along it on a log axis, the order dotted.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./plot/scale.js').Scale} Scale
 */
import { el, keepLength, put, setAttribute, setProps, setText, show } from './dom.js';
import { px1, sv } from './svg.js';
import { powerText, three, two } from './numbers.js';
import { stageName } from './names.js';
import { numberButton, picture } from './view.js';
import { bottomAxis, leftAxis } from './plot/axis.js';
import { curveMark } from './plot/curve.js';
import { plotFrame, tableWhenRead, tickSize, widthOf } from './plot/frame.js';
import { decadeTicks, decadesAround, linearScale, linearTicks, logScale, roomOfText } from './plot/scale.js';
import { seedAngle, stripMark } from './plot/strip.js';

/**
 * @param {Context} ctx
 * @returns {import('./view-wire.js').WirePart}
 */
export function dopingPicture(ctx) {
  const shown = picture('doping', 'Where is it doped?');
  shown.root.classList.add('two-thirds', 'two-rows');
  const marks = dopingMarks();
  const frame = plotFrame(shown.plot, ...marks.all);
  const list = el('ul', { class: 'figures' });
  put(shown.foot, list);
  /** @type {HTMLLIElement[]} */
  const items = [];
  /** @type {ReturnType<typeof dopingWords>[]} */
  const words = [];
  return {
    root: shown.root,
    picture: shown,
    draw(job, report, pinned) {
      const width = widthOf(shown);
      const size = tickSize();
      const segments = report.wires.segments.filter((/** @type {any} */ segment) => segment.length_nm.mean > 0);
      frame.size(width, drawDoping(marks, { job, report, pinned, segments }, width, size));
      keepLength(list, items, segments.length, (index) => (words[index] = words[index] ?? dopingWords(ctx)).root);
      segments.forEach((/** @type {any} */ segment, /** @type {number} */ index) => words[index].draw(job, segment, index ? segments[index - 1] : null));
      const doped = netCarriers(report.wires.along).some((carriers) => carriers > 0);
      if (!doped) shown.note('Nowhere: no dopant is fed. The mean wire, to scale.');
      else shown.note(`Net carriers per cm³ along the mean wire, to scale. ${job.order ? 'Dotted: the order. ' : ''}${pinned && pinned.wires.length_nm.mean !== report.wires.length_nm.mean ? 'Broken: the pin.' : ''}`.trim());
      shown.say(segments.map((/** @type {any} */ segment) => `${stageName(job, segment.stage)} ${segment.doping ?? 'no'} ${segment.net_per_cm3 ? two(Math.abs(segment.net_per_cm3.mean)) : 'doping'}${transitionText(segment)}`).join('; '));
      tableWhenRead(shown, ['Segment', 'From, nm', 'To, nm', 'Doping', 'Mean, cm⁻³', 'At its start', 'At its end', 'Ordered', 'Change behind it'], () => segments.map((/** @type {any} */ segment) => dopingRow(job, segment)));
    },
  };
}

/** @param {Job} job @param {any} segment */
function dopingRow(job, segment) {
  const net = segment.net_per_cm3;
  const ordered = job.order?.segments?.[segment.stage];
  const amount = (/** @type {number | undefined} */ value) => (typeof value === 'number' ? two(Math.abs(value)) : '–');
  return [
    stageName(job, segment.stage), three(segment.start_nm), three(segment.start_nm + segment.length_nm.mean), segment.doping ?? 'none',
    amount(net?.mean), amount(net?.start), amount(net?.end),
    ordered ? `${ordered.doping === 'i' ? 'at most ' : `${ordered.doping} `}${powerText(ordered.carriers_per_cm3)}` : '–',
    segment.transition ? transitionText(segment).replace(/^, /, '') : '–',
  ];
}

/** Where the change into a segment stands, and how long it is. @param {any} segment */
function transitionText(segment) {
  const { transition } = segment;
  if (!transition) return '';
  const late = transition.offset_nm;
  return `, changes over ${two(transition.width_nm)} nm, half of it ${two(Math.abs(late))} nm ${late < 0 ? 'before' : 'behind'} the junction`;
}

/** @param {Context} ctx */
function dopingWords(ctx) {
  const name = el('b');
  const mean = numberButton(ctx, '', 'net carriers');
  const width = numberButton(ctx, '', 'length of the change');
  const offset = numberButton(ctx, '', 'place of the change');
  const side = el('span');
  const change = el('span', {}, '; changes over ', width.root, ', half of it ', offset.root, ' ', side);
  return {
    root: el('li', {}, name, ' ', mean.root, change),
    /** @param {Job} job @param {any} segment @param {any} before */
    draw(job, segment, before) {
      const path = `wires.segments[${segment.stage}]`;
      const called = stageName(job, segment.stage);
      setText(name, `${called}, ${segment.doping ?? 'undoped'}`);
      mean.draw(segment.net_per_cm3 ? two(Math.abs(segment.net_per_cm3.mean)) : '0', 'cm⁻³', `${path}.net_per_cm3.mean`, `${called}, net carriers`);
      show(change, Boolean(segment.transition && before));
      if (!segment.transition) return;
      width.draw(two(segment.transition.width_nm), 'nm', `${path}.transition.width_nm`, `${called}, length of the change into it`);
      offset.draw(two(Math.abs(segment.transition.offset_nm)), 'nm', `${path}.transition.offset_nm`, `${called}, from the junction to half of the change`);
      setText(side, segment.transition.offset_nm < 0 ? 'before the junction' : 'behind the junction');
    },
  };
}

function dopingMarks() {
  const tints = sv('g');
  const strip = stripMark();
  const joints = sv('path', { class: 'joint' });
  const left = leftAxis();
  const bottom = bottomAxis();
  const ordered = sv('path', { class: 'dotted' });
  const pin = curveMark('pinned');
  const curves = sv('g');
  const brackets = sv('path', { class: 'bracket' });
  const labels = sv('g');
  return {
    tints, strip, joints, left, bottom, ordered, pin, curves, brackets, labels,
    /** @type {SVGRectElement[]} */ tintNodes: [],
    /** @type {SVGPathElement[]} */ curveNodes: [],
    /** @type {SVGTextElement[]} */ labelNodes: [],
    all: [tints, joints, left.root, bottom.root, ordered, pin.root, curves, brackets, strip.root, labels],
  };
}

/**
 * @param {ReturnType<typeof dopingMarks>} marks
 * @param {{job: Job, report: any, pinned: any, segments: any[]}} of
 * @param {number} width
 * @param {number} size
 * @returns {number} height
 */
function drawDoping(marks, { job, report, pinned, segments }, width, size) {
  const { along, length_nm: whole } = report.wires;
  const orders = segments.map((segment) => job.order?.segments?.[segment.stage] ?? null);
  const net = netCarriers(along);
  const decades = decadesAround([
    ...segments.flatMap((segment) => (segment.net_per_cm3 ? [segment.net_per_cm3.mean, segment.net_per_cm3.start, segment.net_per_cm3.end].map(Math.abs) : [])),
    ...orders.flatMap((order) => (order ? [order.carriers_per_cm3] : [])),
  ], 5);
  const edge = roomOfText('10¹⁸', size) + 10;
  const most = Math.max(whole.mean, pinned ? pinned.wires.length_nm.mean : 0);
  const across = Math.max(...along.diameter_nm);
  const cap = Math.min(across * 0.8, most * 0.08);
  const x = linearScale(0, most + cap, edge, width - 2);
  const thick = Math.max(5, across * ((x.end - x.start) / (x.to - x.from)));
  const wireY = size * 1.2 + thick / 2;
  const top = wireY + thick / 2 + size * 2.6;
  const base = top + size * (width > 560 ? 17 : 11);
  const y = logScale(decades.from, decades.to, base, top);
  const any = net.some((carriers) => carriers > 0);
  for (const mark of marks.all) show(mark, any || mark === marks.strip.root);
  marks.strip.draw(segments.map((segment) => ({ from: x.at(segment.start_nm), to: x.at(segment.start_nm + segment.length_nm.mean), doping: segment.doping })), { y: wireY, height: thick, angle: seedAngle(job), size });
  // Without any dopant there is no curve to draw, and a log axis has no 0.
  if (!any) return wireY + thick / 2 + 4;
  setProps(marks.joints, { d: segments.slice(1).map((segment) => `M${px1(x.at(segment.start_nm))} ${px1(wireY + thick / 2)}V${px1(base)}`).join('') });
  marks.left.draw(decadeTicks(y, size * 1.5), { at: edge, from: top, to: base, unit: 'cm⁻³', size, grid: x.end });
  const nm = roomOfText('nm', size) + 8;
  marks.bottom.draw(linearTicks(x, size * 5, 6).filter((tick) => tick.at < x.end - nm - roomOfText(tick.text, size) / 2), { at: base, from: edge, to: x.end, unit: 'nm', size });
  setProps(marks.ordered, { d: segments.map((segment, index) => orderedLine(segment, orders[index], x, y)).join('') });
  const before = pinned && pinned.wires.length_nm.mean !== whole.mean ? pinned.wires.along : null;
  if (before) marks.pin.draw(before.x_nm.map(x.at), netCarriers(before).map(y.at));
  else marks.pin.clear();
  drawCurves(marks, segments, along, net, x, y);
  drawDepleted(marks, report.junction, segments, x, top, base);
  drawDopingLabels(marks, segments, orders.map((order) => (order ? y.at(order.carriers_per_cm3) : null)), { x, y, size, top });
  return base + size * 1.7;
}

/** Amount of the net doping along a wire. @param {any} along @returns {number[]} */
function netCarriers(along) {
  return along.donors_per_cm3.map((/** @type {number} */ donors, /** @type {number} */ place) => Math.abs(donors - along.acceptors_per_cm3[place]));
}

/** @param {any} segment @param {any} order @param {Scale} x @param {Scale} y */
function orderedLine(segment, order, x, y) {
  if (!order) return '';
  return `M${px1(x.at(segment.start_nm))} ${px1(y.at(order.carriers_per_cm3))}H${px1(x.at(segment.start_nm + segment.length_nm.mean))}`;
}

/** The curve of each segment in the colour of its doping. @param {ReturnType<typeof dopingMarks>} marks @param {any[]} segments @param {any} along @param {number[]} net @param {Scale} x @param {Scale} y */
function drawCurves(marks, segments, along, net, x, y) {
  keepLength(marks.curves, marks.curveNodes, segments.length, () => sv('path'));
  segments.forEach((segment, index) => {
    const from = segment.start_nm;
    const to = index + 1 < segments.length ? segments[index + 1].start_nm : Infinity;
    let d = '';
    along.x_nm.forEach((/** @type {number} */ nm, /** @type {number} */ place) => {
      // One point beyond, so that the pieces meet.
      const next = along.x_nm[place + 1] ?? Infinity;
      if (next < from || (nm > to && along.x_nm[place - 1] > to)) return;
      d += `${d ? 'L' : 'M'}${px1(x.at(nm))} ${px1(y.at(net[place]))}`;
    });
    setProps(marks.curveNodes[index], { d, class: `curve ${segment.doping ?? 'i'}` });
  });
}

/** Parts without free carriers, as soon as the junction is predicted. @param {ReturnType<typeof dopingMarks>} marks @param {any} junction @param {any[]} segments @param {Scale} x @param {number} top @param {number} base */
function drawDepleted(marks, junction, segments, x, top, base) {
  /** @type {[number, number][]} */
  const parts = [];
  segments.forEach((segment, index) => {
    const depth = segment.doping ? junction?.depletion_nm?.[segment.doping] : 0;
    if (!(depth > 0)) return;
    const [from, to] = [segment.start_nm, segment.start_nm + segment.length_nm.mean];
    // At the side of the junction: the end of the first segment, the start of the others.
    parts.push(index === 0 ? [Math.max(from, to - depth), to] : [from, Math.min(to, from + depth)]);
  });
  keepLength(marks.tints, marks.tintNodes, parts.length, () => sv('rect', { class: 'tint' }));
  parts.forEach(([from, to], index) => setProps(marks.tintNodes[index], { x: px1(x.at(from)), width: px1(x.at(to) - x.at(from)), y: px1(top), height: px1(base - top) }));
}

/** Baseline of a label that leaves a dotted line free. @param {number | null} line @param {number} base @param {number} size */
function clearOf(line, base, size) {
  if (line === null || line < base - size || line > base + 5) return base;
  return line - 6;
}

/** Values on the lines, and over each junction how long the change is. @param {ReturnType<typeof dopingMarks>} marks @param {any[]} segments @param {(number | null)[]} lines px of the ordered lines @param {{x: Scale, y: Scale, size: number, top: number}} place */
function drawDopingLabels(marks, segments, lines, { x, y, size, top }) {
  /** @type {{at: number, y: number, text: string, more: string}[]} */
  const words = [];
  let brackets = '';
  let right = -Infinity;
  for (const [index, segment] of segments.entries()) {
    const net = segment.net_per_cm3;
    const from = x.at(segment.start_nm);
    const to = x.at(segment.start_nm + segment.length_nm.mean);
    const text = net ? `${segment.doping ?? ''} ${two(Math.abs(net.mean))}`.trim() : '';
    const high = net ? y.at(Math.abs(net.mean)) : 0;
    // Over the line where that is free, else under it.
    if (net && roomOfText(text, size) < to - from - 4) words.push({ at: (from + to) / 2, y: clearOf(lines[index], high - size * 0.8 < top + size ? high + size * 1.9 : high - size * 0.8, size), text, more: 'b' });
    if (!segment.transition) continue;
    const middle = segment.start_nm + segment.transition.offset_nm;
    const [start, end] = [x.at(middle - segment.transition.width_nm / 2), x.at(middle + segment.transition.width_nm / 2)];
    brackets += `M${px1(start)} ${px1(top - 9)}v6m0 -3H${px1(end)}m0 -3v6`;
    const late = segment.transition.offset_nm;
    const change = `${two(segment.transition.width_nm)} nm wide, ${two(Math.abs(late))} nm ${late < 0 ? 'before' : 'behind'}`;
    const half = roomOfText(change, size) / 2;
    const at = Math.min(Math.max((start + end) / 2, x.start + half), x.end - half);
    if (at - half < right) continue;
    right = at + half + size;
    words.push({ at, y: top - 15, text: change, more: 'm' });
  }
  setProps(marks.brackets, { d: brackets || null });
  keepLength(marks.labels, marks.labelNodes, words.length, () => sv('text'));
  words.forEach((word, index) => {
    const node = marks.labelNodes[index];
    setAttribute(node, 'x', px1(word.at));
    setAttribute(node, 'y', px1(word.y));
    setAttribute(node, 'class', `t c halo ${word.more}`);
    setText(node, word.text);
  });
}
