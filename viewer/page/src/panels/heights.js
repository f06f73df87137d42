/** Heights over the floor and floor marks, in words. */
import { fold, made, pairs } from "../dom.js";

export function heights(shop) {
  const high = made("div", {});
  const marks = made("ul", {});
  const title = made("h3", {}, "Floor marks");
  const figures = made("ul", {});
  const element = fold("Heights, floor marks, figures", false, high, title, marks, made("h3", {}, "For scale"), figures);
  function show(state) {
    const stage = shop.look.stage(state.stage);
    high.replaceChildren(pairs((stage?.heights ?? []).map((one) => [one.what, one.text])));
    const own = stage?.marks ?? [];
    title.hidden = marks.hidden = !own.length;
    marks.replaceChildren(...own.map((one) => made("li", {}, one.text.startsWith(one.name) ? one.text : `${one.name}: ${one.text}`)));
    figures.replaceChildren(...shop.look.figures.map((one) => made("li", {}, one.told ?? one.name)));
  }
  return { element, show, keys: ["stage"] };
}
