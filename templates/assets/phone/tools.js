// A stopwatch for what is read in seconds. It runs on the monotonic clock, so that a phone that sets its time meanwhile changes nothing.
import { html } from "./library/lit-html.js";
import { t } from "./words.js";

const watch = { from: null, ticking: 0 };

const shown = () => ((performance.now() - watch.from) / 1000).toFixed(0);

function tick() {
  const face = document.querySelector("#stopwatch-face");
  if (!face || watch.from === null) return;
  face.textContent = `${shown()} s`;
  watch.ticking = setTimeout(tick, 200);
}

export function reset() {
  clearTimeout(watch.ticking);
  watch.from = null;
}

export function stopwatch(onStop) {
  const press = (event) => {
    if (watch.from === null) {
      watch.from = performance.now();
      event.currentTarget.querySelector("span").textContent = t("stopwatch-stop");
      tick();
      return;
    }
    const seconds = shown();
    reset();
    onStop(seconds);
  };
  return html`<button type="button" id="stopwatch" @click=${press}><span>${watch.from === null ? t("stopwatch-start") : t("stopwatch-stop")}</span> <b id="stopwatch-face" aria-live="off">0 s</b></button>`;
}
