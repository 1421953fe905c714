/**
 * Numbers as they are read: the same digits, powers and blanks as on the command line (core/src/number.rs).
 *
 * A value is written to the place of its standard uncertainty at two digits (JCGM 100:2008, 7.2.6), or with three digits
 * where it has none. Minus is −, a power of ten is × 10ⁿ, five digits and more are parted by a thin space.
 */

export const MINUS = '−';
const THIN_SPACE = '\u2009';
/** Holds a value and its unit on one line. */
export const NARROW = '\u00a0';
const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/**
 * 10^power as it is exact in a double.
 * @param {number} power 0 to 22
 */
function tenTo(power) {
  return Number(`1e${power}`);
}

/**
 * value · 10^power, the power taken in exact steps.
 * @param {number} value
 * @param {number} power
 */
function scaledBy(value, power) {
  let left = Math.abs(power);
  let scaled = value;
  for (let round = 0; round < 16 && left > 0; round += 1) {
    const step = Math.min(left, 22);
    scaled = power < 0 ? scaled / tenTo(step) : scaled * tenTo(step);
    left -= step;
  }
  return scaled;
}

/**
 * Power of ten of the first digit once the value is rounded to `digits`: 999.6 to three digits has 3.
 * @param {number} value
 * @param {number} digits
 */
export function roundedExponent(value, digits) {
  let exponent = Math.floor(Math.log10(Math.abs(value)));
  const first = scaledBy(Math.abs(value), -exponent);
  if (first < 1) exponent -= 1;
  else if (first >= 10) exponent += 1;
  const kept = scaledBy(Math.abs(value), digits - 1 - exponent);
  return Math.round(kept) >= tenTo(digits) ? exponent + 1 : exponent;
}

/**
 * A whole number, parted by thin spaces from five digits on.
 * @param {string} digits
 */
function grouped(digits) {
  if (digits.length < 5) return digits;
  return digits.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE);
}

/**
 * A value with a fixed number of decimals: 120, 3.1, −0.05.
 * @param {number} value
 * @param {number} places decimals, 0 to 12
 * @returns {string}
 */
export function decimals(value, places) {
  if (!Number.isFinite(value)) return '–';
  const unit = tenTo(places);
  const rounded = Math.round(Math.abs(value) * unit);
  if (rounded >= 1e18) return digitsOf(value, 3);
  const whole = BigInt(rounded);
  const parts = BigInt(unit);
  const sign = value < 0 && rounded > 0 ? MINUS : '';
  const head = grouped(String(whole / parts));
  return places > 0 ? `${sign}${head}.${String(whole % parts).padStart(places, '0')}` : sign + head;
}

/**
 * A whole number in superscript digits.
 * @param {number} number
 */
function raised(number) {
  return (number < 0 ? '⁻' : '') + [...String(Math.abs(number))].map((digit) => RAISED[Number(digit)]).join('');
}

/**
 * A value with a number of significant digits: 1028, 60.4, 0.0312, 3.02 × 10¹⁸.
 * @param {number} value
 * @param {number} digits 1 to 15
 * @returns {string}
 */
export function digitsOf(value, digits) {
  if (!Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const exponent = roundedExponent(value, digits);
  if (exponent >= -3 && exponent < 5) return decimals(value, Math.max(digits - 1 - exponent, 0));
  return `${decimals(scaledBy(value, -exponent), digits - 1)} × 10${raised(exponent)}`;
}

/** @param {number} value @returns {string} three digits */
export function three(value) {
  return digitsOf(value, 3);
}

/** @param {number} value @returns {string} two digits */
export function two(value) {
  return digitsOf(value, 2);
}

/**
 * Decimals that show a spread at two digits, at most six.
 * @param {number} spread
 * @returns {number}
 */
export function placesOf(spread) {
  return Math.min(Math.max(1 - roundedExponent(spread, 2), 0), 6);
}

/**
 * A value to the place of its spread or uncertainty at two digits: 1028 beside ± 64; three digits where it has none.
 * @param {number} value
 * @param {number | null | undefined} spread
 * @returns {string}
 */
export function placed(value, spread) {
  return spread !== null && spread !== undefined && Number.isFinite(spread) && spread > 0
    ? decimals(value, placesOf(spread))
    : three(value);
}

/**
 * The spread itself at two digits: ± 64.
 * @param {number | null | undefined} spread
 * @returns {string} empty where there is none
 */
export function plusMinus(spread) {
  if (spread === null || spread === undefined || !Number.isFinite(spread) || spread <= 0) return '';
  return `± ${decimals(spread, placesOf(spread))}`;
}

/**
 * A length with its unit: 1028 nm, 12.34 µm from 10 000 nm.
 * @param {number} nm
 * @returns {string}
 */
export function lengthText(nm) {
  return Math.abs(nm) < 9999.5 ? `${three(nm)}${NARROW}nm` : `${decimals(nm / 1000, 2)}${NARROW}µm`;
}

/**
 * A share in per cent at two digits: 2.9 %, 14 %, 100 %.
 * @param {number} share 0 to 1
 * @returns {string}
 */
export function shareText(share) {
  const percent = share * 100;
  if (Math.abs(percent) < 0.01) return percent === 0 ? `0${NARROW}%` : `under 0.01${NARROW}%`;
  return `${two(percent)}${NARROW}%`;
}

/**
 * A chance for the lot: whole "n in 100", "less than 1 in 100", "over 99 in 100".
 * @param {number} chance 0 to 1
 * @returns {string}
 */
export function chanceText(chance) {
  const whole = Math.round(chance * 100);
  if (whole < 1) return 'less than 1 in 100';
  if (whole > 99) return 'over 99 in 100';
  return `${whole} in 100`;
}

/**
 * A set-point: as few decimals as show it, at most four; very large and very small ones with their power of ten.
 * @param {number} value
 * @param {number} [step] what the instrument resolves; never more decimals than that
 * @returns {string}
 */
export function setPointText(value, step) {
  if (!Number.isFinite(value)) return '–';
  const size = Math.abs(value);
  if (size > 0 && (size >= 1e7 || size < 1e-3)) return powerText(value);
  const most = step && step > 0 && Number.isFinite(step) ? Math.min(Math.max(Math.ceil(-Math.log10(step) - 1e-9), 0) + 1, 4) : 4;
  for (let places = 0; places < most; places += 1) {
    const scaled = value * tenTo(places);
    if (Math.abs(scaled - Math.round(scaled)) <= 1e-9 * Math.abs(scaled)) return decimals(value, places);
  }
  return decimals(value, most);
}

/**
 * A set-point of any size: as few digits as show it, at most four, with its power of ten: 3 × 10¹⁸.
 * @param {number} value
 * @returns {string}
 */
export function powerText(value) {
  if (!Number.isFinite(value) || value === 0) return value === 0 ? '0' : '–';
  for (let digits = 1; digits < 4; digits += 1) {
    const exponent = roundedExponent(value, 4);
    const scaled = scaledBy(Math.abs(value), digits - 1 - exponent);
    if (Math.abs(scaled - Math.round(scaled)) <= 1e-9 * scaled) return digitsOf(value, digits);
  }
  return digitsOf(value, 4);
}

/**
 * A difference with its sign in front: "+ 8.5", "− 0.4"; "0" where nothing is left of it.
 * @param {number} value
 * @param {number | null} [spread] what gives the last place; three digits where there is none
 * @returns {string}
 */
export function signedText(value, spread = null) {
  const text = spread === null ? three(Math.abs(value)) : placed(Math.abs(value), spread);
  if (/^[0.]*$/.test(text)) return '0';
  return `${value < 0 ? MINUS : '+'}${NARROW}${text}`;
}

/**
 * Direction of a change: ▲, ▼ or nothing; direction only, never good or bad.
 * @param {number} difference
 * @returns {string}
 */
export function triangle(difference) {
  if (difference > 0) return '▲';
  return difference < 0 ? '▼' : '';
}

/**
 * A duration: 3.1 s, 4 min 10 s, 1 h 40 min.
 * @param {number} seconds
 * @returns {string}
 */
export function durationText(seconds) {
  if (!Number.isFinite(seconds)) return '–';
  if (seconds < 60) return `${two(seconds)}${NARROW}s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes}${NARROW}min ${Math.round(seconds % 60)}${NARROW}s`;
  const all = Math.round(seconds / 60);
  return `${grouped(String(Math.floor(all / 60)))}${NARROW}h ${all % 60}${NARROW}min`;
}

/**
 * Time of day, 24 h: 09:12.
 * @param {number} at ms since 1970
 * @returns {string}
 */
export function clockText(at) {
  const time = new Date(at);
  return `${String(time.getHours()).padStart(2, '0')}:${String(time.getMinutes()).padStart(2, '0')}`;
}
