/** Without WebGL: one sentence on what to do, and the vector views in place of the picture. */
import { made } from "./dom.js";

export const SENTENCE = "This browser shows no 3D (WebGL is off or missing): open the page in another browser, or switch hardware acceleration on in this one's settings; until then here are the views as drawings.";

/** The sentence, and the drawings of the stage that is shown. */
export function plainPictures(shop) {
  const views = made("div", { class: "views" });
  const out = made("div", { class: "plainly" }, made("p", { class: "no3d", role: "status" }, SENTENCE), views);
  const show = (state) => {
    const number = shop.look.stages.indexOf(shop.look.stage(state.stage));
    const own = shop.plain[number] ?? shop.plain[0] ?? [];
    views.replaceChildren(...(shop.look.views.length ? shop.look.views.map(figure) : own));
  };
  return { element: out, show, keys: ["stage"] };
}

/** The drawings that stand in the page for each stage, or for all of them; taken out of it. */
export function drawnIn(page) {
  const figures = (one) => [...one.querySelectorAll("figure")];
  const sections = [...(page?.querySelectorAll("section") ?? [])].map(figures).filter((one) => one.length);
  const out = sections.length || !page ? sections : [figures(page)];
  page?.remove();
  return out;
}

/** A drawing as an image, so that nothing in it can run. */
export function figure({ title, svg }) {
  const bytes = new TextEncoder().encode(svg);
  const text = Array.from(bytes, (one) => String.fromCharCode(one)).join("");
  return made("figure", {}, made("img", { src: `data:image/svg+xml;base64,${btoa(text)}`, alt: title }), made("figcaption", {}, title));
}
