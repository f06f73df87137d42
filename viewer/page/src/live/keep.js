/**
 * Keeps what was changed as a new file: its name, the difference, what becomes of tolerances; then
 * it is written, and never over a file that is there.
 */
import { button, freshId, made, say } from "./made.js";
import { post, Refused } from "./desk.js";
import { FILES } from "./variant.js";

const WORDS = { keep: "the tolerance goes on with the new value", drop: "the new value has none" };

export class Keeping {
  /** @param {string} base address of the server */
  constructor(base) {
    this.base = base;
    this.title = made("h2", { id: freshId("keep") }, "Keep this as a new file");
    this.form = made("form", { method: "dialog" });
    this.element = made("dialog", { class: "keep", "aria-labelledby": this.title.id }, this.title, this.form);
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.#write();
    });
  }

  /**
   * Opens the dialogue.
   * @param {object} variant
   * @param {{design: string, place: string|null}} files paths of the files
   */
  open(variant, files) {
    this.variant = variant;
    this.files = files;
    this.carry = {};
    const changed = FILES.filter((file) => Object.keys(variant[file]).length);
    this.#build(changed);
    this.element.showModal();
    this.#ask();
  }

  #build(changed) {
    const options = changed.map((file) => made("option", { value: file }, `the ${file}, ${this.files[file]}`));
    this.file = made("select", { id: freshId("file") }, ...options);
    this.name = made("input", { id: freshId("name"), type: "text", autocomplete: "off", spellcheck: "false", maxlength: 200 });
    this.error = made("p", { class: "error", id: freshId("error"), role: "alert", hidden: true });
    this.name.setAttribute("aria-describedby", this.error.id);
    this.asks = made("div", { class: "asks" });
    this.lines = made("pre", { class: "difference", tabindex: 0, "aria-label": "the difference" });
    this.done = made("p", { class: "done", role: "status" });
    this.submit = button("write the new file", () => {}, { type: "submit" });
    const close = button("close", () => this.element.close());
    this.form.replaceChildren(
      labelled("Changes of", this.file), labelled("Name of the new file", this.name), this.error,
      this.asks, made("h3", {}, "The difference"), this.lines, this.done, made("div", { class: "doings" }, this.submit, close));
    this.file.addEventListener("change", () => this.#chosen());
    this.name.addEventListener("change", () => this.#ask());
    this.#named();
  }

  #chosen() {
    this.#named();
    this.#ask();
  }

  /** A name beside that of the file. */
  #named() {
    const own = String(this.files[this.file.value] ?? "").split(/[\\/]/).pop() || "design.toml";
    this.name.value = own.replace(/(\.toml)?$/i, "-changed.toml");
  }

  #question(write) {
    const file = this.file.value;
    const { design, place } = this.variant;
    const carry = write ? { ...this.#shown(), ...this.carry } : this.carry;
    return { file, name: this.name.value.trim(), changes: { design, place }, carry, write };
  }

  /** What the questions about tolerances say that nobody touched. */
  #shown() {
    const chosen = [...this.asks.querySelectorAll("fieldset")].map((one) => [one.dataset.path, one.querySelector("input:checked")?.value]);
    return Object.fromEntries(chosen.filter(([, value]) => value));
  }

  async #ask() {
    const answer = await this.#posted(false);
    if (!answer) return;
    this.#differ(answer.difference ?? []);
    this.#tolerances(answer.asks ?? []);
  }

  async #write() {
    this.submit.disabled = true;
    const answer = await this.#posted(true);
    this.submit.disabled = Boolean(answer?.written);
    if (answer?.written) say(this.done, `Written: ${answer.written}`);
    else if (answer) this.#wrong("Nothing is written yet: say below what becomes of each tolerance.");
  }

  /** The answer of the server; null where it refused, which then stands at the name. */
  async #posted(write) {
    this.#wrong("");
    say(this.done, "");
    this.submit.disabled = false;
    try {
      const answer = await (await post(`${this.base}keep`, this.#question(write))).json();
      if (!answer.problems?.length) return answer;
      this.#wrong(answer.problems.map((one) => one.words).join(" "));
    } catch (error) {
      this.#wrong(error instanceof Refused ? error.message : "planform explore gives no answer; nothing was written.");
    }
    return null;
  }

  #wrong(words) {
    say(this.error, words);
    this.error.hidden = !words;
    this.name.setAttribute("aria-invalid", String(Boolean(words)));
  }

  #differ(lines) {
    const shown = lines.map((line) => made("span", { class: kindOf(line) }, `${line}\n`));
    this.lines.replaceChildren(...(shown.length ? shown : ["Nothing differs."]));
  }

  #tolerances(asks) {
    const had = [...this.asks.querySelectorAll("fieldset")].map((one) => one.dataset.path).join("\n");
    if (had === asks.map((one) => one.path).join("\n")) return;
    this.asks.replaceChildren(...asks.map((one) => this.#tolerance(one)));
  }

  #tolerance(asked) {
    const name = freshId("carry");
    const choices = Object.entries(WORDS).map(([key, words]) => {
      const chosen = (this.carry[asked.path] ?? "keep") === key;
      const radio = made("input", { type: "radio", id: freshId(name), name, value: key, checked: chosen });
      radio.addEventListener("change", () => {
        this.carry = { ...this.carry, [asked.path]: key };
        this.#ask();
      });
      return made("label", { for: radio.id }, radio, ` ${words}`);
    });
    return made("fieldset", { "data-path": asked.path }, made("legend", {}, asked.words ?? asked.path), ...choices);
  }
}

function labelled(words, input) {
  return made("div", { class: "asked" }, made("label", { for: input.id }, words), input);
}

/** How a line of the difference is coloured; its sign tells it without colour too. */
function kindOf(line) {
  if (line.startsWith("+++") || line.startsWith("---") || line.startsWith("@@")) return "where";
  return line.startsWith("+") ? "new" : line.startsWith("-") ? "old" : "same";
}
