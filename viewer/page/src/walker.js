/** On foot inside the room: the head turns by dragging or keys, steps by keys, wheel or two fingers. */
import { Vector3 } from "three";
import { EYE_HEIGHT } from "./vectors.js";

export class Walker {
  constructor(hall, began) {
    this.hall = hall;
    this.began = began;
    this.on = false;
    this.fingers = new Map();
    const canvas = hall.renderer.domElement;
    canvas.addEventListener("pointerdown", (event) => this.#down(event));
    canvas.addEventListener("pointermove", (event) => this.#move(event));
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (event) => this.fingers.delete(event.pointerId));
    canvas.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
  }

  #down(event) {
    if (!this.on) return;
    this.began();
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    event.currentTarget.setPointerCapture?.(event.pointerId);
  }

  #move(event) {
    const last = this.fingers.get(event.pointerId);
    if (!this.on || !last) return;
    const [dx, dy] = [event.clientX - last[0], event.clientY - last[1]];
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.fingers.size > 1) this.step(-dy / 120, -dx / 120);
    else this.look(dx / 260, dy / 260);
  }

  #wheel(event) {
    if (!this.on) return;
    event.preventDefault();
    this.step(-event.deltaY / 400, 0);
  }

  /** Turns the head [rad]: to the left, up. */
  look(around, up) {
    const { camera } = this.hall;
    const way = camera.getWorldDirection(new Vector3());
    const high = Math.min(Math.max(Math.asin(way.z) + up, -1.35), 1.35);
    const round = Math.atan2(way.y, way.x) + around;
    const to = new Vector3(Math.cos(high) * Math.cos(round), Math.cos(high) * Math.sin(round), Math.sin(high));
    camera.lookAt(to.add(camera.position));
    this.hall.ask();
  }

  /** Steps ahead and to the right [m], at eye height. */
  step(ahead, right) {
    const { camera } = this.hall;
    const way = camera.getWorldDirection(new Vector3()).setZ(0).normalize();
    const side = new Vector3(way.y, -way.x, 0);
    camera.position.add(way.multiplyScalar(ahead)).add(side.multiplyScalar(right)).setZ(EYE_HEIGHT);
    this.hall.ask();
  }
}
