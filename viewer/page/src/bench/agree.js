/** Whether readings of a joint agree with each other, step by step as the library judges it. */
import { leastSquares } from "./solve.js";

const squares = (some) => some.reduce((sum, one) => sum + one * one, 0);

/**
 * Least squares of all that is read, and which readings do not fit it.
 * @returns {{faults: Map<number, string>, by: number[], half: number[], known: boolean[]}}
 */
export function agreement(card, read) {
  const usual = card.freedoms.map((one) => one.usual);
  const used = card.rows.filter((row) => read.get(row.number).off !== null && !read.get(row.number).void);
  if (!used.length) return { faults: new Map(), by: usual.map(() => 0), half: usual.map(() => 0), known: usual.map(() => false) };
  const deviation = used.map((row) => read.get(row.number).wide / Math.sqrt(3));
  const off = used.map((row) => read.get(row.number).off);
  const matrix = used.map((row, i) => row.columns.map((column, k) => (column * usual[k]) / deviation[i]));
  const seen = off.map((one, i) => one / deviation[i]);
  const before = usual.map((_, k) => usual.map((__, c) => Number(c === k)));
  const { x, covariance } = leastSquares([...matrix, ...before], [...seen, ...usual.map(() => 0)]);
  const left = matrix.map((row, i) => row.reduce((rest, one, k) => rest - one * x[k], seen[i]));
  const share = matrix.map((row) => 1 - row.reduce((sum, one, k) => sum + one * row.reduce((s, other, c) => s + other * covariance[k][c], 0), 0));
  const faults = misfits(card, { used, off, left, share, deviation, bent: bent(card, used, x) });
  const grown = Math.max(1, Math.sqrt(squares(left) / Math.max(share.reduce((sum, one) => sum + one, 0), 0.5)));
  const sure = x.map((_, k) => card.sure * Math.sqrt(covariance[k][k]));
  const distant = far(card, used, off, x.map((one, k) => (sure[k] <= card.found ? one : 0)));
  const half = sure.map((one) => one * grown);
  const all = new Map([...distant, ...faults]);
  return { faults: all, by: x.map((one, k) => one * usual[k]), half: half.map((one, k) => one * usual[k]), known: half.map((one) => one <= card.found && !all.size) };
}

/** Readings that fit the others worst, where they do not fit within their tolerances. */
function misfits({ fit }, { used, off, left, share, deviation, bent: most }) {
  const spare = left.map((one, i) => Math.max(Math.abs(one) - most[i] / deviation[i], 0));
  const judged = spare.map((one, i) => (share[i] > fit.seen ? one / Math.sqrt(share[i]) : 0));
  const greatest = Math.max(...judged);
  const faults = new Map();
  if (greatest <= fit.off && squares(spare) <= fit.left[used.length]) return faults;
  for (const [i, row] of used.entries()) {
    if (judged[i] < fit.bad * greatest) continue;
    const wrong = (left[i] / Math.max(share[i], fit.seen)) * deviation[i];
    const hint = slip(fit, row, off[i], off[i] - wrong) || slip(fit, row, off[i], 0);
    faults.set(row.number, `it does not fit the other readings${hint}`);
  }
  return faults;
}

/** Readings that are further off their targets than a part is likely to be set. */
function far({ fit, freedoms }, used, off, x) {
  const out = new Map();
  for (const [i, row] of used.entries()) {
    const by = Math.abs(off[i]);
    const most = row.columns.reduce((sum, one, k) => sum + Math.abs(one) * freedoms[k].usual, 0) + row.tolerance;
    const turned = row.columns.some(
      (one, k) => Math.abs(x[k]) > fit.far && !freedoms[k].stands && Math.abs(one * freedoms[k].usual * x[k]) > 0.5 * by,
    );
    if (by <= most && !(turned && by > row.tolerance)) continue;
    out.set(row.number, `it is far off its target${slip(fit, row, off[i], 0) || ": are the unit and the sign right?"}`);
  }
  return out;
}

/** How much readings may be off their straight lines for turns so large. */
function bent({ fit, freedoms, rows }, used, x) {
  const angle = freedoms.map((one) => one.kind === "angle");
  const turns = x.map((one, k) => (angle[k] ? Math.min(Math.max(one, -fit.far), fit.far) * freedoms[k].usual : 0));
  const levers = rows.filter((row) => row.kind === "length").flatMap((row) => row.columns.filter((_, k) => angle[k]).map(Math.abs));
  const most = 0.5 * squares(turns);
  return used.map((row) => most * (row.kind === "length" ? Math.max(0, ...levers) : 1));
}

/** What mistake of the reader would explain it; both off the target; "" where none does. */
function slip(fit, row, off, meant) {
  const value = row.target + off;
  const right = row.target + meant;
  const near = 2 * row.tolerance;
  const told = Math.abs(right) > 2 * near;
  if (told && Math.abs(value + right) <= Math.max(near, fit.near * Math.abs(right))) return ": is the sign right?";
  if (row.kind === "angle") return "";
  for (const [factor, words] of told ? fit.ratios : []) {
    if (Math.abs(value / right / factor - 1) < fit.near) return `: about ${words} times too large, is the unit right?`;
    if (Math.abs((value / right) * factor - 1) < fit.near) return `: about ${words} times too small, is the unit right?`;
  }
  const found = fit.slips.find(([size]) => Math.abs(Math.abs(value - right) - size) <= near);
  return found ? `: about ${found[1]} off, is it misread?` : "";
}
