/** What is shown of the aircraft: at which stage, on what it stands, on which spot of the place. */
import { freshId, made } from "./made.js";

const CHOICES = [
  ["stage", "Stage", "complete, as the files end"],
  ["stance", "Stands on", "as the stage says"],
  ["spot", "Spot", "the first of the place"],
];

export class StandingChoice {
  /** @param {function(string, string|null)} choose gets stage, stance or spot, and the name */
  constructor(choose) {
    this.choose = choose;
    this.selects = new Map();
    this.element = made("section", { class: "stands", "aria-label": "stage, stance and spot" });
  }

  /** Takes the names that there are. */
  take({ stages = [], stances = [], spots = [] }) {
    const names = {
      stage: stages.map((one) => [one.name, one.name]),
      stance: stances.map((one) => [one.name ?? one, one.text ? `${one.name}: ${one.text}` : one.name ?? one]),
      spot: spots.map((one) => [one.name, one.name]),
    };
    const rows = CHOICES.filter(([key]) => names[key].length).map((choice) => this.#row(choice, names[choice[0]]));
    this.element.replaceChildren(...rows);
  }

  #row([key, words, none], names) {
    const options = names.map(([value, text]) => made("option", { value: `=${value}` }, text));
    const select = made("select", { id: freshId(key) }, made("option", { value: "" }, none), ...options);
    select.addEventListener("change", () => this.choose(key, select.value ? select.value.slice(1) : null));
    this.selects.set(key, select);
    const error = made("p", { class: "error", id: freshId("error"), hidden: true });
    select.setAttribute("aria-describedby", error.id);
    this.errors = { ...this.errors, [key]: error };
    return made("div", { class: "asked" }, made("label", { for: select.id }, words), select, error);
  }

  /** Shows the choices of a variant. */
  show(variant) {
    const chosen = { stage: variant.stage, stance: variant.stance, spot: variant.spot?.name ?? null };
    for (const [key, select] of this.selects) select.value = chosen[key] === null ? "" : `=${chosen[key]}`;
  }

  /** Shows what is wrong with a choice; the problems that are none of these. */
  wrong(problems) {
    for (const [key, error] of Object.entries(this.errors ?? {})) {
      const words = problems.filter((one) => one.path === key).map((one) => one.words).join(" ");
      error.textContent = words;
      error.hidden = !words;
      this.selects.get(key).setAttribute("aria-invalid", String(Boolean(words)));
    }
    return problems.filter((one) => !this.selects.has(one.path));
  }
}
