/** What lies on the floor: the floor itself, a grid to judge sizes by, shadow, swept floor. */
import {
  BufferAttribute, BufferGeometry, DoubleSide, Group, IncrementStencilOp, LineBasicMaterial, LineLoop, LineSegments,
  Matrix4, Mesh, MeshBasicMaterial, NotEqualStencilFunc, Shape, ShapeGeometry, Vector2,
} from "three";
import { after } from "./vectors.js";

const FLOOR = "#efe9da";
const GRID = "#ddd4c1";
const STEP = { "ft-in": 0.3048, in: 0.3048, mm: 0.5, m: 0.5 };
const WIDE = 12; // of the ground where there is no room, each way [m]

export class Ground extends Group {
  constructor() {
    super();
    this.shadow = new Group();
    this.shadow.matrixAutoUpdate = false;
    this.lain = new Group();
    this.swept = new Group();
    this.add(this.lain, this.swept, this.shadow);
    this.dark = new MeshBasicMaterial({
      color: "#3a3428", transparent: true, opacity: 0.17, depthWrite: false, side: DoubleSide,
      stencilWrite: true, stencilRef: 1, stencilFunc: NotEqualStencilFunc, stencilZPass: IncrementStencilOp,
    });
  }

  /** Lays the floor of a room, or a piece of ground where there is none, and a stage's swept floor. */
  fill(room, stage) {
    this.outline = room?.floor ?? [[-WIDE, -WIDE], [WIDE, -WIDE], [WIDE, WIDE], [-WIDE, WIDE]];
    const text = JSON.stringify([this.outline, this.step]);
    if (text !== this.lainText) {
      this.lainText = text;
      emptied(this.lain);
      this.lain.add(plate([this.outline], FLOOR, 1, -0.004), ...grid(this.outline, this.step ?? 0.3048));
      if (room) this.lain.add(ring(this.outline, "#4b463e"));
    }
    const rings = stage?.way?.swept ?? [];
    const now = JSON.stringify(rings);
    if (now === this.sweptText) return;
    this.sweptText = now;
    emptied(this.swept);
    if (!rings.length) return;
    this.swept.add(plate(rings, "#dba35f", 0.3, 0.002), ...rings.map((one) => ring(one, "#a8641e", 0.004)));
  }

  /** Which units the grid steps in. */
  units(system) {
    this.step = STEP[system] ?? 0.3048;
  }

  /** Shows what the state says. */
  dress(show) {
    this.swept.visible = show.swept;
  }

  /** Lays the shadow of an aircraft straight under it. */
  shade(solids, matrix) {
    const flat = after([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0.001, 0, 0, 0, 1], matrix);
    this.shadow.matrix.copy(new Matrix4().set(...flat));
    this.shadow.matrixWorldNeedsUpdate = true;
    this.shadow.clear();
    for (const one of solids) {
      if (one.visible && one.mesh) this.shadow.add(new Mesh(one.mesh.geometry, this.dark));
    }
  }
}

function emptied(group) {
  for (const one of [...group.children]) {
    one.geometry.dispose();
    one.material.dispose();
    one.removeFromParent();
  }
}

function plate(rings, color, opacity, height) {
  const shapes = rings.map((one) => new Shape(one.map(([x, y]) => new Vector2(x, y))));
  const material = new MeshBasicMaterial({ color, transparent: opacity < 1, opacity, depthWrite: opacity === 1, side: DoubleSide });
  const out = new Mesh(new ShapeGeometry(shapes), material);
  out.position.z = height;
  out.renderOrder = -1;
  return out;
}

function lines(points, color) {
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(new Float32Array(points.flat()), 3));
  return [out, new LineBasicMaterial({ color })];
}

function ring(outline, color, height = 0.001) {
  return new LineLoop(...lines(outline.map(([x, y]) => [x, y, height]), color));
}

/** Lines of the grid within an outline, every `step` [m], finer every fifth left out. */
function grid(outline, step) {
  const points = [];
  for (const axis of [0, 1]) {
    const along = outline.map((one) => one[axis]);
    const first = Math.ceil(Math.min(...along) / step);
    const last = Math.floor(Math.max(...along) / step);
    if (last - first > 400) continue;
    for (let k = first; k <= last; k += 1) points.push(...chords(outline, axis, k * step));
  }
  return points.length ? [new LineSegments(...lines(points, GRID))] : [];
}

/** Where a line at a coordinate runs within an outline, as pairs of points. */
function chords(outline, axis, at) {
  const found = [];
  outline.forEach((one, k) => {
    const next = outline[(k + 1) % outline.length];
    if (one[axis] > at === next[axis] > at) return;
    const share = (at - one[axis]) / (next[axis] - one[axis]);
    found.push(one[1 - axis] + share * (next[1 - axis] - one[1 - axis]));
  });
  found.sort((a, b) => a - b);
  const whole = found.length - (found.length % 2);
  return found.slice(0, whole).map((other) => (axis ? [other, at, -0.002] : [at, other, -0.002]));
}
