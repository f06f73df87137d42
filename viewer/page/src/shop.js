/** The page as a whole: state, what is shown, the picture, and the panels about it. */
import { fromAddress, keepState } from "./address.js";
import { Frame } from "./frame.js";
import { Hall } from "./hall.js";
import { Journey, PARKED } from "./journey.js";
import { leaders } from "./leaders.js";
import { Look } from "./look.js";
import { Mover } from "./mover.js";
import { drawnIn } from "./plain.js";
import { Picking } from "./picking.js";
import { Ruler } from "./ruler.js";
import { Section } from "./section.js";
import { Store } from "./store.js";
import { Views } from "./views.js";
import { standFigures } from "./figures.js";
import * as said from "./units.js";
import { SAME, after } from "./vectors.js";

/**
 * Builds the page in an element.
 * @param {Element} element
 * @param {object} given a look, "planform look 1"
 * @returns {Shop}
 */
export function start(element, given) {
  return new Shop(element, given, drawnIn(document.getElementById("plain")));
}

class Shop {
  /** @param {Element[][]} plain drawings of each stage that the page holds for browsers without WebGL */
  constructor(element, given, plain) {
    this.plain = plain;
    this.look = new Look();
    this.look.take(given);
    this.said = said;
    this.store = new Store({ units: this.look.units, stage: this.look.stages.at(-1)?.key ?? null, ...fromAddress() });
    this.frame = new Frame(element, this);
    this.hall = opened(this.frame.box, this.look, this.store);
    this.journey = new Journey(this);
    this.section = new Section(this);
    this.ruler = new Ruler(this);
    if (this.hall) this.#furnish();
    this.frame.fill();
    this.look.subscribe((part) => this.#took(part));
    this.store.subscribe((state, changed) => this.#changed(changed));
    keepState(this.store);
    document.documentElement.dataset.ready = this.hall ? "yes" : "plain";
  }

  #furnish() {
    const { hall } = this;
    hall.ground.units(this.store.get().units);
    hall.inks.push(() => leaders(this), () => this.section.strokes(), () => this.ruler.strokes());
    this.views = new Views(hall, this.store);
    this.mover = new Mover(this);
    this.picking = new Picking(this);
    this.#refill();
    this.views.go(this.store.get().view === "free" ? "corner" : this.store.get().view, false);
    hall.draw();
  }

  /** Puts what is shown in anew. */
  #refill() {
    this.section.aim();
    this.hall.refill();
    this.stand();
    standFigures(this.hall);
    this.hall.dress();
  }

  /** Stands the aircraft where the state says. */
  stand() {
    if (!this.hall) return;
    this.hall.stand(this.mover?.matrix() ?? this.journey.matrix());
    this.section.aim();
    this.hall.ask();
  }

  #took(part) {
    if (part.units) this.store.set({ units: part.units });
    if (part.stages) this.mover?.settle();
    if (this.hall) this.#refill();
    this.frame.take(part);
  }

  #changed(changed) {
    if (!this.hall) return;
    if (changed.has("stage")) this.#refill();
    if (changed.has("stage") && this.store.get().view !== "free" && this.store.get().view !== "inside") this.views.go(this.store.get().view);
    if (["share", "away", "jam"].some((key) => changed.has(key))) this.stand();
    if ((changed.has("away") || changed.has("jam")) && !["free", "inside"].includes(this.store.get().view)) this.views.go(this.store.get().view);
    if (changed.has("section")) this.section.aim();
    if (["hidden", "faint", "chosen", "show", "view", "section"].some((key) => changed.has(key))) this.hall.dress();
    if (changed.has("hidden")) this.stand();
    this.hall.ask();
  }

  /** How the parked aircraft stands: from its axes to those of the place. */
  stood() {
    const stage = this.look.stage(this.store.get().stage);
    return stage ? after(stage.floor2place ?? SAME, stage.body2floor) : SAME;
  }

  /** Goes to the stage before or after. */
  next(by) {
    const number = this.look.stages.indexOf(this.look.stage(this.store.get().stage)) + by;
    const stage = this.look.stages[number];
    if (stage) this.store.set({ stage: stage.key, ...PARKED });
  }

  /** Takes a look, whole or in part. */
  take(look) {
    this.look.take(look);
  }

  /** Goes to a view by its name. */
  go(view) {
    this.store.set({ view });
    this.views?.go(view);
  }

  /** Names of the meshes that are here already. */
  held() {
    return this.look.held();
  }

  /** Has `call({name, thing, dx, dy, turn, done})` called as a thing is moved over the floor. */
  onMove(call) {
    this.mover?.subscribe(call);
    this.frame.movable();
  }

  /** The picture as it is seen now, as the address of an image; "" without WebGL. */
  picture(wide, high) {
    return this.hall ? this.hall.sheet(wide, high).toDataURL("image/png") : "";
  }

  /** A stage and a room with their meshes, those that are shown where none is told. */
  seen(stage = this.look.stage(this.store.get().stage), room = this.look.room) {
    const names = [...(stage?.parts ?? []), ...(room?.things ?? [])].map((one) => one.mesh);
    return { stage, room, shapes: names.map((name) => [name, this.look.meshes.get(name)]).filter(([, shape]) => shape) };
  }

  /** The picture of what was seen before, from where one looks now. */
  pictureOf({ stage, room, shapes }, wide, high) {
    if (!this.hall || !stage) return "";
    const { stages, room: own, meshes } = this.look;
    for (const [name, shape] of shapes) if (!meshes.has(name)) meshes.set(name, shape);
    const put = (shown, place) => {
      [this.look.stages, this.look.room] = [shown, place];
      this.#refill();
    };
    put([stage], room);
    const picture = this.picture(wide, high);
    put(stages, own);
    return picture;
  }
}

function opened(box, look, store) {
  try {
    return new Hall(box, look, store);
  } catch {
    return null;
  }
}
