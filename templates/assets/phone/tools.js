// A stopwatch for what is read in seconds. It runs on the monotonic clock, so that a phone that sets its time meanwhile changes nothing, and
// goes on when the screen is drawn anew or left for another and come back to.
import { html } from "./library/lit-html.js";
import { t } from "./words.js";

const watch = { of: "", from: null, ticking: 0 };

const seconds = () => ((performance.now() - watch.from) / 1000).toFixed(0);
const isRunning = () => watch.from !== null;

function tick() {
  clearTimeout(watch.ticking);
  if (!isRunning()) return;
  const face = document.querySelector("#stopwatch-face");
  if (face) face.textContent = `${seconds()} s`;
  watch.ticking = setTimeout(tick, 200);
}

export function reset() {
  clearTimeout(watch.ticking);
  watch.from = null;
}

/** The stopwatch of an item: `onStop` gets the seconds, `onStart` draws the screen anew. */
export function stopwatch(key, onStart, onStop) {
  if (watch.of !== key) {
    reset();
    watch.of = key;
  }
  const press = () => {
    if (isRunning()) {
      const read = seconds();
      reset();
      return onStop(read);
    }
    watch.from = performance.now();
    tick();
    return onStart();
  };
  // Texts as properties: what the ticking writes stays out of the way of the drawing.
  return html`<button type="button" id="stopwatch" @click=${press}><span .textContent=${isRunning() ? t("stopwatch-stop") : t("stopwatch-start")}></span> <b id="stopwatch-face" aria-live="off" .textContent=${isRunning() ? `${seconds()} s` : "0 s"}></b></button>`;
}
