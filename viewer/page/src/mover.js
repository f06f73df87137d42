/** The aircraft or a thing of the room moved over the floor by hand or by keys. */
import { Plane, Raycaster, Vector2, Vector3 } from "three";
import { after } from "./vectors.js";

const PATIENCE = 4000; // how long what was moved waits for an answer before it goes back [ms]

export class Mover {
  constructor(shop) {
    this.shop = shop;
    this.calls = new Set();
    this.now = null; // {name, thing, dx, dy, turn, base}
    const canvas = shop.hall.renderer.domElement;
    canvas.addEventListener("pointerdown", (event) => this.#down(event), true);
    canvas.addEventListener("pointermove", (event) => this.#move(event), true);
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (event) => this.#up(event), true);
  }

  subscribe(call) {
    this.calls.add(call);
  }

  /** Whether the aircraft is held in the hand now. */
  moving() {
    return this.now?.thing === "aircraft";
  }

  /** The aircraft's standing while it is held; null when it is not. */
  matrix() {
    return this.moving() ? after(this.#shift(), this.now.base) : null;
  }

  /** The gesture as a matrix in place axes; turned about where the aircraft's own spot is. */
  #shift() {
    const { dx, dy, turn, middle } = this.now;
    const [c, s] = [Math.cos(turn), -Math.sin(turn)];
    const [x, y] = middle;
    return [c, -s, 0, x + dx - c * x + s * y, s, c, 0, y + dy - s * x - c * y, 0, 0, 1, 0, 0, 0, 0, 1];
  }

  /** Takes up the aircraft or a thing. */
  take(solid) {
    const { hall } = this.shop;
    const aircraft = solid.told.kind === "part";
    const stage = hall.stage();
    const middle = stage.floor2place ? [stage.floor2place[3], stage.floor2place[7]] : [0, 0];
    this.now = { name: aircraft ? this.shop.look.design.name : solid.told.name, thing: aircraft ? "aircraft" : "thing", solid, dx: 0, dy: 0, turn: 0, base: hall.parked(stage), middle };
  }

  /** Moves what is held [m, rad] from where the gesture began. */
  go(change, done = false) {
    if (!this.now) return;
    Object.assign(this.now, change);
    const { name, thing, dx, dy, turn } = this.now;
    if (thing === "thing") this.now.solid.position.set(dx, dy, 0);
    this.now.done = done;
    this.shop.stand();
    for (const call of [...this.calls]) call({ name, thing, dx, dy, turn, done });
    if (done) this.late = setTimeout(() => this.settle(), PATIENCE);
  }

  /** What was moved stands where the look says, as soon as the hand is off it. */
  settle() {
    if (!this.now?.done) return;
    clearTimeout(this.late);
    if (this.now.thing === "thing") this.now.solid.position.set(0, 0, 0);
    this.now = null;
    this.shop.stand();
  }

  /** One step by keys. */
  nudge(dx, dy, turn) {
    const { chosen } = this.shop.store.get();
    const { hall } = this.shop;
    const solid = (chosen && hall.solids.get(`${chosen.kind} ${chosen.name}`)) ?? hall.aircraft.children[0];
    if (!solid || !this.calls.size) return;
    if (this.now && !this.now.done) return;
    this.settle();
    this.take(solid);
    this.go({ dx, dy, turn }, true);
  }

  #down(event) {
    if (!this.shop.store.get().moving || !this.calls.size || event.button > 0) return;
    const hit = this.shop.picking.hit(...this.#pixel(event));
    const at = hit && this.#place(event, hit.point[2]);
    if (!at || !hit || hit.solid.told.kind === "figure") return;
    if (hit.solid.told.kind === "thing" && hit.solid.told.movable === false) return;
    event.stopImmediatePropagation();
    event.currentTarget.setPointerCapture?.(event.pointerId);
    this.settle();
    this.take(hit.solid);
    this.grip = { id: event.pointerId, at, up: hit.point[2] };
  }

  #move(event) {
    if (this.grip?.id !== event.pointerId) return;
    event.stopImmediatePropagation();
    const at = this.#place(event, this.grip.up);
    if (!at) return;
    if (event.shiftKey) this.go({ turn: (this.#pixel(event)[0] - this.#gripPixel()) / 150 });
    else this.go({ dx: at[0] - this.grip.at[0], dy: at[1] - this.grip.at[1] });
  }

  #up(event) {
    if (this.grip?.id !== event.pointerId) return;
    event.stopImmediatePropagation();
    this.grip = null;
    this.go({}, true);
  }

  #gripPixel() {
    return this.shop.hall.project([...this.grip.at, this.grip.up])[0];
  }

  #pixel(event) {
    const box = event.currentTarget.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  /** Where a pointer is at a height over the floor, that of the point it took hold of [m]. */
  #place(event, up) {
    const { hall } = this.shop;
    const [x, y] = this.#pixel(event);
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((2 * x) / hall.size[0] - 1, 1 - (2 * y) / hall.size[1]), hall.camera);
    const at = ray.ray.intersectPlane(new Plane(new Vector3(0, 0, 1), -up), new Vector3());
    return at && [at.x, at.y];
  }
}
