/**
 * The Line view: the tubes as they stand, side by side in the order of flow, to one scale; what grows in each.
 *
 * SVG over one canvas; over both lie plain buttons, one a stage, a zone, a head and the seeds, so that
 * fingers, keys and screen readers find them.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./line-layout.js').LineLayout} LineLayout
 * @typedef {import('./line-layout.js').Column} Column
 */
import { el, remPx, setAttribute, setText, show } from './dom.js';
import { label, px1, sv } from './svg.js';
import { decimals, lengthText, placed, setPointText, shareText } from './numbers.js';
import { capital, formula, stageName } from './names.js';
import { picture } from './view.js';
import { shownText, shownValue } from './units.js';
import { atPlace, groupThree, lineLayout, tubeLength } from './line-layout.js';
import { partTurn } from './turn.js';
import { drawGas } from './line-gas.js';
import { feedWords, leaving, stageMarks } from './line-marks.js';

/** Seconds between two seeds: the first that leaves them this many px apart. */
const SEED_TIMES = [0.1, 0.2, 0.5, 1, 2, 5, 10];
const SEEDS_APART = 16;

/** @type {ReturnType<typeof buildLine> | null} */
let lineParts = null;

/** @type {import('./view.js').View} */
export const lineView = {
  id: 'line',
  name: 'Line',
  question: 'what happens on the way?',
  build(root, ctx) {
    lineParts = buildLine(root, ctx);
  },
  draw(state, result) {
    lineParts?.draw(state, result);
  },
};

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
function buildLine(root, ctx) {
  const frame = picture('line', 'What happens on the way?', { wide: true });
  frame.root.classList.add('line-figure');
  frame.plot.setAttribute('role', 'group');
  const turn = partTurn(ctx, 'turn');
  const canvas = el('canvas', { 'aria-hidden': 'true' });
  const svg = sv('svg', { 'aria-hidden': 'true' });
  const hot = el('div', { class: 'hot' });
  frame.plot.append(canvas, svg, hot);
  const key = el('p', { class: 'key note' });
  const tables = el('button', { type: 'button', class: 'link', on: { click: () => ctx.store.act.set({ tables: !ctx.store.state.settings.tables }) } });
  const collector = el('button', { type: 'button', class: 'link', text: 'Collector', on: { click: () => ctx.store.act.select({ part: 'collector', zone: null, tab: 'walls' }) } });
  frame.foot.append(el('div', { class: 'key-line' }, key, tables, collector));
  root.append(turn.root, frame.root);
  // Sizes are told, not asked: asking in the middle of a drawing makes the browser lay out the page twice.
  let size = { width: 0, height: 0 };
  new ResizeObserver(([entry]) => {
    const { width, height } = entry.contentRect;
    if (width < 40 || height < 40 || (width === size.width && height === size.height)) return;
    size = { width, height };
    ctx.redraw();
  }).observe(frame.plot);
  let shape = '';
  let gasKey = '';
  /** @type {import('./store.js').Report | null} */
  let gasReport = null;
  let marks = baseMarks(svg);
  /** @type {import('./line-marks.js').StageMarks[]} */
  let stages = [];
  const spots = hotSpots(hot, ctx);
  return {
    /**
     * @param {State} state
     * @param {Result} result
     */
    draw(state, result) {
      turn.draw(state);
      setText(tables, state.settings.tables ? 'Look at the drawing' : 'Read as a table');
      drawTable(frame, state, result);
      if (size.width === 0) size = { width: frame.plot.clientWidth, height: frame.plot.clientHeight };
      if (size.width < 40 || size.height < 40) return;
      const layout = lineLayout(state.job, state.place.stage, {
        ...size,
        f: remPx() / 16,
        phone: window.innerWidth <= 600,
        total: result.report?.wires?.length_nm?.mean ?? 2000,
      });
      const now = JSON.stringify(layout.columns.map((column) => [column.stage, column.zones.length]));
      if (now !== shape) {
        shape = now;
        svg.textContent = '';
        marks = baseMarks(svg);
        stages = layout.columns.map((column) => stageMarks(svg, column.zones.length));
        spots.build(layout.columns);
      }
      setAttribute(svg, 'width', px1(layout.width));
      setAttribute(svg, 'height', px1(layout.height));
      const scales = lineScales(state, result, layout);
      marks.draw(layout, state);
      layout.columns.forEach((column, index) => stages[index].draw(column, layout, scales, state, result));
      spots.draw(layout, state, result);
      const gas = JSON.stringify([layout.columns.map((column) => [column.tube, column.bore, column.length, column.up]), layout.width, layout.height, layout.mm, document.documentElement.dataset.light]);
      if (gas !== gasKey || result.report !== gasReport) {
        gasKey = gas;
        gasReport = result.report;
        drawGas(canvas, layout, result.report);
      }
      setText(key, keyWords(state, result, layout, scales.every));
      frame.say(`The line drawn to scale: ${state.job.stages.length} ${state.job.stages.length === 1 ? 'tube' : 'tubes'} in the order of flow.`);
    },
  };
}

/**
 * Ruler, and the words at its head.
 * @param {SVGElement} svg
 */
function baseMarks(svg) {
  const hairs = sv('path', { class: 'hair' });
  const unit = label(0, 0, 'mm', 'm e');
  const seeds = label(0, 0, 'seeds', 'h');
  const size = label(0, 0, '', 'm');
  const numbers = Array.from({ length: 9 }, () => label(0, 0, '', 'm e'));
  svg.append(hairs, unit, seeds, size, ...numbers);
  return {
    /**
     * @param {LineLayout} layout
     * @param {State} state
     */
    draw(layout, state) {
      const { f, ruler, head } = layout;
      const longest = layout.phone ? (layout.columns[0]?.length ?? layout.longest) : layout.longest;
      const step = [10, 20, 50, 100, 200, 500, 1000].find((mm) => mm * layout.mm >= 30 * f && longest / mm <= 8) ?? 2000;
      let d = '';
      numbers.forEach((number, index) => {
        const mm = index * step;
        const shown = mm <= longest + 1e-9;
        show(number, shown);
        if (!shown) return;
        const y = head + mm * layout.mm;
        d += hairAt(layout, y);
        setText(number, decimals(mm, 0));
        setAttribute(number, 'x', px1(ruler - 11 * f));
        setAttribute(number, 'y', px1(y + 5 * f));
      });
      setAttribute(hairs, 'd', d);
      setAttribute(unit, 'x', px1(ruler - 11 * f));
      setAttribute(unit, 'y', px1(head - 12 * f));
      for (const node of [seeds, size]) show(node, !layout.phone);
      setAttribute(seeds, 'x', 2);
      setAttribute(seeds, 'y', px1(24 * f));
      setAttribute(size, 'x', 2);
      setAttribute(size, 'y', px1(46 * f));
      const diameter = state.job.seeds?.mobility_diameter_nm;
      setText(size, typeof diameter === 'number' ? `${setPointText(diameter)}\u00a0nm` : 'sorted');
    },
  };
}

/**
 * A line across the drawing that goes behind the tubes.
 * @param {LineLayout} layout
 * @param {number} y
 */
function hairAt(layout, y) {
  let d = `M${px1(layout.ruler - 8 * layout.f)} ${px1(y)}`;
  for (const column of layout.columns) {
    if (y > layout.head + column.length * layout.mm + 1) continue;
    d += `H${px1(column.tube - 6)}M${px1(column.tube + column.bore + 6)} ${px1(y)}`;
  }
  return `${d}H${px1(layout.width)}`;
}

/**
 * One scale of each kind for all stages.
 * @param {State} state
 * @param {Result} result
 * @param {LineLayout} layout
 */
function lineScales(state, result, layout) {
  const reports = [result.report, result.pin].filter((report) => report?.stages?.length);
  let hottest = 0;
  let longest = 1;
  for (const report of reports) {
    for (const stage of report?.stages ?? []) for (const celsius of stage.profile.wall_c) hottest = Math.max(hottest, celsius);
    for (const segment of report?.wires?.segments ?? []) longest = Math.max(longest, segment.length_nm.mean);
  }
  const times = (result.report?.stages ?? []).map((/** @type {any} */ stage, /** @type {number} */ index) => ({
    time: stage.profile.seed_time_s[stage.profile.seed_time_s.length - 1],
    px: tubeLength(state.job.stages[index] ?? { zones: [] }) * layout.mm,
  }));
  const apart = (/** @type {number} */ every) => times.every((/** @type {any} */ one) => (one.px * every) / Math.max(one.time, 1e-9) >= SEEDS_APART);
  return { hottest: Math.max(500, Math.ceil(hottest / 100) * 100), nm: roomyEnd(longest), every: SEED_TIMES.find(apart) ?? 10 };
}

/**
 * An end of an axis that does not move at every step: the next of 1, 1.25, 1.6, 2, … × 10ⁿ.
 * @param {number} value
 */
function roomyEnd(value) {
  const power = 10 ** Math.floor(Math.log10(value));
  return power * ([1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.4, 8].find((factor) => power * factor >= value) ?? 10);
}

/**
 * @param {State} state
 * @param {Result} result
 * @param {LineLayout} layout
 * @param {number} every
 */
function keyWords(state, result, layout, every) {
  const gas = formula(groupThree(state.job, result.report));
  return `Fuller shade: more ${gas}. Dots: a seed every ${setPointText(every)} s. Broken: pin, and where seeds fly. Tubes drawn ${layout.factor.toFixed(1)} × as wide.`;
}

/**
 * Buttons over the drawing. One of them is in the tab order; arrows go from one to the next.
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
function hotSpots(root, ctx) {
  /** @typedef {{node: HTMLButtonElement, stage: number, zone: number | null, kind: 'seeds' | 'stage' | 'zone' | 'head'}} Spot */
  /** @type {Spot[]} */
  let spots = [];
  /** @type {Spot | null} */
  let current = null;
  const press = (/** @type {Spot} */ spot, /** @type {boolean} */ byKey) => {
    current = spot;
    const { act } = ctx.store;
    if (spot.kind === 'seeds') act.select({ part: 'seeds', zone: null, tab: 'walls' });
    else if (spot.kind === 'zone') act.select({ part: 'stage', stage: spot.stage, zone: spot.zone, tab: 'walls' });
    else if (spot.kind === 'head') act.select({ part: 'stage', stage: spot.stage, zone: null, tab: 'feeds' });
    else act.select({ part: 'stage', stage: spot.stage, zone: null });
    // By key the panel is gone to; by finger the eye stays on the drawing.
    if (byKey) requestAnimationFrame(() => focusPanel(spot.kind === 'zone' ? `stages[${spot.stage}].zones[${spot.zone}].wall_c` : ''));
  };
  const add = (/** @type {Spot['kind']} */ kind, /** @type {number} */ stage, /** @type {number | null} */ zone) => {
    const node = el('button', { type: 'button', class: `spot ${kind}` });
    const spot = { node, stage, zone, kind };
    node.addEventListener('click', (event) => press(spot, event.detail === 0));
    node.addEventListener('focus', () => {
      current = spot;
      for (const one of spots) one.node.tabIndex = one === spot ? 0 : -1;
    });
    root.append(node);
    spots.push(spot);
  };
  root.addEventListener('keydown', (event) => {
    const next = current && neighbour(spots, current, event.key);
    if (!next) return;
    event.preventDefault();
    next.node.focus();
  });
  return {
    /** @param {Column[]} columns */
    build(columns) {
      root.textContent = '';
      spots = [];
      add('seeds', 0, null);
      for (const column of columns) {
        add('stage', column.stage, null);
        add('head', column.stage, null);
        column.zones.forEach((_, zone) => add('zone', column.stage, zone));
      }
      current = spots[1] ?? null;
    },
    /**
     * @param {LineLayout} layout
     * @param {State} state
     * @param {Result} result
     */
    draw(layout, state, result) {
      for (const spot of spots) {
        const column = layout.columns.find((one) => one.stage === spot.stage);
        if (column) placeSpot(spot, column, layout);
        setAttribute(spot.node, 'aria-label', spotName(spot, state, result));
        setAttribute(spot.node, 'aria-pressed', spotChosen(spot, state));
        spot.node.tabIndex = spot === current ? 0 : -1;
      }
    },
  };
}

/** @typedef {{node: HTMLButtonElement, stage: number, zone: number | null, kind: string}} HotSpot */

/**
 * @param {string} path row to be focused; empty: the panel
 */
export function focusPanel(path) {
  const panel = document.getElementById('panel');
  const row = path ? panel?.querySelector(`[data-path="${path}"] [role="spinbutton"]`) : null;
  const target = row ?? panel?.querySelector('.panel-rows [role="spinbutton"], .panel-rows button') ?? panel;
  if (target instanceof HTMLElement) target.focus();
}

/**
 * @param {HotSpot[]} spots
 * @param {HotSpot} current
 * @param {string} key
 * @returns {HotSpot | null}
 */
function neighbour(spots, current, key) {
  const order = ['seeds', ...new Set(spots.filter((spot) => spot.kind === 'stage').map((spot) => spot.stage))];
  const group = (/** @type {HotSpot} */ spot) => (spot.kind === 'seeds' ? spot.kind : spot.stage);
  const first = (/** @type {string | number} */ of) => spots.find((spot) => group(spot) === of) ?? null;
  const at = order.indexOf(group(current));
  if (key === 'ArrowRight') return at < order.length - 1 ? first(order[at + 1]) : null;
  if (key === 'ArrowLeft') return at > 0 ? first(order[at - 1]) : null;
  if (key !== 'ArrowDown' && key !== 'ArrowUp') return null;
  const inside = spots.filter((spot) => group(spot) === group(current));
  return inside[inside.indexOf(current) + (key === 'ArrowDown' ? 1 : -1)] ?? null;
}

/**
 * @param {HotSpot} spot
 * @param {Column} column
 * @param {LineLayout} layout
 */
function placeSpot(spot, column, layout) {
  const { f } = layout;
  /** @type {[number, number, number, number]} */
  let at = [column.x + 1, 1, column.width - 4, layout.height - 2];
  if (spot.kind === 'seeds') at = [0, 0, layout.ruler - 4, 58 * f];
  else if (spot.kind === 'head') at = [column.x + 4, 3, column.width - 10, 54 * f];
  else if (spot.kind === 'zone' && spot.zone !== null) {
    const zone = column.zones[spot.zone];
    const ends = [atPlace(layout, column, zone.from), atPlace(layout, column, zone.to)];
    const top = Math.min(...ends);
    at = [column.x + 4, top, column.tube + column.bore + 10 * f - column.x - 4, Math.abs(ends[1] - ends[0])];
  }
  if (layout.phone && (spot.kind === 'head' || spot.kind === 'stage')) {
    at = spot.kind === 'head' ? [layout.ruler, 0, layout.width - layout.ruler, 30 * f] : [0, 0, layout.width, layout.height];
  }
  show(spot.node, !(layout.phone && (spot.kind === 'seeds' || spot.kind === 'stage')));
  const [left, top, width, height] = at;
  const style = `left:${px1(left)}px;top:${px1(top)}px;width:${px1(width)}px;height:${px1(height)}px`;
  setAttribute(spot.node, 'style', style);
}

/**
 * @param {HotSpot} spot
 * @param {State} state
 * @returns {'true' | 'false'}
 */
function spotChosen(spot, state) {
  const { part, stage, zone, tab } = state.place;
  if (spot.kind === 'seeds') return part === 'seeds' ? 'true' : 'false';
  if (part !== 'stage' || stage !== spot.stage) return 'false';
  if (spot.kind === 'zone') return zone === spot.zone ? 'true' : 'false';
  return spot.kind === 'head' && tab !== 'feeds' ? 'false' : 'true';
}

/**
 * @param {HotSpot} spot
 * @param {State} state
 * @param {Result} result
 */
function spotName(spot, state, result) {
  const { job, settings } = state;
  if (spot.kind === 'seeds') return 'Seeds: set-points';
  const stage = job.stages[spot.stage];
  const name = stageName(job, spot.stage);
  if (spot.kind === 'head') return `${name}, feeds: ${feedWords(stage, spot.stage, state, 1e6, 14)}`;
  if (spot.kind === 'zone' && spot.zone !== null) {
    const zone = stage.zones?.[spot.zone];
    if (!zone) return `${name}, measured wall`;
    const pinned = state.pin?.job.stages[spot.stage]?.zones?.[spot.zone]?.wall_c;
    const moved = typeof pinned === 'number' && pinned !== zone.wall_c ? `, pinned at ${shownText('wall_c', pinned, settings)}` : '';
    return `${name}, zone ${spot.zone + 1}, ${shownText('wall_c', zone.wall_c, settings)}${moved}`;
  }
  return stageSentence(spot.stage, state, result);
}

/**
 * A stage in one sentence: "Absorber, 550 mm down, walls 440, 440, 440 °C, TMIn 82 % left, 1245 nm grown, starts at 60 mm".
 * @param {number} index
 * @param {State} state
 * @param {Result} result
 * @returns {string}
 */
function stageSentence(index, state, result) {
  const facts = stageFacts(index, state, result);
  const parts = [capital(facts.name), facts.tube, `walls ${facts.walls}`, facts.left, facts.grown && `${facts.grown} grown`, facts.start && `starts at ${facts.start}`];
  return parts.filter(Boolean).join(', ');
}

/**
 * @param {number} index
 * @param {State} state
 * @param {Result} result
 */
function stageFacts(index, state, result) {
  const stage = state.job.stages[index];
  const walls = (stage.zones ?? []).map((/** @type {any} */ zone) => shownValue('wall_c', zone.wall_c, state.settings).text);
  const segment = result.report?.wires?.segments?.[index];
  const profile = result.report?.stages?.[index]?.profile;
  const share = leaving(result, index, state);
  const gas = formula(groupThree(state.job, result.report));
  const begins = profile ? profile.z_mm.find((/** @type {number} */ _, /** @type {number} */ at) => profile.length_nm_mean[at] - profile.length_nm_mean[0] > 1) : undefined;
  return {
    name: stageName(state.job, index),
    tube: `${setPointText(tubeLength(stage))} mm ${stage.flow === 'up' ? 'up' : 'down'}`,
    walls: walls.length > 0 ? `${walls.join(', ')} ${shownValue('wall_c', 0, state.settings).unit}` : 'as measured',
    gas,
    left: share === null ? '' : `${gas} ${shareText(share)} left`,
    share,
    grown: segment ? `${placed(segment.length_nm.mean, segment.length_nm.sd)} nm` : '',
    start: begins === undefined ? '' : `${decimals(begins, 0)} mm`,
    feeds: feedWords(stage, index, state, 1e6, 14),
    total: segment ? lengthText(segment.start_nm + segment.length_nm.mean) : '',
  };
}

/**
 * @param {import('./view.js').Picture} frame
 * @param {State} state
 * @param {Result} result
 */
function drawTable(frame, state, result) {
  if (!state.settings.tables) return;
  const rows = state.job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => {
    const facts = stageFacts(index, state, result);
    return [facts.name, facts.feeds, facts.tube, facts.walls, facts.share === null ? '' : shareText(facts.share), facts.start, facts.grown, facts.total];
  });
  const gas = formula(groupThree(state.job, result.report));
  frame.table(['Stage', 'Added', 'Tube', 'Walls', `${gas} left`, 'Growth starts at', 'Grown', 'Wire so far'], rows);
}
