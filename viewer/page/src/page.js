/** The page that opens from disk: what it shows stands in it as JSON. */
import { start } from "./shop.js";

export { start };

if (!document.getElementById("asked")) {
  const element = document.getElementById("shop");
  globalThis.shop = start(element, JSON.parse(document.getElementById("look").textContent));
}
