// The start: today's units in walking order, what is overdue there too, what to load, and, on line only, how to get in.
import { html, nothing } from "./library/lit-html.js";
import { t, day, clock } from "./words.js";
import { address } from "./frame.js";
import { line, send } from "./send.js";
import { checklist } from "./checklist.js";

/** Entry notes as the server said them a moment ago; never written anywhere. */
let entry = null;
let asked = 0;

/** Asks how to get in, on line only. */
export async function askEntry(redraw) {
  if (line.state !== "reached" || Date.now() - asked < 60_000) return;
  asked = Date.now();
  try {
    const response = await fetch("/phone/entry", { cache: "no-store", headers: { Accept: "application/json" }, redirect: "error", signal: AbortSignal.timeout(20_000) });
    if (!response.ok) return;
    entry = new Map((await response.json()).units.map((one) => [one.unit, one.lines]));
    redraw();
  } catch {
    // Without a line the page says that it is shown on line only.
  }
}

export function forgetEntry() {
  entry = null;
  asked = 0;
}

function progress(list) {
  if (list.isClosed) return t("unit-closed-here");
  if (list.done) return t("unit-done-here");
  return t("progress", { answered: list.answered, asked: list.asked });
}

function why(unit) {
  const words = [];
  if (unit.turnover) words.push(t("today-turnover", { day: day(unit.turnover.move_in_on, unit.today) }));
  if (unit.visit) words.push(unit.visit.on < unit.today ? t("today-visit-left", { day: day(unit.visit.on, unit.today) }) : t("today-visit"));
  return words.join(" · ");
}

function row(unit, ops) {
  const list = checklist(unit, ops);
  const over = list.all.filter((item) => item.is_over && !item.isAnswered).length;
  const waiting = ops.filter((op) => op.state !== "sent" && op.kind !== "photo").length;
  const lines = entry?.get(unit.id) ?? [];
  return html`<li class="stop">
    <a class="to-unit" href=${address(unit.id)}><b>${unit.unit.label}</b> <span>${progress(list)}</span></a>
    <p>${t("floor", { floor: unit.unit.floor })} · ${why(unit)}</p>
    ${over > 0 ? html`<p class="over">${t("today-over", { over })}</p>` : nothing}
    ${unit.isListed === false ? html`<p class="over">${t("today-not-listed")}</p>` : nothing}
    ${waiting > 0 ? html`<p>${t("unsent-answers", { answers: waiting })}</p>` : nothing}
    <details class="more-of"><summary>${t("entry")}</summary>${lines.length > 0 ? html`<ul>${lines.map((words) => html`<li>${words}</li>`)}</ul>` : html`<p>${t(entry === null ? "entry-on-line" : "entry-none")}</p>`}</details>
  </li>`;
}

/** The day's parts: how many of each kind, and for which places. */
function loadOf(units) {
  const load = new Map();
  for (const unit of units) {
    for (const { part, place } of unit.load ?? []) load.set(part, [...(load.get(part) ?? []), `${unit.unit.label} ${place}`]);
  }
  return load;
}

export function todayScreen(units, opsBy, fetched) {
  const buildings = [];
  for (const unit of units) {
    const last = buildings.at(-1);
    if (last && last.building.id === unit.building.id) last.units.push(unit);
    else buildings.push({ building: unit.building, units: [unit] });
  }
  const load = loadOf(units);
  const body =
    units.length === 0
      ? html`<p>${fetched ? t("today-none") : line.state === "not_staff" ? t("today-not-staff") : line.state === "signed_out" ? t("today-sign-in") : line.fetching || line.state === "unknown" ? t("fetching") : t("today-not-fetched")}</p>`
      : html`${load.size > 0 ? html`<details class="more-of"><summary>${t("today-load", { kinds: load.size })}</summary><ul class="lines">${[...load].map(([part, places]) => html`<li><b>${places.length} × ${part}</b><br><span class="soft">${places.join(", ")}</span></li>`)}</ul></details>` : nothing}
          ${buildings.map(
            ({ building, units: there }) => html`<section class="room"><h2>${building.name}</h2><p class="soft">${building.address.split("\n").join(", ")}</p>
              <ul class="stops">${there.map((unit) => row(unit, opsBy.get(unit.id) ?? []))}</ul></section>`,
          )}`;
  const when = fetched ? t("fetched-at", { time: clock(fetched.at, units[0]?.building.zone) }) : t("fetching");
  return {
    title: t("today"), lead: when, body,
    bars: html`<button type="button" ?disabled=${line.fetching} @click=${() => send({ fetch: true })}>${line.fetching ? t("fetching") : t("fetch-now")}</button>
      <a href=${address("more")}>${t("more")}</a>`,
  };
}

/** Everything else: the pages that need a line, signing out. */
export function moreScreen(person) {
  const places = [
    ["/due", "place-due"], ["/turnovers", "place-turnovers"], ["/visits", "place-visits"], ["/deficiencies", "place-deficiencies"],
    ["/buildings", "place-buildings"], ["/checks", "place-checks"], ["/account", "place-account"],
  ];
  return {
    title: t("more"), lead: person ? t("signed-in-as", { name: person.name }) : "",
    body: html`<p class="soft">${t("more-on-line")}</p><ul class="places">${places.map(([to, key]) => html`<li><a href=${to}>${t(key)}</a></li>`)}</ul>`,
    bars: html`<a href=${address("out")}>${t("sign-out")}</a><a href=${address("")}>${t("back-to-today")}</a>`,
  };
}
