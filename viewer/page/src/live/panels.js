/** The panels of this part of the page, and how they stand in it. */
import { Banner } from "./banner.js";
import { Fields } from "./fields.js";
import { Keeping } from "./keep.js";
import { button, fold, made } from "./made.js";
import { Mover } from "./mover.js";
import { Progress } from "./progress.js";
import { StandingChoice } from "./standing.js";
import { Strip } from "./strip.js";

/**
 * Makes the panels.
 * @param {string} base address of the server
 * @param {object} told what each panel tells: value, pins, choose, hand, back, forth, base, keep
 */
export function panelsFor(base, told) {
  return {
    banner: new Banner(),
    strip: new Strip(),
    progress: new Progress(),
    fields: new Fields({ change: told.value, pins: told.pins }),
    standing: new StandingChoice(told.choose),
    mover: new Mover(told.hand),
    keeping: new Keeping(base),
    buttons: {
      back: button("undo", told.back),
      forth: button("redo", told.forth),
      base: button("all back to the files", told.base),
      keep: button("keep this …", told.keep),
    },
  };
}

/** Sets the panels into the page, the strip and what is at hand first. */
export function mount(aside, panels, held) {
  const { banner, strip, progress, fields, standing, mover, keeping, buttons } = panels;
  const bar = made("div", { class: "doings", role: "group", "aria-label": "what was changed" }, ...Object.values(buttons));
  const more = [fold("Moved on the floor", false, mover.element), fold("Two variants side by side", false, held.element)];
  const top = made("div", { class: "top" }, strip.element, progress.element);
  aside.classList.add("live");
  aside.setAttribute("aria-label", "what if");
  aside.replaceChildren(top, bar, standing.element, fields.element, ...more, keeping.element);
  document.body.prepend(banner.element);
}
