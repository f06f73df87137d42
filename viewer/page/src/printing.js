/** What is seen goes on paper: the picture as it is, and the tables open. */

const [WIDE, HIGH, FINE] = [860, 540, 2]; // [px]

/** Makes the page ready whenever it is printed, and puts it back. */
export function readyToPrint(shop, element) {
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = [...element.querySelectorAll("details.paper:not([open])")];
    for (const one of closed) one.open = true;
    const paper = element.querySelector("canvas.printed");
    if (!paper || !shop.hall) return;
    const sheet = shop.hall.sheet(WIDE, HIGH, FINE);
    Object.assign(paper, { width: sheet.width, height: sheet.height });
    paper.getContext("2d").drawImage(sheet, 0, 0);
  });
  addEventListener("afterprint", () => {
    for (const one of closed) one.open = false;
  });
}
