/**
 * Wire: what comes out? Lengths against the order, doping along the wire, what lies on its side, why lengths differ.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./view.js').Picture} Picture
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 */
import { el, keepLength, put, setAttribute, setText, show } from './dom.js';
import { sv } from './svg.js';
import { decimals, placesOf, shareText, three, two } from './numbers.js';
import { stageName } from './names.js';
import { numberButton, picture } from './view.js';
import { markNarrow, measurePictures, plotFrame, redrawByWidth, tableWhenRead, tickSize, widthOf } from './plot/frame.js';
import { rankedBars } from './plot/ranked.js';
import { roomOfText } from './plot/scale.js';
import { sectionMark } from './plot/section.js';
import { lengthsPicture } from './view-wire-lengths.js';
import { dopingPicture } from './view-wire-doping.js';

/**
 * A picture of this view: its figure, and how it is drawn from a report that has wires.
 * @typedef {{root: HTMLElement, picture: Picture, draw: (job: Job, report: any, pinned: any) => void}} WirePart
 */

/** @type {WirePart[]} */
let wireParts = [];
/** @type {{root: HTMLElement, empty: HTMLElement} | null} */
let wireRoot = null;

/** @type {import('./view.js').View} */
export const wireView = {
  id: 'wire',
  name: 'Wire',
  question: 'what comes out?',
  build(root, ctx) {
    const empty = el('p', { class: 'card empty' });
    wireParts = [lengthsPicture(ctx), dopingPicture(ctx), sectionPicture(ctx), spreadPicture(ctx)];
    wireRoot = { root, empty };
    put(root, empty, ...wireParts.map((part) => part.root));
    redrawByWidth(root, ctx);
  },
  draw(state, result) {
    if (!wireRoot) return;
    markNarrow(wireRoot.root);
    const report = result.report;
    const grown = report?.wires?.length_nm?.mean > 0;
    setText(wireRoot.empty, report ? 'No wires to show: nothing grows with this recipe.' : 'No wires to show yet.');
    show(wireRoot.empty, !grown);
    setAttribute(wireRoot.root, 'data-old', result.stale ? 'yes' : null);
    for (const part of wireParts) show(part.root, grown);
    if (!grown) return;
    measurePictures(wireParts.map((part) => part.picture));
    for (const part of wireParts) part.draw(result.job ?? state.job, report, result.pin?.wires?.length_nm?.mean > 0 ? result.pin : null);
  },
};

/** Whether a pinned report says the same, so that nothing is to be compared. @param {any} report @param {any} pinned */
export const samePinned = (report, pinned) => !pinned || pinned.wires.length_nm.mean === report.wires.length_nm.mean;

/**
 * Each segment cut across where it is thickest, all at one scale.
 * @param {Context} ctx
 * @returns {WirePart}
 */
function sectionPicture(ctx) {
  const shown = picture('section', 'What is on its side?');
  shown.root.classList.add('third');
  const cuts = sv('g');
  const words = sv('g');
  const frame = plotFrame(shown.plot, cuts, words);
  /** @type {SVGGElement[]} */
  const groups = [];
  /** @type {ReturnType<typeof sectionMark>[]} */
  const marks = [];
  /** @type {SVGTextElement[]} */
  const labels = [];
  const tip = numberButton(ctx, 'wires.diameter_nm.tip.mean', 'diameter at the tip');
  const base = numberButton(ctx, 'wires.diameter_nm.base.mean', 'diameter at the base');
  put(shown.foot, el('ul', { class: 'figures' }, el('li', {}, 'tip ', tip.root), el('li', {}, 'base ', base.root)));
  return {
    root: shown.root,
    picture: shown,
    draw(job, report) {
      const rows = wireSections(job, report);
      const width = widthOf(shown);
      const size = tickSize();
      keepLength(cuts, groups, rows.length, (index) => {
        marks[index] = marks[index] ?? sectionMark();
        return marks[index].root;
      });
      keepLength(words, labels, rows.length * 3, () => sv('text'));
      const most = Math.max(1, Math.min(rows.length, Math.floor(width / Math.max(size * 6.4, ...rows.map((row) => roomOfText(row.name, size * 1.1))))));
      const columns = Math.ceil(rows.length / Math.ceil(rows.length / most));
      const each = width / columns;
      const widest = Math.max(...rows.map((row) => row.cut.across));
      const side = Math.min(each - size, size * 10);
      const pitch = side + size * 5.2;
      rows.forEach((row, index) => {
        const x = ((index % columns) + 0.5) * each;
        const top = Math.floor(index / columns) * pitch;
        marks[index].draw(row.cut, { x, y: top + size * 1.5 + side / 2, scale: side / widest, size });
        sectionLabel(labels[index * 3], x, top + size, row.name, 'b');
        sectionLabel(labels[index * 3 + 1], x, top + size * 2.9 + side, `${three(row.cut.across)} nm`, '');
        sectionLabel(labels[index * 3 + 2], x, top + size * 4.2 + side, row.coat, 'm');
      });
      frame.size(width, Math.ceil(rows.length / columns) * pitch);
      tip.draw(three(report.wires.diameter_nm.tip.mean), 'nm');
      base.draw(three(report.wires.diameter_nm.base.mean), 'nm');
      shown.note(`Each segment across, to one scale. The coat is what later stages laid on its side.`);
      shown.say(rows.map((row) => `${row.name}: ${three(row.cut.across)} nm across, ${row.coat}`).join('; '));
      tableWhenRead(shown, ['Segment', 'Doping', 'Across, nm', 'Coat, nm', 'Own taper, nm'], () => rows.map((row) => [
        row.name, row.cut.doping ?? 'none', three(row.cut.across), two(row.cut.coat), two(row.taper),
      ]));
    },
  };
}

/** @param {SVGTextElement} node @param {number} x @param {number} y @param {string} text @param {string} more */
function sectionLabel(node, x, y, text, more) {
  setAttribute(node, 'x', Math.round(x));
  setAttribute(node, 'y', Math.round(y));
  setAttribute(node, 'class', `t c ${more}`);
  setText(node, text);
}

/**
 * The cut of each segment that grew: at its base, where every later stage left its coat.
 * @param {Job} job
 * @param {any} report
 * @returns {{name: string, taper: number, coat: string, cut: import('./plot/section.js').Cut}[]}
 */
function wireSections(job, report) {
  const { segments, along } = report.wires;
  const grown = segments.filter((/** @type {any} */ segment) => segment.length_nm.mean > 0);
  const last = grown[grown.length - 1];
  return grown.map((/** @type {any} */ segment) => {
    const start = along.x_nm.findIndex((/** @type {number} */ x) => x >= segment.start_nm);
    const depleted = segment.doping ? report.junction?.surface_depletion_nm?.[segment.doping] : null;
    return {
      name: stageName(job, segment.stage),
      taper: segment.own_taper_nm,
      coat: segment === last ? 'no coat' : `coat ${two(segment.coat_nm)} nm`,
      cut: {
        across: along.diameter_nm[Math.max(start, 0)],
        coat: segment.coat_nm,
        depleted: typeof depleted === 'number' ? depleted : null,
        doping: segment.doping,
        coating: segment === last ? null : last.doping,
      },
    };
  });
}

/** Causes of a spread in the report, and their names. @type {[string, string][]} */
const SPREAD_CAUSES = [
  ['paths', 'streamlines'],
  ['seed_size', 'seed size'],
  ['mixing', 'mixing'],
];

/**
 * Why lengths differ: standard deviations by cause.
 * @param {Context} ctx
 * @returns {WirePart}
 */
function spreadPicture(ctx) {
  const shown = picture('spread', 'Why do they differ?');
  shown.root.classList.add('third');
  const bars = rankedBars();
  const frame = plotFrame(shown.plot, bars.root);
  const shares = SPREAD_CAUSES.map(([key, name]) => numberButton(ctx, `wires.spread_from.${key}`, `${name}, share of the variance`));
  put(shown.foot, el('ul', { class: 'figures' }, ...shares.map((button, index) => el('li', {}, `${SPREAD_CAUSES[index][1]} `, button.root))));
  return {
    root: shown.root,
    picture: shown,
    draw(job, report) {
      const { spread_from: from, length_nm: length } = report.wires;
      const places = placesOf(length.sd);
      const part = (/** @type {string} */ key) => Math.sqrt(Math.abs(from?.[key] ?? 0)) * length.sd;
      const rows = SPREAD_CAUSES.map(([key, name]) => ({
        name,
        value: part(key),
        text: `${key === 'mixing' && from?.mixing < 0 && decimals(part(key), places) !== decimals(0, places) ? 'takes out ' : ''}${decimals(part(key), places)} nm`,
      }));
      const width = widthOf(shown);
      frame.size(width, bars.draw(rows, width, tickSize()));
      const both = part('both');
      const squares = [part('paths'), part('seed_size'), ...(both / length.sd > 0.02 ? [both] : [])];
      shown.note(`Standard deviation of the whole length, nm. Squares add up: ${squares.map((value) => `${decimals(value, places)}²`).join(' + ')} = ${decimals(length.sd, places)}². ${mixingWords(job)}`.trim());
      SPREAD_CAUSES.forEach(([key], index) => shares[index].draw(...splitUnit(shareText(from?.[key] ?? 0))));
      shown.say(`${rows.map((row) => `${row.name} ${row.text}`).join(', ')}; together ${decimals(length.sd, places)} nm`);
      tableWhenRead(shown, ['Cause', 'Standard deviation, nm', 'Share of the variance'], () => [
        ...rows.map((row, index) => [row.name, decimals(row.value, places), shareText(from?.[SPREAD_CAUSES[index][0]] ?? 0)]),
        ['both at once', decimals(both, places), shareText(from?.both ?? 0)],
        ['together', decimals(length.sd, places), shareText(1)],
      ]);
    },
  };
}

/** @param {string} text "86 %" @returns {[string, string]} */
function splitUnit(text) {
  const at = text.lastIndexOf('\u00a0');
  return [text.slice(0, at), text.slice(at + 1)];
}

/** What the junctions between stages do to the streamlines. @param {Job} job */
function mixingWords(job) {
  const mixed = job.stages.map((/** @type {any} */ stage, /** @type {number} */ index) => (index && stage.streamlines === 'mixed' ? stageName(job, index) : ''))
    .filter((/** @type {string} */ name) => name);
  return mixed.length ? `Streamlines are mixed into ${mixed.join(' and ')}.` : '';
}

