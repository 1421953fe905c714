/**
 * Text to the clipboard, also from a file, where the newer way may be refused.
 */
import { el } from './dom.js';

/**
 * @param {string} text
 * @returns {Promise<boolean>} whether it is there now
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return copiedByHand(text);
  }
}

/** The older way: from a field that is selected. @param {string} text */
function copiedByHand(text) {
  const before = document.activeElement;
  const field = el('textarea', { class: 'sr', 'aria-hidden': 'true', tabindex: '-1' });
  field.value = text;
  document.body.append(field);
  field.select();
  let done = false;
  try {
    done = document.execCommand('copy');
  } catch {
    done = false;
  }
  field.remove();
  if (before instanceof HTMLElement) before.focus();
  return done;
}
