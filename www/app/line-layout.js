/**
 * Where everything of the line drawing stands, in px. No element is touched here.
 *
 * Stages stand side by side in the order of flow on one mm ruler; the selected one is 1.62 times as wide and carries the
 * temperature track. With over four stages the others drop the length track.
 *
 * @typedef {import('./store.js').Job} Job
 *
 * @typedef {object} Column
 * @property {number} stage
 * @property {boolean} selected
 * @property {boolean} up gas flows upwards
 * @property {number} x left edge
 * @property {number} width
 * @property {number} tube left edge of the tube
 * @property {number} bore width of the tube
 * @property {number} length of the tube, mm
 * @property {{x: number, width: number} | null} heat temperature track
 * @property {{x: number, width: number} | null} grown length track
 * @property {{from: number, to: number, wall: number | null}[]} zones mm and °C; one of the whole tube behind a measured profile
 *
 * @typedef {object} LineLayout
 * @property {number} width
 * @property {number} height
 * @property {number} f size of a rem against 16 px
 * @property {number} ruler width of the ruler
 * @property {number} head px above the tubes
 * @property {number} mm px per mm along the tube
 * @property {number} factor how much wider than to scale tubes are
 * @property {number} nm px per nm of the wire so far
 * @property {number} foot y of the wire so far
 * @property {number} longest mm
 * @property {boolean} phone
 * @property {Column[]} columns
 */
import { textWidth } from './svg.js';
import { valueAt } from './store.js';

/** How much wider the selected stage is. */
const SELECTED_WIDTH = 1.62;

/**
 * Length of a stage's tube, mm.
 * @param {any} stage of the job
 * @returns {number}
 */
export function tubeLength(stage) {
  if (Array.isArray(stage.profile)) return stage.profile[stage.profile.length - 1]?.z_mm ?? 0;
  return (stage.zones ?? []).reduce((/** @type {number} */ sum, /** @type {any} */ zone) => sum + zone.length_mm, 0);
}

/**
 * @param {any} stage
 * @returns {Column['zones']}
 */
function zonesOf(stage) {
  if (!Array.isArray(stage.zones)) return [{ from: 0, to: tubeLength(stage), wall: null }];
  let from = 0;
  return stage.zones.map((/** @type {any} */ zone) => {
    const to = from + zone.length_mm;
    const placed = { from, to, wall: zone.wall_c };
    from = to;
    return placed;
  });
}

/**
 * @param {Job} job
 * @param {number} selected stage
 * @param {{width: number, height: number, f: number, phone: boolean, total: number}} room total: length of the wire, nm
 * @returns {LineLayout}
 */
export function lineLayout(job, selected, room) {
  const { width, height, f, phone, total } = room;
  const shown = phone ? [selected] : job.stages.map((/** @type {any} */ _, /** @type {number} */ index) => index);
  const ruler = phone ? 44 * f : Math.max(62 * f, textWidth('seeds', 18 * f, true) + 14 * f);
  const head = (phone ? 54 : 84) * f;
  const foot = height - 40 * f;
  const longest = Math.max(...job.stages.map(tubeLength), 10);
  const units = phone ? 1 : Math.max(shown.length - 1 + SELECTED_WIDTH, 2.6);
  const unit = (width - ruler) / units;
  // Without length tracks the length stands on a second line below the tube.
  const slim = !phone && (unit < 150 * f || shown.length > 4);
  const mm = Math.max(height - head - (slim ? 104 : 82) * f, 40) / (phone ? Math.max(tubeLength(job.stages[selected]), 10) : longest);
  const widest = Math.max(...job.stages.map((/** @type {any} */ stage) => stage.tube_diameter_mm), 1);
  const factor = Math.min(4, (phone ? 54 * f : unit * 0.3) / (widest * mm));
  let x = ruler;
  const columns = shown.map((/** @type {number} */ stage) => {
    const isSelected = stage === selected;
    const columnWidth = isSelected && !phone ? unit * SELECTED_WIDTH : unit;
    const column = lineColumn(job.stages[stage], { stage, selected: isSelected, x, width: columnWidth, unit, factor, mm, f, phone, slim });
    x += columnWidth;
    return column;
  });
  const nm = Math.min(((phone ? width - ruler : unit) - 30 * f) / (Math.max(total, 1) * 1.06), 0.3);
  return { width, height, f, ruler, head, mm, factor, nm, foot, longest, phone, columns };
}

/**
 * @param {any} stage
 * @param {{stage: number, selected: boolean, x: number, width: number, unit: number, factor: number, mm: number, f: number, phone: boolean, slim: boolean}} at
 * @returns {Column}
 */
function lineColumn(stage, at) {
  const { f, slim } = at;
  const bore = stage.tube_diameter_mm * at.mm * at.factor;
  const tube = at.x + (slim ? 52 : 58) * f;
  const right = at.x + at.width - 14 * f;
  const left = tube + bore + 14 * f;
  let grownWidth = slim ? (at.selected ? 56 * f : 0) : Math.min(right - left - 2 * f, 150 * f);
  if (at.selected) grownWidth = Math.min(at.phone ? 112 * f : 140 * f, Math.max((right - left) * 0.42, 44 * f));
  const grown = grownWidth >= 26 * f ? { x: right - grownWidth, width: grownWidth } : null;
  const heatWidth = (grown ? grown.x : right) - left - 26 * f;
  const heat = at.selected && heatWidth >= 40 * f ? { x: left + 6 * f, width: heatWidth } : null;
  return {
    stage: at.stage,
    selected: at.selected,
    up: stage.flow === 'up',
    x: at.x,
    width: at.width,
    tube,
    bore,
    length: tubeLength(stage),
    heat,
    grown,
    zones: zonesOf(stage),
  };
}

/**
 * px of a place along a tube: z runs with the gas, so an up-flow tube is drawn from below.
 * @param {LineLayout} layout
 * @param {Column} column
 * @param {number} z mm from the inlet
 * @returns {number}
 */
export function atPlace(layout, column, z) {
  return layout.head + (column.up ? column.length - z : z) * layout.mm;
}

/**
 * The group III precursor of a job: what the balance calls first among what is fed.
 * @param {Job} job
 * @param {import('./store.js').Report | null} report
 * @returns {string}
 */
export function groupThree(job, report) {
  const named = valueAt(report, 'stages[0].balance[0].species');
  return typeof named === 'string' ? named : (job.stages[0]?.feeds?.[0]?.precursor ?? 'group III');
}
