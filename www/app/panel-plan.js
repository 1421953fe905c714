/**
 * Which rows the panel shows for a part of the line, in the order of flow. Every field of the job is in one of them; rare
 * ones are under Tube, under the seeds' own third tab, or with the numbers of the model.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} Planned one row
 * @property {'step' | 'choice' | 'text' | 'head' | 'buttons' | 'profile'} kind
 * @property {string} path of the field; for head and buttons a word that is unique
 * @property {string} [label]
 * @property {boolean} [optional] can be left out
 * @property {boolean} [long]
 * @property {[any, string][]} [of] of a choice
 * @property {string} [text] of a head
 * @property {[string, string][]} [acts] of buttons: what (see panel-acts.js), words
 */
import { capital, formula, stageName } from './names.js';

/** Names of the tabs of each part. */
export const PANEL_TABS = {
  seeds: { walls: 'Seeds', feeds: 'Gas', tube: 'More' },
  stage: { walls: 'Walls', feeds: 'Feeds', tube: 'Tube' },
  collector: { walls: 'Collector', feeds: '', tube: '' },
  model: { walls: 'Growth', feeds: 'Dopants', tube: 'Instruments' },
};

const step = (/** @type {string} */ path, /** @type {Partial<Planned>} */ more = {}) => /** @type {Planned} */ ({ kind: 'step', path, ...more });
const rare = (/** @type {string} */ path, /** @type {Partial<Planned>} */ more = {}) => step(path, { optional: true, ...more });
const heading = (/** @type {string} */ text) => /** @type {Planned} */ ({ kind: 'head', path: `head-${text}`, text });

/**
 * @param {State} state
 * @returns {Planned[]}
 */
export function panelPlan(state) {
  const { job, place } = state;
  if (place.part === 'seeds') return seedsPlan(job, place.tab);
  if (place.part === 'collector') return collectorPlan(job);
  if (place.part === 'model') return modelPlan(job, place.tab);
  return stagePlan(job, place.stage, place.tab);
}

/**
 * @param {Job} job
 * @param {number} index
 * @param {string} tab
 * @returns {Planned[]}
 */
function stagePlan(job, index, tab) {
  const stage = job.stages[index];
  const at = `stages[${index}]`;
  if (tab === 'walls') {
    const zones = (stage.zones ?? []).map((/** @type {any} */ _, /** @type {number} */ zone) => step(`${at}.zones[${zone}].wall_c`));
    return [step(`${at}.inlet_c`), ...(stage.profile ? [/** @type {Planned} */ ({ kind: 'profile', path: `${at}.profile` })] : zones)];
  }
  if (tab === 'feeds') return feedsPlan(job, index);
  return tubePlan(job, index);
}

/**
 * @param {Job} job
 * @param {number} index
 * @returns {Planned[]}
 */
function feedsPlan(job, index) {
  const at = `stages[${index}]`;
  const feeds = job.stages[index].feeds ?? [];
  const rows = feeds.flatMap((/** @type {any} */ feed, /** @type {number} */ number) => {
    const path = `${at}.feeds[${number}]`;
    return feed.bubbler ? [step(`${path}.bubbler.carrier_sccm`), step(`${path}.bubbler.bath_c`)] : [step(`${path}.flow_sccm`)];
  });
  const more = feeds.flatMap((/** @type {any} */ feed, /** @type {number} */ number) => {
    const path = `${at}.feeds[${number}]`;
    const own = feed.bubbler ? [step(`${path}.bubbler.bath_mbar`), rare(`${path}.bubbler.line_c`), rare(`${path}.bubbler.charge_g`)] : [step(`${path}.share`)];
    const name = formula(feed.precursor);
    return [heading(`More of ${name}${feeds.filter((/** @type {any} */ one) => one.precursor === feed.precursor).length > 1 ? ` ${number + 1}` : ''}`), ...own, rare(`${path}.push_sccm`), rare(`${path}.inject_sccm`), { kind: 'buttons', path: `${path}-acts`, acts: [[`feed-remove:${index}:${number}`, `Remove ${name}`]] }];
  });
  return [
    rare(`${at}.carrier_sccm`, { label: `${Object.keys(job.carrier).map(formula).join(' and ')} added`, optional: false }),
    ...rows,
    { kind: 'buttons', path: `${at}-feeds`, acts: [[`feeds-more:${index}`, 'More of the feeds'], [`feed-add:${index}`, 'Add a feed']] },
    ...more.map((/** @type {Planned} */ row) => ({ ...row, hidden: true })),
  ];
}

/**
 * @param {Job} job
 * @param {number} index
 * @returns {Planned[]}
 */
function tubePlan(job, index) {
  const stage = job.stages[index];
  const at = `stages[${index}]`;
  const zones = (stage.zones ?? []).map((/** @type {any} */ _, /** @type {number} */ zone) => step(`${at}.zones[${zone}].length_mm`));
  return [
    { kind: 'text', path: `${at}.name` },
    step(`${at}.tube_diameter_mm`),
    ...zones,
    { kind: 'buttons', path: `${at}-zones`, acts: stage.profile ? [[`wall-zones:${index}`, 'Set zones instead of a measured wall']] : [[`zone-add:${index}`, 'Add a zone'], [`zone-remove:${index}`, 'Remove the last zone'], [`wall-profile:${index}`, 'Use a measured wall']] },
    ...(stage.profile ? [] : [rare(`${at}.flange_c`), rare(`${at}.blend_mm`)]),
    { kind: 'choice', path: `${at}.flow`, label: 'Gas flows', of: [[undefined, 'down'], ['up', 'up']] },
    { kind: 'choice', path: `${at}.streamlines`, of: [[undefined, 'kept'], ['mixed', 'mixed']] },
    { kind: 'choice', path: `${at}.velocity`, of: [[undefined, 'developed'], ['parabolic', 'parabolic']] },
    { kind: 'buttons', path: `${at}-stage`, acts: [[`stage-add:${index}`, 'Add a stage behind'], [`stage-remove:${index}`, `Remove ${stageName(job, index)}`]] },
  ];
}

/**
 * @param {Job} job
 * @param {string} tab
 * @returns {Planned[]}
 */
function seedsPlan(job, tab) {
  if (tab === 'feeds') {
    const shares = ['H2', 'N2', 'Ar', 'He'].map((gas) => rare(`carrier.${gas}`, { label: `${formula(gas)} in the carrier` }));
    return [step('pressure_mbar'), step('aerosol_sccm'), ...shares];
  }
  if (tab === 'walls') return seedsRows(job);
  return [
    { kind: 'text', path: 'title' },
    { kind: 'text', path: 'note', long: true },
    { kind: 'choice', path: 'material', of: [['GaAs', 'GaAs'], ['InP', 'InP'], ['GaP', 'GaP'], ['InAs', 'InAs']] },
    rare('seeds.shape_factor'),
    { kind: 'choice', path: 'seeds.drift', of: [[undefined, 'thermophoretic'], ['none', 'none']] },
    { kind: 'choice', path: 'transport.thermal_diffusion', of: [[undefined, 'counted'], [false, 'left out']] },
    ...(job.classifier ? classifierRare() : []),
    { kind: 'buttons', path: 'seeds-acts', acts: [job.classifier ? ['classifier-off', 'Give the sizes instead of a classifier'] : ['classifier-on', 'Sort by a classifier'], job.seeds.electrometer ? ['electrometer-off', 'Give the number of seeds'] : ['electrometer-on', 'Count by an electrometer']] },
  ];
}

/** @param {Job} job */
function seedsRows(job) {
  const count = job.seeds.electrometer ? [step('seeds.electrometer.current_fa'), step('seeds.electrometer.flow_sccm')] : [step('seeds.concentration_per_cm3')];
  const sizes = job.classifier
    ? [step('classifier.voltage_v'), step('classifier.sheath_slm'), step('classifier.aerosol_slm'), step('classifier.source_median_nm'), step('classifier.source_gsd')]
    : [step('seeds.mobility_diameter_nm'), step('seeds.spread_gsd')];
  return [...sizes, ...count, rare('seeds.charges')];
}

/** @returns {Planned[]} */
function classifierRare() {
  return [
    step('classifier.inner_radius_mm'),
    step('classifier.outer_radius_mm'),
    step('classifier.length_mm'),
    step('classifier.temperature_c'),
    rare('classifier.pressure_mbar'),
    { kind: 'choice', path: 'classifier.polarity', of: [[undefined, 'positive'], ['negative', 'negative']] },
    ...['H2', 'N2', 'Ar', 'He'].map((gas) => rare(`classifier.carrier.${gas}`, { label: `${formula(gas)} in the classifier` })),
  ];
}

/**
 * @param {Job} job
 * @returns {Planned[]}
 */
function collectorPlan(job) {
  if (!job.collector) return [{ kind: 'buttons', path: 'collector-acts', acts: [['collector-on', 'Add a collector']] }];
  const kind = job.collector.kind ?? 'plate';
  const rows = { plate: ['plate_area_cm2', 'gap_mm', 'voltage_v', 'wire_charge'], filter: ['efficiency'], liquid: ['efficiency', 'volume_ml'] }[/** @type {'plate' | 'filter' | 'liquid'} */ (kind)] ?? [];
  return [
    { kind: 'head', path: 'head-kind', text: `Kind: ${kind}` },
    ...rows.map((field) => rare(`collector.${field}`)),
    rare('collector.temperature_c'),
    { kind: 'buttons', path: 'collector-acts', acts: [['collector-plate', 'Plate'], ['collector-filter', 'Filter'], ['collector-liquid', 'Liquid'], ['collector-off', 'Leave it out']] },
  ];
}

/** Numbers of the model in the order of the job file. */
const MODEL_GROUPS = [
  ['reference', ['temperature_c', 'group_iii_pa', 'v_iii', 'diameter_nm']],
  ['axial', ['rate_um_per_s', 'activation_kj_per_mol', 'group_iii_order', 'v_iii_half', 'critical_diameter_nm']],
  ['supply', ['sticking', 'collection_length_nm']],
  ['radial', ['rate_nm_per_s', 'activation_kj_per_mol']],
  ['seed', ['group_iii_share', 'contact_angle_deg']],
  ['pyrolysis', ['frequency_per_s', 'activation_kj_per_mol']],
  ['wall', ['parent_probability', 'fragment_probability', 'activation_kj_per_mol', 'group_v_probability', 'group_v_activation_kj_per_mol', 'dopant_probability']],
];
const GROUP_WORDS = { reference: 'What all rates refer to', axial: 'Growth along the wire', supply: 'Supply to the wire', radial: 'Growth of the sidewall', seed: 'The filled seed', pyrolysis: 'Pyrolysis of group III', wall: 'Loss to the wall' };
const DOPANT_FIELDS = ['reference_per_cm3', 'reference_ratio', 'order', 'activation_kj_per_mol', 'limit_per_cm3', 'memory_diameters', 'wall_probability'];
const INSTRUMENT_FIELDS = ['thermocouple_c', 'flow_percent_of_reading', 'flow_percent_of_full_scale', 'pressure_mbar', 'bath_c', 'inlet_c', 'seed_count_percent', 'seed_diameter_percent', 'tube_diameter_mm'];

/**
 * @param {Job} job
 * @param {string} tab
 * @returns {Planned[]}
 */
function modelPlan(job, tab) {
  if (tab === 'tube') {
    return [heading('Accuracy of the instruments'), ...INSTRUMENT_FIELDS.map((field) => rare(`instruments.${field}`)), ...limitRows(job)];
  }
  if (tab === 'feeds') {
    const names = dopantNames(job);
    return names.flatMap((name) => [heading(name), ...DOPANT_FIELDS.flatMap((field) => withDoubt(`dopants.${name}.${field}`))]);
  }
  return [
    ...MODEL_GROUPS.flatMap(([group, fields]) => [heading(GROUP_WORDS[/** @type {keyof typeof GROUP_WORDS} */ (group)]), .../** @type {string[]} */ (fields).flatMap((field) => withDoubt(`${group}.${field}`))]),
    rare('kinetics.uncertainty.diffusion_percent', { label: 'Diffusion coefficients known to' }),
  ];
}

/**
 * A number and its standard error.
 * @param {string} path
 * @returns {Planned[]}
 */
function withDoubt(path) {
  return [rare(`kinetics.${path}`), rare(`kinetics.uncertainty.${path}`, { label: 'its standard error' })];
}

/**
 * Dopants that have numbers of their own.
 * @param {Job} job
 * @returns {string[]}
 */
function dopantNames(job) {
  return Object.keys(job.kinetics?.dopants ?? {});
}

/**
 * What the instruments can be set to, where the job says so.
 * @param {Job} job
 * @returns {Planned[]}
 */
function limitRows(job) {
  const keys = Object.keys(job.limits ?? {}).filter((key) => /^\w+$/.test(key));
  return keys.flatMap((key) => [heading(`Can be set: ${capital(key)}`), ...['min', 'max', 'step'].map((field) => rare(`limits.${key}.${field}`, { label: { min: 'least', max: 'most', step: 'in steps of' }[field] }))]);
}
