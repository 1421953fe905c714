/**
 * Does the wire meet it? Every ordered quantity against the prediction, with what is to spare. Words and margins are the
 * core's verdict; nothing is judged here.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} JudgedRow
 * @property {string} name
 * @property {string} ordered
 * @property {string} path of the predicted figure
 * @property {string} predicted
 * @property {string} unit
 * @property {string} margin
 * @property {boolean} met
 * @property {string} reason
 */
import { el, keepLength, setAttribute, setText, show } from './dom.js';
import { NARROW, placed, plusMinus, powerText, setPointText, shareText, two } from './numbers.js';
import { stageName } from './names.js';
import { leverUncertainty } from './gauge.js';
import { numberButton } from './view.js';

/**
 * @param {Context} ctx
 * @returns {{root: HTMLElement, draw: (state: State, result: Result) => void}}
 */
export function judgedPicture(ctx) {
  const text = el('p', { class: 'note' });
  // Roles are said again: on a phone the rows are laid out as blocks, which would take them away.
  const body = el('tbody', { role: 'rowgroup' });
  const heads = ['What', 'Ordered', 'Predicted', 'To spare', 'Inside?'];
  const table = el('table', { class: 'judged', role: 'table', 'aria-labelledby': 'judged-title' },
    el('thead', { role: 'rowgroup' }, el('tr', { role: 'row' }, ...heads.map((head, index) => el('th', { scope: 'col', role: 'columnheader', text: head, class: index > 0 && index < 4 ? 'r' : '' })))), body);
  const root = el('section', { class: 'card wide' }, el('h2', { id: 'judged-title', text: 'Does the wire meet it?' }), text, el('div', { class: 'scrolls' }, table));
  /** @type {HTMLTableRowElement[]} */
  const nodes = [];
  /** @type {ReturnType<typeof judgedLine>[]} */
  const lines = [];
  return {
    root,
    draw(state, result) {
      const job = result.job ?? state.job;
      const verdict = result.report?.verdict;
      show(root, Boolean(verdict && job.order && state.job.order));
      if (!verdict || !job.order) return;
      const rows = judgedRows(job, result);
      setText(text, `${rows.filter((row) => row.met).length} of ${rows.length} inside, judged by the means.${result.stale ? ' For the last recipe that could be predicted.' : ''}`);
      setAttribute(root, 'data-old', result.stale ? 'yes' : null);
      keepLength(body, nodes, rows.length, (index) => (lines[index] = lines[index] ?? judgedLine(ctx)).root);
      rows.forEach((row, index) => lines[index].draw(row));
    },
  };
}

/** @param {Context} ctx */
function judgedLine(ctx) {
  const name = el('th', { scope: 'row', role: 'rowheader' });
  const ordered = el('td', { class: 'r', role: 'cell' });
  const predicted = numberButton(ctx, '', 'predicted');
  const margin = el('td', { class: 'r', role: 'cell' });
  const state = el('b');
  const reason = el('span');
  const glyph = el('span', { class: 'jaw-glyph', 'aria-hidden': 'true' });
  const root = el('tr', { role: 'row' }, name, ordered, el('td', { class: 'r', role: 'cell' }, predicted.root), margin, el('td', { role: 'cell' }, el('span', { class: 'judgement' }, glyph, ' ', state), ' ', reason));
  return {
    root,
    /** @param {JudgedRow} row */
    draw(row) {
      setAttribute(root, 'class', row.met ? '' : 'out');
      setText(name, row.name);
      setText(ordered, row.ordered);
      predicted.draw(row.predicted, row.unit, row.path, row.name);
      setText(margin, row.margin);
      setText(glyph, row.met ? '[•]' : '•[ ]');
      setText(state, row.met ? 'Inside.' : 'Outside.');
      setText(reason, row.reason ? `${row.reason}.` : '');
    },
  };
}

/**
 * The items of the verdict as rows.
 * @param {Job} job
 * @param {Result} result
 * @returns {JudgedRow[]}
 */
export function judgedRows(job, result) {
  return (result.report?.verdict?.items ?? []).map((/** @type {any} */ item) => {
    const segment = /^order\.segments\[(\d+)\]\.(\w+)$/.exec(item.what);
    const row = { met: item.met, reason: item.reason ?? '' };
    if (segment) return { ...row, ...segmentRow(job, result, item, Number(segment[1]), segment[2]) };
    return { ...row, ...wholeRow(job, result, item) };
  });
}

/** @param {Job} job @param {Result} result @param {any} item @param {number} index @param {string} field */
function segmentRow(job, result, item, index, field) {
  const ordered = job.order.segments[index] ?? {};
  const segment = result.report?.wires?.segments?.[index];
  const path = `wires.segments[${index}].${field === 'length_nm' ? 'length_nm' : 'net_per_cm3'}.mean`;
  if (field === 'length_nm') {
    const sd = segment?.length_nm?.sd ?? 0;
    const known = leverUncertainty(result, path) || sd;
    return {
      name: `${stageName(job, index)}, length`, path, unit: `${plusMinus(sd)}${NARROW}nm`.trim(),
      ordered: `${setPointText(ordered.length_nm)} ± ${setPointText(ordered.tolerance_nm)}${NARROW}nm`,
      predicted: item.predicted === null ? 'nothing' : placed(item.predicted, sd),
      margin: item.margin === null ? '–' : marginText(item, `${placed(Math.abs(item.margin), known)}${NARROW}nm`, 'long', 'short'),
    };
  }
  const limit = ordered.doping === 'i';
  return {
    name: `${stageName(job, index)}, ${limit ? 'undoped' : `${ordered.doping} doping`}`, path, unit: 'cm⁻³',
    ordered: `${limit ? 'at most ' : ''}${powerText(ordered.carriers_per_cm3)}${limit ? '' : ', half to twice'}`,
    predicted: item.predicted === null ? 'nothing' : two(item.predicted),
    margin: item.margin === null ? '–' : marginText(item, two(Math.abs(item.margin)), 'much', 'little'),
  };
}

/** @param {Job} job @param {Result} result @param {any} item */
function wholeRow(job, result, item) {
  if (item.what === 'order.spread_cv') {
    return {
      name: 'spread of the whole length', path: 'wires.length_nm.cv', unit: '', ordered: `at most ${shareText(job.order.spread_cv)}`,
      predicted: item.predicted === null ? 'nothing' : shareText(item.predicted),
      margin: item.margin === null ? '–' : marginText(item, shareText(Math.abs(item.margin)), 'much', 'little'),
    };
  }
  const sd = result.report?.wires?.diameter_nm?.tip?.sd ?? 0;
  const tolerance = job.order.diameter_tolerance_nm ?? job.order.diameter_nm * 0.05;
  return {
    name: 'diameter at the tip', path: 'wires.diameter_nm.tip.mean', unit: `${plusMinus(sd)}${NARROW}nm`.trim(),
    ordered: `${setPointText(job.order.diameter_nm)} ± ${setPointText(tolerance)}${NARROW}nm`,
    predicted: item.predicted === null ? 'nothing' : placed(item.predicted, sd),
    margin: item.margin === null ? '–' : marginText(item, `${placed(Math.abs(item.margin), sd)}${NARROW}nm`, 'thick', 'thin'),
  };
}

/** What is to spare, or by how much it errs and to which side. @param {any} item @param {string} amount @param {string} more @param {string} less */
function marginText(item, amount, more, less) {
  if (item.met) return amount;
  return `${amount} too ${item.predicted > item.ordered ? more : less}`;
}
