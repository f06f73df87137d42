/** What the server answers, handed to the panels and the shop. */
import { LINGERS } from "./strip.js";
import { settled } from "./made.js";
import { sentence } from "./words.js";

/** How long a look waits for a frame in a page that is not in sight [ms]. */
const UNSEEN = 500;
const UNBUILT = "does not build with these values; the numbers are from before";

export class Answers {
  /**
   * @param {object} panels banner, strip, progress, fields, standing, mover
   * @param {object} shop
   * @param {{gone: function, told: function(object), ended: function}} told `told` gets each line
   */
  constructor(panels, shop, told) {
    this.panels = panels;
    this.shop = shop;
    this.told = told;
    this.behindSoon = settled(LINGERS, () => this.#state("asked", "behind"));
  }

  /** Something is asked: all numbers are from before until they come anew. */
  asked() {
    const { strip, progress, mover } = this.panels;
    this.#state(null, "asked");
    this.behindSoon();
    strip.asked();
    mover.before();
    progress.asked();
  }

  /**
   * A line of the question that is out.
   * @param {object} line
   * @param {boolean} newest whether nothing newer waits to be asked
   */
  line(line, newest) {
    if (line.halted) return;
    if (!line.problems && !line.failed) this.#part(line, newest);
    else if (newest && line.problems) this.#problems(line.problems);
    else if (newest) this.#failed(line.failed);
    this.told.told(line);
  }

  /** The answer is over. */
  ended() {
    if (document.body.dataset.answer === "part") this.#state("part", "whole");
    this.told.ended();
  }

  /** The server did not take the question. */
  refused(words) {
    this.#failed(words);
  }

  /** There is no answer. */
  gone() {
    this.#stopped("no answer; the numbers are from before");
    this.told.gone();
  }

  #part(line, newest) {
    const { strip, progress, banner } = this.panels;
    if (line.look) this.#shown(line.look);
    strip.take(line.strip ?? [], newest);
    if (!newest) return;
    this.#state(null, "part");
    banner.unsay("problems");
    this.#wrong([]);
    progress.take(line);
    this.#clearances(line);
  }

  /** Has the shop take a look with the next frame; of two that come before it, the newer stage. */
  #shown(look) {
    const had = this.look;
    this.look = { ...had, ...look, meshes: { ...had?.meshes, ...look.meshes } };
    if (had) return;
    const take = () => {
      clearTimeout(late);
      if (!this.look) return;
      [look, this.look] = [this.look, null];
      this.shop.take(look);
    };
    const late = setTimeout(take, UNSEEN);
    requestAnimationFrame(take);
  }

  /** The least clearances of the stage shown, as soon as they are worked out. */
  #clearances(line) {
    this.panels.mover.now();
    const stage = line.look?.stages?.at(-1);
    if (!stage?.leaders?.length) return;
    this.panels.mover.clearances(stage.leaders.slice(0, 3));
  }

  #problems(problems) {
    this.#stopped(UNBUILT);
    const left = this.#wrong(problems);
    this.panels.banner.say("problems", left.map(sentence));
  }

  /** Shows problems where they belong; those that belong nowhere. */
  #wrong(problems) {
    return this.panels.fields.wrong(this.panels.standing.wrong(problems), "asked");
  }

  #failed(words) {
    this.#stopped("not worked out; the numbers are from before");
    this.panels.banner.say("problems", [words]);
  }

  #stopped(words) {
    this.#state(null, "stopped");
    this.panels.strip.stopped();
    this.panels.progress.stopped(words);
  }

  /** Marks how far the answer is, for the look of the page; only from one state where told. */
  #state(from, to) {
    const { dataset } = document.body;
    if (from === null || dataset.answer === from) dataset.answer = to;
  }
}
