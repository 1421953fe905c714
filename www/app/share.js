/**
 * Share: carry the recipe as a code, a file, a link or a sheet of paper, and take one in.
 *
 * @typedef {import('./view.js').Context} Context
 * @typedef {import('./store.js').State} State
 * @typedef {import('./store.js').Job} Job
 * @typedef {import('./share-codes.js').RecipeCodes} RecipeCodes
 */
import { el, fill, put, setText, show } from './dom.js';
import { copyText } from './copy.js';
import { jobFragment } from './link.js';
import { QR_QUIET, checkWord, codePicture, recipeCodes } from './share-codes.js';
import { cameraReader } from './share-camera.js';
import { takeFile, takeText } from './share-take.js';
import { printSheet } from './sheet.js';

/** Px of a module on screen, at least 3 so that a lens can part them. */
const SCREEN_MODULE = 3;

/** @type {ReturnType<typeof shareParts> | null} */
let sharePage = null;
/** The act that was asked for and done, so that a redraw does not do it again. @type {unknown} */
let shareDone = null;

/** @type {import('./view.js').Panel} */
export const sharePanel = {
  id: 'share',
  name: 'Share',
  build(root, ctx) {
    sharePage = shareParts(ctx);
    put(root, sharePage.root);
  },
  draw(state, _result, argument) {
    sharePage?.draw(state);
    if (!argument || argument === shareDone || !sharePage) return;
    shareDone = argument;
    sharePage.acts[/** @type {'save' | 'open' | 'print'} */ (argument.act)]?.();
  },
};

/** @param {Context} ctx */
function shareParts(ctx) {
  const { store } = ctx;
  const codes = shownCodes();
  const said = el('p', { class: 'note', 'aria-live': 'polite' });
  const file = el('input', { type: 'file', accept: '.json,.txt,application/json,text/plain', class: 'sr', tabindex: '-1', 'aria-label': 'A job file' });
  file.addEventListener('change', () => {
    const chosen = file.files?.[0];
    file.value = '';
    if (chosen) void takeFile(ctx, chosen).then((taken) => taken && ctx.close());
  });
  const acts = {
    save: () => void saveJob(ctx).then((name) => setText(said, `Saved as ${name}.`)),
    open: () => file.click(),
    print: () => void printSheet(ctx),
    copy: () => void copyLink(store.state.job).then((done) => setText(said, done ? 'The link is copied. It holds the whole recipe and is sent nowhere.' : 'Copying is not allowed here: the address bar holds the link.')),
  };
  const button = (/** @type {string} */ text, /** @type {() => void} */ act, more = '') =>
    el('button', { type: 'button', class: `button${more}`, text, on: { click: act } });
  const word = el('b');
  const answer = el('p', { class: 'share-answer' });
  const pasted = el('textarea', { class: 'field paste', rows: 3, id: 'share-paste', spellcheck: 'false', autocomplete: 'off' });
  const take = button('Take it', () => void takeText(ctx, pasted.value, '').then((taken) => {
    // What was refused stays in the field, and the words stand beside it too: on a phone the notice is out of sight.
    setText(answer, taken ? '' : store.state.notice);
    if (!taken) return;
    pasted.value = '';
    ctx.close();
  }));
  return {
    root: el('div', { class: 'share' },
      el('div', { class: 'share-acts' }, button('Print run sheet', acts.print, ' go'), button('Save file', acts.save), button('Open a file', acts.open), button('Copy link', acts.copy)),
      said, file, codes.root,
      el('p', { class: 'note' }, 'Recipe check word ', word, '. Two sheets or screens that show the same word hold the same recipe.'),
      el('h3', { text: 'Take a recipe in' }),
      el('label', { for: 'share-paste', text: 'Paste a link, the text of a code, or a job. A file can be dropped anywhere on the page.' }),
      pasted, answer, el('p', { class: 'buttons' }, take, ...cameraReader((text) => takeText(ctx, text, '')))),
    acts,
    /** @param {State} state */
    draw({ job }) {
      setText(word, checkWord(job));
      codes.draw(job);
    },
  };
}

/** The codes of the recipe as it is set now. */
function shownCodes() {
  const pictures = el('div', { class: 'codes' });
  const words = el('p', { class: 'note' });
  /** @type {Job | null} */
  let asked = null;
  return {
    root: el('div', { class: 'share-codes' }, pictures, words),
    /** @param {Job} job */
    draw(job) {
      if (job === asked) return;
      asked = job;
      recipeCodes(job).then((made) => {
        if (job !== asked) return;
        fill(pictures, ...made.codes.map((code, index) => codeFigure(made, index, (code.size + 2 * QR_QUIET) * SCREEN_MODULE)));
        setText(words, codeWords(made));
      }, () => setText(words, 'This browser cannot make the code. Save the file instead.'));
    },
  };
}

/** @param {RecipeCodes} made @param {number} index @param {number} size px */
function codeFigure({ codes, link }, index, size) {
  const name = codes.length > 1 ? `Code ${index + 1} of ${codes.length}` : link ? 'Code with a link to this recipe' : 'Code with this recipe';
  const number = el('figcaption', { text: `${index + 1} of ${codes.length}` });
  show(number, codes.length > 1);
  return el('figure', {}, codePicture(codes[index], name, size), number);
}

/** @param {RecipeCodes} made */
function codeWords({ codes, link }) {
  if (link) return 'Point the camera of another device at the code: its link opens this recipe there.';
  const many = codes.length > 1 ? `The recipe takes ${codes.length} codes. ` : '';
  return `${many}Read ${codes.length > 1 ? 'them' : 'it'} with the camera of another device and paste the text into Share of its page.`;
}

/** Name of the file: the title, as far as a file may be called so. @param {Job} job */
function fileName(job) {
  const plain = String(job.title ?? '').normalize('NFKD').replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '').toLowerCase();
  return `${[...plain].slice(0, 60).join('').replace(/-+$/, '') || 'recipe'}.json`;
}

/**
 * Saves the job as a file, in the core's own writing; where the core cannot run, as it stands.
 * @param {Context} ctx
 * @returns {Promise<string>} the file's name
 */
export async function saveJob(ctx) {
  const { job } = ctx.store.state;
  const written = await ctx.call('write_job', [job]);
  const text = typeof written.ok === 'string' ? written.ok : `${JSON.stringify(job, null, 2)}\n`;
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const name = fileName(job);
  const link = el('a', { href: address, download: name });
  link.click();
  // The browser has taken the bytes long before.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  ctx.say(`Saved as ${name}.`);
  return name;
}

/** @param {Job} job */
async function copyLink(job) {
  return copyText(location.href.split('#')[0] + (await jobFragment(job)));
}
