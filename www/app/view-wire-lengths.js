/**
 * How long are they? Share of wires against length, a panel a segment and one for the whole wire, between the jaws of the
 * order.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./plot/histogram.js').Histogram} Histogram
 *
 * @typedef {object} LengthPanel what one panel shows
 * @property {string} name
 * @property {string} path of the spread in the report
 * @property {Histogram} histogram
 * @property {Histogram | null} pinned
 * @property {any} spread mean, sd, … in nm
 * @property {number | null} inside share of wires
 * @property {'p' | 'i' | 'n' | null} doping null: the whole wire
 * @property {number | null} ordered
 * @property {number | null} low
 * @property {number | null} high
 */
import { el, keepLength, put, setAttribute, setText, show } from './dom.js';
import { dopingFill, px1, sv } from './svg.js';
import { NARROW, decimals, placed, plusMinus, setPointText, shareText, two } from './numbers.js';
import { stageName } from './names.js';
import { numberButton, picture } from './view.js';
import { bottomAxis, leftAxis } from './plot/axis.js';
import { plotFrame, tableWhenRead, tickSize, widthOf } from './plot/frame.js';
import { binWidth, histogramMark, secondPeak } from './plot/histogram.js';
import { jawsMark } from './plot/jaws.js';
import { linearScale, linearTicks, roomOfText, withoutCrowding } from './plot/scale.js';

/**
 * The panels of a report: segments that grew, then the whole wire where there is more than one.
 * @param {Job} job
 * @param {any} report
 * @param {any} pinned
 * @returns {LengthPanel[]}
 */
export function lengthPanels(job, report, pinned) {
  const { wires } = report;
  /** @type {LengthPanel[]} */
  const panels = [];
  wires.segments.forEach((/** @type {any} */ segment, /** @type {number} */ index) => {
    if (!segment.histogram?.share?.length) return;
    const ordered = job.order?.segments?.[segment.stage] ?? null;
    const before = pinned?.wires.segments[index];
    panels.push({
      name: stageName(job, segment.stage),
      path: `wires.segments[${index}].length_nm`,
      histogram: segment.histogram,
      pinned: before && before.length_nm.mean !== segment.length_nm.mean ? before.histogram : null,
      spread: segment.length_nm,
      inside: segment.share_inside,
      doping: segment.doping,
      ordered: ordered ? ordered.length_nm : null,
      low: ordered ? ordered.length_nm - ordered.tolerance_nm : null,
      high: ordered ? ordered.length_nm + ordered.tolerance_nm : null,
    });
  });
  if (panels.length > 1 && wires.histogram?.share?.length) {
    const before = pinned?.wires;
    panels.push({
      name: 'whole wire', path: 'wires.length_nm', histogram: wires.histogram,
      pinned: before && before.length_nm.mean !== wires.length_nm.mean ? before.histogram : null,
      spread: wires.length_nm, inside: null, doping: null, ordered: null, low: null, high: null,
    });
  }
  return panels;
}

/**
 * @param {Context} ctx
 * @returns {import('./view-wire.js').WirePart}
 */
export function lengthsPicture(ctx) {
  const shown = picture('lengths', 'How long are they?', { wide: true });
  const group = sv('g');
  const frame = plotFrame(shown.plot, group);
  const list = el('ul', { class: 'figures columns' });
  put(shown.foot, list);
  /** @type {SVGGElement[]} */
  const nodes = [];
  /** @type {ReturnType<typeof lengthPanelMark>[]} */
  const marks = [];
  /** @type {HTMLLIElement[]} */
  const items = [];
  /** @type {ReturnType<typeof lengthWords>[]} */
  const words = [];
  return {
    root: shown.root,
    picture: shown,
    draw(job, report, pinned) {
      const panels = lengthPanels(job, report, pinned);
      const width = widthOf(shown);
      const size = tickSize();
      keepLength(group, nodes, panels.length, (index) => (marks[index] = marks[index] ?? lengthPanelMark()).root);
      keepLength(list, items, panels.length, (index) => (words[index] = words[index] ?? lengthWords(ctx)).root);
      const gap = size * 1.6;
      const columns = lengthColumns(panels.length, width, size, gap);
      const each = Math.min((width - gap * (columns - 1)) / columns, size * 40);
      const height = size * 13.5;
      // Words stand below their panel.
      setAttribute(list, 'style', `grid-template-columns: repeat(${columns}, minmax(0, ${px1(each)}px)); column-gap: ${gap}px`);
      panels.forEach((panel, index) => {
        setAttribute(nodes[index], 'transform', `translate(${px1((index % columns) * (each + gap))} ${px1(Math.floor(index / columns) * (height + gap * 0.6))})`);
        marks[index].draw(panel, each, height, size, report.seeds.multiply_charged_share);
        words[index].draw(panel, columns < panels.length);
      });
      const rows = Math.ceil(panels.length / columns);
      frame.size(width, rows * height + (rows - 1) * gap * 0.6);
      const any = panels.some((panel) => panel.low !== null);
      shown.note(`Share of wires against length.${any ? ' Tinted: the order.' : ''}${panels.some((panel) => panel.pinned) ? ' Broken line: the pin.' : ''}`);
      shown.say(panels.map(lengthSentence).join('; '));
      tableWhenRead(shown, ['Segment', 'Length, nm', 'Share of wires', 'Pinned'], () => lengthRows(panels));
    },
  };
}

/** As many side by side as are still wide enough, in rows of like length. @param {number} count @param {number} width @param {number} size @param {number} gap */
function lengthColumns(count, width, size, gap) {
  const most = Math.max(1, Math.min(count, Math.floor((width + gap) / (size * 15 + gap))));
  return Math.ceil(count / Math.ceil(count / most));
}

/** @param {LengthPanel} panel */
function lengthSentence(panel) {
  const { mean, sd } = panel.spread;
  const order = panel.low === null ? '' : `, ${panel.inside === null ? '' : `${shareText(panel.inside)} `}inside ${setPointText(panel.low)} to ${setPointText(panel.high ?? 0)}`;
  return `${panel.name}: mean ${placed(mean, sd)} nm, spread ${sd > 0 ? two(sd) : '0'} nm${order}`;
}

/** @param {LengthPanel[]} panels */
function lengthRows(panels) {
  return panels.flatMap(({ name, histogram, pinned, spread }) => [
    [name, `mean ${placed(spread.mean, spread.sd)} ${plusMinus(spread.sd)}`, '', ''],
    ...histogram.share.map((share, bin) => {
      const [from, to] = [histogram.edges_nm[bin], histogram.edges_nm[bin + 1]];
      return [name, `${setPointText(from)} to ${setPointText(to)}`, percentText(share), pinned ? percentText(shareBetween(pinned, from, to)) : ''];
    }),
  ]);
}

/** All of a column to one place, so that it adds up. @param {number} share */
const percentText = (share) => `${decimals(share * 100, 1)}${NARROW}%`;

/** Share of another histogram between two lengths, its bins taken as even. @param {Histogram} histogram @param {number} from @param {number} to */
function shareBetween({ edges_nm: edges, share }, from, to) {
  return share.reduce((sum, part, bin) => {
    const common = Math.min(edges[bin + 1], to) - Math.max(edges[bin], from);
    return common > 0 ? sum + (part * common) / (edges[bin + 1] - edges[bin]) : sum;
  }, 0);
}

/** The words of a panel below the picture, with the way to their origin. @param {Context} ctx */
function lengthWords(ctx) {
  const name = el('b');
  const mean = numberButton(ctx, 'wires.length_nm.mean', 'mean length');
  const inside = numberButton(ctx, 'wires.segments[0].share_inside', 'share of wires inside');
  const share = el('span', { class: 'together' }, inside.root, ' inside');
  return {
    root: el('li', {}, el('span', { class: 'together' }, name, ' ', mean.root), ' ', share),
    /** @param {LengthPanel} panel @param {boolean} named whether the words stand too far from their panel to do without its name */
    draw(panel, named) {
      show(name, named);
      const { mean: value, sd } = panel.spread;
      setText(name, panel.name);
      mean.draw(placed(value, sd), `${plusMinus(sd)} nm`.trim(), `${panel.path}.mean`, `${panel.name}, mean length`);
      show(share, panel.inside !== null);
      if (panel.inside !== null) {
        const text = shareText(panel.inside);
        inside.draw(text.slice(0, -2), '%', panel.path.replace('length_nm', 'share_inside'), `${panel.name}, share of wires inside`);
      }
    },
  };
}

/** One panel, drawn at its own origin. */
function lengthPanelMark() {
  const jaws = jawsMark();
  const bars = histogramMark();
  const bottom = bottomAxis();
  const left = leftAxis();
  const title = sv('text');
  const share = sv('text');
  const second = sv('text');
  return {
    root: sv('g', {}, jaws.tint, left.root, bars.root, bottom.root, jaws.root, title, share, second),
    /** @param {LengthPanel} panel @param {number} width @param {number} height @param {number} size @param {number | null} charged share of seeds with more than one charge */
    draw(panel, width, height, size, charged) {
      const top = size * 4;
      const base = height - size * 1.7;
      const most = Math.max(...panel.histogram.share, pinnedMost(panel));
      const edge = roomOfText('30', size) + 10;
      const nm = roomOfText('nm', size) + size * 1.2;
      const x = lengthScale(panel, edge, width - nm);
      const y = linearScale(0, most * 1.08, base, top);
      const percent = linearScale(0, most * 108, base, top);
      left.draw(linearTicks(percent, size * 1.6, 5), { at: edge, from: top, to: base, unit: '%', size });
      bottom.draw(lengthTicks(panel, x, size).filter((tick) => tick.at + roomOfText(tick.text, size) / 2 < width - roomOfText('nm', size) - 4), { at: base, from: edge, to: width, unit: x.to > 9999 ? 'µm' : 'nm', size });
      bars.draw(panel.histogram, panel.pinned, x, y, panel.doping ? dopingFill(panel.doping) : 'var(--well)');
      const { mean } = panel.spread;
      const outside = panel.low !== null && panel.high !== null && (mean < panel.low || mean > panel.high);
      jaws.draw(panel.low === null ? null : x.at(panel.low), panel.high === null ? null : x.at(panel.high), top, base, outside);
      setAttribute(title, 'class', 't b');
      setAttribute(title, 'x', px1(edge));
      setAttribute(title, 'y', px1(size));
      setText(title, panel.doping ? `${panel.name}, ${panel.doping}` : panel.name);
      setAttribute(share, 'class', outside ? 't out' : 't m');
      setAttribute(share, 'x', px1(edge));
      setAttribute(share, 'y', px1(size * 2.4));
      setText(share, panel.inside === null ? `${placed(mean, panel.spread.sd)} ${plusMinus(panel.spread.sd)} nm` : `${shareText(panel.inside)} of wires inside`);
      const peak = charged ? secondPeak(panel.histogram) : null;
      show(second, peak !== null);
      if (peak !== null) drawSecond(second, x.at(peak), y.at(shareAt(panel.histogram, peak)) - 6, edge, width, size);
    },
  };
}

/** @param {SVGTextElement} node @param {number} at @param {number} y @param {number} edge @param {number} width @param {number} size */
function drawSecond(node, at, y, edge, width, size) {
  const half = roomOfText('two charges', size) / 2;
  setAttribute(node, 'class', 't c');
  setAttribute(node, 'x', px1(Math.min(Math.max(at, edge + half + 4), width - half)));
  setAttribute(node, 'y', px1(y));
  setText(node, 'two charges');
}

/** @param {Histogram} histogram @param {number} nm */
function shareAt({ edges_nm: edges, share }, nm) {
  return share.find((_, bin) => nm >= edges[bin] && nm < edges[bin + 1]) ?? 0;
}

/** Highest bar of the pin, brought to the width of the bars. @param {LengthPanel} panel */
function pinnedMost({ histogram, pinned }) {
  return pinned ? (Math.max(...pinned.share) * binWidth(histogram)) / binWidth(pinned) : 0;
}

/** Lengths that a panel must hold: bars, jaws, pin. @param {LengthPanel} panel @param {number} start @param {number} end */
function lengthScale(panel, start, end) {
  const ends = [panel.histogram, panel.pinned].flatMap((histogram) => (histogram ? [histogram.edges_nm[0], histogram.edges_nm[histogram.edges_nm.length - 1]] : []));
  if (panel.low !== null && panel.high !== null) ends.push(panel.low, panel.high);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const room = (high - low || 1) * 0.07;
  return linearScale(Math.max(0, low - room), high + room, start, end);
}

/** The limits and the ordered length first, then round numbers where there is room. @param {LengthPanel} panel @param {import('./plot/scale.js').Scale} x @param {number} size */
function lengthTicks(panel, x, size) {
  const long = x.to > 9999;
  const text = (/** @type {number} */ nm) => (long ? decimals(nm / 1000, 2) : setPointText(nm));
  const wide = Math.max(roomOfText(text(x.to), size), size * 2) + size * 0.8;
  const limits = [panel.low, panel.high, panel.ordered].flatMap((nm) => (nm === null ? [] : [{ at: x.at(nm), text: text(nm) }]));
  const round = linearTicks(x, wide, 5).map((tick) => ({ at: tick.at, text: text(x.from + ((tick.at - x.start) / (x.end - x.start)) * (x.to - x.from)) }));
  return withoutCrowding([...limits, ...round], wide);
}
