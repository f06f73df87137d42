/** Without WebGL: one sentence on what to do, and the vector views in place of the picture. */
import { made } from "./dom.js";

export const SENTENCE = "This browser shows no 3D (WebGL is off or missing): open the page in another browser, or switch hardware acceleration on in this one's settings; until then here are the views as drawings.";

/** The sentence and the views. */
export function plainPictures(shop) {
  const views = made("div", { class: "views" });
  const out = made("div", { class: "plainly" }, made("p", { class: "no3d", role: "status" }, SENTENCE), views);
  const show = () => views.replaceChildren(...(shop.look.views.length ? shop.look.views.map(figure) : shop.plain));
  return { element: out, show, keys: [] };
}

/** A drawing as an image, so that nothing in it can run. */
export function figure({ title, svg }) {
  const bytes = new TextEncoder().encode(svg);
  const text = Array.from(bytes, (one) => String.fromCharCode(one)).join("");
  return made("figure", {}, made("img", { src: `data:image/svg+xml;base64,${btoa(text)}`, alt: title }), made("figcaption", {}, title));
}
