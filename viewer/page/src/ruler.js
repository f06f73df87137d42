/** Distance, height and angle between picked points, told with the station of each. */
import { angle, butt, length, station, water } from "./units.js";
import { back, dot, less, moved, size } from "./vectors.js";

const MOST = 3; // points: two for a distance, a third for the angle at the middle one
const COLOUR = "#5b3f86";
export const LETTERS = ["A", "B", "C"];

export class Ruler {
  constructor(shop) {
    this.shop = shop;
  }

  /**
   * Takes a point; the first ones go where there are too many.
   * @param {number[]} at in place axes as the aircraft stands now
   * @param {string} name what it lies on ; onAircraft: it goes along with the aircraft
   */
  add(at, name, onAircraft) {
    const { ruler } = this.shop.store.get();
    const point = onAircraft ? { body: moved(back(this.#stood()), at), name } : { place: at, name };
    const points = ruler.points.length >= MOST ? [point] : [...ruler.points, point];
    this.shop.store.set({ ruler: { ...ruler, points } });
  }

  clear() {
    this.shop.store.set({ ruler: { ...this.shop.store.get().ruler, points: [] } });
  }

  #stood() {
    return this.shop.hall?.standing ?? this.shop.stood();
  }

  /** Points as they are now: place and aircraft axes. */
  points() {
    const stood = this.#stood();
    return this.shop.store.get().ruler.points.map((one) => ({
      name: one.name,
      place: one.place ?? moved(stood, one.body),
      body: one.body ?? moved(back(stood), one.place),
    }));
  }

  /** All that is told, as rows of name and text. */
  rows() {
    const { units } = this.shop.store.get();
    const points = this.points();
    const rows = points.map((one, k) => [LETTERS[k], pointWords(one, units)]);
    if (points.length > 1) rows.push(...between(points[0], points[1], units));
    if (points.length > 2) {
      rows.push(["B to C", length(distance(points[1], points[2]), units)]);
      rows.push(["angle at B", angle(corner(points))]);
    }
    return rows;
  }

  strokes() {
    if (!this.shop.hall) return [];
    const { units } = this.shop.store.get();
    const points = this.points();
    const lines = points.slice(1).map((one, k) => ({
      points: [points[k].place, one.place], ends: "cross", colour: COLOUR, weight: 2.4, strong: true,
      text: length(distance(points[k], one), units),
    }));
    return [...lines, ...points.map((one, k) => ({ points: [one.place], ends: "cross", text: LETTERS[k], colour: COLOUR }))];
  }
}

/** Where a point is: what it lies on, FS, BL, WL and height over the floor. */
export function pointWords({ name, body, place }, units) {
  const axes = [station(body[0], units), butt(body[1], units), water(body[2], units)].join(", ");
  return `${name ? `${name}: ` : ""}${axes}, ${length(place[2], units)} over the floor`;
}

export function distance(a, b) {
  return size(less(a.place, b.place));
}

/** Distance, height and angles of B against A. */
export function between(a, b, units) {
  const gone = less(b.place, a.place);
  const along = less(b.body, a.body);
  const flat = Math.hypot(gone[0], gone[1]);
  const side = Math.abs(along[1]) < 5e-5 ? "" : along[1] > 0 ? " to the right" : " to the left";
  const way = Math.abs(along[0]) < 5e-5 ? "" : along[0] > 0 ? " aft" : " ahead";
  return [
    ["A to B", length(size(gone), units)],
    ["over the floor, level", length(flat, units)],
    ["B is higher by", length(gone[2], units)],
    ["along FS, BL, WL", `${length(Math.abs(along[0]), units)}${way}, ${length(Math.abs(along[1]), units)}${side}, ${length(along[2], units)} up`],
    ["angle above level", angle(Math.atan2(gone[2], flat))],
    ["angle off the centre line, from above", angle(Math.atan2(Math.abs(along[1]), Math.abs(along[0])))],
  ];
}

/** The angle at the middle one of three points [rad]. */
export function corner([a, b, c]) {
  const [one, other] = [less(a.place, b.place), less(c.place, b.place)];
  const cosine = dot(one, other) / (size(one) * size(other) || 1);
  return Math.acos(Math.min(1, Math.max(-1, cosine)));
}

/** Outermost points of a part by name, in its own axes: a way to pick without a pointer. */
export function outermost(points) {
  const best = { foremost: [0, -1], aftmost: [0, 1], "farthest left": [1, -1], "farthest right": [1, 1], lowest: [2, -1], highest: [2, 1] };
  return Object.entries(best).map(([name, [axis, sign]]) => {
    let found = 0;
    for (let k = 1; k < points.length / 3; k += 1) if (sign * points[3 * k + axis] > sign * points[3 * found + axis]) found = k;
    return { name, at: [...points.slice(3 * found, 3 * found + 3)] };
  });
}

