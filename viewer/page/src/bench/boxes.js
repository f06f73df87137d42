/** The boxes of the readings: what is typed in each, as a value or as what is wrong with it. */
import { Refused, bare } from "./notation.js";

export class Boxes {
  /**
   * @param {object} look
   * @param {import("./notation.js").Notation} notation
   * @param {function()} changed called after each change
   */
  constructor(look, notation, changed) {
    this.look = look;
    this.notation = notation;
    this.changed = changed;
    this.bareToo = false;
    this.inputs = look.rows.map((row) => (row.twice ? ["a", "b"] : ["a"]).map((k) => this.#box(`r${row.number}${k}`)));
  }

  /** Whether a bare number counts in the sheet's own unit. */
  take(yes) {
    this.bareToo = yes;
    this.changed();
  }

  /** For each reading its values [m or rad], null where a box is empty or not read. */
  values() {
    return this.inputs.map((some, k) => some.map((input) => this.#read(input, k).value));
  }

  /** What stands in the boxes of each reading, with its unit; "" where it is not read. */
  texts() {
    return this.inputs.map((some, k) => some.map((input) => this.#read(input, k).text));
  }

  /** What is wrong with each box of a reading; null where nothing is. */
  wrong(k) {
    return this.inputs[k].map((input) => this.#read(input, k).wrong);
  }

  anyWrong() {
    return this.inputs.some((_, k) => this.wrong(k).some(Boolean));
  }

  typed() {
    return this.inputs.some((some) => some.some((input) => input.value.trim()));
  }

  #read(input, k) {
    const text = input.value.trim();
    if (!text) return { value: null, text: "", wrong: null };
    const { kind } = this.look.rows[k];
    const whole = this.bareToo && bare(text) ? `${text} ${kind === "angle" ? "deg" : this.look.unit}` : text;
    try {
      return { value: this.notation.read(whole, kind).value, text: whole, wrong: null };
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return { value: null, text: "", wrong: `${text}: ${error.message}` };
    }
  }

  #box(id) {
    const input = document.getElementById(id);
    input.addEventListener("input", () => this.changed());
    return input;
  }
}
