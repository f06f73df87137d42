/** Tables of the stage that is shown: measures beside the picture, the others below. */
import { fold, made } from "../dom.js";
import { sortable } from "../tables.js";

/** The measures, beside the picture. */
export function measuresPanel(shop) {
  const held = made("div", {});
  const element = fold("Measures", false, held);
  element.classList.add("paper");
  const show = (state) => refill(held, [shop.look.stage(state.stage)?.measures].flat());
  return { element, show, keys: ["stage"] };
}

/** Checks and balance, below. */
export function tables(shop) {
  const held = made("div", { class: "tables" });
  const element = made("section", { class: "below", "aria-label": "Tables" }, held);
  const show = (state) => {
    const stage = shop.look.stage(state.stage);
    refill(held, [stage?.checks, stage?.balance].flat());
    element.hidden = !held.children.length;
  };
  return { element, show, keys: ["stage"] };
}

function refill(held, all) {
  const own = all.filter((one) => one?.rows?.length);
  const text = JSON.stringify(own);
  if (text === held.known) return;
  held.known = text;
  held.replaceChildren(...own.map(sortable));
}
