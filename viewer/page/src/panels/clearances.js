/** The least clearances as it is parked, least first. */
import { button, fold, made } from "../dom.js";

export function clearances(shop) {
  const list = made("ol", { class: "gaps" });
  const none = made("p", { class: "soft" });
  const element = fold("Least clearances, parked", true, list, none);
  element.classList.add("paper");
  function show(state) {
    const stage = shop.look.stage(state.stage);
    const gaps = stage?.leaders ?? [];
    const focused = list.contains(document.activeElement) ? [...list.querySelectorAll("button")].indexOf(document.activeElement) : -1;
    list.replaceChildren(...gaps.map((gap) => row(shop, gap, state.gap)));
    list.querySelectorAll("button")[focused]?.focus();
    element.hidden = !shop.look.place;
    none.textContent = gaps.length ? "" : "none is worked out yet";
    none.hidden = Boolean(gaps.length);
  }
  return { element, show, keys: ["stage", "gap"] };
}

function row(shop, gap, taken) {
  const own = taken?.part === gap.part && taken.thing === gap.thing;
  const { part, thing } = gap;
  const words = made("span", {}, made("b", {}, gap.text), gap.tolerance ? ` ${gap.tolerance}` : "", made("br"), `${gap.part} to ${gap.thing}${gap.direction ? `, ${gap.direction}` : ""}`);
  const take = button("", () => shop.store.set(own ? { gap: null, chosen: null } : { gap: { part, thing }, chosen: { kind: "part", name: part } }), { class: "gap", "aria-pressed": String(own) });
  take.append(words);
  return made("li", {}, take);
}
