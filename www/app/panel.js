/**
 * The set-points beside the drawing: ‹ part ›, three tabs, one step button, rows in the order of flow, cautions, changes.
 *
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Result} Result
 * @typedef {import('./store.js').Place} Place
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./rows.js').Row} Row
 * @typedef {import('./panel-plan.js').Planned & {hidden?: boolean}} Planned
 */
import { el, setAttribute, setText, show } from './dom.js';
import { capital, formula } from './names.js';
import { cautionList, cautionsFor } from './cautions.js';
import { changeList } from './pin.js';
import { chosenStep, stepKind, stepperRow } from './stepper.js';
import { buttonsRow, choiceRow, headRow, textRow } from './rows.js';
import { PANEL_TABS, panelPlan } from './panel-plan.js';
import { addFeed, knownPrecursors, panelAct } from './panel-acts.js';
import { partTurn } from './turn.js';
import { profileRow } from './profile.js';

/** @type {Place['tab'][]} */
const TAB_ORDER = ['walls', 'feeds', 'tube'];

/**
 * @param {HTMLElement} root
 * @param {Context} ctx
 */
export function buildPanel(root, ctx) {
  const turn = partTurn(ctx, 'panel-head');
  const tabs = panelTabs(ctx);
  const rows = panelRows(ctx);
  const cautions = cautionList();
  const changes = changeList(ctx);
  const body = el('div', { class: 'panel-body' }, tabs.root, rows.root, cautions.root, changes.root);
  root.append(turn.root, body);
  let place = '';
  return {
    /**
     * @param {State} state
     * @param {Result} result
     */
    draw(state, result) {
      turn.draw(state);
      rows.draw(state, result);
      tabs.draw(state, result, rows.active());
      cautions.draw(cautionsFor(result, state.place.part, state.place.tab, state.place.stage));
      changes.draw(state);
      const now = `${state.place.part} ${state.place.stage} ${state.place.tab}`;
      if (now !== place && place !== '') body.scrollTop = 0;
      place = now;
    },
  };
}

/** @param {Context} ctx */
function panelTabs(ctx) {
  const buttons = TAB_ORDER.map((tab) => el('button', { type: 'button', on: { click: () => ctx.store.act.select({ tab, zone: null }) } }));
  const tabs = el('div', { class: 'choice', role: 'group', 'aria-label': 'Which set-points' }, ...buttons);
  let active = '';
  const by = el('button', { type: 'button', class: 'button by', on: { click: () => {
    const { state, result, act } = ctx.store;
    const { steps, index } = chosenStep(active, state, result);
    act.step(stepKind(active), (index + 1) % steps.length);
  } } });
  return {
    root: el('div', { class: 'panel-tools' }, tabs, by),
    /**
     * @param {State} state
     * @param {Result} result
     * @param {string} path of the row that was touched last
     */
    draw(state, result, path) {
      active = path;
      const names = PANEL_TABS[state.place.part];
      TAB_ORDER.forEach((tab, index) => {
        setText(buttons[index], names[tab]);
        setAttribute(buttons[index], 'aria-pressed', String(state.place.tab === tab));
        show(buttons[index], names[tab] !== '');
      });
      show(by, path !== '');
      if (path === '') return;
      const { steps, step, index } = chosenStep(path, state, result);
      setText(by, `by ${step.text}`);
      const next = steps[(index + 1) % steps.length];
      setAttribute(by, 'aria-label', `by ${step.text}: one step${steps.length > 1 ? `, change to ${next.text}` : ''}`);
    },
  };
}

/**
 * Rows are made once and kept; the plan says which are shown.
 * @param {Context} ctx
 */
function panelRows(ctx) {
  const root = el('div', { class: 'panel-rows' });
  /** @type {Map<string, Row>} */
  const made = new Map();
  /** @type {Row[]} */
  let shown = [];
  let key = '';
  let touched = '';
  let more = '';
  let zone = '';
  const pick = el('div', { class: 'row pick', hidden: true });
  const act = (/** @type {string} */ what) => {
    const [name, index] = what.split(':');
    if (name === 'feeds-more') {
      more = more === index ? '' : index;
      ctx.redraw();
    } else if (name === 'feed-add') void offerFeeds(ctx, pick, Number(index));
    else panelAct(ctx, what);
  };
  const make = (/** @type {Planned} */ plan) => {
    const old = made.get(plan.path);
    if (old && plan.kind !== 'buttons' && plan.kind !== 'head') return old;
    const row = plannedRow(ctx, plan, act, (path) => {
      if (touched === path) return;
      touched = path;
      ctx.redraw();
    });
    made.set(plan.path, row);
    return row;
  };
  let steps = /** @type {string[]} */ ([]);
  return {
    root,
    active: () => (steps.includes(touched) ? touched : (steps[0] ?? '')),
    /**
     * @param {State} state
     * @param {Result} result
     */
    draw(state, result) {
      const plan = /** @type {Planned[]} */ (panelPlan(state)).filter((row) => !row.hidden || more === String(state.place.stage));
      steps = plan.filter((row) => row.kind === 'step').map((row) => row.path);
      const now = JSON.stringify(plan);
      if (now !== key) {
        key = now;
        const focused = document.activeElement;
        const id = focused instanceof HTMLElement && root.contains(focused) ? focused.id : '';
        shown = plan.map(make);
        root.replaceChildren(...shown.map((row) => row.root), pick);
        show(pick, false);
        if (id) document.getElementById(id)?.focus();
      }
      for (const row of shown) row.draw(state, result);
      const zoneNow = state.place.part === 'stage' && state.place.zone !== null && state.place.tab === 'walls' ? `stages[${state.place.stage}].zones[${state.place.zone}].wall_c` : '';
      if (zoneNow !== zone) {
        zone = zoneNow;
        if (zone) {
          touched = zone;
          root.querySelector(`[data-path="${zone}"]`)?.scrollIntoView({ block: 'nearest' });
        }
      }
      for (const row of shown) setAttribute(row.root, 'data-touched', zone !== '' && row.root.dataset.path === zone);
    },
  };
}

/**
 * @param {Context} ctx
 * @param {Planned} plan
 * @param {(act: string) => void} act
 * @param {(path: string) => void} onTouch
 * @returns {Row}
 */
function plannedRow(ctx, plan, act, onTouch) {
  switch (plan.kind) {
    case 'step':
      return stepperRow(ctx, { path: plan.path, label: plan.label, optional: plan.optional, onTouch });
    case 'choice':
      return choiceRow(ctx, { path: plan.path, label: plan.label, of: plan.of ?? [] });
    case 'text':
      return textRow(ctx, { path: plan.path, label: plan.label, long: plan.long });
    case 'profile':
      return profileRow(ctx, plan.path);
    case 'buttons':
      return buttonsRow((plan.acts ?? []).map(([what, words]) => [words, () => act(what)]));
    default:
      return headRow(capital(plan.text ?? ''));
  }
}

/**
 * The precursors that can be fed, as buttons.
 * @param {Context} ctx
 * @param {HTMLElement} pick
 * @param {number} stage
 */
async function offerFeeds(ctx, pick, stage) {
  if (!pick.hidden) {
    show(pick, false);
    return;
  }
  const names = await knownPrecursors(ctx, stage);
  pick.replaceChildren(
    el('h3', { class: 'row-title', text: 'Which precursor?' }),
    el('div', { class: 'buttons' }, ...names.map((name) => el('button', { type: 'button', class: 'button', text: formula(name), on: { click: () => {
      show(pick, false);
      addFeed(ctx, stage, name);
    } } }))),
  );
  show(pick, true);
  pick.scrollIntoView({ block: 'nearest' });
}
