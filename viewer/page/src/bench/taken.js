/** The readings as text for the survey: to copy or to save; kept nowhere by the page. */
import { button, made } from "../dom.js";
import { csvText, today } from "./csv.js";

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
    const rows = texts.flatMap((some, k) =>
      some.flatMap((read, turned) => (read ? [{ ...this.look.rows[k].survey, read, date, ...(turned ? this.look.rows[k].turned : {}) }] : [])),
    );
    this.text.value = csvText(this.look.csv, rows);
    for (const one of [this.copy, this.save]) one.disabled = !rows.length;
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
