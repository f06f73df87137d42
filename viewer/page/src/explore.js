/** The page that planform explore serves: the same as the one on disk, with values that move. */
import { start } from "./page.js";
import { Banner } from "./live/banner.js";
import { Refused } from "./live/desk.js";
import { startLive } from "./live/live.js";

/** The JSON that stands in the page under an id; nothing where there is none. */
function inPage(id) {
  const text = document.getElementById(id)?.textContent;
  return text ? JSON.parse(text) : {};
}

/** Where the picture and the values stand one below the other. */
const NARROW = matchMedia("(max-width: 1020px)");

/** The element of the panels: beside the picture, and right below it where there is little room. */
function room() {
  const places = [...document.querySelectorAll("#live")];
  const place = places.find((one) => one.closest("#shop")) ?? places[0];
  for (const one of places) if (one !== place) one.remove();
  const side = place.parentElement;
  const bar = document.querySelector("#shop .stand > .bar");
  const stand = () => (NARROW.matches && bar ? bar.after(place) : side.prepend(place));
  NARROW.addEventListener("change", stand);
  stand();
  return place;
}

/** Boots the page and its live part; says so where the server does not answer. */
async function boot() {
  const shop = start(document.getElementById("shop"), inPage("look"));
  try {
    globalThis.live = await startLive(room(), shop, new URL(".", location.href).href, inPage("asked"));
  } catch (error) {
    const banner = new Banner();
    document.body.prepend(banner.element);
    const words = error instanceof Refused ? error.message : "planform explore gives no answer, so nothing can be changed here; load the page again.";
    banner.say("server", [words]);
    if (!(error instanceof Refused || error instanceof TypeError)) throw error;
  }
}

document.body.classList.add("explore");
boot();
