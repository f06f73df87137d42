/** Points picked for a distance, a height, an angle: in the picture or from a list. */
import { button, choice, fold, made, pairs, pressed, toggle } from "../dom.js";
import { outermost } from "../ruler.js";
import { moved } from "../vectors.js";

const ENDS = ["foremost", "aftmost", "farthest left", "farthest right", "lowest", "highest"];

export function measuring(shop) {
  const on = toggle("take points in the picture", () => shop.store.set({ ruler: { ...shop.store.get().ruler, on: !shop.store.get().ruler.on }, moving: false }));
  const clear = button("clear the points", () => shop.ruler.clear(), { class: "quiet" });
  const [partLabel, part] = choice("part", [], () => {});
  const [endLabel, end] = choice("its point", ENDS.map((one) => [one, one]), () => {});
  const take = button("take this point", () => byName(shop, part.value, end.value));
  const told = made("div", { class: "told", "aria-live": "polite" });
  const hint = made("p", { class: "soft" }, "Taps near a corner or an edge take that corner or edge. Two points give distance, height and angles; a third the angle at the second.");
  const element = fold("Measure", false, hint, made("div", { class: "row" }, on, clear), told, made("div", { class: "row by-name" }, partLabel, endLabel, take));

  function show(state) {
    pressed(on, state.ruler.on);
    if (state.ruler.on || state.ruler.points.length) element.open = true;
    const names = (shop.look.stage(state.stage)?.parts ?? []).map((one) => one.name);
    if (JSON.stringify(names) !== part.dataset.names) {
      part.dataset.names = JSON.stringify(names);
      part.replaceChildren(...names.map((name) => made("option", { value: name }, name)));
    }
    clear.disabled = !state.ruler.points.length;
    told.replaceChildren(...(state.ruler.points.length ? [pairs(shop.ruler.rows())] : []));
  }
  return { element, show, keys: ["ruler", "stage", "share", "away", "units"] };
}

/** Takes the outermost point of a part, as it stands. */
function byName(shop, name, which) {
  const stage = shop.look.stage(shop.store.get().stage);
  const found = stage.parts.find((one) => one.name === name);
  const shape = found && shop.look.mesh(found.mesh);
  if (!shape) return;
  const point = outermost(shape.points).find((one) => one.name === which);
  shop.ruler.add(moved(shop.hall.standing, point.at), `${name}, ${which} point`, true);
}
