// Two engines: one follows the hand, one takes the long jobs, so that neither waits for the other.

import { faultWords } from './faults.js';

/* global WORKER_SOURCE */

async function unpacked() {
  const text = document.getElementById('engine').textContent;
  const packed = Uint8Array.from(atob(text), (each) => each.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

class Engine {
  constructor(wasm) {
    this.wasm = wasm;
    this.waiting = new Map();
    this.given = new Map();
    this.next = 1;
    this.begin();
  }

  begin() {
    const url = URL.createObjectURL(new Blob([WORKER_SOURCE], { type: 'text/javascript' }));
    this.worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.given.clear();
    this.worker.onmessage = ({ data }) => this.answered(data);
    this.worker.onerror = (event) => this.broke(event.message || 'the engine stopped');
    this.worker.postMessage({ wasm: this.wasm });
  }

  answered(answer) {
    const { settle, progress, caseFile } = this.waiting.get(answer.id) ?? {};
    if ('done' in answer) {
      progress?.(answer.done, answer.all);
      return;
    }
    this.waiting.delete(answer.id);
    settle?.({ ...answer, complaint: faultWords(answer.complaint, caseFile) });
    if (answer.broken) this.restart();
  }

  // What was under way ends with the reason; the next request finds a fresh engine.
  broke(reason) {
    const all = [...this.waiting.keys()];
    const complaint = `rimload failed: ${reason}\n`;
    for (const id of all) {
      this.answered({ id, end: 1, printed: '', complaint, files: {}, took_ms: 0 });
    }
    this.restart();
  }

  restart() {
    this.worker.terminate();
    this.begin();
  }

  get busy() {
    return this.waiting.size > 0;
  }

  stop() {
    this.broke('stopped as asked');
  }

  /// files: path to text or bytes; only those that changed go across. progress: told how many parts
  /// of how many are done.
  run(request, files, progress) {
    const id = this.next++;
    const news = {};
    for (const [path, content] of Object.entries(files)) {
      if (this.given.get(path) === content) continue;
      this.given.set(path, content);
      news[path] = typeof content === 'string' ? new TextEncoder().encode(content) : content;
    }
    return new Promise((settle) => {
      this.waiting.set(id, { settle, progress, caseFile: request.case ?? request.file });
      this.worker.postMessage({ id, request, files: news });
    });
  }
}

export async function startEngines() {
  const wasm = await unpacked();
  return { live: new Engine(wasm), long: new Engine(wasm) };
}
export const textOf = (bytes) => new TextDecoder().decode(bytes);
export const jsonOf = (bytes) => JSON.parse(textOf(bytes));

// PNG and SVG of an answer, shown as they are.
export function pictureUrl(name, bytes) {
  const type = name.endsWith('.svg') ? 'image/svg+xml' : 'image/png';
  return URL.createObjectURL(new Blob([bytes], { type }));
}
