/**
 * Least squares for a few unknowns.
 *
 * By Householder's reflections, so that nothing is squared before it must be; unknowns that the
 * rows do not determine are told by a small pivot.
 */

/** A pivot below this share of the greatest one determines nothing. */
const FLAT = 1e-9;

/**
 * @param {number[][]} rows (m, n) ; @param {number[]} seen (m)
 * @returns {{x: number[], covariance: number[][]}|null} null where not all is determined
 */
export function leastSquares(rows, seen) {
  const n = rows[0]?.length ?? 0;
  const m = rows.length;
  if (m < n || !n) return null;
  const a = rows.map((row, k) => [...row, seen[k]]);
  for (let j = 0; j < n; j++) reflect(a, j, n);
  const pivots = a.slice(0, n).map((row, k) => Math.abs(row[k]));
  if (Math.min(...pivots) <= FLAT * Math.max(...pivots)) return null;
  const upper = a.slice(0, n).map((row) => row.slice(0, n));
  const x = backward(upper, a.slice(0, n).map((row) => row[n]));
  const inverse = upper.map((_, j) => backward(upper, upper.map((__, k) => Number(k === j))));
  const covariance = x.map((_, i) => x.map((__, k) => inverse.reduce((sum, column) => sum + column[i] * column[k], 0)));
  return { x, covariance };
}

/** Makes column j zero below its diagonal, in place. */
function reflect(a, j, n) {
  let size = 0;
  for (let k = j; k < a.length; k++) size += a[k][j] ** 2;
  size = Math.sqrt(size);
  if (size === 0) return;
  const alpha = a[j][j] > 0 ? -size : size;
  const v = a.map((row, k) => (k < j ? 0 : row[j]));
  v[j] -= alpha;
  const length = v.reduce((sum, one) => sum + one * one, 0);
  for (let c = j; c <= n; c++) {
    let along = 0;
    for (let k = j; k < a.length; k++) along += v[k] * a[k][c];
    for (let k = j; k < a.length; k++) a[k][c] -= (2 * along * v[k]) / length;
  }
}

/** Solves an upper triangle. */
function backward(upper, right) {
  const x = right.map(() => 0);
  for (let k = x.length - 1; k >= 0; k--) {
    let rest = right[k];
    for (let c = k + 1; c < x.length; c++) rest -= upper[k][c] * x[c];
    x[k] = rest / upper[k][k];
  }
  return x;
}
