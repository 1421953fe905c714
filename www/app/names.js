/**
 * Fields of the job in words: "absorber, zone 2", "p contact, TMIn carrier".
 *
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./store.js').Settings} Settings
 */
import { jobUnit, lastName, shownValue } from './units.js';

/** Fields by the end of their path, most telling first; `#` stands for a place counted from 1. */
const FIELD_WORDS = new Map([
  ['title', 'title'],
  ['note', 'note'],
  ['material', 'material'],
  ['pressure_mbar', 'pressure of the line'],
  ['aerosol_sccm', 'aerosol flow'],
  ['seeds.metal', 'seed metal'],
  ['seeds.mobility_diameter_nm', 'seed diameter'],
  ['seeds.spread_gsd', 'spread of the seeds'],
  ['seeds.concentration_per_cm3', 'number of seeds'],
  ['seeds.charges', 'charges a seed'],
  ['seeds.drift', 'drift of the seeds'],
  ['seeds.shape_factor', 'shape factor of the seeds'],
  ['seeds.electrometer.current_fa', 'electrometer current'],
  ['seeds.electrometer.flow_sccm', 'electrometer flow'],
  ['classifier.inner_radius_mm', 'classifier inner radius'],
  ['classifier.outer_radius_mm', 'classifier outer radius'],
  ['classifier.length_mm', 'classifier length'],
  ['classifier.sheath_slm', 'classifier sheath flow'],
  ['classifier.aerosol_slm', 'classifier aerosol flow'],
  ['classifier.temperature_c', 'classifier temperature'],
  ['classifier.voltage_v', 'classifier voltage'],
  ['classifier.polarity', 'charge that passes'],
  ['classifier.source_median_nm', 'median diameter at the source'],
  ['classifier.source_gsd', 'spread at the source'],
  ['classifier.pressure_mbar', 'classifier pressure'],
  ['transport.thermal_diffusion', 'thermal diffusion'],
  ['order.diameter_nm', 'ordered diameter'],
  ['order.diameter_tolerance_nm', 'tolerance of the diameter'],
  ['order.spread_cv', 'most spread of the length'],
  ['order.wires', 'ordered wires'],
  ['order.area_cm2', 'ordered area'],
  ['order.pitch_nm', 'pitch'],
  ['collector.kind', 'collector'],
  ['collector.plate_area_cm2', 'plate area'],
  ['collector.gap_mm', 'gap above the plate'],
  ['collector.voltage_v', 'plate voltage'],
  ['collector.wire_charge', 'charges a wire'],
  ['collector.temperature_c', 'collector temperature'],
  ['collector.volume_ml', 'liquid in the collector'],
  ['collector.efficiency', 'share of the wires it keeps'],
  ['kinetics.reference.temperature_c', 'reference temperature'],
  ['kinetics.reference.group_iii_pa', 'reference group III'],
  ['kinetics.reference.v_iii', 'reference V/III'],
  ['kinetics.reference.diameter_nm', 'reference diameter'],
  ['kinetics.wall.group_v_activation_kj_per_mol', 'wall activation energy of group V'],
  ['kinetics.axial.rate_um_per_s', 'growth rate at the reference'],
  ['kinetics.axial.activation_kj_per_mol', 'activation energy of growth'],
  ['kinetics.axial.group_iii_order', 'order in group III'],
  ['kinetics.axial.v_iii_half', 'half-way V/III'],
  ['kinetics.axial.critical_diameter_nm', 'critical diameter'],
  ['kinetics.supply.sticking', 'sticking on a wire'],
  ['kinetics.supply.collection_length_nm', 'collection length'],
  ['kinetics.radial.rate_nm_per_s', 'sidewall rate at the reference'],
  ['kinetics.radial.activation_kj_per_mol', 'activation energy of the sidewall'],
  ['kinetics.seed.group_iii_share', 'group III in the filled seed'],
  ['kinetics.seed.contact_angle_deg', 'contact angle of the seed'],
  ['kinetics.pyrolysis.frequency_per_s', 'pyrolysis frequency'],
  ['kinetics.pyrolysis.activation_kj_per_mol', 'pyrolysis activation energy'],
  ['kinetics.wall.parent_probability', 'wall reaction of the parent'],
  ['kinetics.wall.fragment_probability', 'wall reaction of the fragment'],
  ['kinetics.wall.activation_kj_per_mol', 'wall activation energy'],
  ['kinetics.wall.group_v_probability', 'wall reaction of group V'],
  ['kinetics.wall.dopant_probability', 'wall reaction of dopants'],
  ['kinetics.uncertainty.diffusion_percent', 'diffusion coefficients'],
  ['name', 'name'],
  ['tube_diameter_mm', 'tube diameter'],
  ['flow', 'flow'],
  ['streamlines', 'streamlines at the inlet'],
  ['velocity', 'velocity'],
  ['inlet_c', 'gas at the inlet'],
  ['flange_c', 'flanges'],
  ['blend_mm', 'zones blend over'],
  ['carrier_sccm', 'carrier added'],
  ['bath_c', 'bath'],
  ['bath_mbar', 'bath pressure'],
  ['line_c', 'line behind the bath'],
  ['charge_g', 'charge'],
  ['share', 'share in the cylinder'],
  ['push_sccm', 'push'],
  ['inject_sccm', 'injected'],
  ['length_nm', 'ordered length'],
  ['tolerance_nm', 'tolerance'],
  ['doping', 'doping'],
  ['carriers_per_cm3', 'carriers'],
]);

const LOWERED = '₀₁₂₃₄₅₆₇₈₉';

/**
 * A formula with its figures lowered: PH₃.
 * @param {string} name
 * @returns {string}
 */
export function formula(name) {
  return name.replace(/\d/g, (digit) => LOWERED[Number(digit)]);
}

/**
 * Name of a stage: its own, or "stage N".
 * @param {Job} job
 * @param {number} index
 * @returns {string}
 */
export function stageName(job, index) {
  const name = job.stages[index]?.name;
  return typeof name === 'string' && name.trim() !== '' ? name : `stage ${index + 1}`;
}

/**
 * A field in words, without its stage: "zone 2", "TMIn carrier", "PH₃".
 * @param {Job} job
 * @param {string} path
 * @returns {string}
 */
export function fieldName(job, path) {
  const whole = FIELD_WORDS.get(path);
  if (whole) return whole;
  const stage = path.match(/^stages\[(\d+)\]\.?(.*)$/);
  if (stage) return stageField(job.stages[Number(stage[1])], stage[2]);
  const carrier = path.match(/^(?:classifier\.)?carrier\.(\w+)$/);
  if (carrier) return `${formula(carrier[1])} in the ${path.startsWith('classifier') ? 'classifier' : 'carrier'}`;
  const known = [...FIELD_WORDS].find(([end]) => path.endsWith(`.${end}`));
  const dopant = path.match(/^kinetics\.(uncertainty\.)?dopants\.(\w+)\./);
  if (dopant) return `${dopant[2]}, ${plainWords(path)}`;
  if (path.startsWith('kinetics.uncertainty.')) {
    return `uncertainty of ${FIELD_WORDS.get(path.replace('uncertainty.', '')) ?? plainWords(path)}`;
  }
  if (/^(?:kinetics|instruments|limits|plant)\./.test(path)) return plainWords(path);
  return known ? known[1] : path;
}

/**
 * @param {any} stage
 * @param {string} rest path inside the stage
 */
function stageField(stage, rest) {
  if (rest === '' ) return 'stage';
  const zone = rest.match(/^zones\[(\d+)\]\.(\w+)$/);
  if (zone) return zone[2] === 'length_mm' ? `zone ${Number(zone[1]) + 1} length` : `zone ${Number(zone[1]) + 1}`;
  const point = rest.match(/^profile\[(\d+)\]\.(\w+)$/);
  if (point) return `wall point ${Number(point[1]) + 1}${point[2] === 'z_mm' ? ', place' : ''}`;
  const feed = rest.match(/^feeds\[(\d+)\]\.(?:bubbler\.)?(\w+)$/);
  if (feed) {
    const name = formula(stage?.feeds?.[Number(feed[1])]?.precursor ?? `feed ${Number(feed[1]) + 1}`);
    if (feed[2] === 'flow_sccm') return name;
    return feed[2] === 'carrier_sccm' ? `${name} carrier` : `${name} ${FIELD_WORDS.get(feed[2]) ?? feed[2]}`;
  }
  return FIELD_WORDS.get(rest) ?? { zones: 'zones', feeds: 'feeds', profile: 'measured wall' }[rest] ?? plainWords(rest);
}

/**
 * The last name of a path as words, its unit taken off.
 * @param {string} path
 */
function plainWords(path) {
  const unit = jobUnit(path);
  const name = lastName(path);
  const ends = { '°C': '_c', 'kJ/mol': '_kj_per_mol', '/cm³': '_per_cm3', 'µm/s': '_um_per_s', 'nm/s': '_nm_per_s', '/s': '_per_s', '%': '_percent' };
  const end = /** @type {Record<string, string>} */ (ends)[unit] ?? `_${unit.toLowerCase()}`;
  return (unit && name.endsWith(end) ? name.slice(0, -end.length) : name).replace(/_/g, ' ');
}

/**
 * A field in words with its stage: "absorber, zone 2".
 * @param {Job} job
 * @param {string} path
 * @returns {string}
 */
export function fullName(job, path) {
  const stage = path.match(/^stages\[(\d+)\]/);
  if (stage) return `${stageName(job, Number(stage[1]))}, ${fieldName(job, path)}`;
  const segment = path.match(/^order\.segments\[(\d+)\]/);
  if (segment) return `${stageName(job, Number(segment[1]))}, ${fieldName(job, path)}`;
  return fieldName(job, path);
}

/**
 * A name at the start of a sentence or row; a formula keeps its first letter.
 * @param {string} name
 */
export function capital(name) {
  return /^[a-z][a-zé]/.test(name) ? name[0].toUpperCase() + name.slice(1) : name;
}

/**
 * A value of any kind as words.
 * @param {string} path
 * @param {any} value
 * @param {Settings} settings
 */
export function valueWords(path, value, settings) {
  if (value === undefined) return 'left out';
  if (value === null) return 'nothing';
  if (typeof value === 'number') return shownValue(path, value, settings).text;
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  if (Array.isArray(value)) return `${value.length}`;
  return typeof value === 'string' ? (value.length > 24 ? `${[...value].slice(0, 23).join('')}…` : value) : 'set';
}

/**
 * The label of a change: "absorber, TMIn carrier 60 → 52 sccm".
 * @param {Job} job
 * @param {string} path
 * @param {any} from
 * @param {any} to
 * @param {Settings} settings
 * @returns {string}
 */
export function changeLabel(job, path, from, to, settings) {
  const number = typeof from === 'number' ? from : typeof to === 'number' ? to : null;
  const unit = number === null ? '' : shownValue(path, number, settings).unit;
  return `${fullName(job, path)} ${valueWords(path, from, settings)} → ${valueWords(path, to, settings)}${unit ? `\u00a0${unit}` : ''}`;
}
