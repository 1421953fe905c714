/**
 * The fill of the tubes: how much group III is left in the gas, over radius and length; fuller is more. One canvas under
 * the drawing.
 *
 * @typedef {import('./line-layout.js').LineLayout} LineLayout
 * @typedef {import('./store.js').Report} Report
 */
import { atPlace } from './line-layout.js';

/** Px across a tube in the small picture that is then stretched. */
const ACROSS = 32;
/** Opacity of what has not lost anything. */
const FULL = 0.92;

/** @type {Map<number, {canvas: HTMLCanvasElement, profile: object | null, ink: string}>} small pictures by stage */
const gasPictures = new Map();

/**
 * @param {HTMLCanvasElement} canvas
 * @param {LineLayout} layout
 * @param {Report | null} report
 */
export function drawGas(canvas, layout, report) {
  const ratio = Math.min(window.devicePixelRatio || 1, 2);
  const width = Math.round(layout.width * ratio);
  const height = Math.round(layout.height * ratio);
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
    canvas.style.width = `${layout.width}px`;
    canvas.style.height = `${layout.height}px`;
  }
  const pen = canvas.getContext('2d');
  if (!pen) return;
  const { ink, ground } = gasColours(canvas);
  pen.setTransform(ratio, 0, 0, ratio, 0, 0);
  pen.clearRect(0, 0, layout.width, layout.height);
  const chosen = layout.columns.find((column) => column.selected);
  if (chosen && !layout.phone) {
    // The ground of the selected stage lies under its gas.
    pen.fillStyle = ground;
    pen.beginPath();
    pen.roundRect(chosen.x + 1, 1.5, chosen.width - 4, layout.height - 3, 8);
    pen.fill();
  }
  for (const column of layout.columns) {
    const profile = report?.stages?.[column.stage]?.profile;
    if (!profile) continue;
    const picture = gasPicture(column.stage, profile, ink);
    const top = atPlace(layout, column, column.up ? column.length : 0);
    pen.save();
    if (column.up) {
      pen.translate(0, 2 * top + column.length * layout.mm);
      pen.scale(1, -1);
    }
    pen.imageSmoothingEnabled = true;
    pen.drawImage(picture, column.tube, top, column.bore, column.length * layout.mm);
    pen.restore();
  }
}

let gasLight = '';
let gasKnown = { ink: '', ground: '' };

/**
 * The colours of the light that is chosen.
 * @param {Element} node
 */
function gasColours(node) {
  const light = document.documentElement.dataset.light ?? '';
  if (light !== gasLight) {
    const style = getComputedStyle(node);
    gasLight = light;
    gasKnown = { ink: style.getPropertyValue('--gas').trim(), ground: style.getPropertyValue('--sheet').trim() };
  }
  return gasKnown;
}

/**
 * @param {number} stage
 * @param {Record<string, any>} profile
 * @param {string} ink `#rrggbb`
 * @returns {HTMLCanvasElement}
 */
function gasPicture(stage, profile, ink) {
  let kept = gasPictures.get(stage);
  if (!kept) {
    kept = { canvas: document.createElement('canvas'), profile: null, ink: '' };
    gasPictures.set(stage, kept);
  }
  const { canvas } = kept;
  if (kept.profile === profile && kept.ink === ink) return canvas;
  kept.profile = profile;
  kept.ink = ink;
  const rows = profile.group_iii_left.share.length;
  canvas.width = ACROSS;
  canvas.height = Math.max(rows, 1);
  const pen = canvas.getContext('2d');
  if (!pen) return canvas;
  const image = pen.createImageData(ACROSS, canvas.height);
  const colour = /^#[0-9a-f]{6}$/i.test(ink) ? [1, 3, 5].map((at) => Number.parseInt(ink.slice(at, at + 2), 16)) : [90, 111, 123];
  for (let row = 0; row < rows; row += 1) gasRow(image.data, row, profile.group_iii_left, colour);
  pen.putImageData(image, 0, 0);
  return canvas;
}

/**
 * One row of the picture: the share at each distance from the axis, between rings by a straight line.
 * @param {Uint8ClampedArray} pixels
 * @param {number} row
 * @param {{r_mm: number[][], share: number[][]}} left
 * @param {number[]} ink
 */
function gasRow(pixels, row, left, ink) {
  const radii = left.r_mm[row] ?? [];
  const shares = left.share[row] ?? [];
  const outer = radii[radii.length - 1] ?? 1;
  let ring = 0;
  for (let step = 0; step < ACROSS / 2; step += 1) {
    const radius = ((step + 0.5) / (ACROSS / 2)) * outer;
    while (ring < radii.length - 1 && radii[ring + 1] < radius) ring += 1;
    const next = Math.min(ring + 1, radii.length - 1);
    const span = radii[next] - radii[ring];
    const part = span > 0 ? Math.min(Math.max((radius - radii[ring]) / span, 0), 1) : 0;
    const share = shares[ring] + (shares[next] - shares[ring]) * part;
    const alpha = Math.min(Math.max(share, 0), 1) * FULL * 255;
    for (const column of [ACROSS / 2 + step, ACROSS / 2 - 1 - step]) {
      const at = 4 * (row * ACROSS + column);
      [pixels[at], pixels[at + 1], pixels[at + 2]] = ink;
      pixels[at + 3] = alpha;
    }
  }
}
