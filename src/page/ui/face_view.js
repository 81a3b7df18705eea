// The face in three dimensions: skin with its pressure, rim, straps, jets, dressings, tube, hair.
import {
  AmbientLight,
  BufferGeometry,
  Color,
  DataTexture,
  DoubleSide,
  Group,
  Line,
  LineBasicMaterial,
  LinearFilter,
  Mesh,
  MeshLambertMaterial,
  DirectionalLight,
  PerspectiveCamera,
  RGBAFormat,
  Raycaster,
  Scene,
  ShaderMaterial,
  UnsignedByteType,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import { h, replace } from './dom.js';
import { FaceThings } from './face_things.js';
import {
  band,
  fragmentShader,
  ribbon,
  rowsOf,
  skinGeometry,
  vec,
  vertexShader,
} from './face_meshes.js';

const faceCentre = new Vector3(0, -38, -28); // about the middle of a face [mm]
const resting = 2; // pixels drawn for one of the screen, each way
const movingSteps = [0.6, 0.75, 1, 1.25, 1.5]; // of the same while the picture moves
const [coarsest, finest] = [movingSteps[0], movingSteps.at(-1)];
const drawnIn = 10; // ms that a moving picture may take
const home = { yaw: 0, pitch: 0, distance: 415 };
export const views = {
  front: { yaw: 0, pitch: 0 },
  'wearer’s left': { yaw: 75, pitch: 0 },
  'wearer’s right': { yaw: -75, pitch: 0 },
  'from below': { yaw: 0, pitch: -50 },
};

export class FaceView {
  constructor({ onPick } = {}) {
    this.onPick = onPick;
    this.heat = 1;
    this.pose = { ...home };
    this.centre = faceCentre.clone();
    this.canvas = h('canvas', {
      tabindex: '0',
      role: 'img',
      class: 'face-canvas',
      'aria-label':
        'The face with the mask’s pressure on it. Arrow keys turn it, plus and minus zoom, Home resets. The table beside it says the same in numbers.',
    });
    this.marks = h('div', { class: 'marks', 'aria-hidden': 'true' });
    this.node = h('div', { class: 'face-view' }, this.canvas, this.marks);
    this.spots = [];
    this.places = [];
    try {
      this.renderer = new WebGLRenderer({ canvas: this.canvas, antialias: false, alpha: true });
    } catch {
      replace(
        this.node,
        h(
          'p',
          { class: 'note' },
          'This browser draws no 3-D here; the table and the printed pictures say the same.',
        ),
      );
      return;
    }
    this.build();
    this.listen();
  }

  build() {
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(28, 1, 50, 1500);
    this.scene.add(new AmbientLight(0xffffff, 1.6));
    const lamp = new DirectionalLight(0xffffff, 1.8);
    lamp.position.set(0, 200, 300);
    this.scene.add(lamp);
    this.field = this.texture(new Uint8Array(4), 1, 1);
    this.ramp = this.texture(new Uint8Array([255, 255, 255, 255]), 1, 1);
    this.material = new ShaderMaterial({
      vertexShader,
      fragmentShader,
      transparent: true,
      uniforms: {
        field: { value: this.field },
        ramp: { value: this.ramp },
        frame: { value: [0, 0, 1, 1] },
        heat: { value: 1 },
        stripe: { value: 9 },
      },
    });
    this.skin = new Mesh(new BufferGeometry(), this.material);
    this.scene.add(this.skin);
    this.things = new FaceThings();
    this.scene.add(this.things.group);
    this.guesses = new Group();
    this.scene.add(this.guesses);
    this.watch = new ResizeObserver(() => this.resize());
    this.watch.observe(this.node);
  }

  texture(bytes, width, height) {
    const texture = new DataTexture(bytes, width, height, RGBAFormat, UnsignedByteType);
    texture.minFilter = LinearFilter;
    texture.magFilter = LinearFilter;
    texture.needsUpdate = true;
    return texture;
  }

  // Of the same size it goes into the texture that is there.
  setField(bytes, width, height) {
    const { image } = this.field;
    if (image.width === width && image.height === height) {
      image.data = bytes;
      this.field.needsUpdate = true;
      return;
    }
    this.field.dispose();
    this.field = this.texture(bytes, width, height);
    this.material.uniforms.field.value = this.field;
  }

  listen() {
    const { canvas } = this;
    let from = null;
    canvas.addEventListener('pointerdown', (event) => {
      canvas.setPointerCapture(event.pointerId);
      from = { x: event.clientX, y: event.clientY, ...this.pose, moved: 0 };
    });
    canvas.addEventListener('pointermove', (event) => {
      if (!from) return;
      const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
      from.moved = Math.max(from.moved, Math.hypot(dx, dy));
      this.turn({ yaw: from.yaw - 0.4 * dx, pitch: from.pitch + 0.4 * dy });
    });
    canvas.addEventListener('pointerup', (event) => {
      if (from && from.moved < 4) this.pick(event);
      from = null;
    });
    canvas.addEventListener('pointercancel', () => (from = null));
    canvas.addEventListener(
      'wheel',
      (event) => {
        event.preventDefault();
        this.zoom(Math.exp(0.001 * event.deltaY));
      },
      { passive: false },
    );
    canvas.addEventListener('keydown', (event) => {
      const turns = { ArrowLeft: [-6, 0], ArrowRight: [6, 0], ArrowUp: [0, 6], ArrowDown: [0, -6] }[
        event.key
      ];
      if (turns) this.turn({ yaw: this.pose.yaw + turns[0], pitch: this.pose.pitch + turns[1] });
      else if (event.key === '+' || event.key === '=') this.zoom(0.9);
      else if (event.key === '-') this.zoom(1.1);
      else if (event.key === 'Home') this.reset();
      else return;
      event.preventDefault();
    });
  }

  turn(pose) {
    Object.assign(this.pose, pose);
    const [highest, farthest] = this.scan ? [89, Infinity] : [70, 100];
    this.pose.pitch = Math.min(highest, Math.max(-highest, this.pose.pitch));
    this.pose.yaw = Math.min(farthest, Math.max(-farthest, this.pose.yaw));
    this.draw();
  }
  // From the front, as near as at first.
  reset() {
    this.turn({ ...home, distance: home.distance * (this.scan?.size ?? 1) });
  }
  zoom(factor) {
    const size = this.scan ? this.scan.size : 1;
    this.pose.distance = Math.min(900 * size, Math.max(160 * size, this.pose.distance * factor));
    this.draw();
  }
  // So that a place of the skin faces the viewer.
  turnTo([x, , z]) {
    this.turn({ yaw: ((Math.atan2(x, z + 92) * 180) / Math.PI) * 0.8, pitch: 0 });
  }

  pick(event) {
    const target = this.scan ? this.scan.mesh : this.skin;
    const onPick = this.scan ? this.scan.onPick : this.onPick;
    if (!onPick) return;
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(
      (2 * (event.clientX - box.left)) / box.width - 1,
      1 - (2 * (event.clientY - box.top)) / box.height,
    );
    const ray = new Raycaster();
    ray.setFromCamera(at, this.camera);
    const [hit] = ray.intersectObject(target);
    if (hit) onPick([hit.point.x, hit.point.y, hit.point.z]);
  }

  resize() {
    const { clientWidth: width, clientHeight: height } = this.node;
    if (width < 2 || height < 2) return;
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  // Finely once the hand rests; while it moves, as finely as this computer draws in time.
  sharpen(ratio) {
    const { fine, coarse } = this.skin.geometry.userData;
    const quick = (this.moving ?? 1) === finest;
    if (fine) this.skin.geometry.setIndex(ratio === resting || quick ? fine : coarse);
    if (this.ratio === ratio) return;
    this.ratio = ratio;
    this.renderer.setPixelRatio(ratio);
    this.material.uniforms.stripe.value = 9 * ratio;
  }
  measure() {
    const began = performance.now();
    const pixel = new Uint8Array(4);
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel); // waits for the picture
    const took = performance.now() - began;
    this.measured = (this.measured ?? 0) + 1;
    if (this.measured === 1) return; // with the first picture shaders are compiled
    const fits = this.ratio * Math.sqrt(drawnIn / Math.max(1, took));
    const step = movingSteps.findLast((each) => each <= fits) ?? coarsest;
    // The better of two measures; later down only, since every change of size costs a picture.
    if (this.measured <= 3) this.moving = Math.max(this.moving ?? coarsest, step);
    else this.moving = Math.min(this.moving, step);
  }

  /// scene: scene.json; lines, field, skin: bytes as scene_json.hpp has them; no skin: the same face.
  show(scene, lines, field, skin) {
    if (!this.renderer) return;
    if (skin) {
      this.skin.geometry.dispose();
      this.skin.geometry = skinGeometry(skin, scene.skin);
    }
    const frame = scene.field;
    const image = frame.n_u > 0 ? [field, frame.n_u, frame.n_v] : [new Uint8Array(4), 1, 1];
    this.setField(...image);
    const { uniforms } = this.material;
    uniforms.frame.value = [
      frame.u0_mm - frame.texel_mm / 2,
      frame.v0_mm - frame.texel_mm / 2,
      Math.max(1, frame.n_u) * frame.texel_mm,
      Math.max(1, frame.n_v) * frame.texel_mm,
    ];
    if (!this.colours) {
      this.colours = scene.colours;
      const bytes = scene.colours.flatMap((each) => {
        const value = parseInt(each.slice(1), 16);
        return [value >> 16, (value >> 8) & 255, value & 255, 255];
      });
      uniforms.ramp.value = this.texture(new Uint8Array(bytes), scene.colours.length, 1);
    }
    this.laid = { ...scene, ...rowsOf(lines, scene) };
    this.layThings();
    // At once: the next frame may be long in coming.
    this.paintSoon();
    this.paint(this.moving ?? 1);
    const slow = this.moving > coarsest && this.moving < finest;
    if ((this.measured ?? 0) < 3 || slow) this.measure();
  }

  layThings() {
    this.things.lay(this.laid, {
      skin: this.skin.geometry,
      places: this.withPlaces ? this.places : [],
      blind: this.heat === 0,
    });
  }

  /// A scan in its own frame takes the face's place until it is put away (null).
  showScan(geometry, onPick) {
    if (!this.renderer) return;
    if (this.scan) {
      this.scene.remove(this.scan.mesh);
      this.scan.mesh.geometry.dispose();
      this.scan = null;
    }
    for (const thing of [this.skin, this.things.group]) thing.visible = !geometry;
    this.mark([]);
    Object.assign(this.pose, home);
    this.centre.copy(faceCentre);
    if (geometry) {
      geometry.computeBoundingSphere();
      const { center, radius } = geometry.boundingSphere;
      const mesh = new Mesh(
        geometry,
        new MeshLambertMaterial({ color: 0xd8c2b4, side: DoubleSide }),
      );
      this.scan = { mesh, onPick, size: radius / 110 };
      this.centre.copy(center);
      this.pose.distance *= this.scan.size;
      this.scene.add(mesh);
    }
    const size = this.scan?.size ?? 1;
    this.camera.near = 50 * size;
    this.camera.far = 1500 * size;
    this.camera.updateProjectionMatrix();
    this.draw();
  }
  /// Outlines of dressing places, drawn if asked for.
  setPlaces(places) {
    this.places = places;
    if (this.withPlaces) this.showPlaces(true);
  }
  showPlaces(on) {
    this.withPlaces = on;
    if (this.laid) this.layThings();
    this.draw();
  }
  showHeat(on) {
    this.heat = on ? 1 : 0;
    if (!this.renderer) return;
    this.material.uniforms.heat.value = this.heat;
    if (this.laid) this.layThings();
    this.draw();
  }

  /// spots: [{ at, text, kind }], drawn as numbered marks over the picture.
  mark(spots) {
    this.spots = spots.map((spot) => ({
      ...spot,
      node: h('span', { class: `mark ${spot.kind ?? ''}` }, spot.text),
    }));
    replace(
      this.marks,
      this.spots.map((spot) => spot.node),
    );
    this.placeMarks();
  }
  // Lines between two places, such as from a guess to the answer.
  join(pairs) {
    this.guesses.clear();
    for (const [a, b] of pairs) {
      const line = new BufferGeometry().setFromPoints([vec(a), vec(b)]);
      this.guesses.add(
        new Line(line, new LineBasicMaterial({ color: new Color(0x7a1f1a), depthTest: false })),
      );
    }
    this.draw();
  }

  draw() {
    if (!this.renderer) return;
    this.paintSoon();
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.paint(this.moving ?? 1);
    });
  }
  // Finely, once the hand rests.
  paintSoon() {
    clearTimeout(this.resting);
    this.resting = setTimeout(() => this.paint(resting), 250);
  }

  paint(ratio) {
    this.sharpen(ratio);
    const yaw = (this.pose.yaw * Math.PI) / 180;
    const pitch = (this.pose.pitch * Math.PI) / 180;
    const towards = new Vector3(
      Math.sin(yaw) * Math.cos(pitch),
      Math.sin(pitch),
      Math.cos(yaw) * Math.cos(pitch),
    );
    this.camera.position.copy(this.centre).addScaledVector(towards, this.pose.distance);
    this.camera.lookAt(this.centre);
    this.renderer.render(this.scene, this.camera);
    this.placeMarks();
  }

  /// The picture with its marks, on a canvas to be printed.
  copyTo(canvas) {
    if (!this.renderer) return;
    this.paint(resting);
    canvas.width = this.canvas.width;
    canvas.height = this.canvas.height;
    const pen = canvas.getContext('2d');
    pen.drawImage(this.canvas, 0, 0);
    const pixels = canvas.width / this.node.clientWidth;
    pen.font = `bold ${13 * pixels}px sans-serif`;
    pen.textAlign = 'center';
    pen.textBaseline = 'middle';
    pen.lineWidth = 1.5 * pixels;
    for (const { node, text } of this.spots.filter((spot) => !spot.node.hidden)) {
      const [x, y] = [node.style.left, node.style.top].map((at) => parseFloat(at) * pixels);
      const style = getComputedStyle(node);
      pen.beginPath();
      pen.arc(x, y, 11 * pixels, 0, 2 * Math.PI);
      pen.fillStyle = style.backgroundColor;
      pen.strokeStyle = style.borderColor;
      pen.fill();
      pen.stroke();
      pen.fillStyle = style.color;
      pen.fillText(text, x, y);
    }
  }

  placeMarks() {
    const { clientWidth: width, clientHeight: height } = this.node;
    const eye = this.camera.position;
    for (const { at, node, kind } of this.spots) {
      const p = vec(at);
      const outward = new Vector3(p.x, 0, p.z + 92).normalize();
      const facing = outward.dot(eye.clone().sub(p).normalize()) > 0.1;
      const seen = p.project(this.camera);
      node.hidden = !facing && kind !== 'free';
      node.style.left = `${((seen.x + 1) / 2) * width}px`;
      node.style.top = `${((1 - seen.y) / 2) * height}px`;
    }
  }
}
