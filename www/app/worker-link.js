/**
 * Between the store and the core: a recipe that changed is predicted, the newest wins; levers follow when it rests.
 *
 * @typedef {import('./store.js').Store} Store
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./bridge.js').Bridge} Bridge
 */
import { valueAt } from './store.js';
import { faultWords } from './verdict.js';

/** ms that a recipe must rest before its levers are asked for: a held button does not start and stop them. */
const REST = 250;
/** ms between two tellings of progress. */
const TELL = 250;

/**
 * @param {Store} store
 * @param {Bridge} bridge
 * @returns {{start: (early?: Promise<import('./bridge.js').Answer>) => void}} early: a prediction of this recipe that was asked
 *   for already
 */
export function linkModel(store, bridge) {
  const { state, result } = store;
  /** @type {Job | null} */
  let pinned = null;
  let rest = 0;
  let known = '';
  /** @type {Job | null} the recipe whose levers were stopped: they are not asked for again until it changes */
  let stopped = null;

  /**
   * @param {Job} job
   * @param {Promise<import('./bridge.js').Answer>} [early]
   */
  const predict = async (job, early) => {
    const answer = await (early ?? bridge.predict(job));
    if (answer.superseded) return;
    if (answer.trap !== undefined) {
      // Where there is no core at all, nothing fell over: the page has said so.
      const able = await bridge.ready.then(() => true, () => false);
      if (able && job === state.job) store.answer({ trap: answer.trap, stale: true, faults: [], refused: null });
      return;
    }
    if (answer.faults) {
      if (job === state.job) refuse(store, answer.faults);
      return;
    }
    const report = answer.ok;
    if (report.refused) {
      if (job === state.job) store.answer({ refused: report.refused, stale: true, faults: [], trap: null });
      return;
    }
    const newest = job === state.job;
    store.answer({
      report,
      sentence: answer.sentence ?? '',
      job,
      at: Date.now(),
      fresh: newest,
      stale: false,
      refused: null,
      faults: [],
      trap: null,
      broken: null,
      ...(state.pin?.job === job ? { pin: report } : {}),
    });
    if (state.pin?.job === job) pinned = job;
    if (newest) void points(job);
  };

  const points = async (/** @type {Job} */ job) => {
    const answer = await bridge.call('check_job', job);
    if (!answer.ok || job !== state.job) return;
    const rows = /** @type {import('./store.js').SetPoint[]} */ (answer.ok.set_points);
    const found = new Map(rows.map((row) => [row.path, row]));
    const ranges = JSON.stringify(rows.map(({ path, min, max, step }) => [path, min, max, step]));
    // Ranges stay as they are while values move: nothing to be drawn then.
    if (ranges === known) result.points = found;
    else store.answer({ points: found });
    known = ranges;
  };

  const predictPin = async () => {
    const job = state.pin?.job ?? null;
    if (job === null || job === pinned) return;
    if (job === result.job && result.report) {
      pinned = job;
      store.answer({ pin: result.report });
      return;
    }
    // The recipe itself is on its way: its answer is the pin's.
    if (job === state.job) return;
    pinned = job;
    const answer = await bridge.call('predict', job);
    if (state.pin?.job === job) store.answer({ pin: answer.ok && !answer.ok.refused ? answer.ok : null });
  };

  const levers = async () => {
    const { job } = state;
    if (result.job !== job || result.stale || result.leversFresh) return;
    let told = 0;
    const answer = await bridge.levers(job, state.pin?.job ?? null, (progress) => {
      const now = performance.now();
      if (now - told < TELL || job !== state.job) return;
      told = now;
      store.answer({ progress });
    });
    if (answer.ok && job === state.job) store.answer({ levers: answer.ok, leversFresh: true, progress: null });
    else if (job === state.job) {
      if (answer.stopped) stopped = job;
      store.answer({ progress: null });
    }
  };

  store.hear((changed) => {
    if (changed.has('job')) {
      bridge.stop();
      if (result.progress) result.progress = null;
      void predict(state.job);
    }
    if (changed.has('pin')) void predictPin();
    if (changed.has('result') && result.fresh && !result.leversFresh && !result.progress && state.job !== stopped) {
      clearTimeout(rest);
      rest = window.setTimeout(() => void levers(), REST);
    }
  });
  return {
    start(early) {
      void predict(state.job, early).then(() => predictPin());
    },
  };
}

/**
 * The core does not take the recipe: where the last step set one of the faulty fields, that step is taken back and its
 * value kept as typed; else the recipe stands, and the faults are said.
 * @param {Store} store
 * @param {import('./store.js').Fault[]} faults
 */
function refuse(store, faults) {
  const { state, act } = store;
  const last = state.undo[state.undo.length - 1];
  const fault = last && faults.find((one) => one.path !== '' && valueAt(last.job, one.path) !== valueAt(state.job, one.path));
  if (fault) act.retract(fault.path, faultWords(fault));
  else store.answer({ faults, stale: true, refused: null, trap: null });
}
