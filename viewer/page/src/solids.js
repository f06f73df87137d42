/** Solids of a look as three.js has them: shaded smooth where the true skin is, edges as ink lines. */
import {
  BufferAttribute, BufferGeometry, Color, DoubleSide, FrontSide, Group, LineBasicMaterial, LineSegments, Mesh,
  MeshLambertMaterial,
} from "three";

/** Facets that meet flatter than this are shaded as one skin. */
const FLAT = Math.cos((40 * Math.PI) / 180);
export const FAINT = 0.3;
const INK = "#22343c";
const CHOSEN = new Color("#e0a63a");

/** Geometries of shapes, made once each and let go with them. */
const made = new WeakMap();

/** The facets and the edges of a shape. */
export function geometryOf(shape) {
  if (!made.has(shape)) made.set(shape, { facets: facets(shape), edges: edges(shape) });
  return made.get(shape);
}

/** Frees what the graphics card holds of a shape. */
export function letGo(shape) {
  const found = made.get(shape);
  found?.facets.dispose();
  found?.edges.dispose();
  made.delete(shape);
}

function facets({ points, faces }) {
  const normals = faceNormals(points, faces);
  const around = facesAround(points.length / 3, faces);
  const places = new Float32Array(faces.length * 3);
  const lit = new Float32Array(faces.length * 3);
  for (let k = 0; k < faces.length; k += 1) {
    places.set(points.subarray(3 * faces[k], 3 * faces[k] + 3), 3 * k);
    lit.set(shared(normals, around[faces[k]], Math.floor(k / 3)), 3 * k);
  }
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(places, 3));
  out.setAttribute("normal", new BufferAttribute(lit, 3));
  return out;
}

/** Twice the area of each facet, as a vector across it. */
function faceNormals(points, faces) {
  const out = new Float32Array(faces.length);
  for (let k = 0; k < faces.length; k += 3) {
    const [a, b, c] = [faces[k], faces[k + 1], faces[k + 2]].map((n) => points.subarray(3 * n, 3 * n + 3));
    const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
    out.set([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx], k);
  }
  return out;
}

function facesAround(count, faces) {
  const out = Array.from({ length: count }, () => []);
  for (let k = 0; k < faces.length; k += 1) out[faces[k]].push(Math.floor(k / 3));
  return out;
}

/** The mean across the facets about a corner that are one skin with `own`. */
function shared(normals, around, own) {
  const mine = normals.subarray(3 * own, 3 * own + 3);
  const long = Math.hypot(...mine) || 1;
  let [x, y, z] = [0, 0, 0];
  for (const other of around) {
    const one = normals.subarray(3 * other, 3 * other + 3);
    const far = Math.hypot(...one) || 1;
    const turn = (mine[0] * one[0] + mine[1] * one[1] + mine[2] * one[2]) / (long * far);
    if (turn >= FLAT) [x, y, z] = [x + one[0], y + one[1], z + one[2]];
  }
  const all = Math.hypot(x, y, z) || 1;
  return [x / all, y / all, z / all];
}

function edges(shape) {
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(shape.points, 3));
  out.setIndex(new BufferAttribute(shape.edges, 1));
  return out;
}

/** One part or thing: its facets and its edges, with what it is under `userData`. */
export class Solid extends Group {
  constructor(shape, told) {
    super();
    const { facets: skin, edges: rims } = geometryOf(shape);
    this.told = told;
    this.shape = shape;
    this.paint = new MeshLambertMaterial({ color: told.colour, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    this.ink = new LineBasicMaterial({ color: INK, transparent: true });
    this.mesh = new Mesh(skin, this.paint);
    this.rims = new LineSegments(rims, this.ink);
    this.mesh.userData.solid = this;
    this.add(this.mesh, this.rims);
  }

  /** How it is shown: {faint, chosen, edges, planes, glass}. */
  dress({ faint, chosen, edges: lines, planes, glass }) {
    const opacity = faint ? Math.min(FAINT, this.told.opacity) : Math.min(1, this.told.opacity * (glass ?? 1));
    const clear = opacity < 0.99;
    Object.assign(this.paint, { opacity, transparent: clear, depthWrite: !clear });
    this.paint.side = planes.length ? DoubleSide : FrontSide;
    this.paint.color = new Color(this.told.colour).lerp(CHOSEN, chosen ? 0.6 : 0);
    this.paint.clippingPlanes = this.ink.clippingPlanes = planes;
    this.ink.opacity = faint ? 0.35 : clear ? 0.45 : 0.85;
    this.rims.visible = lines;
    this.mesh.renderOrder = clear ? 2 : 0;
    this.paint.needsUpdate = this.ink.needsUpdate = true;
  }

  /** Frees its materials; its geometry stays with the shape. */
  end() {
    this.paint.dispose();
    this.ink.dispose();
    this.removeFromParent();
  }
}
