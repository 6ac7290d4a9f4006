// What is not yet sent, each with its state in words; a file to save it in and to take it from; signing out without losing anything unasked.
import { html, nothing } from "./library/lit-html.js";
import { t, clock } from "./words.js";
import { address, go, say, fail, unsentWords } from "./frame.js";
import * as store from "./store.js";
import { line, send } from "./send.js";
import { noted } from "./work.js";
import { forgetEntry } from "./today.js";

const FILE_VERSION = 1;
const STATES = { here: "state-here", sending: "state-sending", attention: "state-attention" };

const base64 = async (blob) => {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
};

/** Everything that is not sent as one file. */
async function saveFile() {
  const [{ ops }, photos, person, phone] = await Promise.all([store.unsent(), store.photos(), store.value("person"), store.value("phone")]);
  const pictures = await Promise.all(photos.filter((one) => one.blob).map(async (one) => ({ ...one, blob: await base64(one.blob) })));
  const text = JSON.stringify({ anglestop: FILE_VERSION, person, phone, saved_at: new Date().toISOString(), ops, photos: pictures });
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = `anglestop-not-sent-${new Date().toISOString().slice(0, 16).replace(/[:T]/g, "-")}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Takes back in what was saved; what is here already stays as it is. */
async function takeFile(file, person) {
  const saved = JSON.parse(await file.text());
  if (saved.anglestop !== FILE_VERSION || !Array.isArray(saved.ops) || !Array.isArray(saved.photos)) throw new Error("another file");
  if (person && saved.person && saved.person.id !== person.id) throw new Error("another person");
  const pictures = saved.photos.map((one) => ({ ...one, blob: new Blob([Uint8Array.from(atob(one.blob), (c) => c.charCodeAt(0))], { type: "image/jpeg" }) }));
  await store.write(async ({ ops, photos }) => {
    for (const op of saved.ops) if (!(await ops.get(op.id))) await ops.put({ ...op, state: op.state === "attention" ? "attention" : "here", held: undefined });
    for (const one of pictures) if (!(await photos.get(one.id))) await photos.put({ ...one, state: "here" });
  });
  return saved.ops.length;
}

function opWords(op) {
  if (op.kind === "answer") return `${op.place} ${op.title}: ${op.said}`.trim();
  if (op.kind === "report") return `${t("op-report")}: ${op.title}`;
  return t(`op-${op.kind.replace("_", "-")}`);
}

function photoRow(one) {
  return html`<li>${t("op-photo")} <small>${one.received > 0 ? t("photo-share", { share: Math.floor((100 * one.received) / one.bytes) }) : t(STATES[one.state])}</small>${one.sentence ? html`<br><span class="over">${one.sentence}</span>` : nothing}</li>`;
}

export function unsentScreen(unsent, units, photos, person) {
  const label = (id) => units.find((one) => one.id === id)?.unit.label ?? "";
  const zone = (id) => units.find((one) => one.id === id)?.building.zone ?? "UTC";
  const list = unsent.ops.filter((op) => op.kind !== "photo");
  const left = photos.filter((one) => one.state !== "sent");
  const take = async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    try {
      say(t("file-taken", { answers: await takeFile(file, person) }));
      void send();
    } catch {
      fail(t("file-refused"));
    }
    go(location.hash);
  };
  const row = (op) => html`<li><b>${label(op.unit)}</b> ${opWords(op)}<br><small>${clock(op.at, zone(op.unit))} · ${t(STATES[op.state])}</small>
    ${op.state === "attention" ? html`<br><span class="over">${op.sentence}</span> <button type="button" class="quiet" @click=${async () => { await noted(op.id); go(location.hash); }}>${t("noted")}</button>` : nothing}</li>`;
  const state = line.state === "silent" ? t("line-silent") : line.state === "reached" ? t("line-reached") : "";
  return {
    title: t("not-yet-sent"), lead: unsentWords(unsent), place: "",
    body: html`<p role="status">${line.sending ? t("line-sending") : state}</p>
      ${list.length + left.length === 0 ? html`<p>${t("unsent-none-long")}</p>` : html`<ul class="lines">${list.map(row)}${left.map(photoRow)}</ul>`}
      <p class="soft">${t("file-why")}</p>
      <div class="actions"><button type="button" class="also" @click=${() => void saveFile()} ?disabled=${list.length + left.length === 0}>${t("file-save")}</button>
      <label class="also" for="file">${t("file-take")}<input id="file" class="unseen" type="file" accept="application/json" @change=${take}></label></div>`,
    bars: html`<button type="button" class="first" ?disabled=${line.sending} @click=${() => send()}>${t("send-now")}</button><a href=${address("")}>${t("back-to-today")}</a>`,
  };
}

/** Signs out on the server, then forgets everything here. */
async function signOut() {
  const csrf = line.session?.csrf;
  try {
    if (csrf) {
      await fetch("/sign-out", { method: "POST", redirect: "manual", headers: { "Content-Type": "application/x-www-form-urlencoded" }, body: new URLSearchParams({ csrf }), signal: AbortSignal.timeout(20_000) });
    }
  } catch {
    fail(t("out-no-line"));
    return go(location.hash);
  }
  forgetEntry();
  await store.clear();
  location.href = "/sign-in";
}

/** Asks before unsent work is removed. */
export function outScreen(unsent) {
  const some = unsent.answers + unsent.photos > 0 || unsent.ops.length > 0;
  return {
    title: t("sign-out"), lead: some ? unsentWords(unsent) : "", place: "",
    body: some ? html`<p>${t("out-asks")}</p><div class="actions"><button type="button" class="also" @click=${() => void saveFile()}>${t("file-save")}</button></div>` : html`<p>${t("out-clean")}</p>`,
    bars: html`${some ? html`<button type="button" class="first" @click=${() => send()}>${t("send-now")}</button>` : nothing}
      <button type="button" id="sign-out" class=${some ? "wrong" : "first"} ?disabled=${line.session === null} @click=${() => void signOut()}>${some ? t("out-and-remove") : t("sign-out")}</button>
      ${line.session ? nothing : html`<p class="bar-field">${t("out-no-line")}</p>`}<a href=${address("")}>${t("back-to-today")}</a>`,
  };
}
