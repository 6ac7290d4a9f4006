// A unit: how far it is, what keeps the next step back, the stretches of its walk; and one stretch, with what may be passed at once.
import { html, nothing } from "./library/lit-html.js";
import { t, day, clock } from "./words.js";
import { address, go, say, fail } from "./frame.js";
import { following, ROUNDS } from "./checklist.js";
import { passAll } from "./work.js";
import { drawn } from "./drawing.js";

const PARTS = { found: "part-found", ready: "part-ready", move_in: "part-move-in", "": "part-visit" };
/** What takes so long is never passed among others by one tap, minutes. */
const LONG_MINUTES = 5;

export const whereabouts = (unit) => html`<a href=${address(unit.id)}>${unit.building.code} · <b>${unit.unit.label}</b></a>`;

/** A stretch as people call it: `WC-1, water closet · look`. */
export const stretchName = (stretch) => `${stretch.at?.label ?? ""} ${stretch.at?.kind_name ?? ""}`.trim();
const groupName = (stretch) => t(`group-${stretch.group}`);

export function seenWords(seen, unit) {
  if (!seen) return t("open");
  const states = { here: "state-here", sending: "state-sending", sent: "state-sent", attention: "state-attention", fetched: "state-fetched" };
  const said = seen.outcome === "not_checked" ? t("said-missed", { reason: seen.said }) : seen.said;
  const who = seen.who ? t("said-by", { who: seen.who, day: day(seen.at.slice(0, 10), unit.today), time: clock(seen.at, unit.building.zone) }) : "";
  return html`<span class=${`outcome ${seen.outcome}`}>${said}</span> <small>${who || t(states[seen.state])}</small>`;
}

/** Where a stretch is walked: one that asks a single thing leads to that at once. */
export const toStretch = (list, stretch) => (stretch.items.length === 1 ? address(list.unit.id, "i", stretch.items[0].key) : address(list.unit.id, "s", stretch.key));

function blockWords(block) {
  if (block.kind === "unanswered") return t(`block-${block.part.replace("_", "-")}`, { left: block.left, asked: block.asked });
  const one = block.deficiency;
  const values = { title: one.title, place: one.place || t("whole-unit"), severity: one.severity_name };
  if (block.kind === "unrepaired") return t("block-unrepaired", values);
  if (one.severity === "life_threatening") return t("block-never-waived", values);
  return one.status === "repaired" ? t("block-recheck", values) : t("block-standing", values);
}

export function blockList(list) {
  return list.blocks.length === 0
    ? nothing
    : html`<section class="blocks"><h2>${t(`keeps-back-${list.next}`)}</h2><ul class="lines">${list.blocks.map((block) => html`<li>${blockWords(block)}</li>`)}</ul></section>`;
}

/** What stands although every check has its answer: what is wrong, and what could not be checked. */
export function remarks(list) {
  const label = (item) => list.unit.places[item.place]?.label ?? "";
  const line = (item) => html`<li>${label(item)} ${item.title}: ${t("said-missed", { reason: item.seen.said })}</li>`;
  if (list.standing.length + list.missed.length === 0) return nothing;
  return html`<section class="blocks"><h2>${t("remarks")}</h2><ul class="lines">${list.standing.map((one) => html`<li>${one.place} ${one.title} (${one.severity_name}, ${t(`standing-${one.status}`)})</li>`)}${list.missed.map(line)}</ul></section>`;
}

export const progressLine = (list) => html`<div class="progress"><p>${t("progress", { answered: list.answered, asked: list.asked })}</p>
  <progress max=${Math.max(1, list.asked)} value=${list.answered} aria-label=${t("progress", { answered: list.answered, asked: list.asked })}></progress></div>`;

function stretchRow(list, stretch) {
  const answered = stretch.items.filter((item) => item.isAnswered).length;
  const fails = stretch.items.filter((item) => item.isAnswered && item.seen?.outcome === "fail").length;
  const missed = stretch.items.filter((item) => item.isAnswered && item.seen?.outcome === "not_checked").length;
  const how = [
    answered === stretch.items.length ? t("all-answered", { checks: answered }) : t("progress", { answered, asked: stretch.items.length }),
    fails > 0 && t("some-fail", { fails }), missed > 0 && t("some-missed", { missed }),
  ];
  return html`<li><a href=${toStretch(list, stretch)}><span><b>${stretchName(stretch)}</b> · ${groupName(stretch)}</span>
    <span class=${fails > 0 ? "wrong" : ""}>${how.filter(Boolean).join(" · ")}</span></a></li>`;
}

/** The step that the unit stands before, as bars. */
function stepBars(list) {
  const { unit } = list;
  if (list.isClosed || list.done) return html`<a class="first" href=${address("")}>${t("back-to-today")}</a>`;
  const next = following(list, "");
  const repairs = list.standing.some((one) => one.status === "open") || list.matters.some((one) => !one.isAnswered);
  const bars = [];
  if (next) bars.push(html`<a class="first" href=${toStretch(list, next)}>${t("go-on")} <small>${stretchName(next)} · ${groupName(next)}</small></a>`);
  if (repairs) bars.push(html`<a class=${next ? "" : "first"} href=${address(unit.id, "fix")}>${t("what-is-wrong")} <small>${t("wrong-count", { wrong: list.standing.length + list.matters.length })}</small></a>`);
  if (!next && unit.turnover && list.blocks.length === 0) {
    if (list.next === "close") bars.unshift(html`<a class="first" href=${address(unit.id, "sign")}>${t("sign-and-close")}</a>`);
    else bars.push(html`<button type="button" class=${repairs ? "" : "first"} id="advance" data-to=${list.next}>${t(`advance-${list.next}`)} <small>${t(`advance-${list.next}-then`)}</small></button>`);
  }
  if (!unit.turnover && unit.visit) bars.push(html`<a class=${next ? "" : "first"} href=${address(unit.id, "leave")}>${t("leave-unit")}</a>`);
  return bars;
}

export function unitScreen(list, onAdvance) {
  const { unit } = list;
  const round = unit.turnover ? t("round", { round: ROUNDS.indexOf(list.part) + 1, rounds: ROUNDS.length, part: t(PARTS[list.part]) }) : t(PARTS[list.part]);
  const lead = [unit.turnover ? t("today-turnover", { day: day(unit.turnover.move_in_on, unit.today) }) : "", round].filter(Boolean).join(" · ");
  const state = list.isClosed ? html`<p class="said">${t("closed-words")}</p>` : list.done ? html`<p class="said">${t("left-words")}</p>` : nothing;
  return {
    title: t("unit", { unit: unit.unit.label }), place: html`${unit.building.name}`, lead,
    body: html`${state}${list.asked > 0 ? progressLine(list) : nothing}${blockList(list)}${list.answered === list.asked ? remarks(list) : nothing}
      <ul class="stretches">${list.stretches.map((stretch) => stretchRow(list, stretch))}</ul>
      ${list.asked === 0 ? html`<p>${t("nothing-asked")}</p>` : nothing}
      ${unit.turnover?.note ? html`<h2>${t("note")}</h2><p class="said">${unit.turnover.note}</p>` : nothing}
      <p><a href=${address(unit.id, "report")}>${t("something-else")}</a></p>`,
    bars: html`<div class="bars-in" @click=${(event) => event.target.closest("#advance") && onAdvance(list.next)}>${stepBars(list)}</div>`,
  };
}

const isPlain = (item) => item.answer.kind === "verdict" && !(item.flushes > 1) && item.rechecks.length === 0 && !item.added && item.minutes < LONG_MINUTES;

/** One stretch: a fixture's dry look, its water, its measures. */
export function stretchScreen(list, stretch) {
  const { unit } = list;
  const open = stretch.items.filter((item) => !item.isAnswered);
  const inOrder = [...open, ...stretch.items.filter((item) => item.isAnswered)];
  const plain = open.filter(isPlain);
  const cautions = [...new Set(stretch.items.flatMap((item) => item.cautions))];
  const onward = following(list, stretch.key);
  const pass = async () => {
    try {
      const ops = await passAll(unit, plain);
      say(t("kept-passes", { checks: ops.length }), ops.map((op) => op.id));
      const rest = open.find((item) => !plain.includes(item));
      go(rest ? address(unit.id, "i", rest.key) : onward && onward.key !== stretch.key ? toStretch(list, onward) : address(unit.id), true);
    } catch {
      fail(t("no-room"));
      go(location.hash);
    }
  };
  const bars = [];
  if (plain.length > 0) bars.push(html`<button type="button" class="first" id="pass-all" @click=${pass}>${plain.length === 1 ? plain[0].answer.pass : t("all-pass", { checks: plain.length })} <small>${t("i-looked", { checks: plain.length })}</small></button>`);
  if (open.length > 0) bars.push(html`<a class=${plain.length === 0 ? "first" : ""} href=${address(unit.id, "i", open[0].key)}>${t("one-by-one")} <small>${t("open-count", { checks: open.length })}</small></a>`);
  if (open.length === 0) bars.push(html`<a class="first" href=${onward ? toStretch(list, onward) : address(unit.id)}>${onward ? t("go-on") : t("back-to-unit")} <small>${onward ? `${stretchName(onward)} · ${groupName(onward)}` : ""}</small></a>`);
  return {
    title: stretchName(stretch), place: html`${whereabouts(unit)} · ${stretch.at?.room ?? ""}`,
    lead: `${groupName(stretch)} · ${t("progress", { answered: list.answered, asked: list.asked })}`,
    body: html`${cautionNote(cautions)}
      <ul class="checks">${inOrder.map((item) => html`<li><a href=${address(unit.id, "i", item.key)}><b>${item.title}${item.part_name ? ` · ${item.part_name}` : ""}</b><span>${item.ask}</span>
        ${plain.includes(item) ? html`<span class="soft">${t("passes-when", { pass: item.answer.pass })}</span>` : nothing}<span class=${item.is_over && !item.isAnswered ? "over" : ""}>${item.isAnswered ? seenWords(item.seen, unit) : item.due}</span></a></li>`)}</ul>
      ${drawn(stretch.at)}`,
    bars,
  };
}

/** The first sentence of a caution, or all of one that begins with a question: what to do at a smell of gas is never folded away. */
function firstOf(words) {
  const end = words.search(/[.!] /);
  return words.slice(0, words.indexOf("? ") >= 0 ? words.length : end < 0 ? words.length : end + 1);
}

/** What to mind. Its first words stand open, the rest a tap away. */
export function cautionNote(cautions) {
  if (cautions.length === 0) return nothing;
  const rest = cautions.map((words) => words.slice(firstOf(words).length).trim()).filter(Boolean);
  return html`<div class="caution" role="note"><p>${cautions.map((words) => `${firstOf(words)} `)}</p>
    ${rest.length > 0 ? html`<details class="more-of"><summary>${t("mind-more")}</summary>${cautions.map((words) => html`<p>${words}</p>`)}</details>` : nothing}
    <p class="codes">${t("codes-decide")}</p></div>`;
}
