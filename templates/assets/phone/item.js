// One check a screen: what to do in a sentence, its answers as bars; a stopwatch where time is read, a counter where flushes are; and what a
// failure needs and no more.
import { html, nothing } from "./library/lit-html.js";
import { t, day } from "./words.js";
import { address, go, say, fail } from "./frame.js";
import { answer, addPhoto, note, release } from "./work.js";
import { judge, read, isUnlikely, meant, Unreadable } from "./reading.js";
import { cautionNote, whereabouts, seenWords, progressLine, toStretch } from "./walk.js";
import { following } from "./checklist.js";
import { drawn, pointsOf } from "./drawing.js";
import { NoPhoto } from "./photo.js";
import * as tools from "./tools.js";

export const REASONS = ["no_access", "blocked", "supplies_off", "unsafe", "needs_licence", "no_tool", "objected", "not_there"];

/** What was typed on this screen and is not kept yet, by the key of its item. */
const typed = { key: "", reading: "", asked: "", flushes: 0, problem: "" };

function at(item) {
  if (typed.key !== item.key) Object.assign(typed, { key: item.key, reading: "", asked: "", flushes: 0, problem: "" });
  return typed;
}

/** Where the walk goes after an item: the next open one of its stretch, then the next stretch. */
function onward(list, item) {
  const stretch = list.stretches.find((one) => one.items.some((other) => other.key === item.key));
  if (!stretch) return address(list.unit.id);
  const from = stretch.items.findIndex((one) => one.key === item.key);
  const next = stretch.items.slice(from + 1).find((one) => !one.isAnswered) ?? stretch.items.find((one) => one.key !== item.key && !one.isAnswered);
  if (next) return address(list.unit.id, "i", next.key);
  const after = following(list, stretch.key);
  return after && after.key !== stretch.key ? toStretch(list, after) : address(list.unit.id);
}

async function keep(list, item, given) {
  const failed = given.outcome === "fail";
  let op;
  try {
    op = await answer(list.unit, item, given, failed);
  } catch {
    fail(t("no-room"));
    return go(location.hash);
  }
  typed.key = "";
  tools.reset();
  const what = [op.place, item.title].filter(Boolean).join(" ");
  say(failed ? t("kept-here") : t(given.outcome === "not_checked" ? "kept-missed" : "kept", { title: what, said: given.said }), [op.id]);
  go(failed ? address(list.unit.id, "f", op.id) : onward(list, item), !failed);
}

function missedBar(list, item) {
  const send = (event) => {
    event.preventDefault();
    const fields = new FormData(event.target);
    const [code, why] = [fields.get("reason"), fields.get("why").trim()];
    if (!code && !why) {
      event.target.querySelector(".error").textContent = t("missed-needs-reason");
      return;
    }
    const said = [code && t(`reason-${code}`), why].filter(Boolean).join(": ");
    void keep(list, item, { outcome: "not_checked", reason: code, why, said });
  };
  const shown = (event) => event.currentTarget.open && event.currentTarget.scrollIntoView({ block: "start" });
  return html`<details class="bar-more" @toggle=${shown}><summary>${t("could-not")}</summary><form class="bar-field" @submit=${send}>
    <p class="error" role="alert"></p>
    <div class="field"><label for="reason">${t("because")}</label><select id="reason" name="reason"><option value="">${t("choose-reason")}</option>${REASONS.map((code) => html`<option value=${code}>${t(`reason-${code}`)}</option>`)}</select></div>
    <div class="field"><label for="why">${t("in-words")}</label><input id="why" name="why" type="text" autocomplete="off" maxlength="500"></div>
    <button class="also" type="submit">${t("keep-missed")}</button></form></details>`;
}

function verdictBars(list, item) {
  const { pass, fail: fails } = item.answer;
  const passed = () => keep(list, item, { outcome: "pass", said: pass, detail: item.flushes > 1 ? { flushes: item.flushes } : null });
  const failed = () => keep(list, item, { outcome: "fail", said: fails, detail: item.flushes > 1 ? { flushes: at(item).flushes + 1 } : null });
  const count = () => {
    const now = at(item);
    now.flushes += 1;
    if (now.flushes >= item.flushes) void passed();
    else go(location.hash);
  };
  const isCounted = item.flushes > 1;
  return html`<button type="button" class="first" id="pass" @click=${isCounted ? count : passed}>${pass} <small>${isCounted ? t("flush-of", { flush: at(item).flushes + 1, flushes: item.flushes }) : t("pass")}</small></button>
    <button type="button" class="wrong" id="fail" @click=${failed}>${fails} <small>${t("opens", { severity: item.severity_name })}</small></button>`;
}

function limitWords(limits) {
  return limits.map((limit) => t(limit.bound === "at_least" ? "at-least" : "at-most", { value: limit.value, source: limit.source })).join(" · ");
}

function withUnit(text, unit) {
  return /[^\d\s.,/-]/.test(text) || unit === "" ? text : `${text} ${unit}`;
}

function readingBars(list, item, measures) {
  const now = at(item);
  const { of, unit, quantity, limits, likely } = item.answer;
  const bare = item.answer.bare ?? unit;
  const units = measures?.[quantity] ?? {};
  const settle = (text, isSure) => {
    now.reading = text;
    let value;
    try {
      value = read(text, bare, units, quantity);
    } catch (error) {
      now.problem = t(text.trim() === "" ? "reading-empty" : error instanceof Unreadable ? error.key : "reading-unreadable", { given: text, unit, like: quantity === "length" ? "14 7/8" : "14" });
      return go(location.hash);
    }
    now.problem = "";
    if (!isSure && isUnlikely(value, likely) && now.asked !== text) {
      now.asked = text;
      return go(location.hash);
    }
    const { passes, broken } = judge(value, limits);
    const shown = withUnit(text.trim(), unit);
    const said = passes ? shown : t("reading-broken", { reading: shown, bound: broken.bound, value: broken.value });
    return keep(list, item, { outcome: passes ? "pass" : "fail", reading: text.trim(), said });
  };
  const submit = (event) => {
    event.preventDefault();
    void settle(new FormData(event.target).get("reading"), false);
  };
  if (now.asked !== "") {
    const guess = meant(now.asked, bare, units, quantity, likely);
    return html`<p class="ask-once" role="alert">${t("reading-sure", { reading: withUnit(now.asked, unit) })}</p>
      ${guess ? html`<button type="button" class="first" @click=${() => settle(guess, true)}>${t("reading-meant", { reading: withUnit(guess, unit) })}</button>` : nothing}
      <button type="button" @click=${() => settle(now.asked, true)}>${t("reading-right", { reading: withUnit(now.asked, unit) })}</button>
      <button type="button" @click=${() => { now.asked = ""; go(location.hash); }}>${t("reading-again")}</button>`;
  }
  const noFigure = () => keep(list, item, { outcome: "fail", said: t("fails-without"), note: t("fails-without") });
  return html`${item.answer.tool === "stopwatch" ? tools.stopwatch(item.key, () => go(location.hash), (seconds) => { now.reading = `${seconds}`; go(location.hash); }) : nothing}
    <form class="bar-field" @submit=${submit}>${now.problem ? html`<p class="error" role="alert" id="reading-error">${now.problem}</p>` : nothing}
      <div class="field"><label for="reading">${of}</label>${limits.length > 0 ? html`<p class="hint">${t("passes", { limits: limitWords(limits) })}</p>` : nothing}
      <div class="with-unit"><input id="reading" name="reading" type="text" inputmode=${quantity === "length" ? "text" : "decimal"} autocomplete="off" .value=${now.reading} aria-invalid=${now.problem ? "true" : "false"}><span>${unit}</span></div></div>
      <button class="act" id="keep-reading" type="submit">${t("keep-reading")}</button></form>
    <button type="button" class="wrong" @click=${noFigure}>${t("fails-without")} <small>${t("say-what")}</small></button>`;
}

/** Whether what belongs to the move-in day is asked before it. */
const isEarly = ({ unit }, item) => item.stage === "move_in" && unit.turnover && unit.today < unit.turnover.move_in_on;

/** One check. */
export function itemScreen(list, item, measures) {
  const { unit } = list;
  const place = unit.places[item.place];
  return {
    title: item.title + (item.part_name ? ` · ${item.part_name}` : ""), place: html`${whereabouts(unit)} · ${place?.label ?? ""}`, lead: "",
    body: html`${progressLine(list)}<p class="ask-words">${item.ask}</p>
      ${isEarly(list, item) ? html`<p class="over">${t("early-words", { day: day(unit.turnover.move_in_on, unit.today) })}</p>` : nothing}
      ${item.due || item.performer ? html`<p class=${item.is_over ? "over" : "soft"}>${[item.due && t("check-due", { due: item.due }), item.performer && t("done-by", { who: item.performer })].filter(Boolean).join(" · ")}</p>` : nothing}
      ${item.seen ? html`<p>${t("so-far")} ${seenWords(item.seen, unit)}</p>` : nothing}
      ${cautionNote(item.cautions)}
      ${item.method.length > 0 ? html`<details class="more-of"><summary>${t("how")}</summary><ol>${item.method.map((step) => html`<li>${step}</li>`)}</ol></details>` : nothing}
      ${item.group === "measure" ? nothing : drawn(place)}`,
    bars: html`${item.answer.kind === "verdict" ? verdictBars(list, item) : readingBars(list, item, measures)}${missedBar(list, item)}`,
  };
}

/** A failure without a figure says at least that much in its note. */
const bareNote = (op) => (op.note === op.said ? op.said : "");

/** What a failure needs and no more: where it leaks, a note, a photo. The answer is kept already. */
export function failScreen(list, op, photos, onDone) {
  const { unit } = list;
  const item = list.all.find((one) => one.fixture === op.fixture && one.part === op.part && one.check === op.check);
  const place = item && unit.places[item.place];
  const points = item && item.group !== "measure" ? pointsOf(place) : [];
  const pick = async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    try {
      await addPhoto(unit, op.id, file);
    } catch (error) {
      fail(t(error instanceof NoPhoto ? error.key : "no-room-photo"));
    }
    event.target.value = "";
    go(location.hash);
  };
  const done = async () => {
    const text = document.querySelector("#note").value.trim();
    const point = document.querySelector("#point")?.value ?? "";
    const full = [point && t("at-point", { point }), text].filter(Boolean).join(". ") || bareNote(op);
    try {
      const id = await note(op.id, full);
      await release(id);
    } catch {
      fail(t("no-room"));
      return go(location.hash);
    }
    return onDone(item ? onward(list, item) : address(unit.id));
  };
  const mine = photos.filter((one) => one.of === op.id);
  return {
    title: op.said, place: html`${whereabouts(unit)} · ${op.place}`, lead: op.title,
    body: html`${mine.length > 0 ? html`<p class="said" role="status">${t("photos-kept", { photos: mine.length })}</p>` : nothing}<p>${t("opens-here", { severity: item?.severity_name ?? "" })}</p>
      ${item?.severity === "life_threatening" ? html`<p class="strip wrong">${t("grave-first")} <a href="/urgent">${t("urgent")}</a></p>` : nothing}
      <div class="field"><label for="note">${t("note")}</label><textarea id="note" rows="3" maxlength="2000" .value=${op.note === op.said ? "" : op.note}></textarea></div>
      ${points.length > 0 ? html`<div class="field"><label for="point">${t("which-point")}</label><select id="point"><option value="">${t("no-point")}</option>${points.map((words) => html`<option value=${words}>${words}</option>`)}</select></div>${drawn(place)}` : nothing}`,
    bars: html`<label class="bar-file" for="photo"><span>${t(mine.length > 0 ? "add-photo-more" : "add-photo")}</span><input id="photo" class="unseen" type="file" accept="image/jpeg,image/png,image/webp" capture="environment" @change=${pick}></label>
      <button type="button" class="first" id="done" @click=${done}>${t("done-go-on")}</button>`,
  };
}
