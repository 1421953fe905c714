/**
 * What outlives a reload: recipe, pin, undo, view, units and half-typed text in local storage, the recipe in the
 * fragment as well. Storage is keyed by the page's path, since copies of the file may share it; if it is refused, the
 * fragment alone carries the recipe. Of two tabs the later write wins, and the other says so.
 *
 * @typedef {import('./store.js').Store} Store
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Job} Job
 */
import { jobFragment } from './link.js';
import { UNDO_DEPTH } from './store.js';

const KEEP_FORMAT = 1;
/** ms between a change and its writing: a held button writes once. */
const KEEP_AFTER = 300;
/** ms of rest before the recipe goes into the address: browsers slow down pages that change it often. */
const LINK_AFTER = 900;

/** @returns {string} */
function keepKey() {
  return `loftwire ${location.pathname}`;
}

/**
 * All that is kept, as text. A job that stands in several steps is written once.
 * @param {State} state
 * @param {string} opened text of the job in the file that this session began with
 * @param {number} depth steps of undo
 * @returns {string}
 */
function keptText(state, opened, depth) {
  /** @type {Job[]} */
  const jobs = [];
  const places = new Map();
  const place = (/** @type {Job} */ job) => {
    let at = places.get(job);
    if (at === undefined) {
      at = jobs.push(job) - 1;
      places.set(job, at);
    }
    return at;
  };
  const pin = (/** @type {State['pin']} */ one) => (one ? { job: place(one.job), at: one.at } : null);
  const steps = (/** @type {import('./store.js').Step[]} */ list) => list.slice(-depth).map((step) => ({ job: place(step.job), pin: pin(step.pin), label: step.label }));
  const { view, settings, drafts, example, steps: chosen } = state;
  const head = JSON.stringify({
    format: KEEP_FORMAT,
    opened,
    job: place(state.job),
    pin: pin(state.pin),
    undo: steps(state.undo),
    redo: steps(state.redo),
    place: state.place,
    view,
    settings,
    drafts,
    steps: chosen,
    example,
  });
  return `${head.slice(0, -1)},"jobs":[${jobs.map(jobText).join(',')}]}`;
}

/** @type {WeakMap<Job, string>} */
const jobTexts = new WeakMap();

/**
 * A job as text, written once however often it is kept: 200 steps of undo are not written anew at every press.
 * @param {Job} job
 */
function jobText(job) {
  let text = jobTexts.get(job);
  if (text === undefined) {
    text = JSON.stringify(job);
    jobTexts.set(job, text);
  }
  return text;
}

/**
 * What was kept, its shape checked; the jobs are still to be read by the core.
 * @param {string | null} text
 * @returns {{state: Partial<State> & {job: Job}, opened: string} | null}
 */
export function keptState(text) {
  if (!text) return null;
  try {
    const kept = JSON.parse(text);
    if (kept?.format !== KEEP_FORMAT || !Array.isArray(kept.jobs)) return null;
    const job = (/** @type {any} */ at) => {
      const one = kept.jobs[at];
      if (!one || !Array.isArray(one.stages) || one.stages.length === 0) throw new Error('no job');
      return one;
    };
    const pin = (/** @type {any} */ one) => (one ? { job: job(one.job), at: Number(one.at) || Date.now() } : null);
    const steps = (/** @type {any[]} */ list) => (Array.isArray(list) ? list : []).slice(-UNDO_DEPTH).map((step) => ({ job: job(step.job), pin: pin(step.pin), label: String(step.label) }));
    const { place, view, settings, drafts, example } = kept;
    return {
      opened: String(kept.opened ?? ''),
      state: { job: job(kept.job), pin: pin(kept.pin), undo: steps(kept.undo), redo: steps(kept.redo), place, view, settings, drafts: drafts ?? {}, steps: kept.steps ?? {}, example: example === true },
    };
  } catch {
    return null;
  }
}

/**
 * @returns {{text: string | null, refused: boolean}}
 */
export function readKept() {
  try {
    return { text: localStorage.getItem(keepKey()), refused: false };
  } catch {
    return { text: null, refused: true };
  }
}

/**
 * Writes after each change, and says when another tab did.
 * @param {Store} store
 * @param {string} opened
 * @param {{other: (text: string) => void, refused: () => void}} hear
 */
export function keepState(store, opened, hear) {
  const { state } = store;
  let timer = 0;
  let linkTimer = 0;
  let refused = false;
  /** @type {Job | null} */
  let linked = state.job;
  const write = () => {
    window.clearTimeout(timer);
    timer = 0;
    for (const depth of [UNDO_DEPTH, 20, 0]) {
      const text = keptText(state, opened, depth);
      try {
        localStorage.setItem(keepKey(), text);
        break;
      } catch {
        // Full, or refused: fewer steps may fit; at last the fragment has to do.
        if (depth > 0) continue;
        if (!refused) hear.refused();
        refused = true;
      }
    }
  };
  const link = () => {
    linkTimer = 0;
    if (state.job === linked) return;
    const { job } = state;
    linked = job;
    void jobFragment(job).then((fragment) => {
      if (job === state.job) history.replaceState(null, '', fragment);
    });
  };
  store.hear((changed) => {
    const kept = ['job', 'pin', 'undo', 'drafts', 'view', 'place', 'settings', 'steps'].some((one) => changed.has(one));
    if (kept && timer === 0) timer = window.setTimeout(write, KEEP_AFTER);
    if (changed.has('job')) {
      window.clearTimeout(linkTimer);
      linkTimer = window.setTimeout(link, refused ? 0 : LINK_AFTER);
    }
  });
  const flush = () => {
    if (timer !== 0) write();
  };
  window.addEventListener('pagehide', flush);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') flush();
  });
  window.addEventListener('storage', (event) => {
    if (event.key === keepKey() && event.newValue) hear.other(event.newValue);
  });
}
