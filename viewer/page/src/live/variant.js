/**
 * A variant: what is asked for that differs from the files. It is never changed, only made anew.
 *
 * {design: {path: text}, place: {path: text}, stage, stance, spot}, with null for "as it stands in
 * the files"; a spot is {name} or {at: [x, y] in m, heading in rad}.
 */

export const FILES = ["design", "place"];
export const BASE = Object.freeze({ design: {}, place: {}, stage: null, stance: null, spot: null });

/** The variant with one value written anew, or taken back where the text is null. */
export function withValue(variant, file, path, text) {
  const changes = { ...variant[file] };
  delete changes[path];
  if (text !== null) changes[path] = text;
  return { ...variant, [file]: changes };
}

/** The variant with several values of one file written anew. */
export function withValues(variant, file, texts) {
  return { ...variant, [file]: { ...variant[file], ...texts } };
}

/** Whether two variants ask for the same. */
export function same(one, other) {
  return JSON.stringify(ordered(one)) === JSON.stringify(ordered(other));
}

function ordered(variant) {
  const sorted = (texts) => Object.entries(texts).sort(([a], [b]) => (a < b ? -1 : 1));
  const { stage, stance, spot } = variant;
  return [sorted(variant.design), sorted(variant.place), stage, stance, spot];
}

/** How many values differ from the files. */
export function changed(variant) {
  const told = FILES.reduce((sum, file) => sum + Object.keys(variant[file]).length, 0);
  return told + (variant.spot ? 1 : 0);
}

/** A variant out of a text of the address; null where it is none. */
export function variantFrom(text) {
  try {
    return checked(JSON.parse(text));
  } catch {
    return null;
  }
}

function checked(given) {
  if (!given || typeof given !== "object") return null;
  const out = { ...BASE };
  for (const file of FILES) {
    const texts = Object.entries(given[file] ?? {}).filter(([, text]) => typeof text === "string");
    out[file] = Object.fromEntries(texts);
  }
  for (const key of ["stage", "stance"]) out[key] = typeof given[key] === "string" ? given[key] : null;
  out.spot = spotFrom(given.spot);
  return out;
}

function spotFrom(spot) {
  if (!spot || typeof spot !== "object") return null;
  if (typeof spot.name === "string") return { name: spot.name };
  const numbers = [...(Array.isArray(spot.at) ? spot.at : []), spot.heading];
  if (numbers.length !== 3 || !numbers.every(Number.isFinite)) return null;
  return { at: [spot.at[0], spot.at[1]], heading: spot.heading };
}

/** A variant as a text of the address, "" for the files as they are. */
export function asText(variant) {
  if (same(variant, BASE)) return "";
  const parts = Object.entries(variant).filter(([, one]) => one && Object.keys(one).length);
  return JSON.stringify(Object.fromEntries(parts));
}
