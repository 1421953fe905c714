/**
 * Cautions, in the core's words, in the panel under the field where the hazard is set. Never dismissible.
 *
 * @typedef {import('./store.js').Result} Result
 */
import { el, fill, setText } from './dom.js';
import { capital } from './names.js';
import { setPointText, three } from './numbers.js';

/**
 * The cautions that belong to what the panel shows. Those of a feed stand with the feeds of every stage, since the line
 * names each hazard once.
 * @param {Result} result
 * @param {'seeds' | 'stage' | 'collector' | 'model'} part
 * @param {string} tab
 * @param {number} stage
 * @returns {Record<string, any>[]}
 */
export function cautionsFor(result, part, tab, stage) {
  const all = result.report?.cautions ?? [];
  const own = (/** @type {any} */ caution) => {
    const { path } = caution;
    if (path.startsWith('stages') && path.endsWith('.feeds')) return part === 'stage' && tab === 'feeds';
    if (path.startsWith('stages')) return part === 'stage' && tab === 'walls';
    if (path.startsWith('collector')) return part === 'collector';
    if (path.startsWith('carrier')) return (part === 'seeds' && tab === 'feeds') || (part === 'stage' && tab === 'feeds');
    return part === 'seeds';
  };
  const first = (/** @type {any} */ caution) => (caution.path === `stages[${stage}].feeds` ? 0 : 1);
  const seen = new Set();
  return all
    .filter(own)
    .sort((/** @type {any} */ a, /** @type {any} */ b) => first(a) - first(b))
    .filter((/** @type {any} */ caution) => {
      const key = `${caution.hazard}|${caution.does}|${caution.mind}`;
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

/**
 * A list of cautions that is written anew only when its words change.
 * @returns {{root: HTMLElement, draw: (cautions: Record<string, any>[]) => void}}
 */
export function cautionList() {
  const root = el('div', { class: 'cautions' });
  let written = '';
  return {
    root,
    draw(cautions) {
      const key = JSON.stringify(cautions);
      if (key === written) return;
      written = key;
      fill(root, ...cautions.map(cautionBox));
    },
  };
}

/** @param {Record<string, any>} caution */
function cautionBox(caution) {
  const body = el('div', { class: 'caution', role: 'note' }, el('b', { text: `${capital(caution.hazard)}. ` }));
  body.append(
    el('span', { text: caution.does }),
    el('span', { text: caution.mind }),
    el('span', { text: caution.decide }),
  );
  if (caution.air_to_dilute_m3_per_min !== null && caution.flow_sccm !== null) {
    body.append(el('span', { text: `${three(caution.flow_sccm)} sccm flow here; ${three(caution.air_to_dilute_m3_per_min)} m³/min of air would thin all of it to the lowest limit.` }));
  }
  if (caution.limits.length > 0) body.append(limitsOf(caution));
  return body;
}

/** @param {Record<string, any>} caution */
function limitsOf(caution) {
  const rows = caution.limits.map((/** @type {any} */ limit) =>
    el('tr', {}, el('th', { scope: 'row', text: limit.what }), el('td', { class: 'r', text: `${setPointText(limit.value)} ${limit.unit}` }), el('td', { text: `${limit.issuer}, ${limit.year}` })),
  );
  const table = el('table', { 'aria-label': `Limits of ${caution.hazard}` }, el('tbody', {}, ...rows));
  const area = el('div', { class: 'limits', hidden: true }, table);
  const open = el('button', { type: 'button', class: 'link', 'aria-expanded': 'false', text: 'Limits, with issuer and year' });
  open.addEventListener('click', () => {
    area.hidden = !area.hidden;
    open.setAttribute('aria-expanded', String(!area.hidden));
    setText(open, area.hidden ? 'Limits, with issuer and year' : 'Hide the limits');
  });
  return el('div', {}, open, area);
}
