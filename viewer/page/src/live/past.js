/** What was asked for before: one step back and one step forth, a gesture of the hand at a time. */

const MOST = 200;

export class Past {
  /** @param {*} now the state that there is no way back over */
  constructor(now) {
    this.now = now;
    this.before = [];
    this.after = [];
  }

  /** A new state; what was taken back cannot be had again. */
  add(state) {
    this.before.push(this.now);
    if (this.before.length > MOST) this.before.shift();
    this.after = [];
    this.now = state;
  }

  /** The state before this one; null where there is none. */
  back() {
    return this.#turn(this.before, this.after);
  }

  /** The state that was taken back last; null where there is none. */
  forth() {
    return this.#turn(this.after, this.before);
  }

  #turn(from, to) {
    if (!from.length) return null;
    to.push(this.now);
    this.now = from.pop();
    return this.now;
  }
}
