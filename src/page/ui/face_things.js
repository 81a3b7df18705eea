// What lies on the face: rim, straps, dressing places, jets, hair, tube.
import {
  ArrowHelper,
  BufferGeometry,
  CatmullRomCurve3,
  DoubleSide,
  Group,
  LineBasicMaterial,
  LineLoop,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  TubeGeometry,
  Vector3,
} from 'three';
import { band, ribbon, vec } from './face_meshes.js';

// Kept from picture to picture: a material that comes anew is compiled anew, which takes longer than
// all the rest.
const glass = new MeshLambertMaterial({
  color: 0x5b7089,
  transparent: true,
  opacity: 0.2,
  side: DoubleSide,
  depthWrite: false,
});
const crown = new LineBasicMaterial({ color: 0x3a4656 });
const webbing = new MeshLambertMaterial({
  color: 0xc9d0d9,
  side: DoubleSide,
  transparent: true,
  opacity: 0.9,
});
const border = new LineBasicMaterial({ color: 0x00583c });
const shaft = new LineBasicMaterial({ color: 0x005c94 });
const tip = new MeshBasicMaterial({ color: 0x005c94 });
const hairs = new LineBasicMaterial({ color: 0x4a3628 });
const tubing = new MeshLambertMaterial({ color: 0xf0e8ce });

const lineOf = (points) => new BufferGeometry().setFromPoints(points);

export class FaceThings {
  constructor() {
    this.group = new Group();
  }

  add(thing) {
    this.group.add(thing);
  }

  /// laid: scene.json with its rows; places: outlines to draw; blind: without what gives an answer
  /// away.
  lay({ rim, straps, jets, hair, tube }, { places, blind }) {
    this.group.traverse((thing) => thing.geometry?.dispose());
    this.group.clear();
    if (rim.length > 2) {
      const [inner, middle, outer] = [0, 1, 2].map((k) => rim.map((row) => row[k]));
      this.add(new Mesh(band(inner, middle), glass));
      this.add(new Mesh(band(middle, outer), glass));
      this.add(new LineLoop(lineOf(middle.map(vec)), crown));
    }
    for (const rows of straps.filter((each) => each.length > 1)) {
      this.add(new Mesh(ribbon(rows), webbing));
    }
    for (const place of blind ? [] : places) {
      const above = new Vector3(0, 0, 0.6);
      this.add(new LineLoop(lineOf(place.map((p) => vec(p).add(above))), border));
    }
    for (const jet of blind ? [] : jets) {
      const length = 12 + 2 * Math.min(15, jet.flow_L_min);
      const arrow = new ArrowHelper(vec(jet.towards), vec(jet.from), length, 0, 7, 5);
      arrow.line.material = shaft;
      arrow.cone.material = tip;
      this.add(arrow);
    }
    if (hair.length > 0) this.add(new LineSegments(lineOf(hair.flat().map(vec)), hairs));
    if (tube) {
      const course = new CatmullRomCurve3(tube.points.map(vec));
      this.add(new Mesh(new TubeGeometry(course, 60, tube.width_mm / 2, 10), tubing));
    }
  }
}
