/**
 * The frame: top bar, rail, gauge, views, panels; which of them are in sight, and when they are drawn.
 *
 * @typedef {import('./store.js').Store} Store
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./view.js').View} View
 * @typedef {import('./view.js').Panel} Panel
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./bridge.js').Bridge} Bridge
 */
import { el, fill, forgetRem, setAttribute, setText, show } from './dom.js';
import { lengthText } from './numbers.js';
import { fullName } from './names.js';
import { shownTemperature, shownValue } from './units.js';
import { dopingPatterns } from './svg.js';
import { buildVerdict, faultWords, verdictWords } from './verdict.js';
import { buildGauge } from './gauge.js';
import { buildPanel } from './panel.js';
import { buildRail, buildTop } from './rail.js';
import { stepperRow } from './stepper.js';
import { applyAppearance } from './units-panel.js';
import { resetKeypad } from './keypad.js';

/** Least width at which the why panel always stands beside the others. */
const DESK_WIDTH = 1500;
/** ms between two sayings of the live line. */
const SAY_EVERY = 1000;

/**
 * @param {string} id
 * @returns {HTMLElement}
 */
function part(id) {
  return /** @type {HTMLElement} */ (document.getElementById(id));
}

/**
 * @param {Store} store
 * @param {Bridge} bridge
 * @param {View[]} views
 * @param {Panel[]} panels
 * @returns {Context}
 */
export function buildShell(store, bridge, views, panels) {
  const lines = liveLines();
  /** @type {Element | null} what opened the panel */
  let opener = null;
  let due = false;
  const redraw = () => {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      draw();
    });
  };
  /** @type {Context} */
  const ctx = {
    store,
    redraw,
    why(path) {
      store.act.why(path);
      if (window.innerWidth < DESK_WIDTH) ctx.open('why', path);
    },
    open(id, argument = null) {
      const open = store.state.panel;
      if (open?.id === id && argument === null) {
        ctx.close();
        return;
      }
      if (!panels.some((panel) => panel.id === id)) return;
      if (open === null) opener = document.activeElement;
      if (id === 'keypad') resetKeypad();
      store.act.panel(id, argument);
      requestAnimationFrame(() => focusHead(id));
    },
    close() {
      store.act.panel(null);
      const back = opener;
      opener = null;
      if (back instanceof HTMLElement && back.isConnected) requestAnimationFrame(() => back.focus({ preventScroll: true }));
    },
    call: (name, args) => bridge.call(name, ...args),
    stop: () => bridge.stop(),
    say: lines.say,
    length: lengthText,
    shown: (path, value) => shownValue(path, value, store.state.settings, store.result.points.get(path)),
    temperature: (celsius) => shownTemperature(celsius, store.state.settings),
    nameOf: (path) => fullName(store.state.job, path),
    stepper: (of) => stepperRow(ctx, of),
  };
  skipToPanel();
  const draw = buildParts(ctx, views, panels, lines.verdict);
  store.hear(redraw);
  window.addEventListener('resize', () => {
    forgetRem();
    redraw();
  });
  for (const query of ['(prefers-color-scheme: dark)', '(pointer: coarse)']) window.matchMedia(query).addEventListener('change', redraw);
  draw();
  // Settling of fonts and scroll bars moves widths once.
  new ResizeObserver(redraw).observe(part('main'));
  return ctx;
}

/** The first link of the page goes to the set-points, or where there are none to the view; the address keeps its recipe. */
function skipToPanel() {
  document.querySelector('.skip')?.addEventListener('click', (event) => {
    event.preventDefault();
    const target = part('panel').hidden ? part('views') : part('panel');
    target.tabIndex = -1;
    target.focus();
  });
}

/**
 * Focus goes to what was opened: its first field, else its head.
 * @param {string} id
 */
function focusHead(id) {
  const root = id === 'why' ? part('why') : part('panel');
  const target = id === 'keypad' ? root.querySelector('.pad-text') : root.querySelector('.panel-other:not([hidden]) .panel-title, .why-head .panel-title');
  if (target instanceof HTMLElement) target.focus({ preventScroll: true });
}

/**
 * @param {Context} ctx
 * @param {View[]} views
 * @param {Panel[]} panels
 * @param {(text: string) => void} sayVerdict
 * @returns {() => void} draws all that is in sight
 */
function buildParts(ctx, views, panels, sayVerdict) {
  const { store } = ctx;
  const gaugeRoot = part('gauge');
  part('starting')?.remove();
  part('main').append(dopingPatterns());
  const verdict = buildVerdict(gaugeRoot, ctx);
  const gauge = buildGauge(gaugeRoot, ctx);
  const top = buildTop(part('top'), ctx);
  const rail = buildRail(part('rail'), ctx, views);
  const notice = buildNotice(part('notice'), ctx);
  const setRoot = el('div', { class: 'panel-set' });
  part('panel').append(setRoot);
  const set = buildPanel(setRoot, ctx);
  const shownViews = viewHost(part('views'), ctx, views);
  const others = panelHost(part('panel'), part('why'), ctx, panels);
  let painted = false;
  return () => {
    const { state, result } = store;
    applyAppearance(state.settings);
    const open = state.panel?.id ?? '';
    setAttribute(document.body, 'data-view', state.view);
    setAttribute(document.body, 'data-panel', open);
    setAttribute(document.body, 'data-stale', result.stale);
    setAttribute(document.body, 'data-waiting', !result.report && !result.stale && !result.broken && !result.trap);
    verdict.draw(state, result);
    top.draw(state);
    rail.draw(state);
    notice(state, result);
    show(setRoot, open === '' && state.view === 'line');
    if (!setRoot.hidden) set.draw(state, result);
    others(state, result);
    gauge.draw(state, result);
    shownViews(state, result);
    const words = verdictWords(state, result);
    document.title = `${words.state} ${typeof state.job.title === 'string' ? state.job.title : ''}`.trim();
    if (result.report || result.stale) sayVerdict(`${words.state} ${words.rest}`.trim());
    if (!painted && result.report) {
      painted = true;
      // Behind the paint of this frame.
      requestAnimationFrame(() => setTimeout(() => performance.mark('first-verdict')));
    }
    if (result.fresh) setAttribute(document.body, 'data-at', result.at);
  };
}

/**
 * Builds a view when it is first shown; the others are hidden.
 * @param {HTMLElement} host
 * @param {Context} ctx
 * @param {View[]} views
 */
function viewHost(host, ctx, views) {
  /** @type {Map<string, HTMLElement>} */
  const built = new Map();
  return (/** @type {State} */ state, /** @type {Result} */ result) => {
    const view = views.find((one) => one.id === state.view) ?? views[0];
    let root = built.get(view.id);
    if (!root) {
      root = el('div', { class: `view view-${view.id}` });
      built.set(view.id, root);
      host.append(root);
      view.build(root, ctx);
    }
    for (const [id, one] of built) show(one, id === view.id);
    view.draw(state, result);
  };
}

/**
 * Panels in the place of the set-points; the why panel has a place of its own.
 * @param {HTMLElement} host
 * @param {HTMLElement} whyHost
 * @param {Context} ctx
 * @param {Panel[]} panels
 */
function panelHost(host, whyHost, ctx, panels) {
  /** @type {Map<string, HTMLElement>} */
  const built = new Map();
  const build = (/** @type {Panel} */ panel) => {
    const why = panel.id === 'why';
    const title = el('h2', { class: 'panel-title', tabindex: '-1', text: panel.name });
    const close = el('button', { type: 'button', class: 'close', text: 'Close', on: { click: () => ctx.close() } });
    const body = el('div', { class: `panel-body other panel-${panel.id}` });
    const root = el('div', { class: why ? 'why-head' : 'panel-other' }, el('div', { class: 'panel-head' }, title, close), body);
    (why ? whyHost : host).append(root);
    built.set(panel.id, root);
    panel.build(body, ctx);
    return root;
  };
  return (/** @type {State} */ state, /** @type {Result} */ result) => {
    const open = state.panel?.id ?? '';
    const desk = window.innerWidth >= DESK_WIDTH;
    const why = panels.find((panel) => panel.id === 'why');
    show(whyHost, !!why && (desk || open === 'why'));
    for (const panel of panels) {
      const shown = panel.id === 'why' ? desk || open === 'why' : panel.id === open;
      const root = built.get(panel.id) ?? (shown ? build(panel) : null);
      if (!root) continue;
      show(root, shown);
      if (shown) panel.draw(state, result, panel.id === 'why' ? state.whyPath || null : state.panel?.argument);
    }
    show(host, open === '' ? state.view === 'line' : open !== 'why' || desk);
    if (open === 'why' && desk && state.view !== 'line') show(host, false);
  };
}

/**
 * A sentence above the drawing, and the faults of a file that was not taken.
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
function buildNotice(root, ctx) {
  const words = el('p');
  const list = el('ul');
  const close = el('button', { type: 'button', class: 'link', text: 'Put away', on: { click: () => ctx.store.act.notice('') } });
  root.append(el('div', { class: 'notice-words' }, words, list), close);
  let drawn = '';
  return (/** @type {State} */ state, /** @type {Result} */ result) => {
    const standing = result.broken ?? '';
    const text = [standing, state.notice].filter(Boolean).join(' ');
    const faults = state.notice ? state.noticeFaults : result.stale ? result.faults : [];
    show(root, text !== '' || faults.length > 0);
    show(close, state.notice !== '');
    setText(words, text || 'The line cannot be predicted as it is set:');
    const key = JSON.stringify(faults);
    if (key === drawn) return;
    drawn = key;
    fill(list, ...faults.map((fault) => el('li', {}, el('b', { text: fault.path || 'the job' }), ` ${faultWords(fault)}`)));
  };
}

/** The live line: polite and at most once a second for the verdict, at once for a refusal. */
function liveLines() {
  const polite = part('live');
  const urgent = part('alert');
  let waiting = '';
  let timer = 0;
  let said = '';
  const speak = () => {
    timer = 0;
    if (waiting === '') return;
    setText(polite, waiting);
    waiting = '';
    timer = window.setTimeout(speak, SAY_EVERY);
  };
  const politely = (/** @type {string} */ text) => {
    waiting = text;
    if (timer === 0) timer = window.setTimeout(speak, 150);
  };
  return {
    say(/** @type {string} */ text, /** @type {boolean | undefined} */ assertive) {
      if (!assertive) {
        politely(text);
        return;
      }
      // The same words twice are said twice.
      urgent.textContent = '';
      requestAnimationFrame(() => setText(urgent, text));
    },
    verdict(/** @type {string} */ text) {
      if (text === said) return;
      said = text;
      politely(text);
    },
  };
}
