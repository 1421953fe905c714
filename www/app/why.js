/**
 * Where does this number come from? Its equation, today's values in it, where it holds, its source, and the numbers it is
 * made from. Words and rows come from the core's `explain`; only the layout is here.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} Explained answer of `explain`
 * @property {string} figure
 * @property {string} name
 * @property {string} symbol
 * @property {string} unit
 * @property {number | null} [value]
 * @property {string} equation
 * @property {{symbol: string, name: string, value: number, unit: string, path?: string | null}[]} inputs
 * @property {string} range
 * @property {string} source
 * @property {string} section
 */
import { el, fill, put, setText, show } from './dom.js';
import { NARROW, decimals, placed, three } from './numbers.js';
import { capital, stageName } from './names.js';
import { equationLines } from './math.js';
import { valueAt } from './store.js';
import { copyText } from './copy.js';

/** Stations of a profile that the z stepper goes on by. */
const STATIONS_STEP = 5;

/** Paths that were looked at before this one, oldest first. */
/** @type {string[]} */
let whyTrail = [];
/** What is asked or shown: figure and recipe. @type {{path: string, job: Job | null}} */
let whyAsked = { path: '', job: null };
/** @type {Explained | null} */
let whyAnswer = null;
/** @type {ReturnType<typeof whyParts> | null} */
let whyPage = null;
/** @type {Context | null} */
let whyContext = null;

/** @type {import('./view.js').Panel} */
export const whyPanel = {
  id: 'why',
  name: 'Where from',
  build(root, ctx) {
    whyContext = ctx;
    whyPage = whyParts(ctx);
    put(root, whyPage.root);
  },
  draw(state, result, argument) {
    const path = typeof argument === 'string' && argument ? argument : state.whyPath || 'wires.segments[0].length_nm.mean';
    const job = result.job ?? state.job;
    if (path !== whyAsked.path) {
      if (whyAsked.path && whyTrail[whyTrail.length - 1] !== path) whyTrail = [...whyTrail, whyAsked.path].slice(-50);
      else if (whyTrail[whyTrail.length - 1] === path) whyTrail = whyTrail.slice(0, -1);
    }
    if (path !== whyAsked.path || job !== whyAsked.job) askWhy(path, job);
    else showWhy();
  },
};

/** @param {string} path @param {Job} job */
function askWhy(path, job) {
  if (path !== whyAsked.path) whyAnswer = null;
  whyAsked = { path, job };
  showWhy();
  whyContext?.call('explain', [job, path]).then((answer) => {
    if (whyAsked.path !== path || whyAsked.job !== job) return;
    whyAnswer = answer.ok ?? null;
    showWhy(answer.ok ? '' : (answer.faults?.[0]?.text ?? answer.trap ?? ''));
  });
}

/** @param {Context} ctx */
function whyParts(ctx) {
  const back = el('button', { type: 'button', class: 'button', text: 'Back', on: { click: () => ctx.why(whyTrail[whyTrail.length - 1]) } });
  const copy = el('button', { type: 'button', class: 'button', text: 'Copy as text', on: { click: () => copyWhy(ctx) } });
  const title = el('h3', { class: 'why-title' });
  const value = el('p', { class: 'why-value' });
  const body = el('div', { class: 'why-body' });
  return { root: el('div', { class: 'why-page' }, title, value, body, el('p', { class: 'buttons' }, back, copy)), title, value, body, back, copy };
}

/** @param {string} [fault] why there is nothing to explain */
function showWhy(fault = '') {
  const page = whyPage;
  const ctx = whyContext;
  if (!page || !ctx) return;
  const answer = whyAnswer;
  const { store } = ctx;
  show(page.back, whyTrail.length > 0);
  show(page.copy, Boolean(answer));
  setText(page.title, answer ? whyName(store.state.job, whyAsked.path, answer.name) : 'Where does it come from?');
  const value = whyValue(answer, store.result);
  setText(page.value, value);
  show(page.value, value !== '');
  if (!answer) {
    fill(page.body, el('p', { text: fault || 'Looking it up.' }));
    return;
  }
  fill(page.body, ...whySections(ctx, answer));
}

/** Name with its stage, as in "Absorber, mean of the length". @param {Job} job @param {string} path @param {string} name */
function whyName(job, path, name) {
  const stage = /^(?:stages|wires\.segments)\[(\d+)\]/.exec(path);
  return capital(stage ? `${stageName(job, Number(stage[1]))}, ${name}` : name);
}

/** The value with its unit; of a list the station that is looked at. @param {Explained | null} answer @param {Result} result */
function whyValue(answer, result) {
  if (!answer) return '';
  const found = typeof answer.value === 'number' ? answer.value : valueAt(result.report, whyAsked.path);
  if (typeof found === 'number') return withUnit(three(found), answer.unit);
  if (Array.isArray(found) && found.length && found.every((one) => typeof one === 'number')) {
    return `${found.length} values, ${withUnit(`${three(Math.min(...found))} to ${three(Math.max(...found))}`, answer.unit)}`;
  }
  return typeof found === 'string' || typeof found === 'boolean' ? String(found) : '';
}

/** @param {string} text @param {string} unit */
function withUnit(text, unit) {
  return unit && unit !== '–' ? `${text}${NARROW}${unit.replace('1/cm³', 'cm⁻³')}` : text;
}

/** @param {Context} ctx @param {Explained} answer @returns {(Node | null)[]} */
function whySections(ctx, answer) {
  const today = answer.inputs.length
    ? el('dl', { class: 'today' }, ...answer.inputs.flatMap((input) => todayRow(ctx, input)))
    : null;
  return [
    ...equationLines(answer.equation),
    ...(today ? [el('h4', { text: 'Today' }), today] : []),
    ...alongTube(ctx),
    el('h4', { text: 'Holds for' }), el('p', { text: answer.range }),
    el('h4', { text: 'Source' }), el('p', { text: answer.source }),
    ...numericalError(ctx, answer),
    el('p', { class: 'note' }, `Model, section ${answer.section}. Symbol `, symbolText(answer.symbol), '.'),
  ];
}

/** A factor of the equation; a figure is again a number that says where it comes from. @param {Context} ctx @param {Explained['inputs'][number]} input */
function todayRow(ctx, input) {
  const value = withUnit(three(input.value), input.unit);
  const name = el('dt', {}, symbolText(input.symbol), ` ${input.name}`);
  if (!input.path) return [name, el('dd', { text: value })];
  const path = input.path;
  const button = el('button', { type: 'button', class: 'number', 'aria-label': `${input.name}: ${value}, where from`, on: { click: () => ctx.why(path) } }, el('span', { class: 'num', text: value }));
  return [name, el('dd', {}, button)];
}

/** A symbol with its subscript lowered: T_in. @param {string} symbol */
function symbolText(symbol) {
  const [base, ...sub] = symbol.split('_');
  return el('i', {}, base, sub.length ? el('sub', { text: sub.join('_') }) : null);
}

/** A figure that stands along a tube: which place, and its value there. @param {Context} ctx @returns {Node[]} */
function alongTube(ctx) {
  const found = /^(stages\[\d+\]\.profile)\.(\w+)(?:\[(\d+)\])?$/.exec(whyAsked.path);
  if (!found || found[2] === 'group_iii_left' || found[2] === 'z_mm') return [];
  const { report } = ctx.store.result;
  const places = valueAt(report, `${found[1]}.z_mm`);
  const values = valueAt(report, `${found[1]}.${found[2]}`);
  if (!Array.isArray(places) || !Array.isArray(values)) return [];
  const now = found[3] === undefined ? Math.floor(places.length / 2) : Number(found[3]);
  const go = (/** @type {number} */ by) => ctx.why(`${found[1]}.${found[2]}[${Math.min(Math.max(now + by, 0), places.length - 1)}]`);
  const step = (/** @type {string} */ sign, /** @type {string} */ name, /** @type {number} */ by) =>
    el('button', { type: 'button', class: 'button', text: sign, 'aria-label': name, on: { click: () => go(by) } });
  return [
    el('h4', { text: 'Where along the tube' }),
    el('div', { class: 'z-stepper' }, step('−', 'nearer to the inlet', -STATIONS_STEP),
      el('p', {}, el('b', { text: `${decimals(places[now] ?? 0, 0)}${NARROW}mm` }), `: ${typeof values[now] === 'number' ? three(values[now]) : '–'}`),
      step('+', 'further down the tube', STATIONS_STEP)),
  ];
}

/** Error of the grids, for what is made of lengths. @param {Context} ctx @param {Explained} answer @returns {Node[]} */
function numericalError(ctx, answer) {
  const error = ctx.store.result.report?.numerics?.length_error_nm;
  if (typeof error !== 'number' || !/^wires\.(length_nm|segments\[\d+\]\.length_nm)/.test(answer.figure)) return [];
  const button = el('button', { type: 'button', class: 'number', 'aria-label': `numerical error: ${three(Math.abs(error))} nm, where from`, on: { click: () => ctx.why('numerics.length_error_nm') } },
    el('span', { class: 'num', text: placed(Math.abs(error), Math.abs(error)) }));
  return [el('h4', { text: 'Numerical error' }), el('p', {}, '± ', button, ' nm of the whole length, from two grids.')];
}

/** The page as plain text, for a student's notes. @param {Context} ctx */
function copyWhy(ctx) {
  if (!whyAnswer || !whyPage) return;
  const answer = whyAnswer;
  const text = [
    `${whyPage.title.textContent}: ${whyPage.value.textContent}`,
    answer.equation,
    ...answer.inputs.map((input) => `  ${input.symbol}  ${withUnit(three(input.value), input.unit)}  ${input.name}`),
    `Holds for: ${answer.range}`,
    `Source: ${answer.source}`,
    `Model: section ${answer.section}`,
    '',
  ].join('\n');
  copyText(text).then((done) => ctx.say(done ? 'Copied.' : 'Copying is not allowed here.'));
}
