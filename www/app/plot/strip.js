/**
 * A wire along its length, to scale: a rectangle a segment, filled by its doping, the seed as a cap on the last.
 */
import { keepLength, setProps, setText, show } from '../dom.js';
import { capPath, dopingFill, px1, sv } from '../svg.js';
import { roomOfText } from './scale.js';

/**
 * @typedef {object} StripPart
 * @property {number} from px
 * @property {number} to px
 * @property {'p' | 'i' | 'n' | null} doping null: nothing is counted here, drawn empty and broken
 * @property {string} [letter] written on it where it has room: "p", "p 3.1 × 10¹⁸"
 *
 * @typedef {object} StripPlace
 * @property {number} y px of the axis of the wire
 * @property {number} height px, its diameter
 * @property {number} angle contact angle of the seed, degrees
 * @property {number} size px of the text
 */

/** Contact angle of the seed as the recipe has it, degrees; what a drawing takes where it is left to the built-in set. @param {any} job */
export const seedAngle = (job) => (typeof job?.kinetics?.seed?.contact_angle_deg === 'number' ? job.kinetics.seed.contact_angle_deg : 115);

/** @returns {{root: SVGGElement, draw: (parts: StripPart[], place: StripPlace) => void}} */
export function stripMark() {
  const bodies = sv('g');
  const letters = sv('g');
  const cap = sv('path', { class: 'seed' });
  /** @type {SVGRectElement[]} */
  const rects = [];
  /** @type {SVGGElement[]} */
  const words = [];
  return {
    root: sv('g', {}, bodies, cap, letters),
    draw(parts, { y, height, angle, size }) {
      keepLength(bodies, rects, parts.length, () => sv('rect'));
      keepLength(letters, words, parts.length, () => sv('g', {}, sv('rect'), sv('text')));
      parts.forEach((part, index) => {
        setProps(rects[index], {
          x: px1(part.from), y: px1(y - height / 2), width: px1(Math.max(0, part.to - part.from)), height: px1(height),
          fill: part.doping ? dopingFill(part.doping) : 'none', class: part.doping ? 'body' : 'body none',
        });
        stripLetter(words[index], part, y, height, size);
      });
      const last = parts[parts.length - 1];
      show(cap, Boolean(last));
      if (last) setProps(cap, { d: capPath(last.to, y, height / 2, angle) });
    },
  };
}

/**
 * The letter on a part, on a plain ground of the part's colour so that no pattern runs through it; above the wire where
 * the wire is too thin, left out where it is too short.
 * @param {SVGGElement} group
 * @param {StripPart} part
 * @param {number} y
 * @param {number} height
 * @param {number} size
 */
function stripLetter(group, part, y, height, size) {
  const [ground, text] = /** @type {[SVGRectElement, SVGTextElement]} */ (/** @type {unknown} */ ([...group.children]));
  const room = part.to - part.from;
  const full = part.letter ?? part.doping ?? '';
  const word = roomOfText(full, size) + 12 <= room ? full : (part.doping ?? '');
  const inside = height >= size + 1;
  const width = roomOfText(word, size) + 8;
  const middle = (part.from + part.to) / 2;
  show(group, word !== '' && width <= room);
  show(ground, inside);
  setProps(ground, {
    x: px1(middle - width / 2), y: px1(y - height / 2 + 1), width: px1(width), height: px1(Math.max(0, height - 2)), class: `ground ${part.doping}`,
  });
  setProps(text, { x: px1(middle), y: px1(inside ? y + size * 0.35 : y - height / 2 - 5), class: inside ? `t b c on-${part.doping}` : 't b c' });
  setText(text, word);
}
