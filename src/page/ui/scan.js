// A scan of the wearer: the file, and points marked on it with the pointer or typed in.
import { BufferAttribute, BufferGeometry } from 'three';
import { OBJLoader } from 'three/addons/loaders/OBJLoader.js';
import { PLYLoader } from 'three/addons/loaders/PLYLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { h, replace, unbroken } from './dom.js';
import { jsonOf } from './engine.js';

// The points that are found most easily; four are enough, more are better.
const points = [
  ['sellion', 'midline', 'deepest point of the nose between the eyes'],
  ['pronasale', 'midline', 'tip of the nose'],
  ['subnasale', 'midline', 'where the nose meets the upper lip'],
  ['menton', 'midline', 'underside of the chin'],
  ['exocanthion', 'left', 'outer corner of the wearer’s left eye'],
  ['exocanthion', 'right', 'outer corner of the wearer’s right eye'],
  ['cheilion', 'left', 'wearer’s left corner of the mouth'],
  ['cheilion', 'right', 'wearer’s right corner of the mouth'],
];
const least = 4;

function readOff(text) {
  const words = text.replace(/#.*$/gm, '').trim().split(/\s+/);
  if (words.shift() !== 'OFF') throw new Error('an OFF file begins with OFF');
  const [n, m] = words.splice(0, 3).map(Number);
  const vertices = words.splice(0, 3 * n).map(Number);
  const index = [];
  for (let k = 0, at = 0; k < m; ++k) {
    const corners = Number(words[at]);
    const face = words.slice(at + 1, at + 1 + corners).map(Number);
    for (let i = 2; i < corners; ++i) index.push(face[0], face[i - 1], face[i]);
    at += 1 + corners;
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(vertices), 3));
  geometry.setIndex(index);
  return geometry;
}

/// The triangles of a scan, to be looked at; the engine reads the file itself.
export function scanGeometry(name, bytes) {
  const text = () => new TextDecoder().decode(bytes);
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
  const kind = name.toLowerCase().split('.').at(-1);
  let geometry;
  if (kind === 'ply') geometry = new PLYLoader().parse(buffer);
  else if (kind === 'stl') geometry = new STLLoader().parse(buffer);
  else if (kind === 'off') geometry = readOff(text());
  else if (kind === 'obj') {
    new OBJLoader().parse(text()).traverse((node) => {
      if (
        node.geometry &&
        (!geometry || node.geometry.attributes.position.count > geometry.attributes.position.count)
      )
        geometry = node.geometry;
    });
  }
  if (!geometry?.attributes.position?.count)
    throw new Error('no triangles found; a scan is OBJ, PLY, STL or OFF');
  geometry.computeVertexNormals();
  return geometry;
}

export class ScanMarker {
  constructor(app) {
    this.app = app;
    this.at = points.map(() => null);
    this.list = h('div', {});
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

  async open(file) {
    if (!file) return;
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      this.app.view.showScan(scanGeometry(file.name, bytes), (at) => this.mark(at));
      this.name = file.name;
      this.app.store.files[file.name] = bytes;
      this.at = points.map(() => null);
      this.aim = 0;
      this.ask.disabled = false;
      replace(this.words);
      this.say();
    } catch (error) {
      replace(this.state, `${file.name}: ${error.message}`);
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
    this.say();
    replace(this.words, unbroken(answer.printed));
  }

  mark(at) {
    this.at[this.aim] = at;
    const next = this.at.findIndex((each) => each === null);
    if (next >= 0) this.aim = next;
    this.say();
  }

  say() {
    const done = this.at.filter(Boolean).length;
    replace(
      this.list,
      points.map(([name, side, words], k) => {
        const radio = h('input', {
          type: 'radio',
          name: 'scan-point',
          checked: k === this.aim,
          onchange: () => {
            this.aim = k;
          },
        });
        const typed = h('input', {
          type: 'text',
          class: 'coordinates',
          value: this.at[k]?.map((each) => each.toPrecision(5)).join(' ') ?? '',
          'aria-label': `Coordinates of the ${words}, x y z in the scan’s unit`,
          onchange: () => {
            const values = typed.value
              .trim()
              .split(/[\s,;]+/)
              .map(Number);
            if (values.length === 3 && values.every(Number.isFinite)) {
              this.at[k] = values;
              this.say();
            }
          },
        });
        return h(
          'div',
          { class: 'scan-point' },
          h('label', { class: 'check' }, radio, h('span', {}, words)),
          typed,
        );
      }),
    );
    this.app.view.mark(
      this.at.flatMap((at, k) => (at ? [{ at, text: String(k + 1), kind: 'free' }] : [])),
    );
    this.use.disabled = done < least;
    replace(this.state, `${done} of at least ${least} points are set.`);
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
