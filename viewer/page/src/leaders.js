/** Least clearances, heights, floor marks and tight places as strokes over the picture. */
import { gapWords } from "./units.js";
import { SAME, moved } from "./vectors.js";

const TIGHT = "#b3361b";
const HIGH = "#2f6f73";
const CHALK = "#7a4a14";
const MOST = 4; // least clearances that are drawn, on a narrow picture half of them; the list beside holds all
const SLIM = 560; // [px]

/** All strokes that the state asks for. */
export function leaders(shop) {
  const { show, away, jam } = shop.store.get();
  const stage = shop.hall.stage();
  if (!stage) return [];
  const out = [];
  if (show.heights && !away && jam === null) out.push(...heights(shop, stage));
  if (show.marks && !away && jam === null) out.push(...(stage.marks ?? []).map(mark));
  if (show.leaders) out.push(...(away || jam !== null ? tight(shop, stage) : parked(shop, stage)));
  return out.concat(chosen(shop));
}

/** The least clearances as it is parked, each thing once. */
export function parked(shop, stage) {
  const { hidden, chosen: one, gap: taken } = shop.store.get();
  if (shop.mover?.moving()) return [];
  const seen = new Set();
  const first = (stage.leaders ?? []).filter((gap) => {
    if (hidden.has(gap.part) || hidden.has(gap.thing) || seen.has(gap.thing)) return false;
    seen.add(gap.thing);
    return true;
  });
  const own = one?.kind === "part" ? stage.parts.find((part) => part.name === one.name)?.least : null;
  const all = first.slice(0, shop.hall.size[0] < SLIM ? MOST / 2 : MOST);
  if (own && !all.some((gap) => gap.part === own.part && gap.thing === own.thing)) all.push(own);
  const asked = taken && (stage.leaders ?? []).find((gap) => gap.part === taken.part && gap.thing === taken.thing);
  if (asked && !all.includes(asked)) all.push(asked);
  const strong = (gap, k) => (asked ? gap === asked : k === 0 || gap === own);
  return all.map((gap, k) => ({
    points: [gap.from, gap.to],
    ends: "dots",
    text: gap.tolerance ? `${gap.text} ${gap.tolerance}` : gap.text,
    strong: strong(gap, k),
    colour: TIGHT,
    weight: strong(gap, k) ? 3 : 2,
  }));
}

/** Dimension lines from the floor to the tips and the highest point. */
function heights(shop, stage) {
  const place = stage.floor2place ?? SAME;
  const told = new Set();
  return (stage.heights ?? []).filter(({ text }) => !told.has(text) && told.add(text)).map((one) => {
    const top = moved(place, one.at);
    return { points: [[top[0], top[1], 0], top], ends: "bars", dash: [5, 3], text: one.text, colour: HIGH, weight: 1.6 };
  });
}

function mark(one) {
  return { points: [[one.at[0], one.at[1], 0.003]], ends: "cross", text: one.name, colour: CHALK };
}

/** Places where it is tight on the way out: a cross, and with its figure where one is near it. */
export function tight(shop, stage) {
  const way = stage.way;
  if (!way) return [];
  const { share } = shop.store.get();
  const jammed = shop.journey.jammed();
  return (way.tight ?? []).filter((one) => !jammed || one === jammed).map((one) => {
    const near = one === jammed || Math.abs(shop.journey.shareOf(one.pose) - share) < 0.02;
    const points = near ? [one.from, one.to] : [one.to];
    return { points, ends: near ? "dots" : "cross", text: near ? gapWords(one) : "", strong: true, colour: TIGHT, weight: near ? 3 : 2 };
  });
}

/** The edges of what is chosen, drawn strongly. */
function chosen(shop) {
  const { chosen: one, hidden } = shop.store.get();
  const solid = one && shop.hall.solids.get(`${one.kind} ${one.name}`);
  if (!solid || hidden.has(one.name)) return [];
  const matrix = one.kind === "part" ? shop.hall.standing : SAME;
  const { points, edges } = solid.shape;
  const ends = [...edges].map((k) => moved(matrix, [...points.subarray(3 * k, 3 * k + 3)]));
  return [{ points: ends, pairs: true, colour: "#8a4b00", weight: 2.2 }];
}

