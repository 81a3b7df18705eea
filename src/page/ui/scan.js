// A scan of the wearer: the file, and points marked on it with the pointer or typed in.
import { BufferAttribute, BufferGeometry } from 'three';
import { OBJLoader } from 'three/addons/loaders/OBJLoader.js';
import { PLYLoader } from 'three/addons/loaders/PLYLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { h, replace, unbroken } from './dom.js';
import { jsonOf } from './engine.js';

// Those that the engine proposes, by the numbers of its words; four are enough, more are better.
const points = [
  ['sellion', 'midline', 'deepest point of the nose between the eyes'],
  ['pronasale', 'midline', 'tip of the nose'],
  ['subnasale', 'midline', 'where the nose meets the upper lip'],
  ['endocanthion', 'left', 'inner corner of the wearer’s left eye'],
  ['endocanthion', 'right', 'inner corner of the wearer’s right eye'],
  ['exocanthion', 'left', 'outer corner of the wearer’s left eye'],
  ['exocanthion', 'right', 'outer corner of the wearer’s right eye'],
  ['stomion', 'midline', 'where the lips meet, in the middle'],
  ['cheilion', 'left', 'wearer’s left corner of the mouth'],
  ['cheilion', 'right', 'wearer’s right corner of the mouth'],
  ['menton', 'midline', 'underside of the chin'],
];
const least = 4;

// What the engine's words say of a point, as '6 exocanthion (left): look closely (it follows ...)'.
// A point of which nothing is understood is to be looked at closely.
function heldOf(printed) {
  const lines = unbroken(printed).split('\n');
  return points.map(([name, side], k) => {
    const begins = `${k + 1} ${name}${side === 'midline' ? '' : ` (${side})`}: `;
    const rest = lines.find((line) => line.startsWith(begins))?.slice(begins.length) ?? '';
    const [, how, why] = /^(sure|look closely|not found)(?: \((.*)\))?/.exec(rest) ?? [];
    return { how: how ?? 'look closely', why: why ?? '' };
  });
}

class Unreadable extends Error {}
const cutShort = 'it ends before everything that it announces';

function readOff(text) {
  const words = text.replace(/#.*$/gm, '').trim().split(/\s+/);
  if (words.shift() !== 'OFF') throw new Unreadable('an OFF file begins with OFF');
  const numbers = words.map(Number);
  const [n, m] = numbers;
  if (!Number.isInteger(n) || !Number.isInteger(m) || numbers.length < 3 + 3 * n)
    throw new Unreadable(cutShort);
  const index = [];
  for (let k = 0, at = 3 + 3 * n; k < m; ++k) {
    const corners = numbers[at];
    const face = numbers.slice(at + 1, at + 1 + corners);
    if (!(corners >= 3) || face.length < corners) throw new Unreadable(cutShort);
    for (let i = 2; i < corners; ++i) index.push(face[0], face[i - 1], face[i]);
    at += 1 + corners;
  }
  const geometry = new BufferGeometry();
  const positions = new Float32Array(numbers.slice(3, 3 + 3 * n));
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setIndex(index);
  return geometry;
}

function readPly(buffer) {
  const geometry = new PLYLoader().parse(buffer);
  const head = new TextDecoder('latin1').decode(buffer.slice(0, 4096));
  const announced = (what) => Number(new RegExp(`element ${what} (\\d+)`).exec(head)?.[1] ?? 0);
  const { position } = geometry.attributes;
  const n_triangles = (geometry.index?.count ?? 0) / 3;
  if (position && (position.count < announced('vertex') || n_triangles < announced('face')))
    throw new Unreadable(cutShort);
  return geometry;
}

function readObj(text) {
  let largest;
  new OBJLoader().parse(text).traverse(({ geometry }) => {
    const n = geometry?.attributes.position?.count ?? 0;
    if (n > (largest?.attributes.position.count ?? 0)) largest = geometry;
  });
  return largest;
}

const readers = {
  ply: readPly,
  stl: (buffer) => new STLLoader().parse(buffer),
  off: (buffer) => readOff(new TextDecoder().decode(buffer)),
  obj: (buffer) => readObj(new TextDecoder().decode(buffer)),
};
const kindOf = (name) => name.toLowerCase().split('.').at(-1);

function assertWhole({ index, attributes: { position } }) {
  if (!position.array.every(Number.isFinite)) throw new Unreadable('a corner has no numbers');
  if (index && !index.array.every((at) => at >= 0 && at < position.count))
    throw new Unreadable('a triangle names a corner that is not there');
}

/// The triangles of a scan, to be looked at; the engine reads the file itself.
/// Throws an error whose message says in plain words why it can't be read.
export function scanGeometry(name, bytes) {
  const kind = kindOf(name);
  const read = readers[kind];
  if (!read) throw new Unreadable('a scan is OBJ, PLY, STL or OFF');
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
  let geometry;
  try {
    geometry = read(buffer);
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    const what = `it is no ${kind.toUpperCase()} file, or it is cut short or damaged`;
    throw new Unreadable(`${what}. Export the scan once more, in another kind if it fails again`);
  }
  if (!geometry?.attributes.position?.count) throw new Unreadable('no triangles are in it');
  assertWhole(geometry);
  geometry.computeVertexNormals();
  return geometry;
}

export class ScanMarker {
  constructor(app) {
    this.app = app;
    this.at = points.map(() => null);
    this.aim = 0;
    this.rows = points.map((_, k) => this.rowOf(k));
    this.list = h(
      'div',
      { hidden: true },
      this.rows.map(({ node }) => node),
    );
    this.looked = h('input', { type: 'checkbox', onchange: () => this.say() });
    this.lookedLabel = h(
      'label',
      { class: 'check', hidden: true },
      this.looked,
      h('span', {}, 'I have looked at each point on the scan, from the front and from the side'),
    );
    this.words = h('pre', { class: 'words', 'aria-live': 'polite' });
    this.state = h('p', { role: 'status', 'aria-live': 'polite', class: 'help' });
    const file = h('input', {
      type: 'file',
      accept: '.obj,.ply,.stl,.off',
      id: 'scan-file',
      onchange: () => this.open(file.files[0]),
    });
    this.unit = h(
      'select',
      { id: 'scan-unit' },
      ['infer it', 'mm', 'cm', 'inch', 'm'].map((each) => h('option', {}, each)),
    );
    this.ask = h(
      'button',
      { type: 'button', disabled: true, onclick: () => this.propose() },
      'Propose points',
    );
    this.use = h(
      'button',
      { type: 'button', class: 'main', disabled: true, onclick: () => this.finish() },
      'Use these points',
    );
    this.node = h(
      'div',
      {},
      h(
        'p',
        {},
        'Open the scan, turn it with the pointer, choose a point in the list and click where it lies. Four or more, on both sides. A scan shows skin, not bone: tissue depths stay those of a reference face.',
      ),
      h(
        'div',
        { class: 'field' },
        h('label', { for: 'scan-file' }, 'Scan (OBJ, PLY, STL, OFF)'),
        file,
      ),
      h('div', { class: 'field' }, h('label', { for: 'scan-unit' }, 'Its unit'), this.unit),
      this.list,
      this.lookedLabel,
      this.state,
      this.words,
      h(
        'div',
        { class: 'row' },
        this.ask,
        this.use,
        h('button', { type: 'button', onclick: () => this.close() }, 'Leave the scan'),
      ),
    );
  }

  /// A row of the list: which point the pointer sets next, where it lies, how sure it is.
  rowOf(k) {
    const [, , words] = points[k];
    const radio = h('input', {
      type: 'radio',
      name: 'scan-point',
      onchange: () => {
        this.aim = k;
      },
    });
    const typed = h('input', {
      type: 'text',
      class: 'coordinates',
      'aria-label': `Coordinates of ${k + 1}, ${words}: x y z in the scan’s unit; empty leaves it out`,
      onchange: () => this.type(k, typed.value.trim()),
    });
    const tick = h('input', { type: 'checkbox', onchange: () => this.say() });
    const about = h('span', {});
    const doubt = h('label', { class: 'check', hidden: true }, tick, about);
    const node = h(
      'div',
      { class: 'scan-point' },
      h('label', { class: 'check' }, radio, h('span', {}, `${k + 1} ${words}`)),
      typed,
      doubt,
    );
    return { node, radio, typed, tick, about, doubt };
  }

  /// Is this the place for a file that is dropped?
  takes({ name }) {
    return this.node.offsetParent !== null && kindOf(name) in readers;
  }

  async open(file) {
    if (!file) return;
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      this.app.view.showScan(scanGeometry(file.name, bytes), (at) => this.set(this.aim, at));
      this.name = file.name;
      this.app.store.files[file.name] = bytes;
      this.at = points.map(() => null);
      this.proposed = null;
      this.aim = 0;
      this.ask.disabled = false;
      this.list.hidden = false;
      replace(this.words);
      this.say();
    } catch (error) {
      replace(this.state, `${file.name} can’t be read: ${error.message}.`);
    }
  }

  // What the engine makes of the scan's shape: to be looked at point by point, never taken as it is.
  async propose() {
    const { engines } = this.app;
    const { name } = this;
    replace(this.state, 'Looking for the face …');
    const unit = this.unit.value === 'infer it' ? {} : { unit: this.unit.value };
    const files = { [name]: this.app.store.files[name] };
    const answer = await engines.long.run({ command: 'scan', file: name, ...unit }, files);
    if (name !== this.name) return;
    if (answer.end !== 0) {
      replace(this.state, answer.complaint.trim());
      return;
    }
    const { landmarks } = jsonOf(answer.files['landmarks.json']);
    this.at = points.map(([key, side]) => {
      const found = landmarks.find(
        (each) => each.name === key && (each.side ?? 'midline') === side,
      );
      return found ? found.at_scan_units : null;
    });
    this.proposed = heldOf(answer.printed).map((held, k) => ({ ...held, at: this.at[k] }));
    this.looked.checked = false;
    for (const row of this.rows) row.tick.checked = false;
    this.say();
    replace(this.words, unbroken(answer.printed));
  }

  set(k, at) {
    this.at[k] = at;
    const next = this.at.findIndex((each) => each === null);
    if (next >= 0) this.aim = next;
    this.say();
  }
  // Nothing typed leaves the point out; what is no point changes nothing.
  type(k, text) {
    const values = text.split(/[\s,;]+/).map(Number);
    if (text === '') this.at[k] = null;
    else if (values.length === 3 && values.every(Number.isFinite)) this.at[k] = values;
    this.say();
  }

  /// As proposed, not moved since.
  asProposed(k) {
    return this.at[k] !== null && this.at[k] === this.proposed?.[k].at;
  }

  say() {
    const doubtful = [];
    this.rows.forEach(({ radio, typed, tick, about, doubt }, k) => {
      radio.checked = k === this.aim;
      typed.value = this.at[k]?.map((each) => each.toPrecision(5)).join(' ') ?? '';
      const { how, why } = this.proposed?.[k] ?? {};
      const doubted = this.asProposed(k) && how !== 'sure';
      doubt.hidden = !doubted;
      replace(about, doubted ? `Look closely: ${why || how}. Ticked: it lies right.` : '');
      if (doubted && !tick.checked) doubtful.push(k + 1);
    });
    this.app.view.mark(
      this.at.flatMap((at, k) => (at ? [{ at, text: String(k + 1), kind: 'free' }] : [])),
    );
    const unseen = points.some((_, k) => this.asProposed(k));
    this.lookedLabel.hidden = !unseen;
    const done = this.at.filter(Boolean).length;
    const todo = [
      done < least ? `${done} of at least ${least} points are set` : '',
      doubtful.length > 0 ? `tick, move or leave out: ${doubtful.join(', ')}` : '',
      unseen && !this.looked.checked ? 'say that you have looked at each point' : '',
    ].filter(Boolean);
    this.use.disabled = todo.length > 0;
    replace(
      this.state,
      todo.length > 0 ? `Before they are used: ${todo.join('; ')}.` : `${done} points are set.`,
    );
  }

  finish() {
    const landmarks = points.flatMap(([name, side], k) =>
      this.at[k] ? [{ name, side, at_scan_units: this.at[k] }] : [],
    );
    const unit = this.unit.value === 'infer it' ? {} : { unit: this.unit.value };
    this.app.view.showScan(null);
    this.app.store.set('face', { scan: { file: this.name, ...unit, landmarks } });
  }

  close() {
    this.app.view.showScan(null);
    this.app.redraw();
  }
}
