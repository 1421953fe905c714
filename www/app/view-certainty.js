/**
 * Certainty: how sure, what moves it? Chance as dots, the budget ranked, the levers ranked; all from the core's levers.
 *
 * Greyed while they belong to an older recipe. They are worked out off the page's thread; what is known stays.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./store.js').Levers} Levers
 */
import { el, fill, put, setAttribute, setText, show } from './dom.js';
import { sv } from './svg.js';
import { NARROW, chanceText, decimals, signedText, two } from './numbers.js';
import { formula, fullName } from './names.js';
import { jobUnit, stepsOf } from './units.js';
import { numberButton, picture } from './view.js';
import { bottomAxis } from './plot/axis.js';
import { leverArrows } from './plot/arrows.js';
import { CHANCE_DOTS, chanceDots, likelyMeans } from './plot/dots.js';
import { markNarrow, measurePictures, plotFrame, redrawByWidth, tableWhenRead, tickSize, widthOf } from './plot/frame.js';
import { jawsMark } from './plot/jaws.js';
import { rankedBars } from './plot/ranked.js';
import { linearScale, linearTicks, roomOfText } from './plot/scale.js';
import { figureSeen } from './view-certainty-figures.js';

/** Rows of a ranking that are drawn; its table holds all. */
const MOST_ROWS = 10;

/** Which figure is looked at, by its path; empty: the tightest. Where the reader looks, not part of the recipe. */
let figurePath = '';

/** @type {((state: State, result: Result) => void) | null} */
let drawCertainty = null;

/** @type {import('./view.js').View} */
export const certaintyView = {
  id: 'certainty',
  name: 'Certainty',
  question: 'how sure, what moves it?',
  build(root, ctx) {
    const redraw = () => drawCertainty?.(ctx.store.state, ctx.store.result);
    const head = certaintyHead(ctx, redraw);
    const parts = [chancePicture(), budgetPicture(ctx), leversPicture()];
    put(root, head.root, ...parts.map((part) => part.root));
    redrawByWidth(root, ctx);
    drawCertainty = (state, result) => {
      markNarrow(root);
      const { levers } = result;
      const job = result.job ?? state.job;
      const chosen = levers ? chosenFigure(levers) : -1;
      head.draw(state, result, chosen);
      setAttribute(root, 'data-old', levers && !result.leversFresh ? 'yes' : null);
      const known = levers && levers.levers.length > 0 && chosen >= 0 ? levers : null;
      const [chance, budget] = parts;
      for (const part of parts) show(part.root, known !== null && (part !== chance || typeof known.chance === 'number'));
      budget.root.classList.toggle('wide', chance.root.hasAttribute('hidden'));
      const drawn = parts.filter((part) => !part.root.hasAttribute('hidden'));
      measurePictures(drawn.map((part) => part.picture));
      for (const part of drawn) if (known) part.draw(job, known, chosen, state);
    };
  },
  draw(state, result) {
    drawCertainty?.(state, result);
  },
};

/** @param {Levers} levers @returns {number} index of the figure looked at */
function chosenFigure(levers) {
  const found = levers.figures.findIndex((figure) => figure.path === figurePath);
  return found >= 0 ? found : Math.max(0, Math.min(levers.tightest ?? 0, levers.figures.length - 1));
}

/**
 * Which figure, how far the work is, and Stop.
 * @param {Context} ctx
 * @param {() => void} redraw
 */
function certaintyHead(ctx, redraw) {
  const select = el('select', {
    class: 'field', id: 'certainty-figure',
    on: {
      change: () => {
        figurePath = select.value;
        redraw();
      },
    },
  });
  const chooser = el('p', { class: 'chooser' }, el('label', { for: 'certainty-figure', text: 'About the ' }), select);
  const words = el('p', { class: 'certainty-words' });
  const bar = el('i');
  const progress = el('div', { class: 'bar', role: 'progressbar', 'aria-label': 'Levers', 'aria-valuemin': '0', 'aria-valuemax': '100' }, bar);
  const stop = el('button', { type: 'button', class: 'button', text: 'Stop', on: { click: () => ctx.stop() } });
  const work = el('div', { class: 'working' }, progress, stop);
  let listed = '';
  return {
    root: el('section', { class: 'card wide certainty-head', 'aria-label': 'How sure is it?' }, chooser, words, work),
    /** @param {State} state @param {Result} result @param {number} chosen */
    draw(state, result, chosen) {
      const { levers, progress: done } = result;
      const job = result.job ?? state.job;
      const figures = levers?.figures ?? [];
      const key = JSON.stringify(figures.map((figure) => [figure.path, figureSeen(job, figure).name]));
      if (key !== listed) fill(select, ...figures.map((figure) => el('option', { value: figure.path, text: figureSeen(job, figure).name })));
      listed = key;
      show(chooser, figures.length > 0);
      if (chosen >= 0 && select.value !== figures[chosen].path) select.value = figures[chosen].path;
      show(work, done !== null);
      const share = done && done.of > 0 ? Math.round((100 * done.done) / done.of) : 0;
      setAttribute(bar, 'style', `width:${share}%`);
      setAttribute(progress, 'aria-valuenow', share);
      setText(words, certaintyWords(result));
    },
  };
}

/** @param {Result} result */
function certaintyWords(result) {
  const { levers, progress, leversFresh, report } = result;
  const far = progress ? `Each set-point and each kinetic number is moved a little and predicted again: ${progress.done} of ${progress.of}.` : '';
  if (!levers) return far || (report ? 'The levers are not worked out.' : 'Nothing is predicted, so nothing can move it.');
  if (!leversFresh) return `What stands below belongs to the recipe before the change. ${far}`.trim();
  if (levers.chance === null || levers.chance === undefined) return far || 'Nothing is ordered, so there is no chance to give.';
  return `${capitalFirst(chanceText(levers.chance))} that the lot meets the order, all ordered figures together. ${far}`.trim();
}

/** @param {string} text */
const capitalFirst = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** Will the lot meet it? Equally likely means between the jaws. */
function chancePicture() {
  const shown = picture('chance', 'Will the lot meet it?');
  shown.root.classList.add('five');
  const jaws = jawsMark();
  const dots = chanceDots();
  const bottom = bottomAxis();
  const frame = plotFrame(shown.plot, jaws.tint, bottom.root, dots.root, jaws.root);
  return {
    root: shown.root,
    picture: shown,
    /** @param {Job} job @param {Levers} levers @param {number} chosen */
    draw(job, levers, chosen) {
      const seen = figureSeen(job, levers.figures[chosen]);
      const known = typeof levers.chance === 'number' && seen.u > 0 && (seen.low !== null || seen.high !== null);
      show(shown.plot, known);
      if (!known) {
        shown.note(seen.u > 0 ? 'Nothing is ordered of this figure, so there is nothing to meet.' : 'How well it is known is not worked out yet.');
        shown.say('no chance to show');
        tableWhenRead(shown, ['Figure', 'Mean', 'Known to ±'], () => [[seen.name, `${seen.text} ${seen.unit}`, seen.u > 0 ? `${two(seen.u)} ${seen.unit}` : '–']]);
        return;
      }
      const means = likelyMeans(seen.value, seen.u);
      const inside = (/** @type {number} */ mean) => (seen.low === null || mean >= seen.low) && (seen.high === null || mean <= seen.high);
      const count = means.filter(inside).length;
      const width = widthOf(shown);
      const size = tickSize();
      const unit = roomOfText(seen.unit, size) + size;
      const ends = [...means, ...(seen.low === null ? [] : [seen.low]), ...(seen.high === null ? [] : [seen.high])];
      const room = (Math.max(...ends) - Math.min(...ends)) * 0.08;
      const x = linearScale(Math.min(...ends) - room, Math.max(...ends) + room, size * 1.5, width - unit);
      const base = size * 10.5;
      dots.draw(means, inside, [seen.low, seen.high].flatMap((limit) => (limit === null ? [] : [x.at(limit)])), x, base, size * 0.8);
      jaws.draw(seen.low === null ? null : x.at(seen.low), seen.high === null ? null : x.at(seen.high), size * 0.5, base, !inside(seen.value));
      bottom.draw(linearTicks(x, size * 4.5, 6), { at: base, from: 0, to: width, unit: seen.unit, size });
      frame.size(width, base + size * 1.8);
      shown.note(`${CHANCE_DOTS} equally likely means of the ${seen.name}: ${count} fall inside. Full: inside, open: outside.`);
      shown.say(`${count} of ${CHANCE_DOTS} inside`);
      tableWhenRead(shown, [`Mean, ${seen.unit}`, 'Inside?'], () => means.map((mean) => [decimals(mean, seen.places), inside(mean) ? 'inside' : 'outside']));
    },
  };
}

/**
 * What makes us unsure? Contributions to the standard uncertainty of the mean, ranked.
 * @param {Context} ctx
 */
function budgetPicture(ctx) {
  const shown = picture('budget', 'What makes us unsure?');
  shown.root.classList.add('seven');
  const bars = rankedBars();
  const frame = plotFrame(shown.plot, bars.root);
  const mean = numberButton(ctx, '', 'mean');
  const known = el('span');
  put(shown.foot, el('p', { class: 'line' }, 'Mean ', mean.root, known));
  return {
    root: shown.root,
    picture: shown,
    /** @param {Job} job @param {Levers} levers @param {number} chosen */
    draw(job, levers, chosen) {
      const figure = levers.figures[chosen];
      const seen = figureSeen(job, figure);
      const all = levers.levers
        .map((lever) => ({
          name: leverName(job, lever.path), value: Math.abs((lever.effects[chosen] ?? 0) * lever.u * seen.factor), share: lever.share[chosen] ?? 0,
          source: `± ${two(lever.u)}${NARROW}${leverUnit(lever)}, ${kindWords(lever)}`, text: '',
        }))
        .filter((row) => row.value > 0)
        .sort((a, b) => b.value - a.value);
      const ranked = all.filter((row) => row.share >= 0.01).slice(0, MOST_ROWS);
      const rest = Math.sqrt(all.slice(ranked.length).reduce((sum, row) => sum + row.value ** 2, 0));
      const rows = [
        ...ranked.map((row) => ({ ...row, text: two(row.value) })),
        ...(rest > 0 ? [{ name: 'other', value: rest, text: two(rest), source: `${all.length - ranked.length} more`, plain: true }] : []),
      ];
      const width = widthOf(shown);
      frame.size(width, Math.max(bars.draw(rows, width, tickSize()), 1));
      shown.note(`Standard uncertainty of the mean ${seen.name}, ${seen.unit}. Together ${two(seen.u)}; squares add up.`);
      mean.draw(seen.text, timesUnit(seen.unit), figure.path, seen.name);
      setText(known, `, known to ± ${two(seen.u)}${NARROW}${timesUnit(seen.unit)}.`);
      shown.say(`${rows.map((row) => `${row.name} ${row.text}`).join(', ')}; together ${two(seen.u)} ${timesUnit(seen.unit)}`);
      tableWhenRead(shown, ['Cause', `Part, ${seen.unit}`, 'Known to, source'], () => [...all.map((row) => [row.name, two(row.value), row.source]), ['together', two(seen.u), '']]);
    },
  };
}

/** What moves it? One step up of each set-point: the mean at the left, the spread at the right. */
function leversPicture() {
  const shown = picture('levers', 'What moves it?', { wide: true });
  const arrows = leverArrows();
  const frame = plotFrame(shown.plot, sv('g', {}, arrows.root));
  return {
    root: shown.root,
    picture: shown,
    /** @param {Job} job @param {Levers} levers @param {number} chosen @param {State} state */
    draw(job, levers, chosen, state) {
      const seen = figureSeen(job, levers.figures[chosen]);
      const spread = levers.figures.findIndex((figure) => figure.path === 'wires.length_nm.cv');
      const columns = [chosen, ...(spread >= 0 && spread !== chosen ? [spread] : [])];
      const all = levers.levers
        .filter((lever) => lever.kind === 'set-point')
        .map((lever) => leverRow(job, levers, lever, columns, state))
        .filter((row) => row.moves.some((move) => move !== 0))
        .sort((a, b) => Math.abs(b.moves[0] ?? 0) - Math.abs(a.moves[0] ?? 0));
      // All of a column to one place: the largest with two digits, so a small one reads as the nothing that it is.
      const largest = columns.map((_, column) => Math.max(...all.map((row) => Math.abs(row.moves[column])), 0));
      for (const row of all) row.texts = row.moves.map((move, column) => signedText(move, largest[column]));
      const rows = all.slice(0, MOST_ROWS + 2);
      const heads = [`${seen.name}, ${seen.unit}`, 'spread of the wire, points of %'].slice(0, columns.length);
      const width = widthOf(shown);
      frame.size(width, arrows.draw(rows, heads, width, tickSize()));
      shown.note(`One step up of each set-point, ranked by what it does to the ${seen.name}, ${seen.unit}.${all.length > rows.length ? ` The ${rows.length} strongest of ${all.length}; the table has all.` : ''}`);
      shown.say(rows.map((row) => `${row.name} ${row.step}, ${row.texts[0]}`).join('; '));
      tableWhenRead(shown, ['Set-point', 'Step', ...heads], () => all.map((row) => [row.name, row.step, ...row.texts]));
    },
  };
}

/**
 * @param {Job} job
 * @param {Levers} levers
 * @param {Levers['levers'][number]} lever
 * @param {number[]} columns figures
 * @param {State} state
 */
function leverRow(job, levers, lever, columns, state) {
  const [step] = stepsOf(lever.path, state.settings, undefined, lever.value);
  const add = step?.add ?? lever.step;
  const moves = columns.map((figure) => (lever.effects[figure] ?? 0) * add * figureSeen(job, levers.figures[figure]).factor);
  return {
    name: fullName(job, lever.path),
    step: `${step?.text ?? ''} up`.trim(),
    moves,
    /** @type {string[]} */ texts: [],
  };
}

/** A lever in words; what has no field of its own in the job is named here. @param {Job} job @param {string} path */
function leverName(job, path) {
  const vapour = /^instruments\.vapour_pressure_percent\.(\w+)$/.exec(path);
  if (vapour) return `vapour pressure of ${formula(vapour[1])}`;
  if (path === 'instruments.seed_diameter_percent') return 'seed diameter';
  if (path === 'instruments.seed_count_percent') return 'number of seeds';
  return fullName(job, path);
}

/** What says how well a lever is known. @param {Levers['levers'][number]} lever */
function kindWords({ kind, path }) {
  if (/vapour_pressure|diffusion/.test(path)) return 'gas data';
  return kind === 'kinetics' ? 'kinetics' : 'instrument';
}

/** A unit that is a power of ten, behind a number. @param {string} unit */
const timesUnit = (unit) => (unit.startsWith('10') ? `× ${unit}` : unit);

/** Unit of a lever; where the core gives none, that of the field. @param {Levers['levers'][number]} lever */
const leverUnit = ({ unit, path }) => (unit && unit !== '–' ? unit.replace('1/cm³', 'cm⁻³') : jobUnit(path));
