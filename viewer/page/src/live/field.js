/**
 * One value that can be moved: a slider where it has a range, a box for the text as a builder
 * writes it, what its tolerance is, what is wrong with it, and the way back to the file.
 */
import { button, freshId, made, say } from "./made.js";
import { sizeOf, styleOf, written } from "./writing.js";

/** Slack of a slider's ends, in notches. */
const NEAR = 1e-6;

export class ValueField {
  /**
   * @param {object} number as the server tells it, with `whose` (design or place)
   * @param {string} system the units of the file
   * @param {{change: function(string|null, boolean), pin: function(boolean)}} told `change` gets the
   *   new text, null for the file's own, and whether the gesture is over
   */
  constructor(number, system, told) {
    this.number = number;
    this.system = system;
    this.told = told;
    this.text = bare(number);
    this.now = null;
    this.style = styleOf(this.text, number.kind, system);
    this.element = this.#built();
    this.show(null);
  }

  /** Shows a text of the variant, or the file's own where it is null. */
  show(text) {
    this.now = text;
    const shown = text ?? this.text;
    if (document.activeElement !== this.box) this.box.value = shown;
    if (this.slider) this.#place(shown);
    this.back.hidden = text === null;
    say(this.note, text?.includes("±") ? "the tolerance as it stands in the box" : noteOf(this.number, this.text));
    this.element.classList.toggle("moved", text !== null);
  }

  /** What is wrong with the value; nothing where empty. */
  wrong(words) {
    say(this.error, words);
    this.error.hidden = !words;
    this.box.setAttribute("aria-invalid", String(Boolean(words)));
    const by = words ? `${this.error.id} ${this.note.id}` : this.note.id;
    for (const one of [this.box, this.slider]) one?.setAttribute("aria-describedby", by);
  }

  /** Tells whether the field is among those at hand. */
  pinned(pinned) {
    this.pin.setAttribute("aria-pressed", String(pinned));
  }

  #built() {
    const { number } = this;
    const whole = number.label;
    this.error = made("p", { id: freshId("error"), class: "error", role: "alert", hidden: true });
    this.note = made("p", { id: freshId("note"), class: "note" }, noteOf(number, this.text));
    this.box = this.#box(whole);
    this.slider = slides(number, this.style) ? this.#slider(whole) : null;
    this.back = button(`back to ${this.text}`, () => this.#set(null, true), { class: "back", "aria-label": `${whole}: back to ${this.text}` });
    const press = () => this.told.pin(this.pin.getAttribute("aria-pressed") !== "true");
    this.pin = button("at hand", press, { class: "pin", "aria-label": `${whole}: at hand`, "aria-pressed": "false" });
    const name = made("label", { for: this.box.id }, whole);
    const row = made("div", { class: "moves" }, ...(this.slider ? [this.slider] : []), this.box);
    const path = `${number.whose}:${number.path}`;
    const foot = made("div", { class: "foot" }, this.note, this.back);
    return made("div", { class: "value", "data-path": path }, made("div", { class: "named" }, name, this.pin), row, this.error, foot);
  }

  #box(whole) {
    const box = made("input", {
      id: freshId("value"), type: "text", autocomplete: "off", spellcheck: "false", autocapitalize: "off",
      "aria-label": whole, "aria-describedby": this.note.id, "aria-invalid": "false", maxlength: 200,
    });
    box.addEventListener("change", () => this.#set(this.#typed(), true));
    box.addEventListener("blur", () => this.show(this.now));
    return box;
  }

  #slider(whole) {
    const { from, to, step } = this.number;
    const slider = made("input", {
      type: "range", min: Math.ceil(from / step - NEAR), max: Math.floor(to / step + NEAR), step: 1,
      "aria-label": `${whole}, slider`, "aria-describedby": this.note.id,
    });
    slider.addEventListener("input", () => this.#set(this.#slid(), false));
    slider.addEventListener("change", () => this.#set(this.#slid(), true));
    return slider;
  }

  /** The text in the box, null where it is the file's own. */
  #typed() {
    const text = this.box.value.trim();
    return text === "" || text === this.text ? null : text;
  }

  /** The text of where the slider stands. */
  #slid() {
    const text = written(Number(this.slider.value) * this.number.step, this.style);
    return text === this.text ? null : text;
  }

  #set(text, over) {
    this.box.value = text ?? this.text;
    this.show(text);
    this.told.change(text, over);
  }

  #place(shown) {
    const value = this.now === null ? this.number.value : sizeOf(shown, this.number.kind, this.system);
    if (value !== null && document.activeElement !== this.slider) {
      this.slider.value = String(Math.round(value / this.number.step));
    }
    this.slider.setAttribute("aria-valuetext", shown);
  }
}

/** Whether a slider can write the value: it has a range, and a notation that is known here. */
function slides(number, style) {
  const known = style.form !== "none" && !(number.shared ?? []).length;
  return known && [number.value, number.from, number.to, number.step].every(Number.isFinite);
}

/** A value's text without its tolerance and source. */
function bare(number) {
  return String(number.bare ?? number.text);
}

/** What stands below a value: its tolerance, where it is from, where it is to be changed. */
function noteOf(number, text) {
  const more = String(number.text).startsWith(text) ? String(number.text).slice(text.length).trim() : "";
  const shared = number.shared?.length ? `stands on ${number.shared.join(", ")}; change it there` : "";
  return [more || number.source, shared, number.file && `in ${number.file}`].filter(Boolean).join(" · ");
}
