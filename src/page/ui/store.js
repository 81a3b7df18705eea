// The case in hand: JSON as its file holds it, with undo and, if asked, kept in this browser.

import { choices, chosen } from './units.js';

const kept = 'rimload-kept-case';
const steps = 100;
// Objects that stay when nothing is left in them: without them the form would be another one.
const standing = new Set(['face', 'face/measurements']);
const nameOf = (path) => path.split('/').at(-1);

export const pointerOf = (path) => path.split('/').filter((each) => each !== '');

export function valueAt(json, path) {
  return pointerOf(path).reduce(
    (node, key) => (node === undefined || node === null ? undefined : node[key]),
    json,
  );
}

// A copy with the value at the path; undefined takes it away, and with it objects left empty.
export function withValue(json, path, value) {
  const put = (node, keys, above = '') => {
    const [key, ...rest] = keys;
    const here = `${above}${key}`;
    const copy = { ...(node ?? {}) };
    const next = rest.length === 0 ? value : put(copy[key], rest, `${here}/`);
    const gone =
      next === undefined ||
      (rest.length > 0 &&
        value === undefined &&
        Object.keys(next).length === 0 &&
        !standing.has(here));
    if (gone) delete copy[key];
    else copy[key] = next;
    return copy;
  };
  return put(json, pointerOf(path));
}

function merged(json, change) {
  if (change === null || typeof change !== 'object' || Array.isArray(change)) return change;
  const out = json !== null && typeof json === 'object' && !Array.isArray(json) ? { ...json } : {};
  for (const [key, value] of Object.entries(change)) {
    if (value === null) delete out[key];
    else out[key] = merged(out[key], value);
  }
  return out;
}

export class Store {
  constructor(files) {
    this.files = { ...files }; // path to text or bytes
    this.shipped = files;
    this.path = '';
    this.json = {};
    this.past = [];
    this.future = [];
    this.listeners = new Set();
    this.keeping = false;
    this.onKept = () => {}; // told (words) when what is kept, or not kept, changes
  }

  get caseFiles() {
    return { ...this.files, [this.path]: this.text };
  }
  get text() {
    return `${JSON.stringify(this.json, null, 2)}\n`;
  }

  listen(listener) {
    this.listeners.add(listener);
  }
  tell(why) {
    for (const listener of this.listeners) listener(why);
    if (this.keeping) this.keep(true);
  }

  // A file of the user's stands for one of the same name that was there.
  lay(name, content) {
    const alike = Object.keys(this.files).filter((path) => nameOf(path) === name);
    for (const path of alike.length > 0 ? alike : [name]) this.files[path] = content;
  }

  // A new case: the way back leads to the one before.
  open(path, json) {
    if (this.path !== '') this.remember();
    this.path = path;
    this.json = json;
    this.tell('open');
  }
  remember() {
    this.past.push({ path: this.path, json: this.json });
    if (this.past.length > steps) this.past.shift();
    this.future = [];
  }

  /// merge: a change of the same thing within a moment (a slider under way) is one step back.
  set(path, value) {
    const now = Date.now();
    const json = withValue(this.json, path, value);
    if (JSON.stringify(json) === JSON.stringify(this.json)) return;
    if (!(this.last?.path === path && now - this.last.at < 800)) this.remember();
    this.last = { path, at: now };
    this.future = [];
    this.json = json;
    this.tell('set');
  }
  // A JSON merge patch (RFC 7396), one step back.
  merge(change) {
    this.remember();
    this.last = null;
    this.json = merged(this.json, change);
    this.tell('set');
  }
  // Several values, one step back.
  setAll(values) {
    this.remember();
    this.last = null;
    for (const [path, value] of values) this.json = withValue(this.json, path, value);
    this.tell('set');
  }
  get(path) {
    return valueAt(this.json, path);
  }

  step(from, to) {
    if (from.length === 0) return;
    to.push({ path: this.path, json: this.json });
    Object.assign(this, from.pop());
    this.last = null;
    this.tell('open');
  }
  undo() {
    this.step(this.past, this.future);
  }
  redo() {
    this.step(this.future, this.past);
  }

  // Only when asked: nothing is written to this computer otherwise. Never throws: what could not be
  // kept is told in words.
  keep(on) {
    const before = this.words;
    this.keeping = on;
    this.words = '';
    try {
      if (on) localStorage.setItem(kept, this.keptText);
      else localStorage.removeItem(kept);
    } catch (error) {
      this.keeping = false;
      this.words = `This browser does not keep the case (${error.message}). Save it as a file.`;
      this.forget();
    }
    if (this.keeping && this.scanName) {
      this.words = `The scan is not kept: open ${this.scanName} again after the page was closed.`;
    }
    if (this.words !== before || this.keeping !== on) this.onKept(this.words);
  }
  // No older case is left behind that would be taken for this one.
  forget() {
    try {
      localStorage.removeItem(kept);
    } catch {
      // It keeps nothing at all.
    }
  }
  get keptText() {
    const own = Object.entries(this.files).filter(
      ([path, content]) => typeof content === 'string' && content !== this.shipped[path],
    );
    return JSON.stringify({ path: this.path, json: this.json, files: own, units: chosen });
  }
  // Of the case, if it is one.
  get scanName() {
    const path = this.get('face/scan/file');
    return typeof path === 'string' ? nameOf(path) : null;
  }
  restore() {
    try {
      const text = localStorage.getItem(kept);
      if (!text) return false;
      const { path, json, files, units = {} } = JSON.parse(text);
      Object.assign(this.files, Object.fromEntries(files));
      for (const [kind, unit] of Object.entries(units)) {
        if (choices[kind]?.includes(unit)) chosen[kind] = unit;
      }
      this.path = path;
      this.json = json;
      this.keeping = true;
      return true;
    } catch {
      return false;
    }
  }
}
