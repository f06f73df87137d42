/**
 * Things moved on the floor, the aircraft by its spot: each is the numbers of the place that say
 * where it stands, written anew in the notation that they have.
 */
import { sizeOf, styleOf, written } from "./writing.js";

/** What moves by hand is put down to this [m], and turned to this [rad]. */
const GRAIN = { "ft-in": 0.0254 / 4, in: 0.0254 / 4, mm: 0.005, m: 0.005 };
const TURN = Math.PI / 360;
/** Less than this is no move [m, rad]. */
const NONE = 1e-9;

/**
 * The texts of a thing's numbers after it was moved.
 * @param {object[]} numbers those of the place that move it, each with `axis` x, y or heading
 * @param {Object<string, string>} texts what is changed of the place already
 * @param {{dx: number, dy: number, turn: number}} by [m, rad], from where it stands by `texts`
 * @param {string} system units of the place
 * @returns {Object<string, string>} text by path
 */
export function movedTexts(numbers, texts, by, system) {
  const grain = GRAIN[system] ?? GRAIN.in;
  const { dx, dy, turn } = { dx: round(by.dx, grain), dy: round(by.dy, grain), turn: round(by.turn, TURN) };
  const places = numbers.map((one) => ({ one, value: valueOf(one, texts, system) }));
  const turned = places.some(({ one }) => one.axis === "heading") ? same : aboutMiddle(places, turn);
  const shift = { x: dx, y: dy };
  const out = {};
  for (const { one, value } of places) {
    const moved = one.axis === "heading" ? value + turn : turned(one, value) + shift[one.axis];
    if (Math.abs(moved - value) > NONE) out[one.path] = text(one, one.axis === "heading" ? headed(moved) : moved, system);
  }
  return out;
}

function round(value, grain) {
  return Math.round((value || 0) / grain) * grain;
}

/** A heading from 0 to one turn. */
function headed(angle) {
  const turn = 2 * Math.PI;
  return ((angle % turn) + turn) % turn;
}

function valueOf(number, texts, system) {
  const own = texts[number.path];
  return own === undefined ? number.value : sizeOf(own, number.kind, system) ?? number.value;
}

function text(number, value, system) {
  return written(value, styleOf(number.bare ?? number.text, number.kind, system));
}

function same(_number, value) {
  return value;
}

/** Turns the corners of an outline about its middle, clockwise seen from above. */
function aboutMiddle(places, turn) {
  if (!turn) return same;
  const middle = {};
  for (const axis of ["x", "y"]) {
    const values = places.filter(({ one }) => one.axis === axis).map(({ value }) => value);
    middle[axis] = values.reduce((sum, value) => sum + value, 0) / (values.length || 1);
  }
  const corner = (path) => path.replace(/\[\d+\]$|\.\w+$/, "");
  const other = new Map(places.map(({ one, value }) => [`${corner(one.path)} ${one.axis}`, value]));
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return (one, value) => {
    const cross = other.get(`${corner(one.path)} ${one.axis === "x" ? "y" : "x"}`);
    if (cross === undefined) return value;
    if (one.axis === "x") return middle.x + (value - middle.x) * cos + (cross - middle.y) * sin;
    return middle.y + (value - middle.y) * cos - (cross - middle.x) * sin;
  };
}
