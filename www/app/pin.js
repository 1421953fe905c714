/**
 * What has changed since the pin: the list with put back, and the panel behind "Pin 09:12, 2 changes".
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./view.js').Context} Context
 */
import { el, fill, setAttribute, setText, show } from './dom.js';
import { clockText } from './numbers.js';
import { capital, fullName, valueWords } from './names.js';
import { differences } from './store.js';
import { shownValue } from './units.js';

/** @type {{pin: Job | null, job: Job | null, list: {path: string, from: any, to: any}[]}} */
let lastChanges = { pin: null, job: null, list: [] };

/**
 * The changes of the recipe since the pin.
 * @param {State} state
 */
export function changesSincePin(state) {
  const pin = state.pin?.job ?? state.job;
  if (lastChanges.pin !== pin || lastChanges.job !== state.job) lastChanges = { pin, job: state.job, list: differences(pin, state.job) };
  return lastChanges.list;
}

/**
 * "Pin 09:12, 2 changes".
 * @param {State} state
 */
export function pinWords(state) {
  if (!state.pin) return 'Pin';
  const count = changesSincePin(state).length;
  const changes = count === 0 ? '' : `, ${count} ${count === 1 ? 'change' : 'changes'}`;
  return `Pin ${clockText(state.pin.at)}${changes}`;
}

/**
 * The list of changes, each with put back.
 * @param {Context} ctx
 */
export function changeList(ctx) {
  const title = el('h3');
  const list = el('ul');
  const root = el('div', { class: 'changes' }, title, list);
  /** @type {unknown} */
  let drawn = null;
  let units = '';
  return {
    root,
    /** @param {State} state */
    draw(state) {
      const changes = changesSincePin(state);
      show(root, changes.length > 0);
      setText(title, `${changes.length} ${changes.length === 1 ? 'change' : 'changes'} since pin ${state.pin ? clockText(state.pin.at) : ''}`);
      const now = JSON.stringify(state.settings);
      if (drawn === changes && units === now) return;
      drawn = changes;
      units = now;
      fill(list, ...changes.slice(0, 60).map((change) => changeItem(ctx, state, change)));
    },
  };
}

/**
 * @param {Context} ctx
 * @param {State} state
 * @param {{path: string, from: any, to: any}} change
 */
function changeItem(ctx, state, change) {
  const name = change.path === '' ? 'the recipe' : capital(fullName(state.job, change.path));
  const number = typeof change.to === 'number' ? change.to : typeof change.from === 'number' ? change.from : null;
  const unit = number === null ? '' : ` ${shownValue(change.path, number, state.settings).unit}`;
  const words = `${valueWords(change.path, change.from, state.settings)} → ${valueWords(change.path, change.to, state.settings)}${unit}`;
  const back = el('button', { type: 'button', class: 'link', text: 'put back', 'aria-label': `${name}: put back`, on: { click: () => ctx.store.act.putBack(change.path) } });
  return el('li', {}, el('span', {}, `${name} `, el('b', { text: words })), back);
}

/** @type {{draw: (state: State) => void} | null} */
let pinParts = null;

/** @type {import('./view.js').Panel} */
export const pinPanel = {
  id: 'pin',
  name: 'Pin',
  build(root, ctx) {
    const words = el('p', { class: 'note' });
    const pinThis = el('button', { type: 'button', class: 'button', text: 'Pin this instead', on: { click: () => ctx.store.act.pin() } });
    const back = el('button', { type: 'button', class: 'button', text: 'Back to the pin', on: { click: () => ctx.store.act.backToPin() } });
    const list = changeList(ctx);
    root.append(words, el('div', { class: 'buttons' }, pinThis, back), list.root);
    pinParts = {
      draw(state) {
        const count = changesSincePin(state).length;
        setText(words, state.pin ? `The recipe of ${clockText(state.pin.at)} is pinned. ${count === 0 ? 'Nothing has changed since.' : 'Numbers show ▼ ▲ against it, curves a broken line.'}` : 'Nothing is pinned.');
        setAttribute(back, 'disabled', count === 0);
        setAttribute(pinThis, 'disabled', count === 0);
        list.draw(state);
      },
    };
  },
  draw(state) {
    pinParts?.draw(state);
  },
};
