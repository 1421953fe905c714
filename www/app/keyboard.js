/**
 * Keys for the whole page, and the panel that lists them. Single keys can be switched off, and never act in a field
 * (WCAG 2.1.4).
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./view.js').View} View
 */
import { el } from './dom.js';
import { bringsBack } from './verdict.js';

const KEY_LIST = [
  ['Ctrl Z, Ctrl Shift Z', 'undo, redo'],
  ['Ctrl S, Ctrl O, Ctrl P', 'save the file, open one, print the run sheet'],
  ['1 to 4', 'view: Line, Wire, Order, Certainty'],
  ['p', 'pin'],
  ['b', 'bring it back'],
  ['w', 'where does this number come from'],
  ['t', 'read pictures as tables'],
  ['?', 'this list'],
  ['Escape', 'close a panel; leave a value as it was'],
  ['In the drawing', '← → stage, ↑ ↓ zone, Enter opens'],
  ['In a set-point', '↑ ↓ one step, Page Up and Page Down the next larger, Home and End the limits, digits type, Enter sets'],
];

/** @type {import('./view.js').Panel} */
export const keysPanel = {
  id: 'keys',
  name: 'Keys',
  build(root) {
    const rows = KEY_LIST.map(([key, what]) => el('tr', {}, el('th', { scope: 'row', text: key }), el('td', { text: what })));
    root.append(el('table', { class: 'keys' }, el('tbody', {}, ...rows)));
  },
  draw() {},
};

/**
 * Whether what has focus takes letters itself.
 * @param {EventTarget | null} target
 */
function takesText(target) {
  return target instanceof HTMLElement && (target.isContentEditable || ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName));
}

/**
 * @param {Context} ctx
 * @param {View[]} views
 */
export function listenKeys(ctx, views) {
  document.addEventListener('keydown', (event) => {
    if (event.defaultPrevented) return;
    if ((event.ctrlKey || event.metaKey) && !event.altKey) withControl(ctx, event);
    else if (event.key === 'Escape' && ctx.store.state.panel) ctx.close();
    else if (!event.ctrlKey && !event.metaKey && !event.altKey && ctx.store.state.settings.keys && !takesText(event.target)) single(ctx, views, event);
  });
}

/**
 * @param {Context} ctx
 * @param {KeyboardEvent} event
 */
function withControl(ctx, event) {
  const { act } = ctx.store;
  const key = event.key.toLowerCase();
  if (key === 'z' && takesText(event.target) && /** @type {HTMLInputElement} */ (event.target).value !== /** @type {HTMLInputElement} */ (event.target).defaultValue && ctx.store.state.drafts && event.target instanceof HTMLTextAreaElement) return;
  /** @type {Record<string, () => void>} */
  const acts = {
    z: () => {
      const label = event.shiftKey ? act.redo() : act.undo();
      ctx.say(label ? `${event.shiftKey ? 'Done again' : 'Undone'}: ${label}` : 'Nothing to undo');
    },
    s: () => ctx.open('share', { act: 'save' }),
    o: () => ctx.open('share', { act: 'open' }),
    p: () => ctx.open('share', { act: 'print' }),
  };
  const doIt = acts[key];
  if (!doIt) return;
  event.preventDefault();
  doIt();
}

/**
 * @param {Context} ctx
 * @param {View[]} views
 * @param {KeyboardEvent} event
 */
function single(ctx, views, event) {
  const { state, result, act } = ctx.store;
  const view = views[Number(event.key) - 1];
  if (view) {
    act.view(view.id);
  } else if (event.key === 'p') {
    act.pin();
    ctx.say('Pinned');
  } else if (event.key === 'b') {
    const back = result.levers?.bring_back;
    if (!back || !bringsBack(result)) return;
    act.edit(back.path, back.to, { label: `Bring it back: ${back.path}` });
  } else if (event.key === 'w') {
    ctx.why(state.whyPath || 'wires.segments[0].length_nm.mean');
  } else if (event.key === 't') {
    act.set({ tables: !state.settings.tables });
  } else if (event.key === '?') {
    ctx.open('keys');
  } else return;
  event.preventDefault();
}
