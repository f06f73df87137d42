/** Title, verdict, and the stepper through the stages. */
import { button, chip, choice, made } from "../dom.js";
import { PARKED } from "../journey.js";

export function standing(shop) {
  const title = made("h1", {});
  const verdict = made("div", { class: "verdict", role: "status", "aria-live": "polite" });
  const lines = made("ul", { class: "lines" });
  const more = made("details", { class: "why paper" }, made("summary", {}, "why, and what to measure next"), lines);
  const change = made("p", { class: "change", "aria-live": "polite" });
  const [label, list] = choice("stage", [], (key) => shop.store.set({ stage: key, ...PARKED }));
  const before = button("‹", () => shop.next(-1), { "aria-label": "‹ the stage before", title: "the stage before" });
  const after = button("›", () => shop.next(1), { "aria-label": "the next stage ›", title: "the next stage" });
  const stepper = made("div", { class: "stepper", role: "group", "aria-label": "Stages" }, before, label, after);
  const named = made("p", { class: "on-paper" });
  const element = made("div", { class: "standing" }, title, named, verdict, made("div", { class: "steps" }, stepper, change), more);

  function show(state) {
    const stage = shop.look.stage(state.stage);
    title.replaceChildren(shop.look.design.name, ...(shop.look.place ? [made("span", { class: "in" }, ` in ${shop.look.place.name}`)] : []));
    named.textContent = stage?.title ?? "";
    told(verdict, stage);
    const number = shop.look.stages.indexOf(stage);
    list.replaceChildren(...shop.look.stages.map((one, k) => option(one, k, one === stage)));
    stepper.hidden = shop.look.stages.length < 2;
    before.disabled = number <= 0;
    after.disabled = number >= shop.look.stages.length - 1;
    change.textContent = [stage?.change, stage?.text].filter(Boolean).join(" · ");
    const texts = stage?.lines ?? [];
    more.hidden = !texts.length;
    lines.replaceChildren(...texts.map((text) => made("li", {}, text)));
  }
  return { element, show, keys: ["stage"] };
}

function option(stage, k, selected) {
  const verdict = stage.verdict ? ` — ${stage.verdict.word}` : "";
  const out = made("option", { value: stage.key }, `${k + 1}. ${stage.title}${verdict}`);
  out.selected = selected;
  return out;
}

/** The verdict as a word, its two questions, and what decides it. */
function told(box, stage) {
  const verdict = stage?.verdict;
  box.hidden = !stage;
  if (!verdict) {
    box.replaceChildren(made("span", { class: "soft" }, stage?.title ?? ""));
    return;
  }
  const both = verdict.room && verdict.out ? ["in the room ", chip(verdict.room), " the way out ", chip(verdict.out)] : [];
  box.replaceChildren(chip(verdict), made("span", { class: "why" }, verdict.key === "un" && stage.left?.length ? `being worked out: ${stage.left.join(", ")}` : verdict.why ?? ""), made("span", { class: "both" }, ...both));
}
