/** Where the standing person and the car-sized box stand: near the aircraft, and in nobody's way. */
import { both, moved, reach, within } from "./vectors.js";

const APART = 0.35; // from anything else [m]

/** Stands the figures of a hall. */
export function standFigures(hall) {
  const taken = [...hall.solids.values()].filter((one) => one.told.kind !== "figure" && bodily(one)).map((one) => footprint(one, hall));
  const extent = hall.extent();
  for (const solid of hall.solids.values()) {
    if (solid.told.kind !== "figure") continue;
    const own = reach(solid.shape.points);
    const at = solid.told.at ?? freeSpot(hall, extent, own, taken);
    solid.placed = Boolean(at);
    if (!at) continue;
    solid.position.set(at[0], at[1], 0);
    taken.push({ low: own.low.map((x, k) => x + (at[k] ?? 0)), high: own.high.map((x, k) => x + (at[k] ?? 0)) });
  }
}

/** Whether a solid stands in the way of who walks: not one that is above the head. */
function bodily(solid) {
  return reach(solid.shape.points, undefined).low[2] < 2.2;
}

function footprint(solid, hall) {
  return reach(solid.shape.points, solid.told.kind === "part" ? hall.standing : undefined);
}

/** The nearest free place beside the aircraft, in the room first, then before its door. */
function freeSpot(hall, extent, own, taken) {
  if (!extent) return [0, 0];
  const room = hall.look.room;
  const free = ([x, y]) => taken.every((one) => [[x, 0], [y, 1]].some(([at, k]) => at + own.high[k] + APART < one.low[k] || at + own.low[k] - APART > one.high[k]));
  const inside = ([x, y]) => !room || [[own.low[0], own.low[1]], [own.high[0], own.low[1]], [own.low[0], own.high[1]], [own.high[0], own.high[1]]]
    .every(([dx, dy]) => within([x + dx, y + dy], room.floor));
  const spots = around(beside(hall), extent);
  return spots.filter(inside).find(free) ?? outside(room, own, free);
}

/** Ahead of the left wing, beside the nose, where a figure is well in sight. */
function beside(hall) {
  const own = hall.aircraft.children.filter((one) => one.shape).map((one) => reach(one.shape.points)).reduce(both);
  return moved(hall.standing, [own.low[0] + 0.3 * (own.high[0] - own.low[0]), own.low[1] * 0.45, 0]);
}

/** Places about a point, nearest first. */
function around([x, y], { low, high }) {
  const far = Math.max(high[0] - low[0], high[1] - low[1]) / 2 + 3;
  const out = [];
  for (let i = -far; i <= far; i += 0.3) for (let k = -far; k <= far; k += 0.3) out.push([x + i, y + k]);
  return out.sort((a, b) => Math.hypot(a[0] - x, a[1] - y) - Math.hypot(b[0] - x, b[1] - y));
}

function outside(room, own, free) {
  for (const door of room?.doors ?? []) {
    const long = own.high[0] - own.low[0];
    for (const side of [0, 0.5, -0.5, 1, -1]) {
      const far = 1.2 + long / 2;
      const across = side * (door.width / 2 + long);
      const at = [door.at[0] + far * door.out[0] - across * door.out[1], door.at[1] + far * door.out[1] + across * door.out[0]];
      if (free(at)) return at;
    }
  }
  return null;
}

