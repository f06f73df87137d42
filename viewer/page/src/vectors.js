/** Small sums with points and 4x4 matrices; matrices are 16 numbers, row after row. */

export const EYE_HEIGHT = 66 * 0.0254; // of a person who stands, 5 ft 6 in [m]

export const add = (a, b) => a.map((one, k) => one + b[k]);
export const less = (a, b) => a.map((one, k) => one - b[k]);
export const times = (a, factor) => a.map((one) => one * factor);
export const dot = (a, b) => a.reduce((sum, one, k) => sum + one * b[k], 0);
export const size = (a) => Math.hypot(...a);
export const unit = (a) => times(a, 1 / (size(a) || 1));
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

export const SAME = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/** One after the other: first `b`, then `a`. */
export function after(a, b) {
  const out = [];
  for (let row = 0; row < 4; row += 1) {
    for (let column = 0; column < 4; column += 1) {
      let sum = 0;
      for (let k = 0; k < 4; k += 1) sum += a[4 * row + k] * b[4 * k + column];
      out.push(sum);
    }
  }
  return out;
}

/** A point moved by a matrix. */
export function moved(m, [x, y, z]) {
  return [0, 4, 8].map((k) => m[k] * x + m[k + 1] * y + m[k + 2] * z + m[k + 3]);
}

/** A direction turned by a matrix. */
export function turned(m, [x, y, z]) {
  return [0, 4, 8].map((k) => m[k] * x + m[k + 1] * y + m[k + 2] * z);
}

/** The way back of a turn and a shift. */
export function back(m) {
  const turn = [m[0], m[4], m[8], 0, m[1], m[5], m[9], 0, m[2], m[6], m[10], 0, 0, 0, 0, 1];
  const [x, y, z] = turned(turn, [m[3], m[7], m[11]]);
  return turn.map((one, k) => (k === 3 ? -x : k === 7 ? -y : k === 11 ? -z : one));
}

/** From floor axes to place axes at a pose (x, y [m], heading [rad], clockwise from +Y). */
export function atPose([x, y, heading]) {
  const [c, s] = [Math.cos(heading), Math.sin(heading)];
  return [-s, c, 0, x, -c, -s, 0, y, 0, 0, 1, 0, 0, 0, 0, 1];
}

/** The pose of a matrix from floor axes to place axes. */
export function poseOf(m) {
  return [m[3], m[7], Math.atan2(-m[0], -m[4])];
}

/** Whether a point of the plan lies within a ring. */
export function within([x, y], ring) {
  let inside = false;
  for (let k = 0, last = ring.length - 1; k < ring.length; last = k, k += 1) {
    const [[ax, ay], [bx, by]] = [ring[k], ring[last]];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

/** Least and greatest of each coordinate of points laid end to end. */
export function reach(points, matrix = SAME) {
  const [low, high] = [[Infinity, Infinity, Infinity], [-Infinity, -Infinity, -Infinity]];
  for (let k = 0; k < points.length; k += 3) {
    const at = moved(matrix, [points[k], points[k + 1], points[k + 2]]);
    for (let axis = 0; axis < 3; axis += 1) {
      low[axis] = Math.min(low[axis], at[axis]);
      high[axis] = Math.max(high[axis], at[axis]);
    }
  }
  return { low, high };
}

/** Least and greatest of two reaches together. */
export function both(a, b) {
  return { low: a.low.map((x, k) => Math.min(x, b.low[k])), high: a.high.map((x, k) => Math.max(x, b.high[k])) };
}
