// The page on the phone: which screen the address names, drawn from what is kept here. Everything that it shows was read from this phone's
// own store; what comes from the server comes through `send`.
import { html } from "./library/lit-html.js";
import * as store from "./store.js";
import { speak, t } from "./words.js";
import { draw, where, go, address, say, fail, forget } from "./frame.js";
import { checklist } from "./checklist.js";
import { line, onLine, start } from "./send.js";
import { undo, advance, releaseOld, release } from "./work.js";
import { todayScreen, moreScreen, askEntry } from "./today.js";

/** The screens behind the first one. They come once that stands, so that a slow line is not waited for longer than it must be. */
async function screens() {
  const all = await Promise.all([import("./walk.js"), import("./item.js"), import("./steps.js"), import("./unsent.js"), import("./urgent.js")]);
  return Object.assign({}, ...all);
}

/** The screen on which a held answer waits for its note. */
let holding = "";

async function takeBack(ids) {
  forget();
  if (await undo(ids)) say(t("taken-back"));
  else fail(t("undo-too-late"));
  await redraw(true);
}

/** A unit that this phone has no checklist of: its page is a tap away where there is a line. */
const notHere = (id) => ({
  title: t("not-here"), body: html`<p>${t("not-here-words")}</p>`,
  bars: html`<a class="first" href=${`/units/${id}`}>${t("open-page")} <small>${t("needs-line")}</small></a><a href=${address("")}>${t("back-to-today")}</a>`,
});

async function inUnit({ unit: id, name, rest }) {
  const [unit, ops] = await Promise.all([store.unit(id), store.opsOf(id)]);
  if (!unit) return notHere(id);
  const list = checklist(unit, ops);
  const { unitScreen, stretchScreen, itemScreen, failScreen, fixScreen, leaveScreen, reportScreen, signScreen } = await screens();
  const step = async (to) => {
    try {
      const made = await advance(unit, to);
      say(t(`kept-${to}`), made.map((op) => op.id));
    } catch {
      fail(t("no-room"));
    }
    go(address(id), true);
  };
  const overview = () => unitScreen(list, step);
  switch (name) {
    case "s": {
      const stretch = list.stretches.find((one) => one.key === rest);
      return stretch ? stretchScreen(list, stretch) : overview();
    }
    case "p": {
      const place = unit.places.findIndex((one) => one.label === rest);
      const stretch = list.stretches.find((one) => one.place === place && one.items.some((item) => !item.isAnswered)) ?? list.stretches.find((one) => one.place === place);
      return stretch ? stretchScreen(list, stretch) : overview();
    }
    case "i": {
      const item = list.all.find((one) => one.key === rest);
      return item ? itemScreen(list, item, await store.value("measures")) : overview();
    }
    case "f": {
      const op = ops.find((one) => one.id === rest);
      holding = op?.held ? op.id : "";
      return op ? failScreen(list, op, await store.photosOf(id), (to) => { holding = ""; go(to, true); }) : overview();
    }
    case "fix":
      return fixScreen(list);
    case "sign":
      return signScreen(list, await store.value("person"));
    case "leave":
      return leaveScreen(list);
    case "report":
      return reportScreen(list);
    default:
      return overview();
  }
}

async function screen(place) {
  if (place.unit !== null) return inUnit(place);
  switch (place.name) {
    case "unsent":
      return (await screens()).unsentScreen(await store.unsent(), await store.units(), await store.photos(), await store.value("person"));
    case "more":
      return moreScreen(await store.value("person"));
    case "out":
      return (await screens()).outScreen(await store.unsent());
    case "urgent":
      return (await screens()).urgentScreen(await store.units(), place.rest);
    default: {
      const units = (await store.units()).sort((a, b) => (a.order ?? 0) - (b.order ?? 0));
      const opsBy = new Map(await Promise.all(units.map(async (one) => [one.id, await store.opsOf(one.id)])));
      return todayScreen(units, opsBy, await store.value("fetched"));
    }
  }
}

let drawing = Promise.resolve();
let lastHash = "";

/** Draws the screen anew, one drawing after the other; a new screen begins at its heading. */
function redraw(isMoved = false) {
  drawing = drawing.then(async () => {
    const hash = location.hash;
    if (holding !== "" && !hash.endsWith(holding)) {
      await release(holding);
      holding = "";
    }
    draw(await screen(where()), await store.unsent(), takeBack);
    if (isMoved && hash !== lastHash) {
      scrollTo(0, 0);
      document.querySelector("#head")?.focus({ preventScroll: true });
    }
    lastHash = hash;
    document.documentElement.dataset.drawn = hash || "#";
  }).catch((error) => {
    console.error(error);
    document.querySelector("#main").textContent = t("broken");
  });
  return drawing;
}

/** A label that was scanned: `/l/CODE` off line, `#place=12/WC-1` from the server. */
async function fromLabel() {
  const placed = /^#place=(\d+)\/(.+)$/.exec(decodeURIComponent(location.hash));
  if (placed) return history.replaceState(null, "", `/today${address(placed[1], "p", placed[2])}`);
  const label = /^#label=([A-Za-z0-9]+)$/.exec(location.hash);
  if (!label) return undefined;
  for (const unit of await store.units()) {
    const place = unit.places.find((one) => one.codes.includes(label[1]));
    if (place) return history.replaceState(null, "", `/today${address(unit.id, "p", place.label)}`);
  }
  fail(t("label-unknown"));
  return history.replaceState(null, "", "/today#/");
}

/** The worker that keeps the shell. A browser looks for a newer one only when it is idle after a load, so it is asked to. */
async function keepShell() {
  const worker = await navigator.serviceWorker.register("/worker.js");
  await worker.update();
}

async function begin() {
  await releaseOld(0);
  const started = start();
  await speak((await store.value("person"))?.language ?? document.documentElement.lang);
  await fromLabel();
  addEventListener("hashchange", async () => {
    if (/^#(place|label)=/.test(location.hash)) await fromLabel();
    await redraw(true);
  });
  await redraw(true);
  // A slow line has what the first screen shows before what the others need.
  void started.then(screens).catch((error) => console.warn("the other screens come later", error));
  let language = document.documentElement.lang;
  store.onChange(() => void redraw());
  const heard = async () => {
    const wanted = (await store.value("person"))?.language ?? language;
    if (wanted !== language) {
      language = wanted;
      await speak(language);
    }
    void redraw();
    void askEntry(() => void redraw());
  };
  onLine(heard);
  if (line.state !== "unknown") void heard();
  setInterval(() => void releaseOld(), 60_000);
  void store.persist();
  if ("serviceWorker" in navigator) await keepShell().catch((error) => console.warn("no service worker", error));
}

void begin().catch((error) => {
  console.error(error);
  document.querySelector("#cannot").hidden = false;
});
