/**
 * GO, STOP or measure again: step by step as the library decides, on metres and radians.
 *
 * A check is a sum of readings with a limit of the designer: it decides. How the part stands, and
 * which shim would bring it to its target, is found from all readings together by least squares;
 * it decides nothing. Readings that contradict each other, or are far off their targets, are taken
 * again. A box that is not read is null.
 */
import { agreement } from "./agree.js";

export const GO = "GO";
export const STOP = "STOP";
export const AGAIN = "measure again";

/** @param {object} card as the page holds it ; @param {(number|null)[][]} values of each reading's boxes */
export function decide(card, values) {
  const read = new Map(card.rows.map((row, k) => [row.number, taken(row, values[k], card.zero)]));
  const agreed = agreement(card, read);
  for (const [number, fault] of agreed.faults) read.set(number, { ...read.get(number), fault, void: true });
  const checks = card.checks.map((check) => checked(check, read));
  const rows = card.rows.map((row) => rowTold(card, row, checks, read.get(row.number)));
  const turns = card.freedoms.flatMap(({ name, kind }, k) =>
    agreed.known[k] ? [{ name, kind, by: agreed.by[k], half: agreed.half[k] }] : [],
  );
  const by = agreed.by.map((one, k) => (agreed.known[k] ? (Math.abs(one) > agreed.half[k] ? one : 0) : null));
  const thick = [...read.values()].some((one) => one.void) ? [] : shims(card, by);
  return { ...whole(card, checks, read), rows, checks, turns, shims: thick };
}

/** How far a reading is off, its tolerance, and why it must be taken again. */
function taken(row, boxes, zero) {
  const first = boxes[0];
  const second = row.twice ? boxes[1] : null;
  if (first === null && second === null) return { off: null, wide: row.tolerance, fault: "" };
  if (!row.twice) return { off: first - row.target, wide: row.tolerance, fault: "" };
  if (first === null || second === null) {
    return { off: (first ?? second) - row.target, wide: row.once, fault: "turn the level end for end and read again" };
  }
  const off = 0.5 * (first + second) - row.target;
  if (Math.abs(first - second) > zero) {
    return { off, wide: row.once, fault: "the two readings of the level differ too much: lay it on again", void: true };
  }
  return { off, wide: row.tolerance, fault: "" };
}

/** GO where all of the tolerance lies within the limit, STOP where none of it does. */
function checked(check, read) {
  const told = (word, why, off, half) => ({ word, why, off, half });
  const parts = check.of.map(([number, factor]) => ({ number, factor, ...read.get(number) }));
  const lacks = parts.filter((one) => one.off === null).map((one) => one.number);
  if (lacks.length) return told("", `still to read: ${lacks.join(", ")}`, null, null);
  const off = parts.reduce((sum, one) => sum + one.factor * one.off, 0);
  const half = parts.reduce((sum, one) => sum + Math.abs(one.factor) * one.wide, 0);
  if (check.limit === null) return told("", "no limit is given", off, half);
  const again = parts.filter((one) => one.fault).map((one) => `${one.number}: ${one.fault}`);
  if (parts.some((one) => one.void)) return told(AGAIN, again.join("; "), off, half);
  if (Math.abs(off) - half > check.limit) return told(STOP, `${check.name} is outside its limit`, off, half);
  if (again.length) return told(AGAIN, again.join("; "), off, half);
  if (Math.abs(off) + half <= check.limit) return told(GO, `${check.name} is within its limit`, off, half);
  return told(AGAIN, `${check.name} is too near its limit for these instruments`, off, half);
}

/** The worst of the checks that a reading goes into. */
function rowTold(card, row, checks, { off, fault }) {
  if (off === null) return { word: "", why: "", off };
  if (fault) return { word: AGAIN, why: fault, off };
  const into = (check) => check.limit !== null && check.of.some(([number]) => number === row.number);
  const mine = checks.filter((_, k) => into(card.checks[k]));
  for (const word of [STOP, AGAIN, ""]) {
    const bad = mine.find((told) => told.word === word);
    if (bad) return { word, why: bad.why, off };
  }
  if (mine.length) return { word: GO, why: mine.map((told) => told.why).join("; "), off };
  return { word: "", why: "no limit is given", off };
}

/** What all of it comes to. */
function whole(card, checks, read) {
  const limited = checks.filter((_, k) => card.checks[k].limit !== null);
  const whys = (word) => limited.filter((told) => told.word === word).map((told) => told.why);
  const stops = whys(STOP);
  const again = whys(AGAIN);
  const bad = [...read].filter(([, one]) => one.void).map(([number, one]) => `${number}: ${one.fault}`);
  if (bad.length) return { word: AGAIN, why: [...bad, ...stops.map((why) => `as read, ${why}`)].join("; ") };
  if (stops.length) return { word: STOP, why: stops.join("; ") };
  if (again.length) return { word: AGAIN, why: again.join("; ") };
  const faulty = [...read].find(([, one]) => one.fault);
  if (faulty) return { word: AGAIN, why: `${faulty[0]}: ${faulty[1].fault}` };
  if (!limited.length) return { word: "", why: "no limit is given: the person responsible decides" };
  if (limited.some((told) => !told.word)) return { word: "", why: "not all is read yet" };
  return { word: GO, why: "every limit is kept, with all of the tolerance" };
}

/**
 * How thick a shim at each bolt takes the turns out that were found; the least is zero.
 *
 * None is told for a side while a turn that shims could take is not known, or where all of them are
 * within what is noise.
 */
function shims(card, by) {
  return [...new Set(card.bolts.map((bolt) => bolt.side))].flatMap((side) => {
    const mine = card.bolts.filter((bolt) => bolt.side === side);
    const turning = [...by.keys()].filter((k) => mine.some((bolt) => bolt.per[k] !== 0));
    if (!turning.length || turning.some((k) => by[k] === null)) return [];
    if (turning.every((k) => by[k] === 0)) return [];
    const thick = mine.map((bolt) => -turning.reduce((sum, k) => sum + bolt.per[k] * by[k], 0));
    const least = Math.min(...thick);
    return mine.map((bolt, k) => ({ name: bolt.name, by: thick[k] - least }));
  });
}
