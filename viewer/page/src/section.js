/** A plane through the aircraft: what it cuts off in the picture, the outlines and their areas. */
import { Plane, Vector3 } from "three";
import { areaOf, hatching, outline } from "./cut.js";
import { SAME, back, moved, reach, both, turned } from "./vectors.js";

/** Each way to cut: number of the coordinate, axes it is in, and the two in the plane. */
export const AXES = {
  station: { words: "at a station (FS)", axis: 0, plane: [1, 2], body: true },
  butt: { words: "at a butt line (BL)", axis: 1, plane: [0, 2], body: true },
  water: { words: "at a waterline (WL)", axis: 2, plane: [0, 1], body: true },
  height: { words: "at a height over the floor", axis: 2, plane: [0, 1], body: false },
};
const KEEP = { station: 1, butt: 1, water: -1, height: -1 }; // which side stays

export class Section {
  constructor(shop) {
    this.shop = shop;
  }

  /** How the coordinates of a part, as its mesh has them, turn into those of the plane's axes. */
  #matrix() {
    const { axis } = this.shop.store.get().section;
    return AXES[axis].body ? SAME : this.stage().body2floor;
  }

  stage() {
    return this.shop.look.stage(this.shop.store.get().stage);
  }

  /** From where to where a plane along an axis may go [m]. */
  reach(axis) {
    const parts = this.#parts(this.stage());
    if (!parts.length) return [0, 1];
    const matrix = AXES[axis].body ? SAME : this.stage().body2floor;
    const all = parts.map(({ shape }) => reach(shape.points, matrix)).reduce(both);
    return [all.low[AXES[axis].axis], all.high[AXES[axis].axis]];
  }

  #parts(stage) {
    const { hidden } = this.shop.store.get();
    return (stage?.parts ?? []).filter((one) => !hidden.has(one.name))
      .map((part) => ({ part, shape: this.shop.look.mesh(part.mesh) })).filter((one) => one.shape);
  }

  /** What the plane cuts: {part, pieces, area} of each, pieces in the plane's own axes [m]. */
  cuts() {
    const { axis, at } = this.shop.store.get().section;
    if (!AXES[axis] || at === null) return [];
    const matrix = this.#matrix();
    const row = (number) => matrix.slice(4 * number, 4 * number + 4);
    const own = row(AXES[axis].axis);
    own[3] -= at;
    const plane = AXES[axis].plane.map(row);
    return this.#parts(this.stage()).map(({ part, shape }) => {
      const pieces = outline(shape, own, plane);
      return { part, pieces, area: areaOf(pieces) };
    }).filter((one) => one.pieces.length);
  }

  /** Where the plane is in the picture: solids are cut off on its nearer side. */
  aim() {
    const { hall } = this.shop;
    if (!hall) return;
    const { axis, at, other } = this.shop.store.get().section;
    if (!AXES[axis] || at === null) {
      hall.planes.length = 0;
      return;
    }
    const keep = KEEP[axis] * (other ? -1 : 1);
    const { frame, normal } = this.#frame();
    const point = moved(frame, [0, 1, 2].map((k) => (k === AXES[axis].axis ? at : 0)));
    const way = new Vector3(...normal).multiplyScalar(keep);
    hall.planes[0] ??= new Plane();
    hall.planes[0].setFromNormalAndCoplanarPoint(way, new Vector3(...point));
  }

  /** From the plane's axes to those of the place, and the way across the plane there. */
  #frame() {
    const { axis } = this.shop.store.get().section;
    const { standing } = this.shop.hall;
    const stood = standing ?? this.shop.hall.parked();
    const frame = AXES[axis].body ? stood : floorFrame(stood, this.stage());
    return { frame, normal: turned(frame, [0, 1, 2].map((k) => Number(k === AXES[axis].axis))) };
  }

  /** The outlines, hatched, as strokes over the picture. */
  strokes() {
    const { axis, at } = this.shop.store.get().section;
    if (!AXES[axis] || at === null || !this.shop.hall) return [];
    const { frame } = this.#frame();
    const lift = (pair) => pair.map(([u, v]) => {
      const point = [at, at, at];
      [point[AXES[axis].plane[0]], point[AXES[axis].plane[1]]] = [u, v];
      return moved(frame, point);
    });
    const cuts = this.cuts();
    const apart = hatchStep(cuts);
    return cuts.flatMap(({ pieces }) => [
      { points: hatching(pieces, apart).flatMap(lift), pairs: true, colour: "#8a7622", weight: 0.7 },
      { points: pieces.flatMap(lift), pairs: true, colour: "#1f3f4a", weight: 2.2 },
    ]);
  }
}

/** How far apart the hatching of cuts is, from how wide they are together. */
export function hatchStep(cuts) {
  const us = cuts.flatMap(({ pieces }) => pieces.map((pair) => pair[0][0]));
  if (!us.length) return 0.05;
  const wide = us.reduce((a, b) => Math.max(a, b), -Infinity) - us.reduce((a, b) => Math.min(a, b), Infinity);
  return Math.max(0.02, wide / 90);
}

/** From floor axes to the place as the aircraft stands now. */
export function floorFrame(stood, stage) {
  const down = back(stage.body2floor);
  const out = [];
  for (let row = 0; row < 4; row += 1) for (let column = 0; column < 4; column += 1) {
    out.push([0, 1, 2, 3].reduce((sum, k) => sum + stood[4 * row + k] * down[4 * k + column], 0));
  }
  return out;
}
