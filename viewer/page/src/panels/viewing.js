/** The views by name. */
import { made, pressed, toggle } from "../dom.js";
import { KEYS } from "../keys.js";
import { viewsOf } from "../views.js";

export function viewing(shop) {
  const row = made("div", { class: "row views", role: "group", "aria-label": "Look" });
  const short = "Arrow keys turn it, plus and minus go nearer and farther, digits choose a view; all keys stand under “keys”.";
  const rows = KEYS.flatMap(([key, does]) => [made("dt", {}, key), made("dd", {}, does)]);
  const keys = made("details", { class: "keys" }, made("summary", {}, "keys and gestures"),
    made("p", {}, "One finger or the left button turns, two fingers or the right button shift, wheel or pinch go nearer. A tap takes a part. With the picture in focus:"), made("dl", {}, ...rows));
  const element = made("div", { class: "viewing" }, row, keys, made("p", { id: "keys-short", class: "unseen" }, short));
  let known = "";
  function show(state) {
    const views = viewsOf(shop.look);
    const text = JSON.stringify(views);
    if (text !== known) {
      known = text;
      row.replaceChildren(...views.map(({ key, words }) => toggle(words, () => shop.go(key), { "data-view": key })));
    }
    for (const one of row.children) pressed(one, one.dataset.view === state.view);
  }
  return { element, show, keys: ["view"] };
}
