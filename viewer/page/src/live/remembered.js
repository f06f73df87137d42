/** What the address remembers of this part of the page, in keys of its own behind the `#`. */
import { asText, variantFrom } from "./variant.js";

const NOW = "live-now";
const HELD = "live-held";
const HAND = "live-hand";

function kept() {
  return new URLSearchParams(location.hash.slice(1));
}

/**
 * What the address holds.
 * @returns {{variant: object|null, held: object|null, pins: string[]|null}}
 */
export function remembered() {
  const keys = kept();
  const read = (key) => (keys.has(key) ? variantFrom(keys.get(key)) : null);
  return { variant: read(NOW), held: read(HELD), pins: pinsFrom(keys.get(HAND)) };
}

function pinsFrom(text) {
  try {
    const pins = JSON.parse(text);
    return Array.isArray(pins) && pins.every((one) => typeof one === "string") ? pins : null;
  } catch {
    return null;
  }
}

/** Writes into the address what is asked for now, what is held, and what is at hand. */
export function remember({ variant, held, pins }) {
  const keys = kept();
  put(keys, NOW, asText(variant));
  put(keys, HELD, held ? asText(held) || "{}" : "");
  put(keys, HAND, pins ? JSON.stringify(pins) : "");
  const hash = keys.toString();
  if (hash !== location.hash.slice(1)) history.replaceState(history.state, "", hash ? `#${hash}` : location.pathname + location.search);
}

function put(keys, key, text) {
  if (text) keys.set(key, text);
  else keys.delete(key);
}

/** Calls when the address was changed by hand or pasted. */
export function onPasted(call) {
  addEventListener("hashchange", () => call(remembered()));
}
