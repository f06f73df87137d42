/** The page that planform explore serves: the same as the one on disk, with values that move. */
import { start } from "./page.js";
import { startLive } from "./live/live.js";
import { Banner } from "./live/banner.js";

/** The JSON that stands in the page under an id; nothing where there is none. */
function inPage(id) {
  const text = document.getElementById(id)?.textContent;
  return text ? JSON.parse(text) : {};
}

/** Boots the page and its live part; says so where the server does not answer. */
async function boot() {
  const shop = start(document.getElementById("page"), inPage("look"));
  const base = new URL(".", location.href).href;
  try {
    globalThis.live = await startLive(document.getElementById("live"), shop, base, inPage("asked"));
  } catch {
    const banner = new Banner();
    document.body.prepend(banner.element);
    banner.say("server", ["planform explore gives no answer, so nothing can be changed here. Load the page again."]);
  }
}

boot();
