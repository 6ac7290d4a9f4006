// The steps around the walk: what is wrong and what was done about it, something else, leaving after a visit, signing.
import { html, nothing } from "./library/lit-html.js";
import { t } from "./words.js";
import { address, go, say, fail } from "./frame.js";
import * as work from "./work.js";
import { ROUNDS } from "./checklist.js";
import { whereabouts, blockList, remarks } from "./walk.js";
import { signature, drawnSignature, clearSignature } from "./signature.js";

const VISIT_REASONS = ["nobody_home", "refused", "key", "child_alone", "animal", "alarm", "unsafe"];

async function keep(what, words, to) {
  try {
    const ops = await what();
    say(words, ops.map((op) => op.id));
    go(to, true);
  } catch {
    fail(t("no-room"));
    go(location.hash);
  }
}

function repairForm(unit, one) {
  const send = (event) => {
    event.preventDefault();
    const fields = new FormData(event.target);
    const minutes = fields.get("minutes").trim().replace(",", ".");
    if (minutes !== "" && !(Number(minutes) >= 0 && Number(minutes) <= 1440)) {
      event.target.querySelector(".error").textContent = t("minutes-unreadable", { given: minutes });
      return;
    }
    const done = { parts: fields.get("parts").trim(), minutes: minutes === "" ? null : Number(minutes), note: fields.get("note").trim() };
    void keep(() => work.repaired(unit, one, done), t("kept-repair", { title: one.title }), address(unit.id, "fix"));
  };
  const id = one.deficiency ?? one.of;
  return html`<form class="bar-field" @submit=${send}><p class="error" role="alert"></p>
    <div class="field"><label for=${`parts-${id}`}>${t("parts-used")}</label><input id=${`parts-${id}`} name="parts" type="text" autocomplete="off" maxlength="500"></div>
    <div class="field"><label for=${`minutes-${id}`}>${t("minutes")}</label><input id=${`minutes-${id}`} name="minutes" type="text" inputmode="decimal" autocomplete="off" class="short"></div>
    <div class="field"><label for=${`repair-${id}`}>${t("note")}</label><input id=${`repair-${id}`} name="note" type="text" autocomplete="off" maxlength="2000"></div>
    <button class="act" type="submit">${t("note-repair")}</button></form>`;
}

function matterForm(unit, matter) {
  const send = (event) => {
    event.preventDefault();
    const fields = new FormData(event.target, event.submitter);
    const [outcome, text] = [fields.get("outcome"), fields.get("note").trim()];
    if (outcome !== "pass" && text === "") {
      event.target.querySelector(".error").textContent = t("matter-needs-note");
      return;
    }
    const [reason, remark] = outcome === "not_checked" ? [text, ""] : ["", text];
    void keep(() => work.word(unit, matter, outcome, reason, remark), t("kept-word", { title: matter.title }), address(unit.id, "fix"));
  };
  const id = `matter-${matter.deficiency}`;
  return html`<form class="bar-field" @submit=${send}><p class="error" role="alert"></p><div class="field"><label for=${id}>${t("note")}</label><input id=${id} name="note" type="text" autocomplete="off" maxlength="2000"></div>
    <button class="act" name="outcome" value="pass" type="submit">${t("matter-right")}</button> <button class="also" name="outcome" value="fail" type="submit">${t("matter-still")}</button>
    <button class="also" name="outcome" value="not_checked" type="submit">${t("matter-could-not")}</button></form>`;
}

/** What is wrong in the unit, each with what can be done about it here. */
export function fixScreen(list) {
  const { unit } = list;
  const lines = list.standing.map((one) => html`<li><b>${one.deficiency ? t("number", { number: `${one.deficiency}` }) : t("new-here")}</b> ${one.title}<br>${one.note ? html`${one.note}<br>` : nothing}<span class="soft">${one.place || t("whole-unit")} · ${one.severity_name} · ${t(`standing-${one.status}`)}</span>
    ${one.status === "open" ? html`<details class="more-of"><summary>${t("this-is-repaired")}<span class="unseen">: ${one.title}</span></summary>${repairForm(unit, one)}</details>` : nothing}</li>`);
  const matters = list.matters.map((one) => html`<li><b>${t("number", { number: `${one.deficiency}` })}</b> ${one.title}<br><span class="soft">${one.severity_name} · ${one.isAnswered ? t("matter-said") : t("matter-open")}</span>
    <details class="more-of"><summary>${t("look-again")}<span class="unseen">: ${one.title}</span></summary>${matterForm(unit, one)}</details></li>`);
  return {
    title: t("what-is-wrong"), place: whereabouts(unit), lead: "",
    body: html`${blockList(list)}${lines.length + matters.length === 0 ? html`<p>${t("nothing-wrong")}</p>` : html`<ul class="lines">${lines}${matters}</ul>`}`,
    bars: html`<a class="first" href=${address(unit.id)}>${t("back-to-unit")}</a>`,
  };
}

/** Something else is wrong: a report in words. */
export function reportScreen(list) {
  const { unit } = list;
  const send = (event) => {
    event.preventDefault();
    const fields = new FormData(event.target);
    const title = fields.get("title").trim();
    if (title === "") {
      event.target.querySelector(".error").textContent = t("report-needs-title");
      return;
    }
    const place = fields.get("place") === "" ? null : Number(fields.get("place"));
    void keep(() => work.report(unit, place, title, fields.get("note").trim()), t("kept-report", { title }), address(unit.id));
  };
  return {
    title: t("something-else"), place: whereabouts(unit), lead: "",
    body: html`<p class="strip">${t("urgent-first")} <a href="/urgent">${t("urgent")}</a></p>
      <form id="report" @submit=${send}><p class="error" role="alert"></p>
      <div class="field"><label for="place">${t("where")}</label><select id="place" name="place"><option value="">${t("whole-unit")}</option>${unit.places.map((one) => html`<option value=${one.tag}>${one.label} ${one.kind_name}</option>`)}</select></div>
      <div class="field"><label for="title">${t("what-is-wrong")}</label><input id="title" name="title" type="text" autocomplete="off" maxlength="120"></div>
      <div class="field"><label for="report-note">${t("note")}</label><textarea id="report-note" name="note" rows="3" maxlength="2000"></textarea></div></form>`,
    bars: html`<button class="first" type="submit" form="report">${t("keep-report")}</button><a href=${address(unit.id)}>${t("back-to-unit")}</a>`,
  };
}

/** The end of a visit: done, or nobody got in. */
export function leaveScreen(list) {
  const { unit } = list;
  const nobody = (event) => {
    event.preventDefault();
    const fields = new FormData(event.target);
    const [reason, text] = [fields.get("reason"), fields.get("text").trim()];
    if (!reason && !text) {
      event.target.querySelector(".error").textContent = t("missed-needs-reason");
      return;
    }
    void keep(() => work.noAccess(unit, reason, text), t("kept-no-access"), address(""));
  };
  return {
    title: t("leave-unit"), place: whereabouts(unit), lead: t("progress", { answered: list.answered, asked: list.asked }),
    body: html`<p>${t("leave-words")}</p><details class="more-of"><summary>${t("nobody-in")}</summary><form @submit=${nobody}><p class="error" role="alert"></p>
      <div class="field"><label for="reason">${t("because")}</label><select id="reason" name="reason"><option value="">${t("choose-reason")}</option>${VISIT_REASONS.map((code) => html`<option value=${code}>${t(`visit-reason-${code}`)}</option>`)}</select></div>
      <div class="field"><label for="text">${t("in-words")}</label><input id="text" name="text" type="text" autocomplete="off" maxlength="500"></div>
      <button class="also" type="submit">${t("close-no-access")}</button></form></details>`,
    bars: html`<button type="button" class="first" @click=${() => keep(() => work.visitDone(unit), t("kept-visit-done"), address(""))}>${t("visit-done")}</button><a href=${address(unit.id)}>${t("back-to-unit")}</a>`,
  };
}

/** Signs and closes the turnover. */
export function signScreen(list, person) {
  const { unit } = list;
  const send = () => {
    const drawn = drawnSignature();
    const name = document.querySelector("#name").value.trim() || (drawn ? person?.name ?? "" : "");
    if (name === "") {
      fail(t("sign-needs-name"));
      return go(location.hash);
    }
    return keep(() => work.close(unit, name, drawn), t("kept-close", { unit: unit.unit.label }), address(unit.id));
  };
  const counts = ROUNDS.filter((part) => list.counts[part].asked > 0);
  return {
    title: t("sign-and-close"), place: whereabouts(unit), lead: "",
    body: html`${blockList(list)}<p>${t("sign-words")}</p>
      <ul class="lines">${counts.map((part) => html`<li>${t(`part-${part.replace("_", "-")}`)}: ${t("progress", list.counts[part])}</li>`)}</ul>${remarks(list)}
      <div class="field"><label for="name">${t("name")}</label><p class="hint">${t("name-hint")}</p><input id="name" name="name" type="text" autocomplete="name" maxlength="80"></div>
      <div class="field"><p id="sign-label"><b>${t("sign-here")}</b></p>${signature()}<button type="button" class="quiet" @click=${clearSignature}>${t("sign-clear")}</button></div>`,
    bars: html`<button type="button" class="first" id="close" ?disabled=${list.blocks.length > 0} @click=${send}>${t("close-turnover")}</button><a href=${address(unit.id)}>${t("back-to-unit")}</a>`,
  };
}

