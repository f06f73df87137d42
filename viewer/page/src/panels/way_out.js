/** The way out under the picture: played, held, dragged along, with its steps and tight places. */
import { button, made, pressed, toggle } from "../dom.js";
import { gapWords, length } from "../units.js";

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
  return { element, show, keys: ["stage", "share", "away", "playing", "units", "jam"] };
}

/** What is told of a way once. */
function fill(shop, own, way) {
  const goes = Boolean(shop.journey.way());
  own.play.hidden = own.bar.hidden = own.marks.hidden = !goes;
  own.run.hidden = own.now.hidden = !shop.hall || !(goes || way.tight?.length);
  own.told.replaceChildren(...[way.told].flat().map((text) => made("li", {}, text)));
  own.steps.replaceChildren(...way.steps.map((one) => made("li", { value: one.number }, one.words)));
  own.steps.hidden = !way.steps.length;
  const places = shop.hall ? way.tight ?? [] : [];
  own.marks.replaceChildren(...places.filter(() => goes).map((one) => made("i", { style: { left: `${100 * shop.journey.shareOf(one.pose)}%` } })));
  own.tight.replaceChildren(...(places.length ? [made("span", {}, goes ? "tightest:" : "where it jams:")] : []), ...places.map((one, k) => {
    const share = shop.journey.shareOf(one.pose);
    return toggle(`${gapWords(one)}: ${one.part} to ${one.thing}`, () => (share < 0 ? shop.journey.jam(k) : shop.journey.drag(share)), { "data-share": share, "data-number": k });
  }));
}

/** What changes as it goes along. */
function along(shop, own, { share, away, playing, units, jam }) {
  for (const one of own.tight.querySelectorAll("button")) {
    pressed(one, jam === null ? away && Math.abs(one.dataset.share - share) < 0.002 : Number(one.dataset.number) === jam);
  }
  own.park.disabled = !away && jam === null;
  const jammed = shop.journey.jammed();
  own.now.textContent = jammed ? `Here it jams: ${jammed.part} at ${jammed.thing}, ${gapWords(jammed)}.` : "Parked.";
  if (!shop.journey.way() || jammed) return;
  own.play.textContent = playing ? "hold" : "play the way out";
  own.bar.value = String(Math.round(1000 * share));
  const step = shop.journey.step(share);
  const come = length(shop.journey.metres(share), units);
  own.bar.setAttribute("aria-valuetext", `step ${step.number}, ${come} from where it was parked`);
  own.now.textContent = away ? `Step ${step.number}, ${come} come: ${step.words}` : "Parked. Play, or drag along.";
}
