/**
 * A measured wall: a table of z and °C that can be pasted whole, up to as many rows as the core takes, with its curve.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./view.js').Context} Context
 */
import { el, setAttribute, setText, show } from './dom.js';
import { linePath, sv } from './svg.js';
import { setPointText } from './numbers.js';
import { chosenUnit, dusted, typedNumber } from './units.js';
import { valueAt } from './store.js';
import { askedField } from './edit.js';

const CURVE_WIDTH = 120;
const CURVE_HEIGHT = 200;

/**
 * @param {Context} ctx
 * @param {string} path of the profile
 * @returns {import('./rows.js').Row}
 */
export function profileRow(ctx, path) {
  const id = `profile-${path.replace(/[^\w]+/g, '-')}`;
  const name = el('label', { class: 'row-name', for: id });
  const text = el('textarea', { id, class: 'field profile-text', rows: 10, spellcheck: 'false' });
  const curve = sv('path', { class: 'curve thick' });
  const svg = sv('svg', { class: 'profile-curve', width: CURVE_WIDTH, height: CURVE_HEIGHT, 'aria-hidden': 'true' }, curve);
  const words = el('p', { class: 'refusal', id: `${id}-why`, hidden: true });
  const set = el('button', { type: 'button', class: 'button', text: 'Set this wall', on: { click: () => take() } });
  const root = el('div', { class: 'row profile', data: { path } }, el('div', { class: 'row-head' }, name), el('div', { class: 'profile-both' }, text, svg), el('div', { class: 'buttons' }, set), words);
  const take = () => {
    const rows = profileRows(text.value, ctx.store.state.settings);
    if (typeof rows === 'string') {
      ctx.store.act.draft(path, { text: text.value, refusal: rows, kept: '' });
      ctx.say(rows, true);
    } else void askedField(ctx, path, rows, text.value);
  };
  const draw = (/** @type {{z_mm: number, wall_c: number}[]} */ points) => setAttribute(curve, 'd', profilePath(points));
  text.addEventListener('input', () => {
    const rows = profileRows(text.value, ctx.store.state.settings);
    if (typeof rows !== 'string') draw(rows);
    ctx.store.act.draft(path, { text: text.value, refusal: '' });
  });
  return {
    root,
    draw(state) {
      const unit = chosenUnit('°C', state.settings);
      setText(name, `Measured wall: z in mm, then ${unit.unit}, a point a line`);
      const draft = Object.hasOwn(state.drafts, path) ? state.drafts[path] : null;
      const points = valueAt(state.job, path) ?? [];
      const written = draft ? draft.text : points.map((/** @type {any} */ point) => `${setPointText(point.z_mm)}\t${setPointText(dusted(point.wall_c + unit.offset))}`).join('\n');
      if (document.activeElement !== text && text.value !== written) text.value = written;
      if (!draft) draw(points);
      setText(words, draft?.refusal ?? '');
      show(words, !!draft?.refusal);
      setAttribute(text, 'aria-invalid', draft?.refusal ? 'true' : null);
      setAttribute(text, 'aria-describedby', draft?.refusal ? words.id : null);
    },
  };
}

/**
 * Points from a text: two numbers a line, parted by a blank, a tab or a semicolon.
 * @param {string} text
 * @param {import('./store.js').Settings} settings
 * @returns {{z_mm: number, wall_c: number}[] | string} or which line could not be read
 */
function profileRows(text, settings) {
  const unit = chosenUnit('°C', settings);
  const points = [];
  const lines = text.split(/\r?\n/);
  for (let index = 0; index < lines.length; index += 1) {
    const line = lines[index].trim();
    if (line === '') continue;
    const cells = line.split(/[\t;]+|\s{1,}/).filter(Boolean).map(typedNumber);
    const [z, wall] = cells;
    if (!z || !wall) return `Line ${index + 1} reads “${line.slice(0, 40)}”: two numbers are wanted, z and the wall.`;
    points.push({ z_mm: z.value, wall_c: dusted(wall.value - unit.offset) });
  }
  return points;
}

/** @param {{z_mm: number, wall_c: number}[]} points */
function profilePath(points) {
  if (points.length < 2) return '';
  const zs = points.map((point) => point.z_mm);
  const walls = points.map((point) => point.wall_c);
  const end = Math.max(...zs, 1);
  const top = Math.max(...walls, 100);
  return linePath(walls.map((wall) => 4 + (Math.max(wall, 0) / top) * (CURVE_WIDTH - 8)), zs.map((z) => 4 + (z / end) * (CURVE_HEIGHT - 8)));
}
