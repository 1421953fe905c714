/**
 * A wire cut across, to scale: the core filled by its doping, around it what later stages laid on its side.
 */
import { setProps, setText, show } from '../dom.js';
import { dopingFill, px1, sv } from '../svg.js';

/**
 * @typedef {object} Cut
 * @property {number} across nm, coat included
 * @property {number} coat nm, thickness of the coat
 * @property {number | null} depleted nm from the side, null where it is not known
 * @property {'p' | 'i' | 'n' | null} doping of the core
 * @property {'p' | 'i' | 'n' | null} coating of the outermost coat
 */

/** @returns {{root: SVGGElement, draw: (cut: Cut, place: {x: number, y: number, scale: number, size: number}) => void}} scale: px a nm */
export function sectionMark() {
  const coat = sv('circle', { class: 'body' });
  const core = sv('circle', { class: 'body' });
  const shell = sv('circle', { class: 'depleted' });
  const ground = sv('rect');
  const letter = sv('text');
  return {
    root: sv('g', {}, coat, core, shell, ground, letter),
    draw(cut, { x, y, scale, size }) {
      const outer = (cut.across / 2) * scale;
      const inner = Math.max(0, (cut.across / 2 - cut.coat) * scale);
      const place = { cx: px1(x), cy: px1(y) };
      setProps(coat, { ...place, r: px1(outer), fill: dopingFill(cut.coating ?? cut.doping) });
      setProps(core, { ...place, r: px1(inner), fill: dopingFill(cut.doping) });
      show(shell, cut.depleted !== null && cut.depleted > 0);
      if (cut.depleted !== null) setProps(shell, { ...place, r: px1(Math.max(0, inner - cut.depleted * scale)) });
      const half = size * 0.75;
      show(ground, cut.doping !== null && inner > half * 1.3);
      show(letter, cut.doping !== null && inner > half * 1.3);
      setProps(ground, { x: px1(x - half), y: px1(y - half), width: px1(2 * half), height: px1(2 * half), rx: 3, class: `ground ${cut.doping}` });
      setProps(letter, { x: px1(x), y: px1(y + size * 0.35), class: `t b c on-${cut.doping}` });
      setText(letter, cut.doping ?? '');
    },
  };
}
