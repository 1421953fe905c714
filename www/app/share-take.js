/**
 * What is opened, dropped, pasted or read from a code: told by its content, read by the core, never trusted. Whatever is
 * not taken leaves the recipe as it was.
 *
 * @typedef {import('./view.js').Context} Context
 */
import { addressText, codePart, jobFromCodes } from './code.js';

/** Most characters of a file: a job has a few thousand. */
const MOST_TEXT = 4_000_000;

/** Codes of a recipe that came in parts, as far as they were read. @type {string[]} */
let takenCodes = [];

/** First line of a text, short and without control characters. @param {string} text */
function firstLine(text) {
  const line = text.trim().split(/\r?\n/, 1)[0].replace(/[\u0000-\u001f\u007f]/g, ' ');
  return line.length > 60 ? `${[...line].slice(0, 60).join('')}…` : line;
}

/** What is known of a text without reading it closely. @param {string} text */
export function kindOfText(text) {
  const trimmed = text.trim();
  if (/#(?:job|code)=/.test(trimmed) && !trimmed.startsWith('{')) return 'link';
  if (codePart(trimmed)) return 'code';
  if (trimmed.startsWith('{')) return 'job';
  return 'unknown';
}

/**
 * Takes a text as a recipe, if it is one.
 * @param {Context} ctx
 * @param {string} text
 * @param {string} name of the file; empty where there is none
 * @returns {Promise<boolean>} whether it was taken
 */
export async function takeText(ctx, text, name) {
  const refuse = (/** @type {string} */ words) => {
    ctx.store.act.notice(`${words} The recipe you had stays.`);
    ctx.say(words, true);
    return false;
  };
  const called = name || 'What was pasted';
  if (text.length > MOST_TEXT) return refuse(`${called} is larger than a job can be.`);
  const kind = kindOfText(text);
  if (kind === 'unknown') return refuse(text.trim() ? `${called} is not a job. Its first line reads “${firstLine(text)}”.` : `${called} is empty.`);
  try {
    if (kind === 'code') {
      const whole = await takeCode(ctx, text.trim());
      return whole === null ? false : takeJob(ctx, whole, name || 'the code');
    }
    if (kind === 'link') {
      const fragment = text.trim().slice(text.trim().search(/#(?:job|code)=/));
      const job = await addressText(fragment);
      return job === null ? refuse(`${called} holds no recipe.`) : takeJob(ctx, job, name || 'the link');
    }
  } catch {
    return refuse(`${called} is damaged: its recipe could not be read.`);
  }
  return takeJob(ctx, text, name || 'what was pasted');
}

/** A code of several is kept until the others are there. @param {Context} ctx @param {string} text @returns {Promise<string | null>} */
async function takeCode(ctx, text) {
  const part = codePart(text);
  if (!part) return null;
  if (takenCodes.length && codePart(takenCodes[0])?.of !== part.of) takenCodes = [];
  takenCodes = [...takenCodes.filter((other) => codePart(other)?.part !== part.part), text];
  if (takenCodes.length < part.of) {
    const left = part.of - takenCodes.length;
    ctx.store.act.notice(`Code ${part.part} of ${part.of} is read. Read the other ${left === 1 ? 'one' : left} too.`);
    return null;
  }
  const all = takenCodes;
  takenCodes = [];
  return jobFromCodes(all);
}

/** @param {Context} ctx @param {string} text @param {string} name @returns {Promise<boolean>} */
async function takeJob(ctx, text, name) {
  const { act } = ctx.store;
  const answer = await ctx.call('read_job', [text]);
  if (answer.ok) {
    act.open(`Open ${name}`, answer.ok);
    act.notice('');
    ctx.say(`Opened ${name}.`);
    return true;
  }
  const faults = answer.faults ?? [];
  const many = faults.length === 1 ? 'one fault' : `${faults.length} faults`;
  const words = answer.trap ? `${name} was not read: ${answer.trap}` : `${name} was not taken: ${many}. The recipe you had stays.`;
  act.notice(words.charAt(0).toUpperCase() + words.slice(1), faults);
  ctx.say(words, true);
  return false;
}

/** @param {Context} ctx @param {File} file */
export async function takeFile(ctx, file) {
  if (file.size > MOST_TEXT) return takeText(ctx, ' '.repeat(MOST_TEXT + 1), file.name);
  const text = new TextDecoder('utf-8').decode(await file.arrayBuffer()).replace(/^\ufeff/, '');
  return takeText(ctx, text, file.name);
}

/**
 * Drop anywhere, and paste outside of a field. Called once.
 * @param {Context} ctx
 */
export function installDrop(ctx) {
  const over = (/** @type {boolean} */ on) => (on ? document.body.setAttribute('data-drop', '') : document.body.removeAttribute('data-drop'));
  document.addEventListener('dragover', (event) => {
    event.preventDefault();
    over(true);
  });
  document.addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null) over(false);
  });
  document.addEventListener('drop', (event) => {
    event.preventDefault();
    over(false);
    const file = event.dataTransfer?.files?.[0];
    const text = event.dataTransfer?.getData('text/plain') ?? '';
    if (file) void takeFile(ctx, file);
    else if (text) void takeText(ctx, text, '');
  });
  document.addEventListener('paste', (event) => {
    const inField = event.target instanceof HTMLElement && (event.target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName));
    const text = event.clipboardData?.getData('text/plain') ?? '';
    if (inField || kindOfText(text) === 'unknown') return;
    event.preventDefault();
    void takeText(ctx, text, '');
  });
}
