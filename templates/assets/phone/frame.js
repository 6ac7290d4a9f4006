// What every screen has in common: where it is, how it is drawn, the strip that says what is not sent and what was just done.
import { html, render, nothing } from "./library/lit-html.js";
import { t } from "./words.js";
import { line } from "./send.js";

/** The screen that the address names: `#/12/s/0.look` is unit 12, a stretch of its walk. */
export function where() {
  const path = decodeURIComponent(location.hash.replace(/^#\/?/, ""));
  const [unit, screen = "", ...rest] = path.split("/");
  return { unit: /^\d+$/.test(unit) ? Number(unit) : null, name: /^\d+$/.test(unit) ? screen : unit, rest: rest.join("/") };
}

export const address = (...parts) => `#/${parts.map((part) => encodeURIComponent(part)).join("/")}`;

/** Goes to a screen; `instead` keeps it out of the way back. */
export function go(to, instead = false) {
  if (location.hash === to) return dispatchEvent(new HashChangeEvent("hashchange"));
  if (instead) {
    history.replaceState(null, "", to);
    return dispatchEvent(new HashChangeEvent("hashchange"));
  }
  location.hash = to;
}

/** What was just done, with what takes it back: { words, undo }. Shown on the next screen, once. */
let done = null;
export function say(words, undo = null) {
  done = { words, undo, shownOn: null };
}
export function forget() {
  done = null;
}
/** What could not be done, until the next thing is done. */
let failure = "";
export function fail(words) {
  failure = words;
}

export function unsentWords({ answers, photos }) {
  if (answers === 0 && photos === 0) return t("unsent-none");
  if (photos === 0) return t("unsent-answers", { answers });
  if (answers === 0) return t("unsent-photos", { photos });
  return t("unsent-both", { answers, photos });
}

function lineWords() {
  if (line.state === "signed_out") return html`<p class="strip" role="status">${t("line-signed-out")} <a href="/sign-in?next=/today">${t("line-sign-in")}</a></p>`;
  if (line.state === "other_person") return html`<p class="strip wrong" role="status">${t("line-other-person")} <a href=${address("unsent")}>${t("line-look")}</a></p>`;
  return nothing;
}

let screen = null;

/** Draws the screen with its frame. `page` is { title, place, body, bars, back }. */
export function draw(page, unsent, onUndo) {
  if (done) done.shownOn ??= location.hash;
  const just = done?.shownOn === location.hash ? done : null;
  document.title = `${page.title} · Anglestop`;
  document.querySelector("header .urgent").textContent = t("urgent-short");
  document.querySelector(".skip").textContent = t("skip");
  const count = document.querySelector("#unsent");
  // Another screen is drawn afresh, so that nothing typed or unfolded on the one before stands in it.
  if (screen === null || screen.of !== location.hash) {
    screen = { of: location.hash, node: document.createElement("div") };
    screen.node.className = "whole";
    document.querySelector("#main").replaceChildren(screen.node);
  }
  const waiting = unsent.answers + unsent.photos;
  render(html`<a href=${address("unsent")} class=${waiting > 0 ? "some" : ""}>${unsentWords({ answers: waiting, photos: 0 })}</a>`, count);
  render(
    html`<div class="scroll" role="region" aria-labelledby="head" tabindex="0">${lineWords()}
      ${failure ? html`<p class="strip wrong" role="alert">${failure}</p>` : nothing}
      <div class="page-head">${page.place ? html`<p class="place">${page.place}</p>` : nothing}<h1 tabindex="-1" id="head">${page.title}</h1>${page.lead ? html`<p>${page.lead}</p>` : nothing}</div>
      <div class="fill">${page.body ?? nothing}</div></div>
      <div class="foot">
        ${just
          ? html`<p class="just" role="status"><span>${just.words}</span>${just.undo ? html` <button type="button" class="undo" @click=${() => onUndo(just.undo)}>${t("undo")}</button>` : nothing}</p>`
          : nothing}
        ${page.bars ? html`<div class="bars">${page.bars}</div>` : nothing}
      </div>`,
    screen.node,
  );
  failure = "";
}
