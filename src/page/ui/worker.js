// One engine in a worker: takes files and a request, gives back the files and words of its answer.
import makeEngine from 'rimload-engine';

let ready = null;
let underWay = 0; // the id of the request

// At most ten times a second: nobody reads faster.
let toldAt = 0;
function onProgress(done, all) {
  if (performance.now() - toldAt < 100 && done < all) return;
  toldAt = performance.now();
  self.postMessage({ id: underWay, done, all });
}

function start(wasmBinary) {
  return makeEngine({ wasmBinary, onProgress }).then((module) => ({
    module,
    call: (name, type, ...args) =>
      module.ccall(
        `rimload_${name}`,
        type,
        args.map((each) => (typeof each === 'number' ? 'number' : 'string')),
        args,
      ),
  }));
}

function give(engine, path, bytes) {
  const { module } = engine;
  const at = module._malloc(bytes.length || 1);
  module.HEAPU8.set(bytes, at);
  engine.call('give', null, path, at, bytes.length);
  module._free(at);
}

function take(engine) {
  const files = {};
  const n = engine.call('n_files', 'number');
  for (let k = 0; k < n; ++k) {
    const at = engine.call('file_bytes', 'number', k);
    const size = engine.call('file_size', 'number', k);
    files[engine.call('file_name', 'string', k)] = engine.module.HEAPU8.slice(at, at + size);
  }
  return files;
}

self.onmessage = async ({ data }) => {
  if (data.wasm) {
    ready = start(data.wasm);
    return;
  }
  try {
    const engine = await ready;
    for (const [path, bytes] of Object.entries(data.files)) give(engine, path, bytes);
    const started = performance.now();
    underWay = data.id;
    const end = engine.call('run', 'number', JSON.stringify(data.request));
    const answer = {
      id: data.id,
      end,
      printed: engine.call('printed', 'string'),
      complaint: engine.call('complaint', 'string'),
      files: take(engine),
      took_ms: performance.now() - started,
    };
    self.postMessage(
      answer,
      Object.values(answer.files).map((bytes) => bytes.buffer),
    );
  } catch (error) {
    self.postMessage({
      id: data.id,
      end: 1,
      printed: '',
      complaint: `rimload failed: ${error.message ?? error}\n`,
      files: {},
      took_ms: 0,
      broken: true,
    });
  }
};
