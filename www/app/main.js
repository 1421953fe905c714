/**
 * Starts the page: which recipe, which worker, then everything is drawn from the store.
 *
 * A job in the fragment goes before one in the file, and either before what local storage kept, unless that session was
 * begun with the same file. What is replaced becomes a step of undo.
 *
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./store.js').State} State
 */
import { Bridge } from './bridge.js';
import { FIRST_PLACE, FIRST_SETTINGS, createStore } from './store.js';
import { keepState, keptState, readKept } from './keep.js';
import { addressText } from './code.js';
import { linkModel } from './worker-link.js';
import { buildShell } from './shell.js';
import { keysPanel, listenKeys } from './keyboard.js';
import { lineView } from './line.js';
import { pinPanel } from './pin.js';
import { unitsPanel } from './units-panel.js';
import { keypadPanel } from './keypad.js';
import { morePanel } from './rail.js';
import { wireView } from './view-wire.js';
import { orderView } from './view-order.js';
import { certaintyView } from './view-certainty.js';
import { whyPanel } from './why.js';
import { sharePanel } from './share.js';
import { installDrop } from './share-take.js';
import { installSheet } from './sheet.js';

/** Views in the order of the rail. */
const VIEWS = [lineView, wireView, orderView, certaintyView];
const PANELS = [whyPanel, sharePanel, pinPanel, unitsPanel, keysPanel, keypadPanel, morePanel];

/**
 * A text as a job, as far as it looks like one; the core reads it properly later.
 * @param {string | null} text
 * @returns {Job | null}
 */
function looksLikeJob(text) {
  try {
    const job = text ? JSON.parse(text) : null;
    return job !== null && typeof job === 'object' && Array.isArray(job.stages) && job.stages.length > 0 ? job : null;
  } catch {
    return null;
  }
}

/**
 * The job of a link or of this file, as the core reads it.
 * @param {Bridge} bridge
 * @param {string | null} text
 * @param {string} where "link", "file"
 * @returns {Promise<{job: Job | null, notice: string, faults: import('./store.js').Fault[]}>}
 */
async function readIncoming(bridge, text, where) {
  if (text === null || text.trim() === '') return { job: null, notice: '', faults: [] };
  const answer = await bridge.call('read_job', text);
  if (answer.ok) return { job: answer.ok, notice: '', faults: [] };
  // Where the core cannot run, a recipe can still be looked at.
  if (answer.trap !== undefined) return { job: looksLikeJob(text), notice: '', faults: [] };
  return { job: null, notice: `The recipe of the ${where} was not taken; the one from before is kept.`, faults: answer.faults ?? [] };
}

/**
 * What the page begins with.
 * @param {Bridge} bridge
 * @returns {Promise<{state: Partial<State> & {job: Job}, opened: string}>}
 */
async function firstState(bridge) {
  const inFile = (document.getElementById('job')?.textContent ?? '').trim();
  const kept = readKept();
  const session = keptState(kept.text);
  const linked = await addressText(location.hash).catch(() => '{');
  const same = (/** @type {string | null} */ text) => session !== null && text !== null && text === JSON.stringify(session.state.job);
  const fromLink = same(linked) ? null : await readIncoming(bridge, linked, 'link');
  const needsFile = !fromLink?.job && (session === null || session.opened !== inFile);
  const fromFile = needsFile ? await readIncoming(bridge, inFile, 'file') : null;
  const wanted = fromLink?.job ?? fromFile?.job ?? null;
  const refused = kept.refused ? 'This browser keeps nothing for this page. The address alone carries the recipe: save it as a file before you close.' : '';
  const notice = [refused, fromLink?.notice, fromFile?.notice].filter(Boolean).join(' ');
  const noticeFaults = [...(fromLink?.faults ?? []), ...(fromFile?.faults ?? [])];
  /** @type {Partial<State> & {job: Job}} */
  let state;
  if (session === null) state = { job: wanted ?? exampleJob(), example: wanted === null };
  else if (wanted === null || JSON.stringify(wanted) === JSON.stringify(session.state.job)) state = session.state;
  else {
    const { job, pin, undo, ...rest } = session.state;
    const label = fromLink?.job ? 'Open the recipe of the link' : 'Open the recipe of the file';
    state = { ...rest, job: wanted, pin: { job: wanted, at: Date.now() }, undo: [...(undo ?? []), { job, pin: pin ?? null, label }], redo: [], drafts: {}, place: FIRST_PLACE, example: false };
  }
  return { state: sensible({ ...state, notice, noticeFaults }), opened: inFile };
}

/**
 * The recipe of a page that was never opened before: the builder put it into the file.
 * @returns {Job}
 */
function exampleJob() {
  return JSON.parse(document.getElementById('example')?.textContent ?? '');
}

/**
 * Settings and place from storage may be from another version, or anybody's.
 * @param {Partial<State> & {job: Job}} state
 */
function sensible(state) {
  const place = { ...FIRST_PLACE, ...state.place };
  const stage = Number.isInteger(place.stage) ? Math.min(Math.max(place.stage, 0), state.job.stages.length - 1) : 0;
  return { ...state, settings: { ...FIRST_SETTINGS, ...state.settings }, place: { ...place, stage }, view: VIEWS.some((view) => view.id === state.view) ? state.view : 'line' };
}

/** ms that the page waits for the core to be unpacked before it is built anyway. */
const LONGEST_WAIT = 400;

/** What still works where the core cannot run. */
const NO_CORE = 'This browser cannot run the model here (WebAssembly in a worker). The recipe can still be read, changed and saved.';

/**
 * Another link was put into the address: its recipe is one step of undo.
 * @param {import('./view.js').Context} ctx
 */
async function openAddress(ctx) {
  const text = await addressText(location.hash).catch(() => '{');
  if (text === null || text === JSON.stringify(ctx.store.state.job)) return;
  const answer = await ctx.call('read_job', [text]);
  if (answer.ok) ctx.store.act.open('Open the recipe of the link', answer.ok);
  else ctx.store.act.notice('The recipe of the link was not taken; the one from before is kept.', answer.faults ?? []);
}

/**
 * The bridge, or where no worker can be had one that answers that there is none.
 * @returns {Bridge}
 */
function startedBridge() {
  try {
    return new Bridge();
  } catch (why) {
    const none = () => Promise.resolve({ trap: String(why) });
    const ready = Promise.reject(why);
    ready.catch(() => {});
    return /** @type {any} */ ({ ready, call: none, predict: none, levers: none, stop() {} });
  }
}

async function startPage() {
  const bridge = startedBridge();
  const first = await firstState(bridge);
  // Asked for before anything is built, so that the core works while the page is drawn.
  const { job } = first.state;
  const reading = bridge.call('read_job', JSON.stringify(job));
  const early = bridge.predict(job);
  // Unpacking the core needs this thread between its parts; building the page would hold it up.
  await Promise.race([bridge.ready.catch(() => {}), new Promise((resolve) => setTimeout(resolve, LONGEST_WAIT))]);
  const store = createStore(first.state);
  const link = linkModel(store, bridge);
  const ctx = buildShell(store, bridge, VIEWS, PANELS);
  listenKeys(ctx, VIEWS);
  installDrop(ctx);
  installSheet(ctx);
  bridge.ready.catch(() => store.answer({ broken: NO_CORE, stale: false }));
  const read = await reading;
  if (read.ok) store.act.adopt(read.ok);
  link.start(early);
  keepState(store, first.opened, {
    other: (text) => {
      const theirs = keptState(text);
      if (!theirs || JSON.stringify(theirs.state.job) === JSON.stringify(store.state.job)) return;
      store.act.change('Changed in another tab', theirs.state.job);
      store.act.notice('Another tab changed this recipe, and it is shown here now. Undo brings this tab’s back.');
    },
    refused: () => store.act.notice('This browser keeps nothing more for this page. The address carries the recipe: save it as a file before you close.'),
  });
  window.addEventListener('hashchange', () => void openAddress(ctx));
  if (document.querySelector('link[rel=manifest]')) void navigator.serviceWorker?.register('sw.js');
}

void startPage();
