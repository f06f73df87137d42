/** What the design and the place tell of themselves, notes, cautions. */
import { made } from "../dom.js";

export function minded(shop) {
  const story = made("div", { class: "story" });
  const notes = made("ul", {});
  const cautions = made("ul", {});
  const box = made("section", { class: "cautions", "aria-labelledby": "h-cautions" }, made("h2", { id: "h-cautions" }, "Cautions"), cautions);
  const maker = made("p", { class: "soft" });
  const element = made("div", { class: "minded" }, box, notes, story, maker);
  function show() {
    const { design, place, notes: told } = shop.look;
    story.replaceChildren(...[[design.name, design.story], [place?.name, place?.story]].filter(([, text]) => text).map(([name, text]) => made("p", {}, made("b", {}, `${name}. `), text)));
    notes.replaceChildren(...(told ?? []).map((text) => made("li", {}, text)));
    notes.hidden = !told?.length;
    cautions.replaceChildren(...shop.look.cautions.map((text) => made("li", {}, text)));
    box.hidden = !shop.look.cautions.length;
    const datum = design.datum ? `Stations: ${design.datum}. ` : "";
    maker.textContent = `${datum}planform ${shop.look.tool}, ${shop.look.written}.`;
  }
  return { element, show, keys: [] };
}
