/**
 * All that the page knows: what the user set (`state`) and what the core answered (`result`).
 *
 * One direction: an action of `store.act` changes the state, the worker is asked, its answer changes the result, the
 * views are drawn from both. Nothing else holds a number. A job is never changed in place: a change makes a new one that
 * shares what it did not touch, so two jobs are the same recipe if they are the same object.
 *
 * @typedef {Record<string, any>} Job the job file as an object, full scales written out (`job-file` format 1)
 * @typedef {Record<string, any>} Report the report as the command line's `--json`, field names carry their unit
 *
 * @typedef {object} Fault
 * @property {string} path of the field; empty for the job as a whole
 * @property {string} value as typed; empty if there is none
 * @property {string} [reason] goes on behind the value: "is below absolute zero"
 * @property {string} accepted "-50 to 1000 °C"
 * @property {string} text the whole sentence
 *
 * @typedef {object} SetPoint what an instrument can be set to; from `check_job`
 * @property {string} path
 * @property {string} kind flow, bath, wall, pressure, voltage
 * @property {string} unit of the job
 * @property {number} value
 * @property {number} min
 * @property {number} max
 * @property {number} step
 * @property {string} above why it does not take more; the limit is to follow
 * @property {string} below why it does not take less
 * @property {string} [accepted]
 *
 * @typedef {object} Levers sensitivities, the linear budget and the chance; from the core
 * @property {{path: string, name: string, unit: string, value: number, tolerance: number | null, u: number}[]} figures
 *   what is ordered: value, half-width, standard uncertainty of the mean
 * @property {{path: string, unit: string, value: number, step: number, u: number, kind: string, effects: number[], share: number[]}[]} levers
 *   effects: change of each figure, in its unit, per unit of the lever; share: part of u² of each figure
 * @property {number | null} chance that the lot meets the order
 * @property {null | {path: string, from: number, to: number, unit: string, verdict: any}} bring_back
 * @property {number} tightest index of the figure
 * @property {string} text
 *
 * @typedef {object} Pin
 * @property {Job} job
 * @property {number} at ms since 1970
 *
 * @typedef {object} Step an entry of the undo list: the recipe before (undo) or after (redo) what the label says
 * @property {Job} job
 * @property {Pin | null} pin
 * @property {string} label "absorber, TMIn carrier 60 → 52 sccm"
 * @property {string} [merge] entries of one hold of a button carry the same word
 *
 * @typedef {object} Place what the panel shows
 * @property {'seeds' | 'stage' | 'collector' | 'model'} part
 * @property {number} stage index, also when part is not stage (the last one looked at)
 * @property {number | null} zone the zone that was touched
 * @property {'walls' | 'feeds' | 'tube'} tab
 *
 * @typedef {object} Settings
 * @property {'desk' | 'normal' | 'glove' | 'auto'} size
 * @property {'paper' | 'dark' | 'auto'} light
 * @property {'C' | 'K'} temperature
 * @property {'sccm' | 'slm'} flow
 * @property {'mbar' | 'Torr' | 'Pa'} pressure
 * @property {boolean} keys single keys on
 * @property {boolean} tables pictures are read as tables
 *
 * @typedef {object} Draft what was typed and not taken
 * @property {string} text as typed
 * @property {string} refusal why not, in the core's words
 * @property {string} [kept] what goes on: "Kept as typed; the line still uses 10."
 *
 * @typedef {object} State
 * @property {Job} job the recipe as it is set now
 * @property {Pin | null} pin
 * @property {Step[]} undo oldest first
 * @property {Step[]} redo next one last
 * @property {Record<string, Draft>} drafts by path
 * @property {string} view id
 * @property {Place} place
 * @property {Settings} settings
 * @property {Record<string, number>} steps chosen step of a kind of quantity: index into its list
 * @property {{id: string, argument: any} | null} panel what stands in the place of the set-points; null: the set-points
 * @property {string} whyPath figure that the why panel explains; empty: the first segment's length
 * @property {boolean} example whether the recipe is the example, untouched or not, that came with the page
 * @property {string} notice a sentence above the drawing: another tab, refused storage, a file that was not taken
 * @property {Fault[]} noticeFaults its faults, if it is about a file
 *
 * @typedef {object} Result
 * @property {Report | null} report the last prediction that was made
 * @property {string} sentence what the core says of it in one sentence, with an order or without
 * @property {Job | null} job the recipe it was made for
 * @property {number} at ms since 1970 when it was made
 * @property {boolean} fresh whether it is for the recipe as set now; if not, numbers are drawn greyed once `stale`
 * @property {boolean} stale no prediction can be made of the recipe as set now: the last one stands, greyed, with its age
 * @property {Report['refused'] | null} refused why the recipe as set now is not predicted
 * @property {Fault[]} faults of the recipe as set now
 * @property {string | null} trap the model stopped on this recipe
 * @property {string | null} broken what does not work in this browser, and what still does
 * @property {Report | null} pin report of the pinned recipe
 * @property {Levers | null} levers the last ones known; also for an older recipe
 * @property {boolean} leversFresh whether they are for the recipe as set now; if not, drawn greyed
 * @property {{done: number, of: number} | null} progress of the levers
 * @property {Map<string, SetPoint>} points what the instruments can be set to, by path
 *
 * @typedef {object} Store
 * @property {State} state read only
 * @property {Result} result read only
 * @property {Actions} act
 * @property {(hear: (changed: Set<string>) => void) => void} hear called after each change with what changed: job, pin,
 *   undo, drafts, view, place, settings, steps, panel, why, notice, result
 * @property {(part: Partial<Result>) => void} answer the worker's side: merges into the result
 *
 * @typedef {object} Actions
 * @property {(path: string, value: any, how?: {label?: string, merge?: string}) => void} edit one field of the job;
 *   undefined takes an optional field away
 * @property {(label: string, job: Job, how?: {merge?: string}) => void} change a new recipe made by `withValue`s
 * @property {(label: string, job: Job) => void} open another recipe, checked by `read_job`; pinned by itself
 * @property {() => string} undo the label of what was undone; empty if nothing was
 * @property {() => string} redo
 * @property {() => void} pin
 * @property {() => void} backToPin
 * @property {(path: string) => void} putBack one change since the pin
 * @property {(id: string) => void} view
 * @property {(place: Partial<Place>) => void} select
 * @property {(settings: Partial<Settings>) => void} set
 * @property {(kind: string, index: number) => void} step
 * @property {(path: string, draft: Draft | null) => void} draft
 * @property {(id: string | null, argument?: any) => void} panel null closes
 * @property {(path: string) => void} why
 * @property {(text: string, faults?: Fault[]) => void} notice
 * @property {(job: Job) => void} adopt the same recipe as the core read it, full scales written out: no step of undo, and no new
 *   prediction, since it says the same
 * @property {(path: string, text: string) => void} retract takes back an edit that the core refused: the recipe before
 *   it comes back, the value stays as a draft
 */
import { changeLabel } from './names.js';

/** Most entries of the undo list. */
export const UNDO_DEPTH = 200;

/** @type {Settings} */
export const FIRST_SETTINGS = {
  size: 'auto',
  light: 'auto',
  temperature: 'C',
  flow: 'sccm',
  pressure: 'mbar',
  keys: true,
  tables: false,
};

/** @type {Place} */
export const FIRST_PLACE = { part: 'stage', stage: 0, zone: null, tab: 'walls' };

/**
 * A path as keys: `stages[1].zones[0].wall_c` → stages, 1, zones, 0, wall_c. Keys of `instruments.full_scale_sccm` and
 * `limits` are paths themselves and not reached by it.
 * @param {string} path
 * @returns {(string | number)[]}
 */
export function pathKeys(path) {
  /** @type {(string | number)[]} */
  const keys = [];
  for (const part of path.split('.')) {
    const open = part.indexOf('[');
    keys.push(open < 0 ? part : part.slice(0, open));
    for (const index of part.slice(open < 0 ? part.length : open).matchAll(/\[(\d+)\]/g)) keys.push(Number(index[1]));
  }
  return keys;
}

/**
 * What stands at a path of a job or report; undefined where nothing does.
 * @param {any} tree
 * @param {string} path
 * @returns {any}
 */
export function valueAt(tree, path) {
  let node = tree;
  for (const key of pathKeys(path)) {
    if (node === null || typeof node !== 'object' || !Object.hasOwn(node, key)) return undefined;
    node = node[key];
  }
  return node;
}

/**
 * A job with one field changed, all else shared with the old one; undefined takes the field away. Missing objects on the
 * way are made.
 * @template T
 * @param {T} tree
 * @param {string} path
 * @param {any} value
 * @returns {T}
 */
export function withValue(tree, path, value) {
  return replaced(tree, pathKeys(path), 0, value);
}

/**
 * @param {any} node
 * @param {(string | number)[]} keys
 * @param {number} depth
 * @param {any} value
 * @returns {any}
 */
function replaced(node, keys, depth, value) {
  if (depth === keys.length) return value;
  const key = keys[depth];
  const copy = Array.isArray(node) ? [...node] : { ...(node ?? (typeof key === 'number' ? [] : {})) };
  const below = Object.hasOwn(copy, key) ? copy[/** @type {any} */ (key)] : undefined;
  const next = replaced(below, keys, depth + 1, value);
  if (next === undefined) delete copy[/** @type {any} */ (key)];
  // defineProperty, so that a key named __proto__ is a key.
  else Object.defineProperty(copy, key, { value: next, writable: true, enumerable: true, configurable: true });
  return copy;
}

/**
 * Every leaf that differs between two jobs, in the order of the newer one. A list of another length is one difference.
 * @param {any} before
 * @param {any} after
 * @returns {{path: string, from: any, to: any}[]}
 */
export function differences(before, after) {
  /** @type {{path: string, from: any, to: any}[]} */
  const found = [];
  collectDifferences(before, after, '', found);
  return found;
}

/** Frozen limits are no set-points: they never count as a change. */
const NO_CHANGE = 'instruments.full_scale_sccm';

/**
 * @param {any} before
 * @param {any} after
 * @param {string} path
 * @param {{path: string, from: any, to: any}[]} found
 */
function collectDifferences(before, after, path, found) {
  if (before === after || path === NO_CHANGE) return;
  const tree = (/** @type {any} */ node) => node !== null && typeof node === 'object';
  const sameKind = tree(before) && tree(after) && Array.isArray(before) === Array.isArray(after);
  if (!sameKind || (Array.isArray(after) && before.length !== after.length)) {
    if (!tree(before) || !tree(after) || JSON.stringify(before) !== JSON.stringify(after)) found.push({ path, from: before, to: after });
    return;
  }
  if (Array.isArray(after)) {
    after.forEach((_, index) => collectDifferences(before[index], after[index], `${path}[${index}]`, found));
    return;
  }
  for (const key of new Set([...Object.keys(after), ...Object.keys(before)])) {
    const inside = (/** @type {any} */ node) => (Object.hasOwn(node, key) ? node[key] : undefined);
    collectDifferences(inside(before), inside(after), path ? `${path}.${key}` : key, found);
  }
}

/**
 * @param {Partial<State> & {job: Job}} first
 * @returns {Store}
 */
export function createStore(first) {
  /** @type {State} */
  const state = {
    pin: { job: first.job, at: Date.now() },
    undo: [],
    redo: [],
    drafts: {},
    view: 'line',
    place: FIRST_PLACE,
    settings: FIRST_SETTINGS,
    steps: {},
    panel: null,
    whyPath: '',
    example: false,
    notice: '',
    noticeFaults: [],
    ...first,
  };
  /** @type {Result} */
  const result = {
    report: null,
    sentence: '',
    job: null,
    at: 0,
    fresh: false,
    stale: false,
    refused: null,
    faults: [],
    trap: null,
    broken: null,
    pin: null,
    levers: null,
    leversFresh: false,
    progress: null,
    points: new Map(),
  };
  /** @type {((changed: Set<string>) => void)[]} */
  const hearers = [];
  const tell = (/** @type {string[]} */ ...changed) => {
    const set = new Set(changed);
    for (const hearer of hearers) hearer(set);
  };
  return {
    state,
    result,
    act: storeActions(state, result, tell),
    hear: (hearer) => void hearers.push(hearer),
    answer(part) {
      Object.assign(result, part);
      tell('result');
    },
  };
}

/**
 * @param {State} state
 * @param {Result} result
 * @param {(...changed: string[]) => void} tell
 * @returns {Actions}
 */
function storeActions(state, result, tell) {
  /** The result is for an older recipe as soon as the recipe is another object. */
  const recipe = (/** @type {Job} */ job) => {
    state.job = job;
    result.fresh = result.job === job;
    result.leversFresh = false;
    result.trap = null;
  };
  const remember = (/** @type {string} */ label, /** @type {string | undefined} */ merge) => {
    const last = state.undo[state.undo.length - 1];
    if (merge && last && last.merge === merge) {
      state.undo = [...state.undo.slice(0, -1), { ...last, label }];
    } else {
      state.undo = [...state.undo, { job: state.job, pin: state.pin, label, merge }].slice(-UNDO_DEPTH);
    }
    state.redo = [];
  };
  const travel = (/** @type {'undo' | 'redo'} */ from, /** @type {'undo' | 'redo'} */ to) => {
    const step = state[from][state[from].length - 1];
    if (!step) return '';
    state[from] = state[from].slice(0, -1);
    state[to] = [...state[to], { job: state.job, pin: state.pin, label: step.label }];
    state.pin = step.pin;
    recipe(step.job);
    tell('job', 'pin', 'undo');
    return step.label;
  };
  const change = (/** @type {string} */ label, /** @type {Job} */ job, /** @type {{merge?: string}} */ how = {}) => {
    remember(label, how.merge);
    recipe(job);
    tell('job', 'undo');
  };
  return {
    edit(path, value, how = {}) {
      const from = how.merge ? mergedFrom(state, path, how.merge) : valueAt(state.job, path);
      const job = withValue(state.job, path, value);
      change(how.label ?? changeLabel(state.job, path, from, value, state.settings), job, how);
      if (Object.hasOwn(state.drafts, path)) this.draft(path, null);
    },
    change,
    open(label, job) {
      remember(label, undefined);
      state.pin = { job, at: Date.now() };
      state.drafts = {};
      state.place = FIRST_PLACE;
      state.example = false;
      recipe(job);
      tell('job', 'pin', 'undo', 'drafts', 'place');
    },
    undo: () => travel('undo', 'redo'),
    redo: () => travel('redo', 'undo'),
    pin() {
      remember('Pin', undefined);
      state.pin = { job: state.job, at: Date.now() };
      tell('pin', 'undo');
    },
    backToPin() {
      if (!state.pin || state.pin.job === state.job) return;
      change('Back to the pin', state.pin.job);
    },
    putBack(path) {
      if (!state.pin) return;
      const value = path === '' ? state.pin.job : valueAt(state.pin.job, path);
      const label = changeLabel(state.job, path, valueAt(state.job, path), value, state.settings);
      change(label, withValue(state.job, path, value));
      if (Object.hasOwn(state.drafts, path)) this.draft(path, null);
    },
    retract(path, refusal) {
      const step = state.undo[state.undo.length - 1];
      if (!step) return;
      const typed = valueAt(state.job, path);
      state.undo = state.undo.slice(0, -1);
      recipe(step.job);
      state.drafts = { ...state.drafts, [path]: { text: String(typed ?? ''), refusal } };
      tell('job', 'undo', 'drafts');
    },
    adopt(job) {
      if (state.pin?.job === state.job) state.pin = { ...state.pin, job };
      recipe(job);
      tell('pin');
    },
    ...placeActions(state, tell),
  };
}

/**
 * The value before a hold began, so that its label says the whole way.
 * @param {State} state
 * @param {string} path
 * @param {string} merge
 */
function mergedFrom(state, path, merge) {
  const last = state.undo[state.undo.length - 1];
  return valueAt(last && last.merge === merge ? last.job : state.job, path);
}

/**
 * Where the user is and how it is shown: not part of the recipe, so not undone.
 * @param {State} state
 * @param {(...changed: string[]) => void} tell
 */
function placeActions(state, tell) {
  return {
    view(/** @type {string} */ id) {
      if (state.view === id && state.panel === null) return;
      state.view = id;
      state.panel = null;
      tell('view', 'panel');
    },
    select(/** @type {Partial<Place>} */ place) {
      const last = state.job.stages.length - 1;
      const next = { ...state.place, ...place };
      state.place = { ...next, stage: Math.min(Math.max(next.stage, 0), last) };
      // Touching a part of the drawing asks for its set-points.
      state.panel = null;
      tell('place', 'panel');
    },
    set(/** @type {Partial<Settings>} */ settings) {
      state.settings = { ...state.settings, ...settings };
      tell('settings');
    },
    step(/** @type {string} */ kind, /** @type {number} */ index) {
      state.steps = { ...state.steps, [kind]: index };
      tell('steps');
    },
    draft(/** @type {string} */ path, /** @type {Draft | null} */ draft) {
      const { [path]: _, ...others } = state.drafts;
      state.drafts = draft ? { ...others, [path]: draft } : others;
      tell('drafts');
    },
    panel(/** @type {string | null} */ id, /** @type {any} */ argument = null) {
      state.panel = id === null || id === 'set' ? null : { id, argument };
      tell('panel');
    },
    why(/** @type {string} */ path) {
      state.whyPath = path;
      tell('why');
    },
    notice(/** @type {string} */ text, /** @type {Fault[]} */ faults = []) {
      state.notice = text;
      state.noticeFaults = faults;
      tell('notice');
    },
  };
}
