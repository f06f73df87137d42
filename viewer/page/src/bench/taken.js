/** The readings as text for the survey: to copy or to save; kept nowhere by the page. */
import { button, made } from "../dom.js";
import { csvText, today } from "./csv.js";

/** Whether a survey takes a reading. */
function takes(row) {
  return Object.keys(row.survey).length > 0;
}

export class Taken {
  constructor(look, place) {
    this.look = look;
    this.given = false;
    this.text = made("textarea", { id: "csv", readonly: true, "aria-label": "readings, as the survey takes them" });
    this.copy = button("Copy", () => this.#copied());
    this.save = button("Save as a file", () => this.#saved());
    this.said = made("span", { role: "status" });
    place.append(
      made("h2", {}, "Readings to take away"),
      made("p", { class: "soft" }, "The page keeps nothing: copy or save the readings before it is closed. A survey takes them as they are."),
      this.text,
      made("div", { class: "row" }, this.copy, this.save, this.said),
    );
  }

  /** @param {string[][]} texts of each reading's boxes */
  show(texts) {
    const date = today();
    const lines = texts.map((some, k) => [this.look.rows[k], some]);
    const rows = lines.flatMap(([row, some]) =>
      some.flatMap((read, turned) => (read && takes(row) ? [{ ...row.survey, read, date, ...(turned ? row.turned : {}) }] : [])),
    );
    const out = lines.flatMap(([row, some]) =>
      some.filter((read) => read && !takes(row)).map((read) => `no. ${row.number} is left out, a survey has no such point; it read ${read}`),
    );
    const { csv } = this.look;
    this.text.value = csvText({ ...csv, comments: [...csv.comments, ...out] }, rows);
    const empty = !rows.length && !out.length;
    for (const one of [this.copy, this.save]) one.disabled = empty;
    this.given = false;
    this.said.textContent = "";
  }

  async #copied() {
    try {
      await navigator.clipboard.writeText(this.text.value);
      this.#told("copied");
    } catch {
      this.text.focus();
      this.text.select();
      if (document.execCommand("copy")) this.#told("copied");
      else this.said.textContent = "the text is marked: copy it by hand";
    }
  }

  #saved() {
    const address = URL.createObjectURL(new Blob([this.text.value], { type: "text/csv" }));
    made("a", { href: address, download: this.look.csv.name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10_000);
    this.#told(`saved as ${this.look.csv.name}`);
  }

  #told(words) {
    this.given = true;
    this.said.textContent = words;
  }
}
