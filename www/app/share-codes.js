/**
 * The QR codes of a recipe, and its check word. On a served page one code holds a link; from a file, and where a link
 * would be too large, the codes hold the recipe itself as numbered texts.
 *
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./qr.js').QrCode} QrCode
 *
 * @typedef {object} RecipeCodes
 * @property {Job} job
 * @property {QrCode[]} codes
 * @property {boolean} link whether the code is a link
 */
import { jobCodeFragment, jobToCodes } from './code.js';
import { qrCode, qrPath, qrRoom } from './qr.js';
import { sv } from './svg.js';

/** Largest version of a code: its modules are still wide enough on paper and on a phone. */
const MOST_VERSION = 20;

/** Modules of light around a code (ISO/IEC 18004, 6.3.8). */
export const QR_QUIET = 4;

/** Whether others can reach this page at its address. */
const servedPage = () => /^https?:$/.test(location.protocol);

/**
 * @param {Job} job
 * @returns {Promise<RecipeCodes>}
 */
export async function recipeCodes(job) {
  const text = JSON.stringify(job);
  if (servedPage()) {
    const code = qrCode(location.href.split('#')[0] + (await jobCodeFragment(text)), MOST_VERSION);
    if (code) return { job, codes: [code], link: true };
  }
  const texts = await jobToCodes(text, qrRoom(MOST_VERSION));
  return { job, link: false, codes: texts.flatMap((part) => qrCode(part, MOST_VERSION) ?? []) };
}

/**
 * A code as a picture: black on white in every light, each module a whole number of px on screen.
 * @param {QrCode} code
 * @param {string} name
 * @param {number} size width, px or as the style sets it
 */
export function codePicture(code, name, size) {
  const side = code.size + 2 * QR_QUIET;
  return sv('svg', { class: 'qr', role: 'img', 'aria-label': name, width: size, height: size, viewBox: `${-QR_QUIET} ${-QR_QUIET} ${side} ${side}`, 'shape-rendering': 'crispEdges' },
    sv('rect', { x: -QR_QUIET, y: -QR_QUIET, width: side, height: side, fill: '#fff' }),
    sv('path', { d: qrPath(code), fill: '#000' }));
}

/**
 * A word of eight hexadecimal digits by which two sheets or screens show that they hold the same recipe: FNV-1a over the
 * job without its title, note and order.
 * @param {Job} job
 */
export function checkWord(job) {
  const { title: _title, note: _note, order: _order, ...recipe } = job;
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(JSON.stringify(recipe))) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  const word = hash.toString(16).toUpperCase().padStart(8, '0');
  return `${word.slice(0, 4)}-${word.slice(4)}`;
}
