/** The picture in words, for those who do not see it. */
import { gapWords } from "./units.js";
import { viewsOf } from "./views.js";

/** What is seen, where from, and what is closest. */
export function describe(shop) {
  const { stage: key, view, hidden, faint, away, share, section } = shop.store.get();
  const stage = shop.look.stage(key);
  if (!stage) return "Nothing is shown.";
  const from = viewsOf(shop.look).find((one) => one.key === view)?.words ?? "from where it was turned to";
  const parts = stage.parts.filter((one) => !hidden.has(one.name)).length;
  const place = shop.look.place ? ` in ${shop.look.place.name}` : "";
  const out = [`${shop.look.design.name}, ${stage.title}${place}, seen ${from}: ${counted(parts, "part")} shown`];
  if (hidden.size) out[0] += `, ${hidden.size} hidden`;
  if (faint.size) out[0] += `, ${faint.size} see-through`;
  out[0] += ".";
  const jam = shop.journey.jammed();
  if (jam) out.push(`It stands where it jams on its way out: ${jam.part} at ${jam.thing}, ${gapWords(jam)}.`);
  else if (away && shop.journey.way()) out.push(`On its way out, step ${shop.journey.step(share).number}: ${shop.journey.step(share).words}.`);
  else if (stage.leaders?.length) out.push(`Closest: ${closest(stage.leaders[0])}.`);
  if (section.axis !== "none") out.push("It is cut open; the outlines are listed under “Cut open”.");
  return out.join(" ");
}

function counted(count, noun) {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/** A least clearance in words. */
export function closest({ text, tolerance, part, thing, direction }) {
  return `${part} to ${thing}${direction ? `, ${direction}` : ""}: ${text}${tolerance ? ` ${tolerance}` : ""}`;
}
