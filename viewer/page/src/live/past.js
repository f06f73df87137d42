/** What was asked for before: one step back and one step forth, a gesture of the hand at a time. */

const MOST = 200;
/** Changes of one value with less than this between them are one step [ms]. */
const PAUSE = 900;

export class Past {
  /** @param {*} now the state that there is no way back over */
  constructor(now) {
    this.now = now;
    this.before = [];
    this.after = [];
  }

  /**
   * A new state; what was taken back cannot be had again.
   * @param {*} state
   * @param {string} what it is a change of: keys pressed one after the other on one value are one step
   */
  add(state, what = "") {
    const now = performance.now();
    const goes = what && what === this.what && now - this.when < PAUSE && this.before.length;
    [this.what, this.when, this.after] = [what, now, []];
    if (!goes) this.before.push(this.now);
    if (this.before.length > MOST) this.before.shift();
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
    this.what = "";
    if (!from.length) return null;
    to.push(this.now);
    this.now = from.pop();
    return this.now;
  }
}
