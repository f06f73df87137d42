/** All values that can be moved: searched, by part, and the few that a builder has at hand. */
import { ValueField } from "./field.js";
import { FILES } from "./variant.js";
import { fold, made, say, settled } from "./made.js";
import { firstPins } from "./pins.js";

/** How many values a search shows before it asks for more letters. */
const MOST_FOUND = 40;

export class Fields {
  /**
   * @param {{change: function(object, string|null, boolean), pins: function(string[])}} told
   */
  constructor(told) {
    this.told = told;
    this.numbers = [];
    this.fields = new Map();
    this.pins = [];
    this.hand = made("div", { class: "hand" });
    this.all = made("div", { class: "all" });
    this.search = made("input", { type: "search", id: "live-search", placeholder: "cant, chord, door …", autocomplete: "off" });
    this.search.addEventListener("input", settled(120, () => this.#list()));
    this.count = made("p", { class: "note", role: "status" });
    this.element = made("section", { "aria-label": "values", class: "values" }, this.hand, this.#rest());
  }

  #rest() {
    const label = made("label", { for: "live-search" }, "Find a value");
    this.more = fold("All values", false, label, this.search, this.count, this.all);
    this.more.addEventListener("toggle", () => this.#list());
    return this.more;
  }

  /** Takes the numbers of both files, with the units they are written in. */
  take(numbers, pins) {
    this.units = numbers.units;
    this.numbers = FILES.flatMap((file) => (numbers[file] ?? []).map((one) => ({ ...one, whose: file })));
    this.byKey = new Map(this.numbers.map((one) => [keyOf(one), one]));
    this.fields = new Map();
    this.pins = (pins ?? firstPins(this.numbers)).filter((key) => this.byKey.has(key));
    this.#pinned();
    this.#list();
  }

  /** Shows the texts of a variant. */
  show(variant) {
    this.variant = variant;
    for (const fields of this.fields.values()) for (const field of fields) field.show(this.#textOf(field.number));
  }

  /**
   * Shows what is wrong at the fields it concerns.
   * @param {object[]} problems
   * @param {"asked"|"file"} source what they are mistakes of; those of the other source stay
   * @returns {object[]} the problems of this source that no field here has
   */
  wrong(problems, source = "asked") {
    this.problems = { ...this.problems, [source]: problems };
    const left = new Set(problems);
    const words = new Map();
    for (const problem of Object.values(this.problems).flat()) {
      for (const number of this.#concerned(problem)) {
        words.set(keyOf(number), [words.get(keyOf(number)), atField(problem)].filter(Boolean).join(" "));
        left.delete(problem);
      }
    }
    for (const [key, fields] of this.fields) for (const field of fields) field.wrong(words.get(key) ?? "");
    this.words = words;
    return [...left];
  }

  /** The values that a problem stands at: the one of its path, else the changed ones below it. */
  #concerned(problem) {
    const here = this.numbers.filter((one) => !problem.file || sameFile(one.whose, problem.file));
    const exact = here.filter((one) => one.path === problem.path);
    if (exact.length) return exact;
    return here.filter((one) => this.#textOf(one) !== null && below(one.path, problem.path));
  }

  #textOf(number) {
    return this.variant?.[number.whose][number.path] ?? null;
  }

  #field(number) {
    const field = new ValueField(number, this.units, {
      change: (text, over) => this.#changed(field, text, over),
      pin: (pinned) => this.#pin(keyOf(number), pinned),
    });
    field.show(this.#textOf(number));
    field.pinned(this.pins.includes(keyOf(number)));
    field.wrong(this.words?.get(keyOf(number)) ?? "");
    return field;
  }

  #changed(from, text, over) {
    for (const other of this.fields.get(keyOf(from.number)) ?? []) if (other !== from) other.show(text);
    this.told.change(from.number, text, over);
  }

  #pin(key, pinned) {
    this.pins = pinned ? [...this.pins, key] : this.pins.filter((one) => one !== key);
    this.told.pins(this.pins);
    const here = document.activeElement?.closest(".hand");
    this.#pinned();
    if (here) this.hand.querySelector("button.pin")?.focus();
    for (const [one, fields] of this.fields) for (const field of fields) field.pinned(this.pins.includes(one));
  }

  /** Sets the values at hand anew. */
  #pinned() {
    this.inHand = this.pins.map((key) => this.#field(this.byKey.get(key)));
    this.hand.replaceChildren(...this.inHand.map((field) => field.element));
    this.#known();
  }

  /** Lists what the search finds, by part; parts are opened one by one where nothing is sought. */
  #list() {
    this.listed = [];
    if (!this.more.open) this.all.replaceChildren();
    else if (this.search.value.trim()) this.#found();
    else this.#parts();
    this.#known();
  }

  #found() {
    const words = this.search.value.toLowerCase().split(/\s+/).filter(Boolean);
    const found = this.numbers.filter((one) => words.every((word) => soughtIn(one).includes(word)));
    this.listed = found.slice(0, MOST_FOUND).map((one) => this.#field(one));
    this.all.replaceChildren(...this.listed.map((field) => field.element));
    const more = found.length > MOST_FOUND ? `; the first ${MOST_FOUND} are shown` : "";
    say(this.count, found.length ? `${found.length} found${more}` : "Nothing of that name; try a part's name or a field's.");
  }

  #parts() {
    const groups = new Map();
    for (const one of this.numbers) {
      const key = `${one.whose}:${one.where}`;
      groups.set(key, [...(groups.get(key) ?? []), one]);
    }
    this.all.replaceChildren(...[...groups.values()].map((numbers) => this.#group(numbers)));
    say(this.count, `${this.numbers.length} values in ${groups.size} parts`);
  }

  #group(numbers) {
    const inside = made("div", {});
    const group = made("details", {}, made("summary", {}, `${groupWords(numbers)} (${numbers.length})`), inside);
    group.addEventListener("toggle", () => {
      if (!group.open || inside.childElementCount) return;
      const fields = numbers.map((one) => this.#field(one));
      this.listed.push(...fields);
      inside.replaceChildren(...fields.map((field) => field.element));
      this.#known();
    });
    return group;
  }

  /** Which fields stand for each value, at hand and in the list. */
  #known() {
    this.fields = new Map();
    for (const field of [...(this.inHand ?? []), ...(this.listed ?? [])]) {
      const key = keyOf(field.number);
      this.fields.set(key, [...(this.fields.get(key) ?? []), field]);
    }
  }
}

/** A value's name in both files. */
export function keyOf(number) {
  return `${number.whose}:${number.path}`;
}

/** The words of a problem without the path that it stands at. */
function atField(problem) {
  const head = `${problem.path}: `;
  return problem.words.startsWith(head) ? problem.words.slice(head.length) : problem.words;
}

/** What a group of values is called: the name that its things have, or the end of their path. */
function groupWords(numbers) {
  const name = /“[^”]+”/.exec(numbers[0].label);
  if (name && numbers.every((one) => one.label.includes(name[0]))) return name[0].slice(1, -1);
  const words = numbers[0].where.split(".").pop().replace(/[_[\]]+/g, " ").trim();
  return words || numbers[0].whose;
}

function soughtIn(number) {
  return `${number.label} ${number.where} ${number.path} ${number.says ?? ""}`.toLowerCase();
}

/** Whether a path lies below another, `""` above all. */
function below(path, above) {
  return above === "" || path.startsWith(`${above}.`) || path.startsWith(`${above}[`);
}

/** Whether a problem's file is this one: it is told by its kind or by its path. */
function sameFile(kind, told) {
  return told === kind || !FILES.includes(told);
}
