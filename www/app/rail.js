/**
 * Rail and top bar.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./view.js').View} View
 */
import { el, setAttribute, setText, show } from './dom.js';
import { dopingFill, sv } from './svg.js';
import { pinWords } from './pin.js';

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 * @param {View[]} views
 */
export function buildRail(root, ctx, views) {
  root.append(el('div', { class: 'mark', 'aria-hidden': 'true' }, railMark()));
  const buttons = views.map((view) => {
    const button = el('button', { type: 'button', text: view.name, title: view.question, on: { click: () => ctx.store.act.view(view.id) } });
    root.append(button);
    return button;
  });
  const more = el('button', { type: 'button', class: 'more', text: 'More', on: { click: () => ctx.open('more') } });
  root.append(more);
  return {
    /** @param {State} state */
    draw(state) {
      const inMore = state.panel !== null && ['more', 'units', 'pin', 'keys'].includes(state.panel.id);
      views.forEach((view, index) => setAttribute(buttons[index], 'aria-current', view.id === state.view ? 'page' : null));
      setAttribute(more, 'aria-expanded', String(inMore));
    },
  };
}

/** A short wire: three parts and a seed. */
function railMark() {
  return sv(
    'svg',
    { width: 68, height: 16 },
    sv('rect', { x: 1, y: 3, width: 18, height: 10, fill: dopingFill('p'), stroke: 'var(--ink)' }),
    sv('rect', { x: 19, y: 3, width: 24, height: 10, fill: 'var(--i)', stroke: 'var(--ink)' }),
    sv('rect', { x: 43, y: 3, width: 18, height: 10, fill: dopingFill('n'), stroke: 'var(--ink)' }),
    sv('path', { d: 'M61 2a6 6 0 0 1 0 12z', fill: 'var(--gold)', stroke: 'var(--ink)' }),
  );
}

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
export function buildTop(root, ctx) {
  const { act, state: first } = ctx.store;
  const title = el('h1');
  const tag = el('span', { class: 'tag' }, 'example', el('span', { class: 'long', text: ', invented numbers' }));
  const undo = el('button', { type: 'button', text: 'Undo', on: { click: () => travelled('Undone', act.undo()) } });
  const redo = el('button', { type: 'button', text: 'Redo', class: 'redo', on: { click: () => travelled('Done again', act.redo()) } });
  const travelled = (/** @type {string} */ what, /** @type {string} */ label) => {
    if (label) ctx.say(`${what}: ${label}`);
  };
  const pin = el('button', { type: 'button', class: 'pin', on: { click: () => ctx.open('pin') } });
  const share = el('button', { type: 'button', class: 'share', text: 'Share', on: { click: () => ctx.open('share') } });
  const units = el('button', { type: 'button', class: 'units', text: 'Units', on: { click: () => ctx.open('units') } });
  root.append(title, tag, el('span', { class: 'space' }), undo, redo, pin, share, units);
  void first;
  return {
    /** @param {State} state */
    draw(state) {
      const name = typeof state.job.title === 'string' && state.job.title.trim() !== '' ? state.job.title : 'Recipe without a title';
      setText(title, name);
      setAttribute(title, 'title', name);
      show(tag, state.example);
      setAttribute(undo, 'disabled', state.undo.length === 0);
      setAttribute(redo, 'disabled', state.redo.length === 0);
      const label = (/** @type {import('./store.js').Step[]} */ list) => list[list.length - 1]?.label ?? 'nothing';
      setAttribute(undo, 'title', `Undo ${label(state.undo)}`);
      setAttribute(redo, 'title', `Redo ${label(state.redo)}`);
      setText(pin, pinWords(state));
      for (const [button, id] of /** @type {[HTMLElement, string][]} */ ([[pin, 'pin'], [share, 'share'], [units, 'units']])) {
        setAttribute(button, 'aria-expanded', String(state.panel?.id === id));
      }
    },
  };
}

/** @type {{draw: (state: State) => void} | null} */
let moreParts = null;

/** What has no room on a phone. @type {import('./view.js').Panel} */
export const morePanel = {
  id: 'more',
  name: 'More',
  build(root, ctx) {
    const { act } = ctx.store;
    const item = (/** @type {string} */ text, /** @type {() => void} */ press) => el('button', { type: 'button', class: 'button', text, on: { click: press } });
    const undo = item('Undo', () => void act.undo());
    const redo = item('Redo', () => void act.redo());
    const pin = item('Pin', () => ctx.open('pin'));
    const tables = item('', () => act.set({ tables: !ctx.store.state.settings.tables }));
    root.append(el('div', { class: 'stack' }, undo, redo, pin, item('Units, size, light', () => ctx.open('units')), tables, item('Keys', () => ctx.open('keys'))));
    moreParts = {
      draw(state) {
        setAttribute(undo, 'disabled', state.undo.length === 0);
        setAttribute(redo, 'disabled', state.redo.length === 0);
        setText(pin, pinWords(state));
        setText(tables, state.settings.tables ? 'Look at the pictures' : 'Read pictures as tables');
      },
    };
  },
  draw(state) {
    moreParts?.draw(state);
  },
};
