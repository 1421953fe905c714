/**
 * A recipe in a QR code: shorter than in a link, so that the modules are large enough for a lens.
 *
 * The words that every job repeats stand as one control character each, which JSON itself never holds; then the text is
 * deflated without a header (RFC 1951), as in a link. From a file the code is a text in Base45 (RFC 9285), whose 45
 * characters a QR code packs most densely; from a served page it is a link that ends in decimal digits, which it packs as
 * densely and no address can spoil. The example with its kinetics and limits takes version 18 or 19 either way.
 */
import { deflated, fragmentText, inflated } from './link.js';

/** Characters of Base45, in the order of their values (RFC 9285, table 1). */
const BASE45 = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';

/** What a code of a recipe begins with; the digits after it are which part this is, and of how many. */
const CODE_MARK = 'WIRE';

/**
 * Words of a job that one character stands for, from U+0001 on; JSON writes such characters only escaped, so none can be
 * mistaken. The order is part of the code: words may be added at the end, never moved.
 */
const SHORT_WORDS = [
  '"precursor":"', '"bubbler":{"bath_c":', ',"bath_mbar":', ',"carrier_sccm":', ',"flow_sccm":', ',"share":',
  '"length_mm":', ',"wall_c":', '","tube_diameter_mm":', ',"inlet_c":', ',"flange_c":', ',"zones":[{', ',"blend_mm":',
  ',"feeds":[{', '"length_nm":', ',"tolerance_nm":', ',"doping":"', '","carriers_per_cm3":', ',"activation_kj_per_mol":',
  '_probability":', 'stages[', '].zones[', '].feeds[', '].bubbler.carrier_sccm":', '"reference_', '{"min":', ',"max":',
  ',"step":', '"full_scale_sccm":{', '},{', '"}]',
];

/** Longer passages, each behind U+007F and a letter: they come once, but cost much. */
const SHORT_PASSAGES = [
  '{"format":"wire-growth-job/1","title":"', '","note":"', '"carrier":{"', '},"pressure_mbar":', ',"material":"',
  '","seeds":{"metal":"', '"mobility_diameter_nm":', ',"spread_gsd":', ',"concentration_per_cm3":', ',"aerosol_sccm":',
  ',"stages":[{"name":"', ',"kinetics":{"reference":{"temperature_c":', ',"group_iii_pa":', ',"v_iii":', ',"diameter_nm":',
  '"axial":{"rate_um_per_s":', ',"group_iii_order":', ',"v_iii_half":', ',"critical_diameter_nm":',
  '"supply":{"sticking":', ',"collection_length_nm":', '"radial":{"rate_nm_per_s":', '"seed":{"group_iii_share":',
  ',"contact_angle_deg":', '"pyrolysis":{"frequency_per_s":', '"wall":{"parent_probability":', ',"fragment_probability":',
  ',"group_v_probability":', ',"dopant_probability":', '"dopants":{"', ',"limit_per_cm3":', ',"memory_diameters":',
  'per_cm3":', 'ratio":', '"order":', '"uncertainty":{"axial":{"', '"segments":[{', '"area_cm2":', ',"pitch_nm":',
  '"instruments":{', '"flow_percent_of_reading":', ',"flow_percent_of_full_scale":', '"thermocouple_c":',
  '"transport":{"thermal_diffusion":', '"classifier":{', '"collector":{', '"limits":{', '"profile":[{', '"z_mm":',
  '"correlation":[', '"diameter_tolerance_nm":', '"spread_cv":',
];

/**
 * Bytes in Base45 (RFC 9285, section 4): two bytes as three characters, a last one as two.
 * @param {Uint8Array} bytes
 */
export function toBase45(bytes) {
  let text = '';
  for (let place = 0; place < bytes.length; place += 2) {
    const pair = place + 1 < bytes.length;
    let rest = pair ? bytes[place] * 256 + bytes[place + 1] : bytes[place];
    for (let digit = 0; digit < (pair ? 3 : 2); digit += 1) {
      text += BASE45[rest % 45];
      rest = Math.floor(rest / 45);
    }
  }
  return text;
}

/**
 * The bytes of Base45; throws where it is not.
 * @param {string} text
 */
export function fromBase45(text) {
  const bytes = [];
  for (let place = 0; place < text.length; place += 3) {
    const group = text.slice(place, place + 3);
    let value = 0;
    for (let digit = group.length - 1; digit >= 0; digit -= 1) {
      const of = BASE45.indexOf(group[digit]);
      if (of < 0) throw new RangeError('not Base45');
      value = value * 45 + of;
    }
    if (group.length === 1 || value > (group.length === 3 ? 65535 : 255)) throw new RangeError('not Base45');
    if (group.length === 3) bytes.push(value >> 8);
    bytes.push(value & 255);
  }
  return Uint8Array.from(bytes);
}

/** A job's text without the white space between its parts. @param {string} text */
const compactJob = (text) => JSON.stringify(JSON.parse(text));

/** @param {string} text */
function shortCode(text) {
  // U+007F may stand bare in a title; its escape means the same to JSON.
  let short = text.replaceAll('\u007f', '\\u007f');
  SHORT_PASSAGES.forEach((passage, place) => {
    short = short.replaceAll(passage, '\u007f' + String.fromCharCode(0x41 + place));
  });
  SHORT_WORDS.forEach((word, place) => {
    short = short.replaceAll(word, String.fromCharCode(place + 1));
  });
  return short;
}

/** @param {string} short */
function longCode(short) {
  // One pass, so what a character stands for is never read again.
  return short.replace(/\u007f([\s\S])|[\u0001-\u001f]/g, (found, letter) => {
    const word = letter === undefined ? SHORT_WORDS[found.charCodeAt(0) - 1] : SHORT_PASSAGES[letter.charCodeAt(0) - 0x41];
    if (word === undefined) throw new RangeError('not a recipe of this page');
    return word;
  });
}

/**
 * A job as the fragment of a link that is to be a QR code: `#code=` and decimal digits.
 * @param {string} text  the job file
 */
export async function jobCodeFragment(text) {
  const bytes = await deflated(shortCode(compactJob(text)));
  let hex = '0x1';
  for (const byte of bytes) hex += byte.toString(16).padStart(2, '0');
  return '#code=' + BigInt(hex).toString();
}

/** @param {string} digits */
function bytesOfDigits(digits) {
  const hex = BigInt(digits).toString(16);
  // The leading 1 keeps bytes of 0 at the front; without it this is no code of ours.
  if (hex[0] !== '1' || hex.length % 2 !== 1) throw new RangeError('not a recipe of this page');
  return Uint8Array.from(hex.slice(1).match(/../g) ?? [], (pair) => parseInt(pair, 16));
}

/**
 * The job file in the fragment of a link that came from a code, `#code=…`.
 * @param {string} fragment as `location.hash`
 * @returns {Promise<string | null>} null where it holds none; rejects where it is damaged
 */
export async function codeFragmentText(fragment) {
  const found = /^#code=(\d{1,9999})$/.exec(fragment);
  return found ? longCode(await inflated(bytesOfDigits(found[1]))) : null;
}

/**
 * The job file in the fragment of an address, as a link or a code writes it.
 * @param {string} fragment as `location.hash`
 * @returns {Promise<string | null>} null where it holds none; rejects where it is damaged
 */
export async function addressText(fragment) {
  return (await fragmentText(fragment)) ?? codeFragmentText(fragment);
}

/**
 * A job as the text of one code, or of several numbered ones.
 * @param {string} text  the job file
 * @param {number} most  most characters of one code
 * @returns {Promise<string[]>}
 */
export async function jobToCodes(text, most) {
  const body = toBase45(await deflated(shortCode(compactJob(text))));
  const mark = CODE_MARK.length + 4;
  const count = Math.max(1, Math.ceil(body.length / (most - mark)));
  // Whole groups of three, none of which ends in a space that pasting would lose.
  const each = 3 * Math.ceil(body.length / count / 3);
  return Array.from({ length: count }, (_, part) =>
    `${CODE_MARK}${part + 1}/${count}:${body.slice(part * each, (part + 1) * each)}`);
}

/**
 * What a code says of itself; null where it is none of ours.
 * @param {string} text
 * @returns {{ part: number, of: number, body: string } | null}
 */
export function codePart(text) {
  const found = new RegExp(`^\\s*${CODE_MARK}([1-9])/([1-9]):([0-9A-Z $%*+\\-./:]*)\\s*$`).exec(text);
  if (!found || Number(found[1]) > Number(found[2])) return null;
  // Those at the end came with the pasting.
  return { part: Number(found[1]), of: Number(found[2]), body: found[3].replace(/ +$/, '') };
}

/**
 * The job file in codes, all of them, in any order. Throws where they are damaged or one is missing.
 * @param {string[]} texts
 */
export async function jobFromCodes(texts) {
  const parts = texts.map(codePart);
  /** @type {string[]} */
  const bodies = [];
  let of = 0;
  for (const part of parts) {
    if (!part) throw new RangeError('not a code of a recipe');
    bodies[part.part - 1] = part.body;
    of = part.of;
  }
  if (bodies.filter((body) => body !== undefined).length !== of) throw new RangeError('a code is missing');
  return longCode(await inflated(fromBase45(bodies.join(''))));
}
