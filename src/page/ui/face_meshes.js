// Shapes that lie in the face's view, and how the skin is lit.
import { BufferAttribute, BufferGeometry, Vector3 } from 'three';

export const vertexShader = `
attribute float hollow;
attribute float shown;
varying vec2 chart;
varying vec3 facing;
varying float dark;
varying float seen;
void main() {
  chart = uv;
  facing = normalize(normalMatrix * normal);
  dark = hollow;
  seen = shown;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;
// Light from above and in front of the viewer, as in the printed pictures; the colour of pressure is
// shaded only slightly, so that it can be compared with the scale.
export const fragmentShader = `
uniform sampler2D field;
uniform sampler2D ramp;
uniform vec4 frame;
uniform float heat;
uniform float stripe;
varying vec2 chart;
varying vec3 facing;
varying float dark;
varying float seen;
void main() {
  if (seen < 0.02) discard;
  vec3 n = normalize(facing);
  float lit = max(0.0, (dot(n, vec3(0.0, 0.498, 0.867)) + 0.55) / 1.55);
  float light = clamp(0.10 + 0.66 * lit + 0.16 * (0.5 + 0.5 * n.y) + dark, 0.26, 1.0);
  vec3 clay = mix(vec3(0.36, 0.25, 0.20), vec3(0.975, 0.93, 0.895), light);
  vec2 at = (chart - frame.xy) / frame.zw;
  if (heat > 0.0 && all(greaterThan(at, vec2(0.0))) && all(lessThan(at, vec2(1.0)))) {
    vec4 here = texture2D(field, at);
    float cover = here.g;
    if (cover > 0.02) {
      float pressure = here.r;
      float open = here.b;
      vec3 colour = texture2D(ramp, vec2(pressure * 0.984 + 0.008, 0.5)).rgb * (0.88 + 0.12 * light);
      float share = smoothstep(0.2, 0.6, cover) * smoothstep(0.0, 0.03, pressure);
      clay = mix(clay, colour, share * heat);
      float line = step(0.5, fract((gl_FragCoord.x + gl_FragCoord.y) / stripe));
      float gap = smoothstep(0.4, 0.6, open) * smoothstep(0.3, 0.6, cover);
      clay = mix(clay, mix(vec3(1.0), vec3(0.11, 0.13, 0.16), line), gap * heat);
    }
  }
  gl_FragColor = vec4(clay, seen);
}`;

export const vec = ([x, y, z]) => new Vector3(x, y, z);

export function skinGeometry(bytes, { n_u, n_v }) {
  const values = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  const n = n_u * n_v;
  const position = new Float32Array(3 * n);
  const uv = new Float32Array(2 * n);
  const hollow = new Float32Array(n);
  const shown = new Float32Array(n);
  for (let k = 0; k < n; ++k) {
    position.set(values.subarray(7 * k, 7 * k + 3), 3 * k);
    uv.set(values.subarray(7 * k + 3, 7 * k + 5), 2 * k);
    hollow[k] = values[7 * k + 5];
    shown[k] = values[7 * k + 6];
  }
  // Triangles over every node, or over every third one each way while the picture moves, the midline
  // among them; what is not shown is left out.
  const triangles = (step) => {
    const index = [];
    for (let j = 0; j + step < n_v; j += step) {
      for (let i = ((n_u - 1) / 2) % step; i + step < n_u; i += step) {
        const a = j * n_u + i;
        const [b, c, d] = [a + step, a + step * n_u, a + step * n_u + step];
        if (Math.max(shown[a], shown[b], shown[c], shown[d]) < 0.02) continue;
        // Diagonals mirror at the midline.
        if (i < n_u / 2 - 1) index.push(a, b, d, a, d, c);
        else index.push(a, b, c, b, d, c);
      }
    }
    return new BufferAttribute(new Uint32Array(index), 1);
  };
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(position, 3));
  geometry.setAttribute('uv', new BufferAttribute(uv, 2));
  geometry.setAttribute('hollow', new BufferAttribute(hollow, 1));
  geometry.setAttribute('shown', new BufferAttribute(shown, 1));
  geometry.userData = { fine: triangles(1), coarse: triangles(3), n_u, n_v };
  geometry.setIndex(geometry.userData.fine);
  geometry.computeVertexNormals();
  return geometry;
}

// The rows of three points that a look sends: of the rim's stations, and across each strap.
export function rowsOf(bytes, { rim, straps }) {
  const values = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  let at = 0;
  const point = () => [values[at++], values[at++], values[at++]];
  const rows = (n) => Array.from({ length: n }, () => [point(), point(), point()]);
  return { rim: rows(rim), straps: straps.map(rows) };
}

// A closed strip between two rows of points.
export function band(one, other) {
  const n = one.length;
  const position = new Float32Array(6 * n);
  one.forEach((p, k) => position.set([...p, ...other[k]], 6 * k));
  const index = [];
  for (let k = 0; k < n; ++k) {
    const m = (k + 1) % n;
    index.push(2 * k, 2 * k + 1, 2 * m, 2 * k + 1, 2 * m + 1, 2 * m);
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(position, 3));
  geometry.setIndex(index);
  geometry.computeVertexNormals();
  return geometry;
}

// Rows of points across a strap.
export function ribbon(rows) {
  const n = rows[0].length;
  const geometry = new BufferGeometry().setFromPoints(rows.flat().map(vec));
  const index = [];
  for (let k = 0; k + 1 < rows.length; ++k) {
    for (let i = 0; i + 1 < n; ++i) {
      const a = k * n + i;
      index.push(a, a + 1, a + n, a + 1, a + n + 1, a + n);
    }
  }
  geometry.setIndex(index);
  geometry.computeVertexNormals();
  return geometry;
}

// The part of a polygon on one side of a line: where coordinate k, times the sign, is not above the
// bound.
function cut(polygon, k, sign, bound) {
  const inside = (p) => sign * p[k] <= sign * bound;
  return polygon.flatMap((p, i) => {
    const before = polygon.at(i - 1);
    const out = [];
    if (inside(p) !== inside(before)) {
      const t = (bound - before[k]) / (p[k] - before[k]);
      const [u, v] = [0, 1].map((j) => (j === k ? bound : before[j] + t * (p[j] - before[j])));
      out.push([u, v]);
    }
    if (inside(p)) out.push(p);
    return out;
  });
}

/// A dressing of even thickness [mm] on the skin: its top and its edge. outline: chart coordinates.
export function pieceOver(skin, outline, thickness) {
  const { n_u, n_v } = skin.userData;
  const { position, normal, uv } = skin.attributes;
  const [u0, v0] = [uv.getX(0), uv.getY(0)];
  const [du, dv] = [uv.getX(1) - u0, uv.getY(n_u) - v0];
  const at = ([u, v], height) => {
    const x = Math.min(n_u - 1.001, Math.max(0, (u - u0) / du));
    const y = Math.min(n_v - 1.001, Math.max(0, (v - v0) / dv));
    const [i, j] = [Math.floor(x), Math.floor(y)];
    const between = (values) => {
      const corner = (a, b) => new Vector3().fromBufferAttribute(values, (j + b) * n_u + i + a);
      const low = corner(0, 0).lerp(corner(1, 0), x - i);
      return low.lerp(corner(0, 1).lerp(corner(1, 1), x - i), y - j);
    };
    return between(position).addScaledVector(between(normal).normalize(), height);
  };
  const cell = 2; // mm
  const points = [];
  const index = [];
  const known = new Map(); // corners are shared, so that the top is lit smoothly
  const vertex = (p) => {
    const key = p.map((each) => each.toFixed(3)).join();
    if (!known.has(key)) {
      known.set(key, points.length);
      points.push(at(p, thickness));
    }
    return known.get(key);
  };
  const [us, vs] = [0, 1].map((k) => outline.map((p) => p[k]));
  for (let u = Math.min(...us); u < Math.max(...us); u += cell) {
    const column = cut(cut(outline, 0, -1, u), 0, 1, u + cell);
    for (let v = Math.min(...vs); v < Math.max(...vs); v += cell) {
      const part = cut(cut(column, 1, -1, v), 1, 1, v + cell).map(vertex);
      for (let k = 2; k < part.length; ++k) index.push(part[0], part[k - 1], part[k]);
    }
  }
  const top = new BufferGeometry().setFromPoints(points);
  top.setIndex(index);
  top.computeVertexNormals();
  const border = (height) => outline.map((p) => at(p, height));
  const edge = band(
    border(-1).map((p) => p.toArray()),
    border(thickness).map((p) => p.toArray()),
  );
  return { top, edge, border: border(thickness) };
}
