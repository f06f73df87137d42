/** The page about the picture: title, stage, tools, panels, tables, print. */
import { made, button, toggle, pressed } from "./dom.js";
import { standing } from "./panels/standing.js";
import { viewing } from "./panels/viewing.js";
import { wayOut } from "./panels/way_out.js";
import { shown } from "./panels/shown.js";
import { chosen } from "./panels/chosen.js";
import { measuring } from "./panels/measuring.js";
import { cutting } from "./panels/cutting.js";
import { clearances } from "./panels/clearances.js";
import { heights } from "./panels/heights.js";
import { tables, measuresPanel } from "./panels/tabled.js";
import { minded } from "./panels/minded.js";
import { keysOn } from "./keys.js";
import { describe } from "./described.js";
import { plainPictures } from "./plain.js";
import { readyToPrint } from "./printing.js";

export class Frame {
  constructor(element, shop) {
    this.shop = shop;
    this.element = element;
    this.box = made("div", { class: "box", tabindex: "0", role: "application", "aria-roledescription": "picture in 3D", "aria-label": "The aircraft in 3D", "aria-describedby": "described keys-short" });
    this.parts = [];
  }

  /** Puts everything in its place; the picture is there or it is not. */
  fill() {
    const { shop } = this;
    element(this.element, this.#layout());
    if (shop.hall) keysOn(this.box, shop);
    readyToPrint(shop, this.element);
    shop.store.subscribe((state, changed) => this.#show(changed));
    this.#show(null);
  }

  #layout() {
    const { shop } = this;
    const add = (panel) => {
      this.parts.push(panel);
      return panel.element;
    };
    const head = made("header", { class: "head" }, add(standing(shop)));
    const picture = shop.hall ? this.#picture() : made("section", { class: "stand", "aria-label": "Pictures" }, add(plainPictures(shop)));
    const under = made("div", { class: "under" }, shop.hall ? add(viewing(shop)) : "", add(wayOut(shop)));
    picture.append(under);
    const inPicture = shop.hall ? [add(measuring(shop))] : [];
    const side = made("div", { class: "side" }, made("aside", { id: "live", "aria-label": "Values" }), add(chosen(shop)), add(clearances(shop)), ...inPicture,
      add(cutting(shop)), add(shown(shop)), add(measuresPanel(shop)), add(heights(shop)));
    const main = made("main", { class: "shop" }, made("div", { class: "desk" }, picture, side), add(tables(shop)), add(minded(shop)));
    return [head, main];
  }

  #picture() {
    const { shop } = this;
    this.measure = toggle("measure", () => this.#tool("measure"));
    this.move = toggle("move on the floor", () => this.#tool("move"), { hidden: true });
    const tools = made("div", { class: "tools", role: "group", "aria-label": "What a tap on the picture does" }, this.measure, this.move);
    const print = button("print what is seen", () => globalThis.print(), { class: "quiet" });
    this.described = made("p", { id: "described", class: "described" });
    this.canvasPrint = made("canvas", { class: "printed", "aria-hidden": "true" });
    const bar = made("div", { class: "bar" }, tools, print);
    return made("section", { class: "stand", "aria-label": "Picture" }, this.box, this.canvasPrint, bar, this.described);
  }

  #tool(which) {
    const { store } = this.shop;
    const { ruler, moving } = store.get();
    if (which === "measure") store.set({ ruler: { ...ruler, on: !ruler.on }, moving: false });
    else store.set({ moving: !moving, ruler: { ...ruler, on: false } });
  }

  /** There is someone who takes what is moved. */
  movable() {
    if (this.move) this.move.hidden = false;
  }

  #show(changed) {
    const { shop } = this;
    const state = shop.store.get();
    if (this.measure) {
      pressed(this.measure, state.ruler.on);
      pressed(this.move, state.moving);
      this.box.dataset.tool = state.moving ? "move" : state.ruler.on ? "measure" : "choose";
      const text = describe(shop);
      if (!state.playing && text !== this.described.textContent) this.described.textContent = text;
    }
    for (const panel of this.parts) {
      if (!changed || panel.keys.some((key) => changed.has(key))) panel.show(state);
    }
  }

  /** A look came: panels show it. */
  take() {
    const state = this.shop.store.get();
    for (const panel of this.parts) panel.show(state);
    this.#show(new Set());
  }
}

function element(into, inside) {
  into.replaceChildren(...inside);
}
