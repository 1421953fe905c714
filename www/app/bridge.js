/**
 * The way to the core: calls of the bridge as promises, from workers that never block the page.
 *
 * Two workers: a quick one for what answers at once, a long one for what goes step by step. A promise of a call never
 * rejects; it says what came:
 *
 * | answer | when |
 * | --- | --- |
 * | `{ok}` | what was asked for |
 * | `{faults, more}` | what is wrong with the job, in the core's words |
 * | `{trap}` | the core fell over, in its words; the next call meets a fresh worker |
 * | `{superseded: true}` | a newer prediction was asked for before this one began |
 * | `{stopped: true}` | a long call was told to stop |
 *
 * @typedef {object} Answer
 * @property {any} [ok]
 * @property {string} [sentence] of a prediction
 * @property {import('./store.js').Fault[]} [faults]
 * @property {number} [more]
 * @property {string} [trap]
 * @property {true} [superseded]
 * @property {true} [stopped]
 *
 * @typedef {{done: number, of: number}} Progress
 */

/**
 * The text of an element of this page.
 * @param {string} id
 */
function elementText(id) {
  return document.getElementById(id)?.textContent ?? '';
}

/** A worker and the calls that wait for it; one that fell over is replaced at the next call. */
class CoreWorker {
  /**
   * @param {string} url of its script
   * @param {(message: {module?: WebAssembly.Module, broken?: string}) => void} unpacked hears what came of unpacking
   */
  constructor(url, unpacked) {
    this.url = url;
    this.unpacked = unpacked;
    this.count = 0;
    /** @type {Map<number, {resolve: (answer: Answer) => void, progress?: (progress: Progress) => void}>} */
    this.waiting = new Map();
    /** @type {Worker | null} */
    this.worker = null;
  }

  /** @param {{wasm: string} | {module: WebAssembly.Module}} first what the worker is sent first */
  start(first) {
    const worker = new Worker(this.url);
    worker.onmessage = ({ data }) => this.hear(data);
    worker.onerror = (event) => {
      event.preventDefault();
      const why = event.message || 'the worker could not be started';
      this.unpacked({ broken: why });
      this.fall(why);
    };
    worker.onmessageerror = () => this.fall('an answer could not be read');
    worker.postMessage(first);
    this.worker = worker;
  }

  /**
   * @param {string} call
   * @param {any[]} args
   * @param {(progress: Progress) => void} [progress] of a long call
   * @returns {{id: number, answer: Promise<Answer>}}
   */
  call(call, args, progress) {
    const id = (this.count += 1);
    const answer = new Promise((/** @type {(answer: Answer) => void} */ resolve) => this.waiting.set(id, { resolve, progress }));
    this.worker?.postMessage({ id, call, args });
    return { id, answer };
  }

  /** @param {number} id of a long call that is to stop */
  stop(id) {
    this.worker?.postMessage({ cancel: id });
  }

  /** @param {any} message */
  hear({ id, progress, ...answer }) {
    if (id === undefined) {
      this.unpacked(answer);
      return;
    }
    const call = this.waiting.get(id);
    if (progress) {
      call?.progress?.(progress);
      return;
    }
    this.waiting.delete(id);
    call?.resolve(answer);
    if (answer.trap) this.fall(answer.trap);
  }

  /**
   * The worker is of no more use.
   * @param {string} why
   */
  fall(why) {
    this.worker?.terminate();
    this.worker = null;
    const calls = [...this.waiting.values()];
    this.waiting.clear();
    for (const { resolve } of calls) resolve({ trap: why });
  }
}

/** The calls of the core. */
export class Bridge {
  constructor() {
    const script = new Blob([elementText('glue'), '\n', elementText('worker')], { type: 'text/javascript' });
    const url = URL.createObjectURL(script);
    /** @type {WebAssembly.Module | null} the core, once it is unpacked */
    this.module = null;
    /** Settles once the core is unpacked; rejects where this browser cannot run it. */
    this.ready = new Promise((resolve, reject) => {
      this.unpacked = (/** @type {{module?: WebAssembly.Module, broken?: string}} */ { module, broken }) => {
        if (module) this.module = module;
        if (module) resolve(module);
        else reject(new Error(broken));
      };
    });
    this.ready.catch(() => {});
    this.quick = new CoreWorker(url, (message) => this.unpacked?.(message));
    this.long = new CoreWorker(url, () => {});
    // Unpacked and compiled there, while this thread builds the page.
    this.start(this.quick);
    /** @type {{job: any, resolve: (answer: Answer) => void} | null} the newest job, while an older one is predicted */
    this.next = null;
    this.predicting = false;
    /** The long call that runs; 0 for none. */
    this.longCall = 0;
  }

  /**
   * Starts a worker, with the core as far as it is known.
   * @param {CoreWorker} worker
   */
  start(worker) {
    worker.start(this.module ? { module: this.module } : { wasm: elementText('wasm') });
  }

  /**
   * A worker that can be called.
   * @param {CoreWorker} worker
   */
  started(worker) {
    if (worker.worker === null) this.start(worker);
    return worker;
  }

  /**
   * One call of the bridge, in order: read_job, write_job, check_job, predict, explain, figures, version.
   * @param {string} call
   * @param {...any} args
   * @returns {Promise<Answer>}
   */
  call(call, ...args) {
    return this.started(this.quick).call(call, args).answer;
  }

  /**
   * Predicts a job. While one is predicted one may wait; a newer one takes its place.
   * @param {any} job
   * @returns {Promise<Answer>}
   */
  predict(job) {
    this.next?.resolve({ superseded: true });
    return new Promise((resolve) => {
      this.next = { job, resolve };
      if (!this.predicting) void this.predictNext();
    });
  }

  async predictNext() {
    this.predicting = true;
    while (this.next) {
      const { job, resolve } = this.next;
      this.next = null;
      resolve(await this.call('predict', job));
    }
    this.predicting = false;
  }

  /**
   * Sensitivities, budget and chance of a job. A run that is under way is stopped.
   * @param {any} job
   * @param {any} pinned the job it is compared with, or null
   * @param {(progress: Progress) => void} progress
   * @returns {Promise<Answer>}
   */
  levers(job, pinned, progress) {
    this.stop();
    const { id, answer } = this.started(this.long).call('levers', [job, pinned], progress);
    this.longCall = id;
    return answer;
  }

  /** Stops the long call that runs. */
  stop() {
    if (this.longCall) this.long.stop(this.longCall);
    this.longCall = 0;
  }
}
