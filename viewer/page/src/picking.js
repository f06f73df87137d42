/** What lies under a pointer: a part, a thing, a corner or an edge of one. */
import { Raycaster, Vector2, Vector3 } from "three";
import { SAME, moved } from "./vectors.js";

const NEAR = 13; // a corner or an edge is taken within this [px]
const STILL = 6; // a press that moves less is a tap [px]

export class Picking {
  constructor(shop) {
    this.shop = shop;
    this.ray = new Raycaster();
    const canvas = shop.hall.renderer.domElement;
    canvas.addEventListener("pointerdown", (event) => (this.began = [event.clientX, event.clientY, event.pointerId]));
    canvas.addEventListener("pointerup", (event) => this.#up(event));
  }

  #up(event) {
    const [x, y, id] = this.began ?? [];
    this.began = null;
    if (id !== event.pointerId || Math.hypot(event.clientX - x, event.clientY - y) > STILL || event.button > 0) return;
    if (this.shop.store.get().moving) return;
    const box = event.currentTarget.getBoundingClientRect();
    this.tap(event.clientX - box.left, event.clientY - box.top);
  }

  /** A tap at a place of the picture [px]. */
  tap(x, y) {
    const hit = this.hit(x, y);
    if (this.shop.store.get().ruler.on) {
      this.#measure(hit ?? this.#beside(x, y), x, y);
    } else {
      const told = hit?.solid?.told;
      this.shop.store.set({ chosen: told && told.kind !== "figure" ? { kind: told.kind, name: told.name } : null });
    }
  }

  /** The first solid under a place of the picture that can be seen: {solid, point}. */
  hit(x, y) {
    const { hall } = this.shop;
    this.ray.setFromCamera(new Vector2((2 * x) / hall.size[0] - 1, 1 - (2 * y) / hall.size[1]), hall.camera);
    const meshes = [...hall.solids.values()].filter((one) => one.visible).map((one) => one.mesh);
    const found = this.ray.intersectObjects(meshes, false).filter((one) => this.#kept(one.point));
    const firm = found.find((one) => one.object.material.opacity > 0.3) ?? found.find((one) => one.object.material.opacity > 0.2);
    const first = firm ?? found[0];
    return first ? { solid: first.object.userData.solid, point: first.point.toArray() } : null;
  }

  /** Whether a point is not cut off by the section. */
  #kept(point) {
    return this.shop.hall.planes.every((plane) => plane.distanceToPoint(point) >= -1e-6);
  }

  /** The solid whose corner or edge is nearest to a place of the picture, where none lies under it. */
  #beside(x, y) {
    const near = [...this.shop.hall.solids.values()].filter((one) => one.visible)
      .map((solid) => ({ solid, ...this.snap(solid, x, y) })).filter((one) => one.at && this.#kept(new Vector3(...one.at)));
    return near.sort((a, b) => a.far - b.far)[0] ?? null;
  }

  #measure(hit, x, y) {
    if (!hit) return;
    const { solid, point } = hit;
    const { told } = solid;
    const snapped = this.snap(solid, x, y);
    const onAircraft = told.kind === "part";
    const what = snapped ? `${told.name}, ${snapped.what}` : told.name;
    this.shop.ruler.add(snapped?.at ?? point, what, onAircraft);
  }

  /** The corner of a solid near a place of the picture, else a point of an edge; null if neither. */
  snap(solid, x, y) {
    const { hall } = this.shop;
    const matrix = solid.told.kind === "part" ? hall.standing : placed(solid);
    const { points, edges } = solid.shape;
    const known = new Map();
    const seen = (k) => {
      if (!known.has(k)) {
        const at = moved(matrix, [...points.subarray(3 * k, 3 * k + 3)]);
        known.set(k, { at, flat: hall.project(at) });
      }
      return known.get(k);
    };
    const corner = nearest([...new Set(edges)].map(seen).map((one) => ({ ...one, far: Math.hypot(one.flat[0] - x, one.flat[1] - y) })));
    if (corner) return { ...corner, what: "corner" };
    const along = [];
    for (let k = 0; k < edges.length; k += 2) along.push(onEdge(seen(edges[k]), seen(edges[k + 1]), [x, y]));
    const edge = nearest(along);
    return edge ? { ...edge, what: "edge" } : null;
  }
}

function placed(solid) {
  const { x, y, z } = solid.position;
  return SAME.map((one, k) => (k === 3 ? x : k === 7 ? y : k === 11 ? z : one));
}

function nearest(found) {
  const near = found.filter((one) => one.far <= NEAR);
  return near.sort((a, b) => a.far - b.far)[0] ?? null;
}

/** The point of an edge nearest to a place of the picture, as the eye sees it. */
function onEdge(a, b, [x, y]) {
  const [dx, dy] = [b.flat[0] - a.flat[0], b.flat[1] - a.flat[1]];
  const share = Math.min(1, Math.max(0, ((x - a.flat[0]) * dx + (y - a.flat[1]) * dy) / (dx * dx + dy * dy || 1)));
  const far = Math.hypot(a.flat[0] + share * dx - x, a.flat[1] + share * dy - y);
  return { at: a.at.map((one, k) => one + share * (b.at[k] - one)), far };
}
