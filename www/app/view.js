/**
 * What a view, a panel and a picture are made of. This file is the border between the shell and the views.
 *
 * ## A view
 *
 *     export const wireView = {
 *       id: 'wire', name: 'Wire', question: 'what comes out?',
 *       build(root, ctx) { … make all elements once, keep them … },
 *       draw(state, result) { … set attributes and texts … },
 *     };
 *
 * `build` is called once, when the view is first shown; `root` is an empty `<div class="view view-ID">` in the page, so
 * widths can be measured. `draw` is called when the view is shown, and after that once a frame at most while it is
 * shown, whenever state, result, settings or the width of the page changed. It must be cheap when little changed: set
 * attributes, do not rebuild. All numbers come from `state` (what the user set) and `result` (what the core answered).
 * A view that has its own layout by width reads `root.clientWidth` in `draw`.
 *
 * Views are listed in `main.js` (rail order): `lineView` (shell), `wireView` ('./view-wire.js'), `orderView`
 * ('./view-order.js'), `certaintyView` ('./view-certainty.js').
 *
 * ## A panel
 *
 * Stands in the place of the set-points (below the gauge on a phone), one at a time, closed by its own button "Close",
 * Escape, or a view change:
 *
 *     export const whyPanel = { id: 'why', name: 'Where from', build(root, ctx), draw(state, result, argument) };
 *
 * `argument` is what `ctx.open(id, argument)` was called with. The shell draws head and Close; `root` is below it and
 * scrolls. Panels by the views helper: `whyPanel` ('./why.js', id 'why', argument: the path of a figure or null; at a
 * desk it is always there), `sharePanel` ('./share.js', id 'share'). By the shell: 'set' (set-points), 'pin', 'units',
 * 'keys', 'more'.
 *
 * ## Words
 *
 * Verdicts, refusals, cautions, explanations: as the core gives them (`report.verdict.text`, `fault.text`, …).
 *
 * ## Names
 *
 * All modules become one script: every top-level name of every module must be unique, so give helpers a telling name
 * (`wireBins`, not `bins`).
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Store} Store
 *
 * @typedef {object} View
 * @property {string} id
 * @property {string} name on the rail
 * @property {string} question
 * @property {(root: HTMLElement, ctx: Context) => void} build
 * @property {(state: State, result: Result) => void} draw
 *
 * @typedef {object} Panel
 * @property {string} id
 * @property {string} name its head
 * @property {(root: HTMLElement, ctx: Context) => void} build
 * @property {(state: State, result: Result, argument: any) => void} draw
 *
 * @typedef {object} Context what a view may do
 * @property {Store} store `store.state`, `store.result`, and `store.act`: all that changes the state, see store.js
 * @property {(path: string) => void} why opens "where does this number come from" for the path of a figure
 * @property {(id: string, argument?: unknown) => void} open opens a panel
 * @property {() => void} close closes the panel; focus goes back to what opened it
 * @property {() => void} redraw asks for a drawing although nothing in the store changed
 * @property {(name: string, args: unknown[]) => Promise<{ok?: any, faults?: import('./store.js').Fault[], trap?: string}>} call
 *   a call of the bridge (`explain`, `write_job`, `read_job`, `check_job`, `figures`, …) in the worker; never rejects
 * @property {() => void} stop ends the work on levers; what is known stays
 * @property {(text: string, assertive?: boolean) => void} say the live line; polite unless assertive
 * @property {(nm: number) => string} length nm to 9 999, then µm, with its unit
 * @property {(path: string, value: number) => {text: string, unit: string}} shown a number of the job in the unit chosen
 *   under Units (°C or K, sccm or slm, mbar or Torr or Pa), path as in the job
 * @property {(celsius: number) => {value: number, unit: string}} temperature a temperature of the report in the unit chosen
 * @property {(path: string) => string} nameOf a field of the job in words: "absorber, zone 2", "p contact, TMIn carrier"
 * @property {(question: {label: string, path: string, digits?: number}) => StepperRow} stepper a stepper row for a
 *   field of the job (label, − value +, refusal, put back), as in the set-points; put `row.root` where it belongs, call
 *   `row.draw(state, result)`
 *
 * @typedef {object} StepperRow
 * @property {HTMLElement} root
 * @property {(state: State, result: Result) => void} draw
 */
import { el, fill, setAttribute, setText, show } from './dom.js';

/**
 * A number that says where it comes from: a button with a dotted line under it.
 * @param {Context} ctx
 * @param {string} path of the figure in the report
 * @param {string} name what it is, for the reader who does not see where it stands: "absorber length"
 * @returns {{root: HTMLButtonElement, draw: (text: string, unit?: string, newPath?: string, newName?: string) => void}}
 */
export function numberButton(ctx, path, name) {
  const value = el('span', { class: 'num' });
  const unit = el('span', { class: 'unit' });
  let figure = path;
  const root = el('button', { type: 'button', class: 'number', on: { click: () => ctx.why(figure) } }, value, unit);
  return {
    root,
    draw(text, unitText = '', newPath = figure, newName = name) {
      figure = newPath;
      setText(value, text);
      setText(unit, unitText ? ` ${unitText}` : '');
      setAttribute(root, 'aria-label', `${newName}: ${text}${unitText ? ` ${unitText}` : ''}, where from`);
    },
  };
}

/**
 * A picture: a figure with its question, a place to draw in, the sentence that says it, and its table behind the switch
 * "Read as a table". Built once; `say` and `table` are set in `draw`.
 * @param {string} id a word, unique on the page
 * @param {string} question the caption
 * @param {{wide?: boolean}} [how] wide: the whole row of a view
 * @returns {Picture}
 *
 * @typedef {object} Picture
 * @property {HTMLElement} root the figure
 * @property {HTMLElement} plot where the SVG goes; hidden while tables are read
 * @property {HTMLElement} foot below the plot, always shown: words, buttons
 * @property {(text: string) => void} note the line under the question
 * @property {(text: string) => void} say the sentence: name of the picture for those who do not see it
 * @property {(columns: string[], rows: (string | number | Node)[][]) => void} table head and rows, numbers with unit
 * @property {() => number} width px inside the figure
 */
export function picture(id, question, how = {}) {
  const caption = el('figcaption', { class: 'caption' });
  const title = el('h2', { id: `picture-${id}`, text: question });
  const small = el('p', { class: 'note' });
  const plot = el('div', { class: 'plot', role: 'img' });
  const head = el('thead');
  const body = el('tbody');
  const grid = el('table', { 'aria-labelledby': `picture-${id}` }, head, body);
  const frame = el('div', { class: 'as-table', tabindex: '0', role: 'region', 'aria-labelledby': `picture-${id}` }, grid);
  const foot = el('div', { class: 'foot' });
  caption.append(title, small);
  show(small, false);
  const root = el('figure', { class: how.wide ? 'picture wide' : 'picture', id: `figure-${id}` }, caption, plot, frame, foot);
  let written = '';
  return {
    root,
    plot,
    foot,
    note(text) {
      setText(small, text);
      show(small, text !== '');
    },
    say(text) {
      setAttribute(plot, 'aria-label', text);
    },
    table(columns, rows) {
      const key = JSON.stringify([columns, rows.map((row) => row.map((cell) => (cell instanceof Node ? cell.textContent : cell)))]);
      if (key === written) return;
      written = key;
      fill(head, el('tr', {}, ...columns.map((column) => el('th', { scope: 'col', text: column }))));
      fill(body, ...rows.map((row) => el('tr', {}, ...row.map((cell, index) => tableCell(cell, index)))));
    },
    width() {
      const style = getComputedStyle(root);
      return root.clientWidth - Number.parseFloat(style.paddingLeft) - Number.parseFloat(style.paddingRight);
    },
  };
}

/**
 * @param {string | number | Node} cell
 * @param {number} index
 */
function tableCell(cell, index) {
  const node = index === 0 ? el('th', { scope: 'row' }) : el('td', { class: typeof cell === 'string' && !/^[−+±–]?\s?\d/.test(cell) ? null : 'r' });
  node.append(cell instanceof Node ? cell : String(cell));
  return node;
}
