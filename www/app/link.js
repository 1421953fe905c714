/**
 * A recipe as part of a link: compact JSON, deflated (raw), base64url, behind `#job=`. Never sent anywhere: it is the
 * fragment.
 */

/** Most bytes that a packed recipe may unfold to: a job file is far below, and a trap in a link stays small. */
const MOST_BYTES = 1 << 20;
const FRAGMENT_NAME = '#job=';

/**
 * @param {Uint8Array} bytes
 * @returns {string}
 */
export function toBase64Url(bytes) {
  let text = '';
  for (let index = 0; index < bytes.length; index += 1) text += String.fromCharCode(bytes[index]);
  return btoa(text).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

/**
 * @param {string} text
 * @returns {Uint8Array<ArrayBuffer>}
 */
export function fromBase64Url(text) {
  const plain = atob(text.replace(/-/g, '+').replace(/_/g, '/'));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
}

/**
 * @param {string} text
 * @returns {Promise<Uint8Array>} its UTF-8, deflated without a header
 */
export async function deflated(text) {
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/**
 * @param {Uint8Array<ArrayBuffer>} bytes
 * @returns {Promise<string>} rejects where it is no text, or too much
 */
export async function inflated(bytes) {
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let text = '';
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return text + decoder.decode();
    length += value.length;
    if (length > MOST_BYTES) {
      void reader.cancel();
      throw new Error('the link unfolds to more than a job can be');
    }
    text += decoder.decode(value, { stream: true });
  }
}

/**
 * The fragment of a job, `#job=…`.
 * @param {import('./store.js').Job} job
 * @returns {Promise<string>}
 */
export async function jobFragment(job) {
  return FRAGMENT_NAME + toBase64Url(await deflated(JSON.stringify(job)));
}

/**
 * The text of the job in a fragment.
 * @param {string} fragment as `location.hash`
 * @returns {Promise<string | null>} null where it holds none; rejects where it is damaged
 */
export async function fragmentText(fragment) {
  if (!fragment.startsWith(FRAGMENT_NAME)) return null;
  return inflated(fromBase64Url(fragment.slice(FRAGMENT_NAME.length)));
}
