/**
 * The set-points of a job in the order of flow, as they are set on the instruments: one row a thing that is turned.
 *
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} SheetRow
 * @property {string} part seeds, a stage, all
 * @property {string} name
 * @property {string} set numbers
 * @property {string} unit
 */
import { powerText } from './numbers.js';
import { formula, stageName } from './names.js';
import { shownValue } from './units.js';

/**
 * @param {Job} job
 * @param {import('./store.js').Settings} settings
 * @returns {SheetRow[]}
 */
export function sheetRows(job, settings) {
  return [
    ...seedRows(job, settings),
    ...job.stages.flatMap((/** @type {any} */ stage, /** @type {number} */ index) => stageRows(job, stage, index, settings)),
    sheetRow('all', 'pressure', 'pressure_mbar', [job.pressure_mbar], settings),
    ...(job.collector?.voltage_v > 0 ? [sheetRow('collector', 'plate', 'collector.voltage_v', [job.collector.voltage_v], settings)] : []),
  ];
}

/** @param {string} part @param {string} name @param {string} path of the (first) field @param {number[]} values @param {import('./store.js').Settings} settings @returns {SheetRow} */
function sheetRow(part, name, path, values, settings) {
  const shown = values.map((value) => shownValue(path, value, settings));
  return { part, name, set: shown.map((one) => one.text).join(', '), unit: shown[0]?.unit ?? '' };
}

/** @param {Job} job @param {import('./store.js').Settings} settings @returns {SheetRow[]} */
function seedRows({ seeds, classifier, aerosol_sccm: aerosol }, settings) {
  const rows = [];
  if (classifier) {
    rows.push(sheetRow('seeds', `classifier, ${classifier.polarity === 'negative' ? 'negative' : 'positive'} pass`, 'classifier.voltage_v', [classifier.voltage_v], settings));
    rows.push(sheetRow('seeds', 'classifier sheath', 'classifier.sheath_slm', [classifier.sheath_slm], settings));
  } else {
    rows.push(sheetRow('seeds', `diameter, ${seeds?.metal ?? 'Au'}`, 'seeds.mobility_diameter_nm', [seeds?.mobility_diameter_nm], settings));
  }
  if (typeof seeds?.concentration_per_cm3 === 'number') rows.push({ part: 'seeds', name: 'number, at standard', set: powerText(seeds.concentration_per_cm3), unit: 'cm⁻³' });
  if (seeds?.electrometer) rows.push(sheetRow('seeds', 'electrometer current', 'seeds.electrometer.current_fa', [seeds.electrometer.current_fa], settings));
  rows.push(sheetRow('seeds', 'aerosol flow', 'aerosol_sccm', [aerosol], settings));
  return rows;
}

/** @param {Job} job @param {any} stage @param {number} index @param {import('./store.js').Settings} settings @returns {SheetRow[]} */
function stageRows(job, stage, index, settings) {
  const part = stageName(job, index);
  const path = `stages[${index}]`;
  const rows = [];
  const carrier = Object.keys(job.carrier ?? {}).filter((name) => job.carrier[name] > 0).map(formula).join(' + ');
  if (stage.zones) rows.push(sheetRow(part, stage.zones.length > 1 ? `walls, ${stage.zones.length} zones` : 'wall', `${path}.zones[0].wall_c`, stage.zones.map((/** @type {any} */ zone) => zone.wall_c), settings));
  else rows.push({ part, name: 'walls', set: `measured, ${stage.profile?.length ?? 0} points`, unit: '' });
  rows.push(sheetRow(part, 'gas at the inlet', `${path}.inlet_c`, [stage.inlet_c], settings));
  if (stage.carrier_sccm > 0) rows.push(sheetRow(part, `carrier ${carrier}`, `${path}.carrier_sccm`, [stage.carrier_sccm], settings));
  for (const feed of stage.feeds ?? []) rows.push(...feedRows(part, feed, path, job.pressure_mbar, settings));
  return rows;
}

/** @param {string} part @param {any} feed @param {string} path of the stage @param {number} line mbar; a bath at the same pressure does not say it again @param {import('./store.js').Settings} settings @returns {SheetRow[]} */
function feedRows(part, feed, path, line, settings) {
  const name = formula(feed.precursor);
  const rows = [];
  if (feed.bubbler) {
    const bath = shownValue(`${path}.bath_c`, feed.bubbler.bath_c, settings);
    const pressure = shownValue(`${path}.bath_mbar`, feed.bubbler.bath_mbar, settings);
    rows.push(sheetRow(part, `${name}, bath ${bath.text} ${bath.unit}${feed.bubbler.bath_mbar === line ? '' : ` ${pressure.text} ${pressure.unit}`}`, `${path}.carrier_sccm`, [feed.bubbler.carrier_sccm], settings));
  } else {
    const share = feed.share < 1 ? `, ${powerText(feed.share * 100)} % in its cylinder` : '';
    rows.push(sheetRow(part, `${name}${share}`, `${path}.flow_sccm`, [feed.flow_sccm], settings));
  }
  if (typeof feed.push_sccm === 'number') rows.push(sheetRow(part, `${name} push, inject`, `${path}.flow_sccm`, [feed.push_sccm, feed.inject_sccm], settings));
  return rows;
}
