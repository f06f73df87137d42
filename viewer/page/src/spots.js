/** Where a person finds room to stand. */
import { reach, within } from "./vectors.js";

const OVERHEAD = 1.9; // what hangs higher is in nobody's way [m]
const SHELL = new Set(["wall", "door head", "threshold", "ceiling", "roof", "floor"]);

/** A place on the floor of the room with as much of the aircraft in sight as can be. */
export function standingSpot(hall, aim) {
  const { floor } = hall.look.room;
  const boxes = [...hall.solids.values()].filter(({ told }) => told.kind === "part" || (told.kind === "thing" && !SHELL.has(told.of)))
    .map((one) => reach(one.shape.points, one.told.kind === "part" ? hall.standing : undefined));
  const low = boxes.filter((one) => one.low[2] < OVERHEAD);
  const people = [...hall.solids.values()].filter((one) => one.told.kind === "figure" && one.visible).map((one) => one.position.toArray());
  const scored = floorSpots(floor).filter((at) => within(at, floor))
    .map((at) => ({ at, free: Math.min(...low.map((box) => away(at, box)), 9), far: Math.hypot(at[0] - aim[0], at[1] - aim[1]), hid: people.some((one) => between(at, one, aim)) }));
  const best = scored.sort((a, b) => score(b) - score(a))[0];
  return best ? best.at : [aim[0], aim[1]];
}

/** Room about the elbows counts up to two metres, then how far one can step back. */
function score({ free, far, hid }) {
  return free < 0.35 ? free - 100 : 3 * Math.min(free, 2) + far - (hid ? 3 : 0);
}

/** Whether who stands at `one` hides from `eye` what lies at `aim`. */
function between(eye, one, aim) {
  const [a, b] = [one, aim].map((at) => [at[0] - eye[0], at[1] - eye[1]]);
  const turn = Math.abs(Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]));
  return turn < 0.35 && Math.hypot(...a) < Math.hypot(...b) + 1;
}

/** How far a point of the floor is from a box, seen from above. */
function away([x, y], { low, high }) {
  return Math.hypot(Math.max(low[0] - x, 0, x - high[0]), Math.max(low[1] - y, 0, y - high[1]));
}

/** Points all over a floor. */
function floorSpots(floor) {
  const [xs, ys] = [0, 1].map((k) => floor.map((one) => one[k]));
  const [left, front] = [Math.min(...xs), Math.min(...ys)];
  const [wide, deep] = [Math.max(...xs) - left, Math.max(...ys) - front];
  const out = [];
  const steps = 18;
  for (let i = 1; i < steps; i += 1) for (let k = 1; k < steps; k += 1) out.push([left + (i / steps) * wide, front + (k / steps) * deep]);
  return out;
}
