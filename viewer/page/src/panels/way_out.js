/** The way out under the picture: played, held, dragged along, with its steps and tight places. */
import { button, made, pressed, toggle } from "../dom.js";
import { length } from "../units.js";

export function wayOut(shop) {
  const told = made("ul", { class: "lines" });
  const play = button("play the way out", () => shop.journey.play(), { class: "play" });
  const bar = made("input", { type: "range", min: "0", max: "1000", value: "0", "aria-label": "Along the way out", oninput: () => shop.journey.drag(bar.value / 1000) });
  const marks = made("div", { class: "ticks", "aria-hidden": "true" });
  const park = button("back to where it is parked", () => shop.journey.park(), { class: "quiet" });
  const now = made("p", { class: "now" });
  const run = made("div", { class: "run" }, play, made("div", { class: "track" }, bar, marks), park);
  const steps = made("ol", { class: "ways" });
  const tight = made("div", { class: "row tight", role: "group", "aria-label": "Tight places" });
  const more = made("details", { class: "paper" }, made("summary", {}, "steps of the way out, and what is known of it"), steps, told);
  const element = made("section", { class: "way", "aria-label": "Way out" }, run, now, tight, more);
  const own = { play, bar, marks, park, now, run, steps, tight, told, more };

  function show(state) {
    const stage = shop.look.stage(state.stage);
    element.hidden = !stage?.way;
    if (!stage?.way) return;
    if (own.way !== stage.way) fill(shop, own, stage.way);
    own.way = stage.way;
    along(shop, own, state);
  }
  return { element, show, keys: ["stage", "share", "away", "playing", "units"] };
}

/** What is told of a way once. */
function fill(shop, own, way) {
  const goes = Boolean(shop.journey.way());
  own.run.hidden = own.now.hidden = !goes || !shop.hall;
  own.told.replaceChildren(...[way.told].flat().map((text) => made("li", {}, text)));
  own.steps.replaceChildren(...way.steps.map((one) => made("li", { value: one.number }, one.words)));
  own.steps.hidden = !way.steps.length;
  const places = goes ? way.tight ?? [] : [];
  own.marks.replaceChildren(...places.map((one) => made("i", { style: `left:${100 * shop.journey.shareOf(one.pose)}%` })));
  own.tight.replaceChildren(...(places.length ? [made("span", {}, "tightest:")] : []), ...places.map((one) => {
    const share = shop.journey.shareOf(one.pose);
    return toggle(`${one.text} ${one.part} to ${one.thing}`, () => shop.journey.drag(share), { "data-share": share });
  }));
}

/** What changes as it goes along. */
function along(shop, own, { share, away, playing, units }) {
  if (!shop.journey.way()) return;
  own.play.textContent = playing ? "hold" : "play the way out";
  own.bar.value = String(Math.round(1000 * share));
  const step = shop.journey.step(share);
  const come = length(shop.journey.metres(share), units);
  own.bar.setAttribute("aria-valuetext", `step ${step.number}, ${come} from where it was parked`);
  own.park.disabled = !away;
  own.now.textContent = away ? `Step ${step.number}, ${come} come: ${step.words}` : "Parked. Play, or drag along.";
  for (const one of own.tight.querySelectorAll("button")) pressed(one, away && Math.abs(one.dataset.share - share) < 0.002);
}
