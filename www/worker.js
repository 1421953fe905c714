// The worker's side of the bridge. Its text stands behind the glue's in one script, so that `wasm_bindgen` is there.
//
// in    { wasm }                       once, first: the bridge, deflated, in base64
//       { module }                     instead of it: the compiled bridge
//       { id, call, args }             a call of the bridge
//       { cancel: id }                 a long call is to stop
// out   { module } or { broken }       answers { wasm }: what came of it, for other workers; or why nothing did
//       { id, ok } or { id, faults, more }
//       { id, trap }                   the core fell over: this worker is of no more use
//       { id, progress: { done, of } } of a long call
//       { id, stopped: true }          it was told to stop
'use strict';

(() => {
  /** Longest that a long call goes on before it listens, ms. */
  const BREATH = 25;

  /** @type {Set<number>} long calls that run */
  const running = new Set();

  /** Calls that go step by step: each makes a stepper of the bridge, which is freed at the end. */
  const long = {
    levers: (job, pinned) => wasm_bindgen.levers_run(job, pinned),
  };

  const heard = new MessageChannel();
  /** Lets messages be heard. */
  const breath = () =>
    new Promise((resolve) => {
      heard.port1.onmessage = resolve;
      heard.port2.postMessage(null);
    });

  const runLong = async (id, call, args) => {
    const started = long[call](...args);
    if (started.faults) return started;
    const run = started;
    running.add(id);
    try {
      let since = performance.now();
      for (;;) {
        const { done, of } = run.step();
        if (done >= of) return { ok: run.result() };
        if (performance.now() - since < BREATH) continue;
        self.postMessage({ id, progress: { done, of } });
        await breath();
        if (!running.has(id)) return { stopped: true };
        since = performance.now();
      }
    } finally {
      running.delete(id);
      run.free();
    }
  };

  const answer = (call, args) => {
    const given = wasm_bindgen[call](...args);
    return given !== null && typeof given === 'object' && ('ok' in given || 'faults' in given) ? given : { ok: given };
  };

  /** What newer browsers do themselves takes a tenth of the time to the first prediction. */
  const fromBase64 = (text) => {
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
    const plain = atob(text);
    const bytes = new Uint8Array(plain.length);
    for (let place = 0; place < bytes.length; place += 1) bytes[place] = plain.charCodeAt(place);
    return bytes;
  };

  const unpacked = async (wasm) => {
    const bytes = fromBase64(wasm);
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
    return WebAssembly.compile(await new Response(stream).arrayBuffer());
  };

  const words = (why) => (why instanceof Error ? why.message : String(why));

  /** Settles once the bridge can be called. */
  let ready = Promise.reject(new Error('no bridge was sent'));
  ready.catch(() => {});

  const begin = async ({ wasm, module }) => {
    try {
      const compiled = module ?? (await unpacked(wasm));
      wasm_bindgen.initSync({ module: compiled });
      if (wasm) self.postMessage({ module: compiled });
    } catch (why) {
      self.postMessage({ broken: words(why) });
      throw why;
    }
  };

  self.onmessage = async ({ data }) => {
    if (data.wasm || data.module) {
      ready = begin(data);
      ready.catch(() => {});
      return;
    }
    if (data.cancel !== undefined) {
      running.delete(data.cancel);
      return;
    }
    const { id, call, args } = data;
    try {
      await ready;
      self.postMessage({ id, ...(call in long ? await runLong(id, call, args) : answer(call, args)) });
    } catch (why) {
      self.postMessage({ id, trap: words(why) });
    }
  };
})();
