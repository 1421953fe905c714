/**
 * Units as people use them: what stands in the job (°C, sccm, mbar, nm, …) against what is shown and typed.
 *
 * The unit of a field is the end of its name. Under Units a temperature may be read in °C or K, a flow in sccm or slm, a
 * pressure in mbar, Torr or Pa; the job keeps its own. Here are also the steps of the stepper rows.
 *
 * @typedef {import('./store.js').Settings} Settings
 * @typedef {import('./store.js').SetPoint} SetPoint
 *
 * @typedef {object} StepOf one step of a row: added, or a factor
 * @property {number} [add] in the unit of the job
 * @property {number} [times]
 * @property {number[]} [decade] mantissas to go through, as 1, 2, 3, 5, 7
 * @property {string} text "5 sccm", "× 2"
 */
import { MINUS, decimals, setPointText } from './numbers.js';

const ZERO_CELSIUS = 273.15;
/** mbar of one Torr: 101 325/760 Pa. */
const TORR = 1013.25 / 760;

/** Ends of field names, longest first, and their units. */
const UNIT_ENDS = [
  ['_percent_of_full_scale', '% of full scale'],
  ['_percent_of_reading', '% of reading'],
  ['_umol_per_min', 'µmol/min'],
  ['_kj_per_mol', 'kJ/mol'],
  ['_um_per_s', 'µm/s'],
  ['_nm_per_s', 'nm/s'],
  ['_per_cm3', '/cm³'],
  ['_percent', '%'],
  ['_per_s', '/s'],
  ['_sccm', 'sccm'],
  ['_mbar', 'mbar'],
  ['_min', 'min'],
  ['_deg', '°'],
  ['_slm', 'slm'],
  ['_cm2', 'cm²'],
  ['_fa', 'fA'],
  ['_nm', 'nm'],
  ['_mm', 'mm'],
  ['_um', 'µm'],
  ['_ml', 'mL'],
  ['_pa', 'Pa'],
  ['_c', '°C'],
  ['_v', 'V'],
  ['_g', 'g'],
];

/**
 * Unit of a field of the job.
 * @param {string} path
 * @returns {string} empty where it has none
 */
export function jobUnit(path) {
  const field = lastName(path);
  for (const [end, unit] of UNIT_ENDS) {
    if (field.endsWith(end)) return unit;
  }
  return '';
}

/**
 * @param {string} path
 * @returns {string} last name of a path, without places
 */
export function lastName(path) {
  return path.slice(path.lastIndexOf('.') + 1).replace(/\[\d+\]/g, '');
}

/**
 * How a unit of the job is read: factor and offset to the unit chosen.
 * @param {string} unit
 * @param {Settings} settings
 * @returns {{unit: string, factor: number, offset: number}}
 */
export function chosenUnit(unit, settings) {
  if (unit === '°C' && settings.temperature === 'K') return { unit: 'K', factor: 1, offset: ZERO_CELSIUS };
  if (unit === 'sccm' && settings.flow === 'slm') return { unit: 'slm', factor: 1e-3, offset: 0 };
  if (unit === 'slm' && settings.flow === 'sccm') return { unit: 'sccm', factor: 1e3, offset: 0 };
  if (unit === 'mbar' && settings.pressure === 'Torr') return { unit: 'Torr', factor: 1 / TORR, offset: 0 };
  if (unit === 'mbar' && settings.pressure === 'Pa') return { unit: 'Pa', factor: 100, offset: 0 };
  return { unit, factor: 1, offset: 0 };
}

/**
 * Takes the dust of binary fractions off a number that was typed in decimals.
 * @param {number} value
 * @returns {number}
 */
export function dusted(value) {
  return Number(value.toPrecision(12));
}

/**
 * A number of the job as it is shown.
 * @param {string} path
 * @param {number} value in the unit of the job
 * @param {Settings} settings
 * @param {SetPoint} [point]
 * @returns {{text: string, unit: string}}
 */
export function shownValue(path, value, settings, point) {
  const chosen = chosenUnit(jobUnit(path), settings);
  const shown = dusted(value * chosen.factor + chosen.offset);
  // In kelvin a set-point keeps the places that it has in °C: 450 °C is 723 K.
  if (chosen.offset !== 0) return { text: decimals(shown, Math.min((String(value).split('.')[1] ?? '').length, 2)), unit: chosen.unit };
  const step = point ? point.step * chosen.factor : undefined;
  return { text: setPointText(shown, step), unit: chosen.unit };
}

/**
 * A number of the job with its unit, in one text.
 * @param {string} path
 * @param {number} value
 * @param {Settings} settings
 */
export function shownText(path, value, settings) {
  const { text, unit } = shownValue(path, value, settings);
  return unit ? `${text}\u00a0${unit}` : text;
}

/**
 * A temperature of the report in the unit chosen.
 * @param {number} celsius
 * @param {Settings} settings
 */
export function shownTemperature(celsius, settings) {
  const chosen = chosenUnit('°C', settings);
  return { value: celsius + chosen.offset, unit: chosen.unit };
}

/** Units that may be typed after a number, with what they are of: [unit of the job, factor, offset]. */
const TYPED_UNITS = new Map(
  /** @type {[string, [string, number, number][]][]} */ ([
    ['°c', [['°C', 1, 0]]],
    ['c', [['°C', 1, 0]]],
    ['k', [['°C', 1, -ZERO_CELSIUS]]],
    ['sccm', [['sccm', 1, 0], ['slm', 1e-3, 0]]],
    ['slm', [['sccm', 1e3, 0], ['slm', 1, 0]]],
    ['mbar', [['mbar', 1, 0]]],
    ['hpa', [['mbar', 1, 0]]],
    ['torr', [['mbar', TORR, 0]]],
    ['pa', [['mbar', 0.01, 0], ['Pa', 1, 0]]],
    ['kpa', [['mbar', 10, 0]]],
    ['bar', [['mbar', 1000, 0]]],
    ['nm', [['nm', 1, 0], ['µm', 1e-3, 0]]],
    ['µm', [['nm', 1000, 0], ['mm', 1e-3, 0], ['µm', 1, 0]]],
    ['um', [['nm', 1000, 0], ['mm', 1e-3, 0], ['µm', 1, 0]]],
    ['mm', [['mm', 1, 0]]],
    ['cm', [['mm', 10, 0]]],
    ['m', [['mm', 1000, 0]]],
    ['v', [['V', 1, 0]]],
    ['kv', [['V', 1000, 0]]],
    ['%', [['', 0.01, 0], ['%', 1, 0]]],
  ]),
);

/**
 * A number as it may be typed: decimal comma or point, blanks between groups, a power of ten as 3e18, 3 × 10^18 or
 * 3 × 10¹⁸, and a unit after it.
 * @param {string} text
 * @returns {{value: number, unit: string} | null} null: no number
 */
export function typedNumber(text) {
  const plain = text
    .normalize('NFKC')
    .replace(/[−–]/g, '-')
    .trim();
  const raised = text.includes('10') ? text.trim().match(/10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)/) : null;
  const power = raised ? [...raised[1]].map((sign) => (sign === '⁻' ? '-' : '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign))).join('') : null;
  const head = raised ? `${text.slice(0, text.indexOf(raised[0])).normalize('NFKC').replace(/[−–]/g, '-')}10^${power}${text.slice(text.indexOf(raised[0]) + raised[0].length)}`.trim() : plain;
  const match = head.match(/^([+-]?)(\d[\d\s]*(?:[.,]\d+)?|[.,]\d+)(?:\s*(?:[x×*·]\s*10\s*\^?\s*([+-]?\d+)|e([+-]?\d+)))?\s*([^\d\s].*)?$/i);
  if (!match) return null;
  const digits = match[2].replace(/\s/g, '').replace(',', '.');
  const value = Number(`${match[1]}${digits}e${match[3] ?? match[4] ?? 0}`);
  return Number.isFinite(value) ? { value, unit: (match[5] ?? '').trim() } : null;
}

/**
 * What was typed into a field, in the unit of the job.
 * @param {string} path
 * @param {string} text
 * @param {Settings} settings
 * @returns {number | null} null: no number, or a unit that the field cannot have
 */
export function typedValue(path, text, settings) {
  const typed = typedNumber(text);
  if (!typed) return null;
  const unit = jobUnit(path);
  if (typed.unit === '') {
    const chosen = chosenUnit(unit, settings);
    return dusted((typed.value - chosen.offset) / chosen.factor);
  }
  const name = typed.unit.replace(/\u03bc/g, 'µ').toLowerCase();
  const known = TYPED_UNITS.get(name)?.find(([of]) => of === unit);
  if (known) return dusted(typed.value * known[1] + known[2]);
  return name === unit.toLowerCase() || name === unit.replace('³', '3').toLowerCase() ? typed.value : null;
}

/**
 * The number of 1, 2, 5 × 10ⁿ next to a value.
 * @param {number} value
 */
export function nice125(value) {
  const power = 10 ** Math.floor(Math.log10(value));
  let best = power;
  for (const factor of [1, 2, 5, 10]) {
    if (Math.abs(Math.log(value / (power * factor))) < Math.abs(Math.log(value / best))) best = power * factor;
  }
  return dusted(best);
}

/** Steps by unit of the job; first is the default at the desk, second on a tablet. */
const STEPS_BY_UNIT = new Map([
  ['V', [1, 10, 100]],
  ['mm', [5, 10, 50]],
  ['cm²', [1, 10, 100]],
  ['kJ/mol', [1, 5, 10]],
  ['fA', [1, 10, 100]],
  ['°', [1, 5]],
  ['g', [10, 50]],
  ['mL', [1, 10]],
  ['%', [0.1, 1, 5]],
]);

/** Steps by name of the field, where its unit does not say it. */
const STEPS_BY_NAME = new Map([
  ['bath_c', [0.1, 0.5, 2]],
  ['tolerance_nm', [5, 10, 50]],
  ['diameter_tolerance_nm', [1, 5]],
  ['mobility_diameter_nm', [0.5, 2, 5]],
  ['diameter_nm', [1, 5]],
  ['length_nm', [10, 50, 200]],
  ['source_median_nm', [0.5, 2, 5]],
  ['pitch_nm', [10, 50, 100]],
  ['tube_diameter_mm', [1]],
  ['inner_radius_mm', [1]],
  ['outer_radius_mm', [1]],
  ['spread_gsd', [0.01]],
  ['source_gsd', [0.01]],
  ['spread_cv', [0.005, 0.02]],
  ['shape_factor', [0.01, 0.05]],
  ['charges', [0.1, 1]],
  ['wire_charge', [1, 10]],
  ['share', [0.01, 0.1]],
  ['efficiency', [0.01, 0.1]],
  ['H2', [0.05, 0.25]],
  ['N2', [0.05, 0.25]],
  ['Ar', [0.05, 0.25]],
  ['He', [0.05, 0.25]],
]);

/** Names whose steps are factors. */
const FACTOR_NAMES = new Set(['concentration_per_cm3', 'wires']);

/**
 * The steps of a field.
 * @param {string} path
 * @param {Settings} settings
 * @param {SetPoint | undefined} point
 * @param {number} value now, in the unit of the job
 * @returns {StepOf[]}
 */
export function stepsOf(path, settings, point, value) {
  const name = lastName(path);
  const unit = jobUnit(path);
  if (FACTOR_NAMES.has(name)) return [1.1, 2].map((times) => ({ times, text: `× ${times}` }));
  if (name === 'carriers_per_cm3') return [{ decade: [1, 2, 3, 5, 7], text: 'one step' }];
  const chosen = chosenUnit(unit, settings);
  const added = (/** @type {number} */ add) => ({
    add,
    text: `${setPointText(dusted(add * chosen.factor))}${chosen.unit ? `\u00a0${chosen.unit}` : ''}`,
  });
  if (unit === 'sccm' || unit === 'slm') return flowSteps(point, value, unit).map(added);
  if (unit === 'mbar') return pressureSteps(settings).map(added);
  const named = STEPS_BY_NAME.get(name);
  if (named) return named.map(added);
  if (unit === '°C') return [1, 5, 20].map(added);
  const steps = STEPS_BY_UNIT.get(unit);
  if (steps) return steps.map(added);
  const size = nice125(Math.abs(value) / 20 || 1);
  return [size, dusted(size * 5)].map(added);
}

/**
 * 1-2-5 number next to full scale / 200, / 40, / 10; and 1 % of reading.
 * @param {SetPoint | undefined} point
 * @param {number} value
 * @param {string} unit
 */
function flowSteps(point, value, unit) {
  const full = point ? point.max : Math.max(Math.abs(value) * 2, unit === 'slm' ? 1 : 10);
  const steps = full > 0 ? [full / 200, full / 40, full / 10].map(nice125) : [1, 5, 20];
  const reading = point && point.value > 0 ? Number((point.value / 100).toPrecision(2)) : 0;
  return reading > 0 && !steps.includes(reading) ? [...steps, reading] : steps;
}

/** @param {Settings} settings */
function pressureSteps(settings) {
  if (settings.pressure === 'Torr') return [TORR, 5 * TORR, 20 * TORR];
  return settings.pressure === 'Pa' ? [1, 5, 20] : [1, 5, 20];
}

/**
 * A value one step on. Adding and taking away return to the same number.
 * @param {number} value
 * @param {StepOf} step
 * @param {1 | -1} sign
 * @returns {number}
 */
export function stepped(value, step, sign) {
  if (step.add !== undefined) return dusted(value + sign * step.add);
  if (step.times !== undefined) return Number((sign > 0 ? value * step.times : value / step.times).toPrecision(6));
  return nextOfDecade(value, step.decade ?? [1], sign);
}

/**
 * @param {number} value
 * @param {number[]} mantissas
 * @param {1 | -1} sign
 */
function nextOfDecade(value, mantissas, sign) {
  const exponent = Math.floor(Math.log10(value) + 1e-9);
  const all = [-1, 0, 1].flatMap((shift) => mantissas.map((mantissa) => Number(`${mantissa}e${exponent + shift}`)));
  const near = value * 1e-9;
  return sign > 0
    ? (all.find((entry) => entry > value + near) ?? value)
    : (all.reverse().find((entry) => entry < value - near) ?? value);
}

/**
 * The sign of a step with its amount: "− 5 sccm", "+ 5 sccm", "÷ 2", "× 2".
 * @param {StepOf} step
 * @param {1 | -1} sign
 */
export function stepText(step, sign) {
  if (step.add !== undefined) return `${sign > 0 ? '+' : MINUS}\u00a0${step.text}`;
  if (step.times !== undefined) return `${sign > 0 ? '×' : '÷'}\u00a0${step.times}`;
  return sign > 0 ? 'one up' : 'one down';
}
