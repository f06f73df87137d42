/** Small lengths and angles in the reader's units, finer than a tape reads. */
import { inches } from "../units.js";

const INCH = 0.0254;
const NOTHING = /^-(0\.0+) /;

export function fineWords(value, kind, system) {
  if (kind === "angle") return `${((value * 180) / Math.PI).toFixed(2)} deg`.replace(NOTHING, "$1 ");
  const text = inches(system) ? `${(value / INCH).toFixed(2)} in` : `${(value * 1000).toFixed(1)} mm`;
  return text.replace(NOTHING, "$1 ");
}

/** How far off its target a value is, in words. */
export function offWords(value, kind, system) {
  const text = fineWords(Math.abs(value), kind, system);
  return /^0\.0+ /.test(text) ? "on its target" : `${text} ${value > 0 ? "over" : "under"}`;
}
