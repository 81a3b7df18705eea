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
import { band, pieceOver, ribbon, vec } from './face_meshes.js';

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
// Foam or film; pressure shows through it once the answer is shown.
const pieces = [0.95, 0.45].map(
  (opacity) =>
    new MeshLambertMaterial({
      color: 0xe3b98f,
      side: DoubleSide,
      transparent: true,
      opacity,
      polygonOffset: true,
      polygonOffsetFactor: -1,
    }),
);
const pieceBorder = new LineBasicMaterial({ color: 0x6b4423 });
const leastDrawn = 0.8; // mm, of a dressing's thickness: a film would drown in the skin as drawn
const border = new LineBasicMaterial({ color: 0x00583c });
const shaft = new LineBasicMaterial({ color: 0x005c94 });
const tip = new MeshBasicMaterial({ color: 0x005c94 });
const hairs = new LineBasicMaterial({ color: 0x4a3628 });
const tubing = new MeshLambertMaterial({ color: 0xf0e8ce });

// Forward off the face, as a whole, until it is clear of the skin all round.
function lifted(rim, inner, outer) {
  const heights = rim.map((p, k) => {
    const foot = [0, 1, 2].map((i) => (inner[k][i] + outer[k][i]) / 2);
    const away = Math.hypot(foot[0], foot[2] + axisBehind);
    return ((p[0] - foot[0]) * foot[0] + (p[2] - foot[2]) * (foot[2] + axisBehind)) / away;
  });
  const lift = Math.max(0, clear - Math.min(...heights));
  return rim.map(([x, y, z]) => [x, y, z + lift]);
}
const axisBehind = 92; // mm from sellion to the axis of the skin map
const clear = 4; // mm

const lineOf = (points) => new BufferGeometry().setFromPoints(points);

export class FaceThings {
  constructor() {
    this.group = new Group();
  }

  add(thing) {
    this.group.add(thing);
  }

  /// laid: scene.json with its rows; skin: its geometry; places: outlines to draw; blind: without
  /// what gives an answer away.
  lay({ rim, straps, jets, hair, tube, worn = [] }, { skin, places, blind }) {
    this.group.traverse((thing) => thing.geometry?.dispose());
    this.group.clear();
    if (rim.length > 2) {
      const [inner, pressed, outer] = [0, 1, 2].map((k) => rim.map((row) => row[k]));
      // Where it presses the moulded rim sinks into the skin as drawn, which would tell.
      const middle = blind ? lifted(pressed, inner, outer) : pressed;
      this.add(new Mesh(band(inner, middle), glass));
      this.add(new Mesh(band(middle, outer), glass));
      this.add(new LineLoop(lineOf(middle.map(vec)), crown));
    }
    for (const rows of straps.filter((each) => each.length > 1)) {
      this.add(new Mesh(ribbon(rows), webbing));
    }
    for (const { outline_chart_mm: outline, thickness_mm } of worn) {
      const piece = pieceOver(skin, outline, Math.max(leastDrawn, thickness_mm));
      for (const part of [piece.top, piece.edge]) {
        const mesh = new Mesh(part, pieces[blind ? 0 : 1]);
        mesh.name = 'dressing';
        this.add(mesh);
      }
      this.add(new LineLoop(lineOf(piece.border), pieceBorder));
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
