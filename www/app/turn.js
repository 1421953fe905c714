/**
 * ‹ part ›: from seeds through the stages to the collector, then the numbers of the model.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Place} Place
 * @typedef {import('./view.js').Context} Context
 */
import { el, setAttribute, setText } from './dom.js';
import { stageName } from './names.js';

/**
 * Places in the order of flow: seeds, stages, collector, then the numbers of the model.
 * @param {State} state
 * @returns {Partial<Place>[]}
 */
function placesInOrder(state) {
  return [{ part: 'seeds' }, ...state.job.stages.map((/** @type {any} */ _, /** @type {number} */ stage) => ({ part: /** @type {const} */ ('stage'), stage })), { part: 'collector' }, { part: 'model' }];
}

/** @param {State} state */
function placeAt(state) {
  return placesInOrder(state).findIndex((place) => place.part === state.place.part && (place.part !== 'stage' || place.stage === state.place.stage));
}

/** @param {State} state */
function placeName(state) {
  const { part, stage } = state.place;
  if (part === 'stage') return stageName(state.job, stage);
  return { seeds: 'seeds', collector: 'collector', model: 'numbers of the model' }[part];
}

/**
 * @param {Context} ctx
 * @param {string} look class of the row
 */
export function partTurn(ctx, look) {
  const title = el('h2');
  const turn = (/** @type {number} */ by) => () => {
    const { state, act } = ctx.store;
    const next = placesInOrder(state)[placeAt(state) + by];
    if (next) act.select({ ...next, zone: null });
  };
  const back = el('button', { type: 'button', text: '‹', 'aria-label': 'Part before', on: { click: turn(-1) } });
  const on = el('button', { type: 'button', text: '›', 'aria-label': 'Next part', on: { click: turn(1) } });
  return {
    root: el('div', { class: look }, back, title, on),
    /** @param {State} state */
    draw(state) {
      setText(title, placeName(state));
      const at = placeAt(state);
      setAttribute(back, 'disabled', at <= 0);
      setAttribute(on, 'disabled', at >= placesInOrder(state).length - 1);
    },
  };
}
