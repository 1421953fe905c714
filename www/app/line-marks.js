/**
 * The marks of one stage in the line drawing: tube, seeds, walls, tracks, wire so far. Built once, then only set.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./line-layout.js').Column} Column
 * @typedef {import('./line-layout.js').LineLayout} LineLayout
 *
 * @typedef {object} Scales one for all stages
 * @property {number} hottest end of the temperature axis, °C
 * @property {number} nm end of the length axis
 * @property {number} every s between seeds
 */
import { keepLength, setAttribute, setText, show } from './dom.js';
import { capPath, dopingFill, fittedText, label, linePath, px1, sv, textWidth } from './svg.js';
import { decimals, lengthText, placed, setPointText, shareText, triangle } from './numbers.js';
import { formula, stageName } from './names.js';
import { shownTemperature, shownValue } from './units.js';
import { atPlace, groupThree } from './line-layout.js';

/**
 * @param {SVGElement} svg
 * @param {number} zones
 */
export function stageMarks(svg, zones) {
  const frame = sv('rect', { class: 'chosen', rx: 8 });
  const name = label(0, 0, '', 'h');
  const feeds = label(0, 0, '', 'm');
  const arrow = sv('path', { class: 'arrow' });
  const tube = sv('path', { class: 'tube-end' });
  const pair = sv('path', { class: 'seeded' });
  const dots = sv('g', { class: 'seeds' });
  const bars = Array.from({ length: zones }, () => zoneMarks());
  const left = label(0, 0, '', 'm c');
  const heat = heatMarks();
  const grown = grownMarks();
  const wire = wireMarks();
  svg.append(frame, heat.root, grown.root, tube, pair, dots, arrow, name, feeds, left, wire.root, ...bars.map((bar) => bar.root));
  /** @type {SVGCircleElement[]} */
  const circles = [];
  return {
    /**
     * @param {Column} column
     * @param {LineLayout} layout
     * @param {Scales} scales
     * @param {State} state
     * @param {Result} result
     */
    draw(column, layout, scales, state, result) {
      const { f, head } = layout;
      const stage = state.job.stages[column.stage];
      const report = result.report?.stages?.[column.stage];
      const profile = report?.profile;
      show(frame, column.selected && !layout.phone);
      place(frame, column.x + 1, 1.5, column.width - 4, layout.height - 3);
      const room = column.width - 22 * f;
      write(name, column.x + 12 * f, 24 * f, layout.phone ? '' : fittedText(stageName(state.job, column.stage), room, 18 * f, true));
      const feedsAt = layout.phone ? 18 * f : 46 * f;
      write(feeds, layout.phone ? layout.ruler + 8 * f : column.x + 12 * f, feedsAt, feedWords(stage, column.stage, state, room, 14 * f));
      const middle = column.tube + column.bore / 2;
      const inlet = column.up ? atPlace(layout, column, 0) + 10 * f : head - 10 * f;
      const down = column.up ? -1 : 1;
      setAttribute(arrow, 'd', `M${px1(middle)} ${px1(inlet - 8 * down)}v${14 * down}m-5 ${-6 * down}l5 ${7 * down}l5 ${-7 * down}`);
      const bottom = head + column.length * layout.mm;
      setAttribute(tube, 'd', `M${px1(column.tube)} ${px1(head)}V${px1(bottom)}M${px1(column.tube + column.bore)} ${px1(head)}V${px1(bottom)}`);
      drawSeeds(pair, dots, circles, column, layout, profile, scales.every, stage);
      bars.forEach((bar, index) => bar.draw(index, column, layout, state));
      const share = leaving(result, column.stage, state);
      const below = bottom + (column.up ? 33 : 18) * f;
      const words = share === null ? '' : `${shareText(share)} left`;
      // From the tube's middle, but never into the number at its right.
      const half = textWidth(words, 14 * f) / 2;
      write(left, column.grown ? Math.min(middle, Math.max(column.grown.x + column.grown.width - 46 * f - half, column.x + 8 * f + half)) : middle, below, words);
      heat.draw(column, layout, scales, state, result);
      grown.draw(column, layout, scales, result);
      wire.draw(column, layout, state, result);
    },
  };
}

/** @typedef {ReturnType<typeof stageMarks>} StageMarks */

/**
 * @param {SVGTextElement} node
 * @param {number} x
 * @param {number} y
 * @param {string} text
 */
function write(node, x, y, text) {
  setAttribute(node, 'x', px1(x));
  setAttribute(node, 'y', px1(y));
  setText(node, text);
}

/**
 * @param {SVGElement} rect
 * @param {number} x
 * @param {number} y
 * @param {number} width
 * @param {number} height
 */
function place(rect, x, y, width, height) {
  setAttribute(rect, 'x', px1(x));
  setAttribute(rect, 'y', px1(y));
  setAttribute(rect, 'width', px1(Math.max(width, 0)));
  setAttribute(rect, 'height', px1(Math.max(height, 0)));
}

/**
 * Share of group III left in the gas at the outlet.
 * @param {Result} result
 * @param {number} stage
 * @param {State} state
 * @returns {number | null}
 */
export function leaving(result, stage, state) {
  const name = groupThree(result.job ?? state.job, result.report);
  const row = result.report?.stages?.[stage]?.balance?.find((/** @type {any} */ one) => one.species === name);
  return row ? row.leaving : null;
}

/**
 * What is added to a stage: "+ TMIn 52, PH₃ 10 sccm"; as many as fit, then how many more.
 * @param {any} stage
 * @param {number} index
 * @param {State} state
 * @param {number} room px
 * @param {number} size px
 * @returns {string}
 */
export function feedWords(stage, index, state, room, size) {
  const path = (/** @type {any} */ feed) => (feed.bubbler ? 'feeds.bubbler.carrier_sccm' : 'feeds.flow_sccm');
  const amount = (/** @type {any} */ feed) => (feed.bubbler ? feed.bubbler.carrier_sccm : (feed.flow_sccm ?? 0));
  const unit = shownValue('carrier_sccm', 0, state.settings).unit;
  const parts = (stage.feeds ?? []).map((/** @type {any} */ feed) => `${formula(feed.precursor)} ${shownValue(path(feed), amount(feed), state.settings).text}`);
  const plus = index > 0 ? '+ ' : '';
  if (parts.length === 0) return 'no feed';
  for (let shown = parts.length; shown > 0; shown -= 1) {
    const more = shown < parts.length ? `, +${parts.length - shown}` : ` ${unit}`;
    const text = plus + parts.slice(0, shown).join(', ') + more;
    if (fittedText(text, room, size) === text) return text;
  }
  return fittedText(`${plus}${parts.length} feeds`, room, size);
}

/**
 * The broken pair of the seeded core, and a dot for each seed on its way.
 * @param {SVGElement} pair
 * @param {SVGElement} dots
 * @param {SVGCircleElement[]} circles
 * @param {Column} column
 * @param {LineLayout} layout
 * @param {any} profile
 * @param {number} every s
 * @param {any} stage
 */
function drawSeeds(pair, dots, circles, column, layout, profile, every, stage) {
  const middle = column.tube + column.bore / 2;
  if (!profile) {
    setAttribute(pair, 'd', '');
    keepLength(dots, circles, 0, () => sv('circle'));
    return;
  }
  const scale = column.bore / stage.tube_diameter_mm;
  const ys = profile.z_mm.map((/** @type {number} */ z) => atPlace(layout, column, z));
  const side = (/** @type {number} */ sign) => linePath(profile.core_radius_mm.map((/** @type {number} */ r) => middle + sign * Math.min(r * scale, column.bore / 2)), ys);
  setAttribute(pair, 'd', side(-1) + side(1));
  const places = seedPlaces(profile, every, column.length);
  keepLength(dots, circles, places.length, () => sv('circle', { r: 3.4 }));
  places.forEach((z, index) => {
    setAttribute(circles[index], 'cx', px1(middle));
    setAttribute(circles[index], 'cy', px1(atPlace(layout, column, z)));
  });
}

/**
 * Where a seed is every so many seconds, mm.
 * @param {any} profile
 * @param {number} every
 * @param {number} length
 * @returns {number[]}
 */
function seedPlaces(profile, every, length) {
  const { z_mm: zs, seed_time_s: times } = profile;
  const places = [];
  let at = 0;
  // At most 200 seeds: the interval is chosen so that far fewer are drawn.
  for (let seed = 0; seed < 200; seed += 1) {
    const time = seed * every;
    while (at < times.length - 1 && times[at + 1] < time) at += 1;
    if (at >= times.length - 1 || time > times[times.length - 1]) break;
    const span = times[at + 1] - times[at];
    const z = zs[at] + (span > 0 ? ((time - times[at]) / span) * (zs[at + 1] - zs[at]) : 0);
    if (z < length) places.push(z);
  }
  return places;
}

/** One zone: a bar on either side, its set-point beside it, its change since the pin. */
function zoneMarks() {
  const bars = sv('path', { class: 'wall' });
  const value = label(0, 0, '', 'w e');
  const change = label(0, 0, '', 'b e');
  return {
    root: sv('g', {}, bars, value, change),
    /**
     * @param {number} index
     * @param {Column} column
     * @param {LineLayout} layout
     * @param {State} state
     */
    draw(index, column, layout, state) {
      const zone = column.zones[index];
      const ends = [atPlace(layout, column, zone.from), atPlace(layout, column, zone.to)];
      const top = Math.min(...ends) + 1.5;
      const bottom = Math.max(...ends) - 1.5;
      const { tube, bore, stage } = column;
      setAttribute(bars, 'd', `M${px1(tube - 3)} ${px1(top)}V${px1(bottom)}M${px1(tube + bore + 3)} ${px1(top)}V${px1(bottom)}`);
      const pinned = state.pin?.job.stages[stage]?.zones?.[index]?.wall_c;
      const changed = zone.wall !== null && typeof pinned === 'number' && pinned !== zone.wall;
      const touched = column.selected && state.place.part === 'stage' && state.place.zone === index;
      setAttribute(bars, 'class', changed || touched ? 'wall changed' : 'wall');
      const middle = (top + bottom) / 2;
      const { f } = layout;
      const low = bottom - top < 20 * f;
      // A measured wall says its hottest point.
      const measured = state.job.stages[stage].profile?.map((/** @type {any} */ point) => point.wall_c) ?? [0];
      const text = shownValue('wall_c', zone.wall ?? Math.max(...measured), state.settings).text;
      setAttribute(value, 'class', low || zone.wall === null ? 't e' : 't w e');
      // A zone too thin for its number has it in the panel.
      write(value, tube - 11 * f, middle + (changed && !low ? 0 : 6 * f), bottom - top < 13 * f ? '' : text);
      const moved = changed ? (zone.wall ?? 0) - pinned : 0;
      write(change, tube - 11 * f, middle + 17 * f, changed && !low ? `${triangle(moved)}\u00a0${setPointText(Math.abs(moved))}` : '');
    },
  };
}

/** The temperature track of the selected stage: wall thick, gas where the seeds fly thin, both broken as pinned. */
function heatMarks() {
  const grid = sv('path', { class: 'hair' });
  const axis = label(0, 0, '', 'm');
  const ticks = [label(0, 0, '', 'm c'), label(0, 0, '', 'm c')];
  const pinned = sv('path', { class: 'curve pinned-curve' });
  const wall = sv('path', { class: 'curve thick' });
  const gas = sv('path', { class: 'curve' });
  const words = [label(0, 0, 'wall', 'm halo e'), label(0, 0, 'gas', 'm halo e')];
  const root = sv('g', {}, grid, axis, ...ticks, pinned, wall, gas, ...words);
  return {
    root,
    /**
     * @param {Column} column
     * @param {LineLayout} layout
     * @param {Scales} scales
     * @param {State} state
     * @param {Result} result
     */
    draw(column, layout, scales, state, result) {
      const track = column.heat;
      show(root, track !== null);
      if (!track) return;
      const { f } = layout;
      const bottom = layout.head + column.length * layout.mm;
      const shift = shownTemperature(0, state.settings);
      const x = (/** @type {number} */ celsius) => track.x + (celsius / scales.hottest) * track.width;
      write(axis, track.x, layout.head - 10 * f, shift.unit);
      const marks = [scales.hottest / 2, scales.hottest];
      setAttribute(grid, 'd', [0, ...marks].map((celsius) => `M${px1(x(celsius))} ${px1(layout.head)}V${px1(bottom)}`).join(''));
      const roomy = track.width > 2.4 * textWidth('5000', 14 * f);
      marks.forEach((celsius, index) => write(ticks[index], x(celsius), bottom + 18 * f, index === 1 || roomy ? decimals(celsius + shift.value, 0) : ''));
      const profile = result.report?.stages?.[column.stage]?.profile;
      const before = result.pin && result.pin !== result.report ? result.pin.stages?.[column.stage]?.profile : null;
      const curve = (/** @type {any} */ from, /** @type {string} */ field) =>
        from ? linePath(from[field].map(x), from.z_mm.map((/** @type {number} */ z) => atPlace(layout, column, z))) : '';
      setAttribute(wall, 'd', curve(profile, 'wall_c'));
      setAttribute(gas, 'd', curve(profile, 'seeds_c'));
      setAttribute(pinned, 'd', curve(before, 'wall_c'));
      for (const word of words) show(word, !!profile && column.length * layout.mm > 90 * f);
      if (!profile) return;
      heatWords(words, profile, column, layout, x);
    },
  };
}

/**
 * Labels on their curves: gas where it lags most behind the wall, wall in the middle.
 * @param {SVGTextElement[]} words
 * @param {any} profile
 * @param {Column} column
 * @param {LineLayout} layout
 * @param {(celsius: number) => number} x
 */
function heatWords(words, profile, column, layout, x) {
  const { f } = layout;
  const count = profile.z_mm.length;
  const near = Math.min(Math.round(count * 0.08), count - 1);
  const far = Math.min(Math.round(count * 0.62), count - 1);
  [far, near].forEach((at, index) => {
    const text = index === 0 ? 'wall' : 'gas';
    const xs = [x(profile.wall_c[at]), x(profile.seeds_c[at])];
    const left = Math.min(...xs) - 8 * f;
    const fits = left - textWidth(text, 14 * f) >= column.tube + column.bore + 9 * f;
    setAttribute(words[index], 'class', fits ? 't m halo e' : 't m halo');
    write(words[index], fits ? left : Math.max(...xs) + 8 * f, atPlace(layout, column, profile.z_mm[at]) + 5 * f, text);
  });
}

/** The length track: nm grown here against z, filled by doping, broken as pinned. */
function grownMarks() {
  const axis = label(0, 0, '', 'm e');
  const base = sv('path', { class: 'axis' });
  const area = sv('path', { class: 'grown' });
  const pinned = sv('path', { class: 'curve pinned-curve' });
  const value = label(0, 0, '', 'b e');
  const root = sv('g', {}, base, area, pinned, axis, value);
  return {
    root,
    /**
     * @param {Column} column
     * @param {LineLayout} layout
     * @param {Scales} scales
     * @param {Result} result
     */
    draw(column, layout, scales, result) {
      const { f } = layout;
      const track = column.grown;
      const segment = result.report?.wires?.segments?.[column.stage];
      const bottom = layout.head + column.length * layout.mm;
      const text = segment ? `${placed(segment.length_nm.mean, segment.length_nm.sd)}${track ? '' : ' nm'}` : '';
      setAttribute(value, 'class', track ? 't b e' : 't b c');
      if (track) write(value, track.x + track.width, bottom + (column.up ? 33 : 18) * f, text);
      else write(value, column.tube + column.bore / 2, bottom + 37 * f, text);
      for (const node of [base, area, pinned, axis]) show(node, track !== null);
      if (!track) return;
      const narrow = track.width < 84 * f;
      write(axis, track.x + track.width, layout.head - 10 * f, narrow ? 'nm' : 'nm grown');
      setAttribute(base, 'd', `M${px1(track.x)} ${px1(layout.head)}V${px1(bottom)}`);
      const shape = (/** @type {any} */ report) => {
        const profile = report?.stages?.[column.stage]?.profile;
        if (!profile) return '';
        const start = profile.length_nm_mean[0];
        const xs = profile.length_nm_mean.map((/** @type {number} */ nm) => track.x + (Math.max(nm - start, 0) / scales.nm) * track.width);
        return linePath(xs, profile.z_mm.map((/** @type {number} */ z) => atPlace(layout, column, z)));
      };
      const drawn = shape(result.report);
      const ends = [atPlace(layout, column, column.length), atPlace(layout, column, 0)];
      setAttribute(area, 'd', drawn ? `${drawn}L${px1(track.x)} ${px1(ends[0])}L${px1(track.x)} ${px1(ends[1])}Z` : '');
      setAttribute(area, 'fill', dopingFill(segment?.doping));
      setAttribute(pinned, 'd', result.pin && result.pin !== result.report ? shape(result.pin) : '');
    },
  };
}

/** The wire so far, true to scale, one scale for all stages. */
function wireMarks() {
  const parts = sv('g');
  const cap = sv('path', { class: 'cap thin' });
  const words = label(0, 0, '', 'm');
  /** @type {SVGRectElement[]} */
  const rects = [];
  return {
    root: sv('g', {}, parts, cap, words),
    /**
     * @param {Column} column
     * @param {LineLayout} layout
     * @param {State} state
     * @param {Result} result
     */
    draw(column, layout, state, result) {
      const wires = result.report?.wires;
      const segments = wires?.segments?.slice(0, column.stage + 1) ?? [];
      const thick = Math.max((wires?.diameter_nm?.tip?.mean ?? 60) * layout.nm, 2.5);
      keepLength(parts, rects, segments.length, () => sv('rect', { class: 'segment thin' }));
      const start = (layout.phone ? layout.ruler : column.x) + 12 * layout.f;
      let x = start;
      segments.forEach((/** @type {any} */ segment, /** @type {number} */ index) => {
        const width = segment.length_nm.mean * layout.nm;
        place(rects[index], x, layout.foot - thick / 2, width, thick);
        setAttribute(rects[index], 'fill', dopingFill(segment.doping));
        x += width;
      });
      const angle = state.job.kinetics?.seed?.contact_angle_deg;
      setAttribute(cap, 'd', segments.length > 0 ? capPath(x, layout.foot, thick / 2, typeof angle === 'number' ? angle : 115) : '');
      const total = segments.reduce((/** @type {number} */ sum, /** @type {any} */ segment) => sum + segment.length_nm.mean, 0);
      const last = column.stage === state.job.stages.length - 1;
      const roomy = column.width > 150 * layout.f;
      const text = segments.length === 0 ? '' : roomy ? `${last ? 'whole wire' : 'wire so far'} ${microns(total)}` : microns(total);
      write(words, start, layout.foot + 24 * layout.f, text);
    },
  };
}

/** @param {number} nm */
function microns(nm) {
  return nm >= 1000 ? `${decimals(nm / 1000, 2)}\u00a0µm` : lengthText(nm);
}
