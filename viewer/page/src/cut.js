/** Cuts of closed solids by a plane: outline, area, hatching. All in the plane's own two axes. */

/**
 * Where a solid meets the plane `axis` = `at`, as oriented pieces [[u, v], [u, v]].
 * @param {{points: ArrayLike<number>, faces: ArrayLike<number>}} shape
 * @param {number[]} row a, b, c, d: the height over the plane is a x + b y + c z + d
 * @param {number[][]} plane two rows alike that give u and v of a point
 */
export function outline({ points, faces }, row, plane) {
  const over = heightsOver(points, row);
  const out = [];
  for (let k = 0; k < faces.length; k += 3) {
    const corners = [faces[k], faces[k + 1], faces[k + 2]];
    const above = corners.map((one) => over[one] >= 0);
    if (above[0] === above[1] && above[1] === above[2]) continue;
    out.push(piece(points, corners, over, plane));
  }
  return out;
}

function heightsOver(points, [a, b, c, d]) {
  const out = new Float64Array(points.length / 3);
  for (let k = 0; k < out.length; k += 1) out[k] = a * points[3 * k] + b * points[3 * k + 1] + c * points[3 * k + 2] + d;
  return out;
}

/** From the edge that goes down through the plane to the one that comes up: inside to the left. */
function piece(points, corners, over, plane) {
  const ends = {};
  corners.forEach((one, k) => {
    const next = corners[(k + 1) % 3];
    if (over[one] >= 0 === over[next] >= 0) return;
    const share = over[one] / (over[one] - over[next]);
    const at = [0, 1, 2].map((axis) => points[3 * one + axis] + share * (points[3 * next + axis] - points[3 * one + axis]));
    ends[over[one] >= 0 ? "down" : "up"] = plane.map(([a, b, c, d]) => a * at[0] + b * at[1] + c * at[2] + (d ?? 0));
  });
  return [ends.down, ends.up];
}

/** The area within pieces [m2], holes taken off: Green's theorem over the oriented pieces. */
export function areaOf(pieces) {
  if (!pieces.length) return 0;
  const [u, v] = pieces[0][0];
  const twice = pieces.reduce((sum, [a, b]) => sum + (a[0] - u) * (b[1] - v) - (b[0] - u) * (a[1] - v), 0);
  return Math.abs(twice) / 2;
}

/** Lines at 45 degrees within pieces, `apart` from each other: pairs of [u, v]. */
export function hatching(pieces, apart) {
  const root = Math.SQRT1_2;
  const turned = pieces.map((pair) => pair.map(([u, v]) => [root * (u + v), root * (v - u)]));
  const highs = turned.flat().map((one) => one[1]);
  const out = [];
  const first = Math.ceil(Math.min(...highs) / apart);
  for (let k = first; k <= Math.max(...highs) / apart && k - first < 400; k += 1) {
    for (const [from, to] of crossings(turned, k * apart + 1e-7)) {
      out.push([from, to].map((s) => [root * (s - k * apart), root * (s + k * apart)]));
    }
  }
  return out;
}

/** Where a level line runs within pieces, as pairs along it. */
function crossings(pieces, level) {
  const found = [];
  for (const [a, b] of pieces) {
    if (a[1] > level === b[1] > level) continue;
    found.push(a[0] + ((level - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
  }
  found.sort((a, b) => a - b);
  return found.flatMap((one, k) => (k % 2 && found.length % 2 === 0 ? [[found[k - 1], one]] : []));
}
