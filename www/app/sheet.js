/**
 * The run sheet: one page of paper that stands beside the furnace. Black on white, patterns for doping, room to write.
 *
 * It stands in the page all the time, hidden on screen, and is written anew before each printing, so the browser's own
 * way of printing gives it too.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./share-codes.js').RecipeCodes} RecipeCodes
 * @typedef {import('./sheet-rows.js').SheetRow} SheetRow
 */
import { el, fill, put, setAttribute } from './dom.js';
import { sv } from './svg.js';
import { NARROW, chanceText, clockText, durationText, placed, plusMinus, powerText, setPointText, two } from './numbers.js';
import { capital, stageName } from './names.js';
import { leverUncertainty } from './gauge.js';
import { roomOfText } from './plot/scale.js';
import { seedAngle, stripMark } from './plot/strip.js';
import { QR_QUIET, checkWord, codePicture, recipeCodes } from './share-codes.js';
import { sheetRows } from './sheet-rows.js';

/** Width of the drawing on paper, px: 186 mm. */
const SHEET_WIDTH = 703;
/** Text of the drawing, px: 9.75 points. */
const SHEET_TEXT = 13;
/** Side of a module on paper, mm: 0.40 is the least that is read from a sheet in the hand. */
const PAPER_MODULE = 0.41;
/** Rows up to which the set-points stand in one column. */
const ONE_COLUMN = 15;
/** ms of rest after a change before the codes of the recipe are made anew. */
const CODES_AFTER = 700;

/** @type {RecipeCodes | null} */
let sheetCodes = null;

/**
 * Keeps the sheet ready. Called once.
 * @param {Context} ctx
 */
export function installSheet(ctx) {
  const { store } = ctx;
  const root = sheetRoot();
  let timer = 0;
  const renew = () => {
    recipeCodes(store.state.job).then((made) => (sheetCodes = made), () => (sheetCodes = null));
  };
  store.hear((changed) => {
    if (!changed.has('job')) return;
    window.clearTimeout(timer);
    timer = window.setTimeout(renew, CODES_AFTER);
  });
  timer = window.setTimeout(renew, CODES_AFTER);
  window.addEventListener('beforeprint', () => writeSheet(root, ctx));
}

/**
 * Prints the sheet.
 * @param {Context} ctx
 */
export async function printSheet(ctx) {
  const { job } = ctx.store.state;
  if (sheetCodes?.job !== job) sheetCodes = await recipeCodes(job).catch(() => null);
  writeSheet(sheetRoot(), ctx);
  window.print();
}

/** The element of the sheet, made if the page has none. */
function sheetRoot() {
  let root = document.querySelector('.sheet');
  if (!(root instanceof HTMLElement)) {
    root = el('div', { class: 'sheet' });
    document.body.append(root);
  }
  root.removeAttribute('hidden');
  setAttribute(root, 'aria-hidden', 'true');
  return /** @type {HTMLElement} */ (root);
}

/** @param {HTMLElement} root @param {Context} ctx */
function writeSheet(root, ctx) {
  const { state, result } = ctx.store;
  const report = result.fresh || !result.stale ? result.report : null;
  const verdict = report?.verdict;
  setAttribute(root, 'class', verdict && !verdict.met ? 'sheet outside' : 'sheet');
  fill(root,
    sheetHead(state),
    el('h2', { text: 'What it should make, in nm' }),
    ...sheetWire(state.job, result, report),
    sheetVerdict(result, report),
    el('h2', { text: 'Set-points, in the order of flow' }),
    sheetSetPoints(sheetRows(state.job, state.settings)),
    ...sheetCautions(report),
    el('h2', { text: 'Notes' }),
    sheetNotes());
}

/** A line to write on. @param {string} label @param {string} [more] */
const blank = (label, more = '') => el('span', { class: `sheet-blank ${more}`.trim() }, el('span', { text: label }), el('i'));

/** Which kinetics the prediction rests on. @param {Job} job */
function kineticsWords({ kinetics, material }) {
  if (!kinetics || !Object.keys(kinetics).length) return `the built-in set of ${material}, illustrative`;
  return kinetics.axial ? 'those of the recipe' : `the built-in set of ${material}, in part the recipe’s own`;
}

/** Title, lot, check word, code. @param {State} state */
function sheetHead({ job, example }) {
  const at = new Date();
  const date = `${at.getFullYear()}-${String(at.getMonth() + 1).padStart(2, '0')}-${String(at.getDate()).padStart(2, '0')}`;
  const words = el('div', {},
    el('h1', { text: 'Run sheet' }),
    el('p', { class: 'sheet-title' }, String(job.title || 'Recipe without a title'), example ? el('b', { text: '. Example, invented numbers.' }) : ''),
    el('p', { class: 'sheet-blanks' }, blank('Lot'), blank('Date'), blank('By')),
    el('p', {}, 'Recipe ', el('b', { text: checkWord(job) }), `, printed ${date} ${clockText(at.getTime())}. Kinetics: ${kineticsWords(job)}.`),
    ...(job.note ? [el('p', { class: 'sheet-remark', text: String(job.note) })] : []));
  return el('div', { class: 'sheet-head' }, words, sheetQr(job));
}

/** The code; where it takes more than one, the check word has to do. @param {Job} job */
function sheetQr(job) {
  const host = el('div', { class: 'sheet-codes' });
  if (sheetCodes?.job !== job || sheetCodes.codes.length > 2) return host;
  sheetCodes.codes.forEach((code, index) => {
    const picture = codePicture(code, `code ${index + 1}`, 160);
    const side = `${((code.size + 2 * QR_QUIET) * PAPER_MODULE).toFixed(2)}mm`;
    setAttribute(picture, 'style', `width:${side};height:${side}`);
    put(host, picture);
  });
  return host;
}

/** The wire to scale with its dimensions, and what is predicted against what is ordered. @param {Job} job @param {Result} result @param {any} report @returns {Node[]} */
function sheetWire(job, result, report) {
  if (!(report?.wires?.length_nm?.mean > 0)) return [el('p', { text: report?.refused?.text ?? 'No wires are predicted for this recipe.' })];
  const { segments, diameter_nm: diameter } = report.wires;
  const grown = segments.filter((/** @type {any} */ segment) => segment.length_nm.mean > 0);
  const heads = ['Segment', 'Doping, cm⁻³', 'Predicted', 'Ordered', 'Known to', 'To spare', 'Measured'];
  const body = grown.map((/** @type {any} */ segment) => segmentLine(job, result, segment));
  const tolerance = job.order?.diameter_tolerance_nm ?? (job.order ? job.order.diameter_nm * 0.05 : 0);
  body.push(wireLine('diameter', '', diameter.tip, job.order ? `${setPointText(job.order.diameter_nm)} ± ${setPointText(tolerance)}` : '',
    leverUncertainty(result, 'wires.diameter_nm.tip.mean'), marginOf(result, 'order.diameter_nm')));
  return [sheetStrip(job, report, grown), sheetTable('makes', heads, body)];
}

/** @param {string} name @param {string[]} heads @param {(string | Node)[][]} rows */
function sheetTable(name, heads, rows) {
  return el('table', { class: name },
    el('thead', {}, el('tr', {}, ...heads.map((head) => el('th', { scope: 'col', text: head })))),
    el('tbody', {}, ...rows.map((row) => el('tr', {}, ...row.map((cell) => el('td', {}, cell))))));
}

/** @param {Job} job @param {Result} result @param {any} segment */
function segmentLine(job, result, segment) {
  const { stage } = segment;
  const ordered = job.order?.segments?.[stage];
  const net = segment.net_per_cm3 ? two(Math.abs(segment.net_per_cm3.mean)) : '–';
  const wanted = ordered ? ` (${ordered.doping === 'i' ? 'at most ' : ordered.doping === segment.doping ? '' : `${ordered.doping} `}${powerText(ordered.carriers_per_cm3)})` : '';
  return wireLine(stageName(job, stage), `${segment.doping ?? 'none'} ${net}${wanted}`, segment.length_nm,
    ordered ? `${setPointText(ordered.length_nm)} ± ${setPointText(ordered.tolerance_nm)}` : '',
    leverUncertainty(result, `wires.segments[${stage}].length_nm.mean`), marginOf(result, `order.segments[${stage}].length_nm`));
}

/** @param {string} name @param {string} doping @param {any} spread @param {string} ordered @param {number} u @param {string} margin */
function wireLine(name, doping, spread, ordered, u, margin) {
  return [name, doping, el('span', {}, el('b', { text: placed(spread.mean, spread.sd) }), ` ${plusMinus(spread.sd)}`), ordered, u > 0 ? `± ${two(u)}` : '–', margin, el('i', { class: 'sheet-write' })];
}

/** @param {Result} result @param {string} what */
function marginOf(result, what) {
  const item = result.report?.verdict?.items?.find((/** @type {any} */ one) => one.what === what);
  if (!item || item.margin === null) return '–';
  return item.met ? two(item.margin) : `outside by ${two(Math.abs(item.margin))}`;
}

/** @param {Job} job @param {any} report @param {any[]} grown */
function sheetStrip(job, report, grown) {
  const strip = stripMark();
  const { length_nm: whole, diameter_nm: across } = report.wires;
  const scale = (SHEET_WIDTH - 8) / (whole.mean + Math.min(across.tip.mean, whole.mean * 0.1));
  const thick = Math.min(Math.max(across.tip.mean * scale, 8), 26);
  // A letter that has no room on the wire stands above it, below the dimensions.
  const above = thick < SHEET_TEXT + 1 ? SHEET_TEXT * 1.2 : 0;
  const y = SHEET_TEXT * 1.6 + above + thick / 2;
  const lines = sv('g', { class: 'dimensions' });
  strip.draw(grown.map((segment) => ({ from: 2 + segment.start_nm * scale, to: 2 + (segment.start_nm + segment.length_nm.mean) * scale, doping: segment.doping })), { y, height: thick, angle: seedAngle(job), size: SHEET_TEXT });
  for (const body of strip.root.querySelectorAll('[fill^="url(#doped-"]')) body.setAttribute('fill', (body.getAttribute('fill') ?? '').replace('#doped', '#sheet'));
  for (const segment of grown) put(lines, ...sheetDimension(2 + segment.start_nm * scale, 2 + (segment.start_nm + segment.length_nm.mean) * scale, `${placed(segment.length_nm.mean, segment.length_nm.sd)} nm`));
  return sv('svg', { class: 'strip', viewBox: `0 0 ${SHEET_WIDTH} ${Math.ceil(y + thick / 2 + 3)}`, 'aria-hidden': 'true' }, sheetPatterns(), lines, strip.root);
}

/** @param {number} from @param {number} to @param {string} text @returns {Node[]} */
function sheetDimension(from, to, text) {
  const room = roomOfText(text, SHEET_TEXT) * 1.12 + 12;
  const fits = room < to - from - 8;
  const half = Math.max(0, (to - from - (fits ? room : 0)) / 2);
  const y = SHEET_TEXT * 0.7;
  return [
    sv('path', { d: `M${from} ${y - 4}v8m0 -4h${half}M${to} ${y - 4}v8m0 -4h${-half}` }),
    ...(fits ? [sv('text', { x: (from + to) / 2, y: y + SHEET_TEXT * 0.35, class: 't b c', text })] : []),
  ];
}

/** Doping in black and white: p bars across on dark, n slanted lines on grey. */
function sheetPatterns() {
  return sv('defs', {},
    sv('pattern', { id: 'sheet-p', width: 5, height: 5, patternUnits: 'userSpaceOnUse' }, sv('rect', { width: 5, height: 5, fill: '#333' }), sv('path', { d: 'M2.5 0v5', stroke: '#fff', 'stroke-width': 0.9 })),
    sv('pattern', { id: 'sheet-n', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' }, sv('rect', { width: 7, height: 7, fill: '#bbb' }), sv('path', { d: 'M1 0v7', stroke: '#000', 'stroke-width': 1.1 })));
}

/** The verdict in the core's words, the chance, the time and the number. @param {Result} result @param {any} report */
function sheetVerdict(result, report) {
  const verdict = report?.verdict;
  const levers = result.leversFresh ? result.levers : null;
  const chance = levers && typeof levers.chance === 'number' ? ` ${capital(chanceText(levers.chance))} that the lot meets the order.` : '';
  const hours = report?.plant?.run_time_h;
  const rate = report?.plant?.wires_per_s;
  const time = hours ? ` ${durationText(hours * 3600)} of growth${rate ? ` for ${powerText(Number((hours * 3600 * rate).toPrecision(2)))} wires` : ''}.` : '';
  const state = !verdict ? 'No order.' : verdict.met ? verdict.text : `Outside the order. ${verdict.text}`;
  return el('p', { class: 'sheet-verdict' }, el('b', { text: !verdict ? '[ ] ' : verdict.met ? '[•] ' : '•[ ] ' }), `${state}${chance}${time}`);
}

/** The set-points, in two columns where they are many. @param {SheetRow[]} rows */
function sheetSetPoints(rows) {
  const columns = rows.length > ONE_COLUMN ? 2 : 1;
  const each = Math.ceil(rows.length / columns);
  const tables = Array.from({ length: columns }, (_, column) => {
    const lines = rows.slice(column * each, (column + 1) * each);
    return el('table', { class: 'sets' },
      el('thead', {}, el('tr', {}, ...['Set-point', 'Set to', 'Read back', 'Set'].map((head) => el('th', { scope: 'col', text: head })))),
      el('tbody', {}, ...lines.flatMap((row, index) => [
        ...(row.part === lines[index - 1]?.part ? [] : [el('tr', { class: 'part' }, el('th', { colspan: 4, text: row.part }))]),
        el('tr', {}, el('td', { text: row.name }), el('td', {}, el('b', { text: row.set }), `${NARROW}${row.unit}`), el('td', {}, el('i', { class: 'sheet-write' })), el('td', {}, el('i', { class: 'sheet-tick' }))),
      ])));
  });
  return el('div', { class: columns > 1 ? 'sheet-two' : '' }, ...tables);
}

/** Cautions of the recipe, in the core's words, each hazard once. @param {any} report @returns {Node[]} */
function sheetCautions(report) {
  const all = report?.cautions ?? [];
  const once = all.filter((/** @type {any} */ caution, /** @type {number} */ index) => all.findIndex((/** @type {any} */ other) => other.hazard === caution.hazard) === index);
  if (!once.length) return [];
  return [el('div', { class: 'sheet-warn' },
    el('p', {}, ...once.flatMap((/** @type {any} */ caution) => [el('b', { text: `${capital(caution.hazard)}. ` }), `${caution.does} ${caution.mind} `])),
    el('p', {}, `${once[0].decide} `, blank('Purged before heating', 'short'), blank('before opening', 'short')))];
}

function sheetNotes() {
  return el('p', { class: 'sheet-blanks' }, blank('Started'), blank('First wires'), blank('Stopped'), blank('Collected'));
}
