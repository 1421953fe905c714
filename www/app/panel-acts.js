/**
 * Changes of the line's make-up: stages, zones, feeds, collector, classifier. Each is asked of the core and is one undo
 * step.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').Job} Job
 */
import { withValue } from './store.js';
import { stageName } from './names.js';
import { askedChange } from './edit.js';

/**
 * @param {Context} ctx
 * @param {string} act `what:stage:number`
 */
export function panelAct(ctx, act) {
  const [what, ...numbers] = act.split(':');
  const [index, number] = numbers.map(Number);
  const { job } = ctx.store.state;
  const change = PANEL_ACTS[/** @type {keyof typeof PANEL_ACTS} */ (what)]?.(job, index, number);
  if (!change) return;
  const [label, next, place] = change;
  void askedChange(ctx, label, next).then((taken) => {
    if (taken && place !== undefined) ctx.store.act.select({ part: 'stage', stage: place, zone: null });
  });
}

/**
 * The list at a place of the job with one entry taken out, or put in.
 * @param {any[]} list
 * @param {number} at
 * @param {number} remove
 * @param {...any} add
 */
function spliced(list, at, remove, ...add) {
  const copy = [...list];
  copy.splice(at, remove, ...add);
  return copy;
}

/**
 * A job whose full scales are those of the paths it has: a path that moved would keep another controller's.
 * @param {Job} job
 * @param {(path: string) => string | null} moved where a path has gone to; null: it is no more
 */
function movedScales(job, moved) {
  let next = job;
  for (const key of ['limits', 'instruments']) {
    const table = key === 'limits' ? job.limits : job.instruments?.full_scale_sccm;
    if (!table || typeof table !== 'object') continue;
    /** @type {[string, any][]} */
    const kept = [];
    for (const [path, value] of Object.entries(table)) {
      const to = moved(path);
      if (to !== null) kept.push([to, value]);
    }
    next = withValue(next, key === 'limits' ? 'limits' : 'instruments.full_scale_sccm', Object.fromEntries(kept));
  }
  return next;
}

/**
 * Paths behind a stage, or a feed of it, that was put in or taken out.
 * @param {string} head `stages` or `stages[1].feeds`
 * @param {number} at
 * @param {1 | -1} by
 * @returns {(path: string) => string | null}
 */
function shiftedBy(head, at, by) {
  return (path) => {
    if (!path.startsWith(`${head}[`)) return path;
    const end = path.indexOf(']', head.length);
    const index = Number(path.slice(head.length + 1, end));
    if (by < 0 && index === at) return null;
    return index >= at ? `${head}[${index + by}${path.slice(end)}` : path;
  };
}

/** @type {Record<string, (job: Job, index: number, number: number) => [string, Job, number?] | null>} */
const PANEL_ACTS = {
  'stage-add': (job, index) => {
    const old = job.stages[index];
    const stage = { ...old, name: `${stageName(job, index)} 2`, feeds: (old.feeds ?? []).map((/** @type {any} */ feed) => ({ ...feed })) };
    const segments = job.order?.segments;
    let next = movedScales(job, shiftedBy('stages', index + 1, 1));
    next = withValue(next, 'stages', spliced(job.stages, index + 1, 0, stage));
    if (segments) next = withValue(next, 'order.segments', spliced(segments, index + 1, 0, null));
    return [`Add a stage behind ${stageName(job, index)}`, next, index + 1];
  },
  'stage-remove': (job, index) => {
    if (job.stages.length < 2) return null;
    let next = movedScales(job, shiftedBy('stages', index, -1));
    next = withValue(next, 'stages', spliced(job.stages, index, 1));
    if (job.order?.segments) next = withValue(next, 'order.segments', spliced(job.order.segments, index, 1));
    return [`Remove ${stageName(job, index)}`, next, Math.max(index - 1, 0)];
  },
  'zone-add': (job, index) => {
    const zones = job.stages[index].zones ?? [];
    const last = zones[zones.length - 1];
    return [`${stageName(job, index)}: add a zone`, withValue(job, `stages[${index}].zones`, [...zones, { ...last }])];
  },
  'zone-remove': (job, index) => {
    const zones = job.stages[index].zones ?? [];
    if (zones.length < 2) return null;
    return [`${stageName(job, index)}: remove zone ${zones.length}`, withValue(job, `stages[${index}].zones`, zones.slice(0, -1))];
  },
  'wall-profile': (job, index) => {
    const { zones, blend_mm: _blend, flange_c: flange, ...stage } = job.stages[index];
    if (!zones) return null;
    const points = [{ z_mm: 0, wall_c: flange ?? stage.inlet_c }];
    let z = 0;
    for (const zone of zones) {
      points.push({ z_mm: z + zone.length_mm / 2, wall_c: zone.wall_c });
      z += zone.length_mm;
    }
    points.push({ z_mm: z, wall_c: flange ?? stage.inlet_c });
    return [`${stageName(job, index)}: measured wall`, withValue(job, `stages[${index}]`, { ...stage, profile: points })];
  },
  'wall-zones': (job, index) => {
    const { profile, ...stage } = job.stages[index];
    if (!profile) return null;
    const length = profile[profile.length - 1].z_mm;
    const middle = profile[Math.floor(profile.length / 2)].wall_c;
    return [`${stageName(job, index)}: zones`, withValue(job, `stages[${index}]`, { ...stage, zones: [{ length_mm: length, wall_c: middle }] })];
  },
  'feed-remove': (job, index, number) => {
    const { feeds } = job.stages[index];
    const next = movedScales(job, shiftedBy(`stages[${index}].feeds`, number, -1));
    return [`${stageName(job, index)}: remove ${feeds[number].precursor}`, withValue(next, `stages[${index}].feeds`, spliced(feeds, number, 1))];
  },
  'collector-on': (job) => ['Add a collector', withValue(job, 'collector', { kind: 'filter' })],
  'collector-plate': (job) => ['Collector: plate', withValue(job, 'collector', { kind: 'plate', plate_area_cm2: 100, gap_mm: 10, voltage_v: 1000, wire_charge: 1 })],
  'collector-filter': (job) => ['Collector: filter', withValue(job, 'collector', { kind: 'filter' })],
  'collector-liquid': (job) => ['Collector: liquid', withValue(job, 'collector', { kind: 'liquid' })],
  'collector-off': (job) => ['Leave the collector out', withValue(job, 'collector', undefined)],
  'electrometer-on': (job) => ['Count by an electrometer', withValue(withValue(job, 'seeds.concentration_per_cm3', undefined), 'seeds.electrometer', { current_fa: 500, flow_sccm: 300 })],
  'electrometer-off': (job) => ['Give the number of seeds', withValue(withValue(job, 'seeds.electrometer', undefined), 'seeds.concentration_per_cm3', 1e6)],
  'classifier-on': (job) => {
    const { mobility_diameter_nm: diameter, spread_gsd: _, ...seeds } = job.seeds;
    const classifier = { inner_radius_mm: 25, outer_radius_mm: 33, length_mm: 110, sheath_slm: 10, aerosol_slm: job.aerosol_sccm / 1000, temperature_c: 22, voltage_v: 1000, source_median_nm: diameter ?? 50, source_gsd: 1.5 };
    return ['Sort by a classifier', withValue(withValue(job, 'seeds', seeds), 'classifier', classifier)];
  },
  'classifier-off': (job) => {
    const seeds = { ...job.seeds, mobility_diameter_nm: job.classifier?.source_median_nm ?? 50, spread_gsd: 1.05 };
    return ['Give the sizes', withValue(withValue(job, 'classifier', undefined), 'seeds', seeds)];
  },
};

/**
 * A feed more: the precursors that the core knows are asked of it, by a name that it cannot know.
 * @param {Context} ctx
 * @param {number} index
 * @returns {Promise<string[]>}
 */
export async function knownPrecursors(ctx, index) {
  const { job } = ctx.store.state;
  const feeds = job.stages[index].feeds ?? [];
  const answer = await ctx.call('check_job', [withValue(job, `stages[${index}].feeds`, [...feeds, { precursor: '?', flow_sccm: 1, share: 1 }])]);
  const fault = answer.faults?.find((one) => one.path.endsWith('.precursor'));
  return fault ? fault.accepted.split(/,\s*|\s+or\s+/).filter(Boolean) : [];
}

/**
 * @param {Context} ctx
 * @param {number} index
 * @param {string} precursor
 */
export function addFeed(ctx, index, precursor) {
  const { job } = ctx.store.state;
  const feeds = job.stages[index].feeds ?? [];
  const kinds = [
    { precursor, flow_sccm: 1, share: 1 },
    { precursor, bubbler: { bath_c: 20, bath_mbar: job.pressure_mbar, carrier_sccm: 10 } },
  ];
  const label = `${stageName(job, index)}: add ${precursor}`;
  const path = `stages[${index}].feeds`;
  // The core says whether it comes from a bath or a cylinder: the first that it takes.
  void ctx.call('check_job', [withValue(job, path, [...feeds, kinds[1]])]).then((answer) => {
    void askedChange(ctx, label, withValue(job, path, [...feeds, answer.ok ? kinds[1] : kinds[0]]));
  });
}
