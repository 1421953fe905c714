/**
 * A code read by the camera, where the browser has a reader of its own; elsewhere there is no button, and pasting stays.
 */
import { el, fill } from './dom.js';

/**
 * @param {(text: string) => Promise<boolean>} take
 * @returns {HTMLElement[]} the button, or nothing
 */
export function cameraReader(take) {
  const Reader = /** @type {any} */ (globalThis).BarcodeDetector;
  if (!Reader || !navigator.mediaDevices?.getUserMedia) return [];
  const host = el('div', { class: 'camera' });
  const start = el('button', { type: 'button', class: 'button', text: 'Read a code', on: { click: () => void readCode(new Reader({ formats: ['qr_code'] }), host, take) } });
  return [start, host];
}

/**
 * Shows the camera until a code is read or Stop is pressed.
 * @param {{detect: (source: HTMLVideoElement) => Promise<{rawValue: string}[]>}} reader
 * @param {HTMLElement} host
 * @param {(text: string) => Promise<boolean>} take
 */
async function readCode(reader, host, take) {
  const video = el('video', { muted: true, playsinline: true, 'aria-label': 'What the camera sees' });
  let running = true;
  const stop = el('button', { type: 'button', class: 'button', text: 'Stop', on: { click: () => (running = false) } });
  /** @type {MediaStream | null} */
  let stream = null;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
    video.srcObject = stream;
    fill(host, video, stop);
    await video.play();
    let last = '';
    while (running) {
      const found = await reader.detect(video);
      if (found.length && found[0].rawValue !== last) {
        last = found[0].rawValue;
        if (await take(last)) running = false;
      }
      await new Promise((resolve) => setTimeout(resolve, 150));
    }
    fill(host);
  } catch {
    fill(host, el('p', { class: 'note', text: 'The camera cannot be used here. Paste the text of the code.' }));
  } finally {
    for (const track of stream?.getTracks() ?? []) track.stop();
  }
}
