/**
 * Units: size, light, units of temperature, flow and pressure, number keys, tables.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Settings} Settings
 * @typedef {import('./view.js').Context} Context
 */
import { el, forgetRem, setAttribute } from './dom.js';

const DARK_DEVICE = window.matchMedia('(prefers-color-scheme: dark)');

/** @type {{key: keyof Settings, name: string, of: [any, string][]}[]} */
const UNIT_CHOICES = [
  { key: 'size', name: 'Size', of: [['auto', 'By the device'], ['desk', 'Desk'], ['normal', 'Normal'], ['glove', 'Glove']] },
  { key: 'light', name: 'Light', of: [['auto', 'By the device'], ['paper', 'Paper'], ['dark', 'Dark']] },
  { key: 'temperature', name: 'Temperature', of: [['C', '°C'], ['K', 'K']] },
  { key: 'flow', name: 'Flow, at 0 °C and 1013.25 mbar', of: [['sccm', 'sccm'], ['slm', 'slm']] },
  { key: 'pressure', name: 'Pressure', of: [['mbar', 'mbar'], ['Torr', 'Torr'], ['Pa', 'Pa']] },
  { key: 'tables', name: 'Pictures', of: [[false, 'Drawn'], [true, 'Read as tables']] },
  { key: 'keys', name: 'Single keys: 1 to 4, p, b, w, t, ?', of: [[true, 'On'], [false, 'Off']] },
];

/** @type {{draw: (state: State) => void} | null} */
let unitParts = null;

/** @type {import('./view.js').Panel} */
export const unitsPanel = {
  id: 'units',
  name: 'Units',
  build(root, ctx) {
    const rows = UNIT_CHOICES.map((choice) => unitChoice(ctx, choice));
    root.append(...rows.map((row) => row.root));
    unitParts = { draw: (state) => rows.forEach((row) => row.draw(state)) };
  },
  draw(state) {
    unitParts?.draw(state);
  },
};

/**
 * @param {Context} ctx
 * @param {typeof UNIT_CHOICES[number]} choice
 */
function unitChoice(ctx, choice) {
  const name = el('span', { class: 'row-name', id: `unit-${choice.key}`, text: choice.name });
  const buttons = choice.of.map(([value, word]) =>
    el('button', { type: 'button', text: word, on: { click: () => ctx.store.act.set({ [choice.key]: value }) } }),
  );
  return {
    root: el('div', { class: 'row' }, el('div', { class: 'row-head' }, name), el('div', { class: 'choice', role: 'group', 'aria-labelledby': name.id }, ...buttons)),
    /** @param {State} state */
    draw(state) {
      buttons.forEach((button, index) => setAttribute(button, 'aria-pressed', String(state.settings[choice.key] === choice.of[index][0])));
    },
  };
}

/**
 * Size and light on the root element.
 * @param {Settings} settings
 */
export function applyAppearance(settings) {
  const root = document.documentElement;
  const size = settings.size === 'auto' ? 'normal' : settings.size;
  if (root.dataset.size !== size) forgetRem();
  setAttribute(root, 'data-size', size);
  const dark = settings.light === 'auto' ? DARK_DEVICE.matches : settings.light === 'dark';
  setAttribute(root, 'data-light', dark ? 'dark' : 'paper');
  setAttribute(document.body, 'data-tables', settings.tables ? 'on' : 'off');
}
