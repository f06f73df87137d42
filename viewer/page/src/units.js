/**
 * Values as text in the reader's units, rounded as the library rounds them.
 *
 * A float is taken as the exact fraction that it is, so that halves fall the same way.
 */

/** Numerator and denominator of how many SI units one of a unit is. */
const UNIT = {
  m: [1n, 1n],
  mm: [1n, 1000n],
  in: [254n, 10000n],
  m2: [1n, 1n],
  ft2: [9290304n, 100000000n],
};

const STEP = { "ft-in": 0.0254 / 16, in: 0.000254, mm: 0.001, m: 0.001 };

/** A finite float as a fraction of two whole numbers. */
function fraction(value) {
  let [top, bottom] = [value, 1n];
  while (!Number.isInteger(top)) {
    top *= 2;
    bottom *= 2n;
  }
  return [BigInt(top), bottom];
}

/** How many `1/parts` of a unit a value is, to the nearest whole; halves to the even one. */
function counted(value, unit, parts) {
  const [top, bottom] = fraction(value);
  const [over, under] = UNIT[unit];
  return nearest(top * under * BigInt(parts), bottom * over);
}

function nearest(top, bottom) {
  const negative = top < 0n;
  const size = negative ? -top : top;
  let whole = size / bottom;
  const twice = 2n * (size - whole * bottom);
  if (twice > bottom || (twice === bottom && whole % 2n === 1n)) whole += 1n;
  return negative ? -whole : whole;
}

/** A whole number of 1/10^places as a decimal. */
function decimal(count, places) {
  const digits = String(count < 0n ? -count : count).padStart(places + 1, "0");
  const text = places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits;
  return count < 0n ? `-${text}` : text;
}

function trimmed(text) {
  return text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

function fixed(value, unit, places) {
  return decimal(counted(value, unit, 10 ** places), places);
}

/** Feet and inches to 1/16 in. */
function feetInches(value) {
  const count = counted(value, "in", 16);
  const size = count < 0n ? -count : count;
  const [feet, rest] = [size / 192n, size % 192n];
  const inches = mixed(rest);
  const sign = count < 0n ? "-" : "";
  return feet ? `${sign}${feet}'-${inches}"` : `${sign}${inches.replace(/^0 /, "")}"`;
}

function mixed(sixteenths) {
  let [top, bottom] = [sixteenths % 16n, 16n];
  const whole = sixteenths / 16n;
  if (!top) return String(whole);
  while (top % 2n === 0n) [top, bottom] = [top / 2n, bottom / 2n];
  return `${whole} ${top}/${bottom}`;
}

/** A length [m]. */
export function length(value, system) {
  if (system === "ft-in") return feetInches(value);
  if (system === "in") return `${trimmed(fixed(value, "in", 2))} in`;
  return system === "mm" ? `${fixed(value, "mm", 0)} mm` : `${fixed(value, "m", 3)} m`;
}

/** A clearance [m], never rounded up. */
export function gap(value, system) {
  const step = STEP[system];
  return length(Math.floor(value / step + 1e-6) * step, system);
}

/** Whether a system counts in inches. */
export function inches(system) {
  return system === "ft-in" || system === "in";
}

/** A fuselage station [m]. */
export function station(value, system) {
  return `FS ${length(value, inches(system) ? "in" : "mm")}`;
}

/** A butt line [m], right of the centre line positive. */
export function butt(value, system) {
  const side = Math.abs(value) < 0.5e-4 ? "" : value > 0 ? " R" : " L";
  return `BL ${length(Math.abs(value), inches(system) ? "in" : "mm")}${side}`;
}

/** A waterline [m]. */
export function water(value, system) {
  return `WL ${length(value, inches(system) ? "in" : "mm")}`;
}

/** An area [m2]. */
export function area(value, system) {
  if (!inches(system)) return `${trimmed(fixed(value, "m2", 3))} m2`;
  const [top, bottom] = fraction(Math.abs(value));
  const whole = top * UNIT.ft2[1] >= bottom * UNIT.ft2[0];
  return `${trimmed(fixed(value, "ft2", whole ? 1 : 3))} ft2`;
}

/** An angle [rad], in degrees to a tenth. */
export function angle(value) {
  const degrees = (value * 180) / Math.PI;
  const text = degrees.toFixed(1);
  return `${text === "-0.0" ? "0.0" : text} deg`;
}

/** A clearance of a look in words: its text, or how much it lacks. */
export function gapWords({ gap: size, text }) {
  return size < 0 ? `over by ${text.replace(/^-/, "")}` : text;
}
