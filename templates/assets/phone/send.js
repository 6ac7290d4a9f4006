// Sends what is kept here, and fetches checklists ahead. One tab sends at a time; what was not answered is sent again, under the ids that it
// has, so that nothing arrives twice. Knows no screen. Whether the browser believes that it is on line decides nothing.
import * as store from "./store.js";
import { newId } from "./ids.js";

const VERSION = 1;
const OPS_AT_ONCE = 50;
const PIECE_BYTES = 192 * 1024;
const SHORT_MS = 20_000;
/** A slow server is waited for: a second try beside the first would only double its work. */
const LONG_MS = 120_000;
const LEAST_WAIT_MS = 2_000;
const MOST_WAIT_MS = 60_000;
const STAFF = ["technician", "manager"];
const SESSION_MS = 60_000;
const FETCH_EVERY_MS = 10 * 60_000;
/** When nothing was done for so long, what was sent is fetched back as part of the checklists. */
const QUIET_MS = 45_000;
const SOON_MS = 1_000;

/** What is known of the line: `unknown`, `reached`, `silent` (no answer), `signed_out`, `other_person`, `not_staff`. */
export const line = { state: "unknown", sending: false, session: null, fetching: false, failure: "" };
const watchers = new Set();
export const onLine = (watcher) => watchers.add(watcher);
function say(change) {
  Object.assign(line, change);
  watchers.forEach((watcher) => watcher());
}

class Silent extends Error {}
class SignedOut extends Error {}
class Refused extends Error {
  constructor(status, detail) {
    super(detail);
    this.status = status;
    this.detail = detail;
  }
}

async function ask(path, { method = "GET", headers = {}, body, wait = SHORT_MS } = {}) {
  let response;
  let text;
  const phone = await phoneId();
  try {
    response = await fetch(path, {
      method, body, cache: "no-store", credentials: "same-origin", redirect: "error", signal: AbortSignal.timeout(wait),
      headers: { Accept: "application/json", Phone: phone, "Phone-Clock": new Date().toISOString(), ...headers },
    });
    text = await response.text();
  } catch (cause) {
    throw new Silent(String(cause));
  }
  if (response.status === 401) throw new SignedOut();
  let json;
  try {
    json = JSON.parse(text);
  } catch {
    throw new Silent(`status ${response.status} without JSON`);
  }
  if (response.status >= 500 || response.status === 409 || response.status === 429) throw new Silent(json.detail ?? `status ${response.status}`);
  if (!response.ok) throw new Refused(response.status, json.detail ?? json.title ?? "");
  return json;
}

/** The id of this browser, made once. */
export async function phoneId() {
  const known = await store.value("phone");
  if (known) return known;
  return store.write(async ({ kept }) => {
    const there = await kept.get("phone");
    const id = there ?? newId();
    if (!there) await kept.put(id, "phone");
    return id;
  });
}

let checked = 0;

/** Who is signed in and the token of their session, asked anew at most once a minute while the server answers. */
async function session() {
  if (line.state === "reached" && line.session && Date.now() - checked < SESSION_MS) return line.session;
  const found = await ask("/phone/session");
  const before = await store.value("person");
  if (before && before.id !== found.person.id) {
    const waiting = (await store.ops()).some((op) => op.state !== "sent");
    if (waiting) {
      say({ state: "other_person", session: found });
      return null;
    }
    await store.write(async ({ units, ops, photos }) => Promise.all([units.clear(), ops.clear(), photos.clear()]));
  }
  if (!before || before.id !== found.person.id || before.language !== found.person.language || before.name !== found.person.name) await store.keep("person", found.person);
  checked = Date.now();
  if (!STAFF.includes(found.person.role)) {
    say({ state: "not_staff", session: found });
    return null;
  }
  say({ state: "reached", session: found, failure: "" });
  return found;
}

/** The batch of a unit that is on its way or is to be sent next: the same ops under the same key until it is answered. */
async function batchOf(unit, ready) {
  const name = `batch.${unit ?? "none"}`;
  return store.write(async ({ kept, ops }) => {
    const before = await kept.get(name);
    if (before) {
      const there = await Promise.all(before.ids.map((id) => ops.get(id)));
      if (there.every((op) => op && op.state !== "sent" && op.state !== "attention")) return before;
    }
    if (ready.length === 0) {
      if (before) await kept.delete(name);
      return null;
    }
    const batch = {
      name, key: newId(), ids: ready.map((op) => op.id),
      body: JSON.stringify({ v: VERSION, unit, fetched_at: ready[0].fetched_at ?? null, ops: ready.map((op) => op.sent) }),
    };
    await kept.put(batch, name);
    return batch;
  });
}

async function left(unit, ids) {
  const [ops, photos] = await Promise.all([store.opsOf(unit), store.photosOf(unit)]);
  const answers = ops.filter((op) => op.state !== "sent" && op.kind !== "photo" && !ids.includes(op.id)).length;
  return `${answers},${photos.filter((one) => one.state !== "sent").length}`;
}

async function sendBatch(unit, batch, csrf) {
  await mark(batch.ids, "sending");
  let answer;
  try {
    answer = await ask("/phone/sync", {
      method: "POST", wait: LONG_MS, body: batch.body,
      headers: { "Content-Type": "application/json", "Idempotency-Key": batch.key, "Csrf-Token": csrf, "Phone-Left": await left(unit, batch.ids) },
    });
  } catch (error) {
    if (error instanceof Refused && (error.status === 422 || error.status === 400 || error.status === 413)) {
      // The server can't take this batch as it is: its ops stay here, each with what the server said, and are sent again one by one.
      await store.write(({ kept }) => kept.delete(batch.name));
      await mark(batch.ids, batch.ids.length > 1 ? "here" : "attention", error.detail, batch.ids.length > 1);
      return;
    }
    await mark(batch.ids, "here");
    throw error;
  }
  await settle(batch, answer);
}

async function mark(ids, state, sentence, alone) {
  await store.write(async ({ ops }) => {
    for (const id of ids) {
      const op = await ops.get(id);
      if (!op || op.state === "sent") continue;
      await ops.put({ ...op, state, ...(sentence === undefined ? {} : { sentence }), ...(alone ? { alone: true } : {}) });
    }
  });
}

async function settle(batch, answer) {
  await store.write(async ({ ops, kept }) => {
    for (const said of answer.ops) {
      const op = await ops.get(said.id);
      if (!op) continue;
      const state = said.state === "attention" ? "attention" : "sent";
      await ops.put({ ...op, state, sentence: said.sentence ?? "", late: said.state === "late", sent_at: Date.now(), opened: said.opened ?? [] });
    }
    await kept.delete(batch.name);
  });
}

/** What may be sent: an answer that still waits for its note holds back what was done after it in its unit. */
function sendable(ops) {
  const stopped = new Set();
  return ops.filter((op) => {
    if (op.state !== "here" && op.state !== "sending") return false;
    if (op.kind === "urgent") return true;
    if (op.held) stopped.add(op.unit);
    return !stopped.has(op.unit);
  });
}

/** Sends the ops of every unit, the urgent ones first; each unit's in the order in which they were done. */
async function sendOps(csrf) {
  for (;;) {
    const waiting = sendable(await store.ops());
    if (waiting.length === 0) return;
    const first = waiting.find((op) => op.kind === "urgent") ?? waiting[0];
    const unit = first.kind === "urgent" ? null : first.unit;
    const of = waiting.filter((op) => (first.kind === "urgent" ? op.kind === "urgent" : op.kind !== "urgent" && op.unit === unit));
    const alone = of[0].alone ? of.slice(0, 1) : of.filter((op) => !op.alone);
    const batch = await batchOf(unit, alone.slice(0, OPS_AT_ONCE));
    if (!batch) return;
    await sendBatch(unit, batch, csrf);
  }
}

async function sendPhoto(photo, csrf) {
  const address = `/phone/photos/${photo.id}`;
  let there = await ask(address);
  while (!there.is_complete && !there.refused) {
    const piece = photo.blob.slice(there.received, there.received + PIECE_BYTES);
    const before = there.received;
    there = await ask(`${address}?from=${before}`, {
      method: "POST", wait: LONG_MS, body: await piece.arrayBuffer(), headers: { "Content-Type": "application/octet-stream", "Csrf-Token": csrf },
    });
    if (!there.is_complete && !there.refused && there.received <= before) throw new Silent("a piece of a photo was not kept");
    await store.write(async ({ photos }) => {
      const now = await photos.get(photo.id);
      if (now) await photos.put({ ...now, received: there.received });
    });
  }
  await store.write(async ({ photos }) => {
    const now = await photos.get(photo.id);
    if (!now) return;
    // What is sent needs no room here any more; one that was refused stays, with what the server said.
    if (there.refused) await photos.put({ ...now, state: "attention", sentence: there.refused });
    else await photos.put({ ...now, state: "sent", blob: null });
  });
}

async function sendPhotos(csrf) {
  const touched = new Set();
  for (const photo of await store.photos()) {
    if (photo.state !== "here") continue;
    const announced = await store.op(photo.id);
    if (announced && announced.state !== "sent") continue;
    try {
      await sendPhoto(photo, csrf);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      await store.write(async ({ photos }) => photos.put({ ...(await photos.get(photo.id)), state: "attention", sentence: error.detail }));
    }
    touched.add(photo.unit);
  }
  for (const unit of touched) await tellLeft(unit, csrf);
}

/** Tells what is left in a unit, when nothing else is to be said there. */
async function tellLeft(unit, csrf) {
  await ask("/phone/sync", {
    method: "POST", wait: LONG_MS, body: JSON.stringify({ v: VERSION, unit, fetched_at: null, ops: [] }),
    headers: { "Content-Type": "application/json", "Idempotency-Key": newId(), "Csrf-Token": csrf, "Phone-Left": await left(unit, []) },
  });
}

/** Asks for the checklists: when, and what will be answered. */
const askUnits = () => ({ began: Date.now(), coming: ask("/phone/units", { wait: LONG_MS }) });

/** At the first look of a phone that keeps nothing yet there is nothing to send before, so the checklists are asked for beside the session. */
async function askEarly() {
  if (line.state !== "unknown") return null;
  const [person, ops] = await Promise.all([store.value("person"), store.ops()]);
  if (person || ops.length > 0) return null;
  const early = askUnits();
  early.coming.catch(() => {});
  return early;
}

/** Fetches the checklists ahead. What was sent before the fetch began is part of it, and is no longer kept beside it. */
async function fetchUnits(force, early) {
  const before = await store.value("fetched");
  if (!force && before && Date.now() - before.at < FETCH_EVERY_MS) return;
  say({ fetching: true });
  try {
    const { began, coming } = early ?? askUnits();
    const answer = await coming;
    await store.write(async ({ units, ops, photos, kept }) => {
      const waiting = new Set();
      for (const op of await ops.getAll()) {
        if (op.state === "sent" && op.sent_at <= began) {
          const picture = op.kind === "photo" && (await photos.get(op.id));
          if (!picture || picture.state === "sent") {
            await ops.delete(op.id);
            if (picture) await photos.delete(op.id);
            continue;
          }
        }
        waiting.add(op.unit);
      }
      const listed = new Set(answer.units.map((one) => one.unit.id));
      for (const id of await units.getAllKeys()) {
        if (listed.has(id)) continue;
        if (waiting.has(id)) await units.put({ ...(await units.get(id)), isListed: false });
        else await units.delete(id);
      }
      for (const [order, one] of answer.units.entries()) await units.put({ ...one, id: one.unit.id, order, isListed: true, fetched_at: answer.now });
      await kept.put({ at: began, now: answer.now }, "fetched");
      await kept.put(answer.measures, "measures");
    });
  } finally {
    say({ fetching: false });
  }
}

/** Whether everything here was sent a while ago. */
async function isQuiet() {
  const ops = await store.ops();
  return ops.length > 0 && ops.every((op) => op.state === "sent" && Date.now() - op.sent_at > QUIET_MS);
}

let wait = LEAST_WAIT_MS;
let timer = 0;
let asked = false;
let wantsFetch = true;

function again(after) {
  clearTimeout(timer);
  timer = setTimeout(() => void send(), after);
}

/** Does it unless another tab, or a page that was only just left, is at it; answers whether it was done here. */
async function alone(work) {
  if (!navigator.locks) return work().then(() => true);
  return navigator.locks.request("anglestop.send", { ifAvailable: true }, (lock) => (lock ? work() : look()).then(() => Boolean(lock)));
}

/** Another tab is sending: here it is only found out how the line is. */
async function look() {
  try {
    await session();
  } catch (error) {
    say(error instanceof SignedOut ? { state: "signed_out", session: null } : { state: "silent" });
  }
}

async function round() {
  say({ sending: true });
  try {
    const early = await askEarly();
    const found = await session();
    if (!found) return;
    await sendOps(found.csrf);
    await sendPhotos(found.csrf);
    await fetchUnits(wantsFetch || (await isQuiet()), early);
    wantsFetch = false;
    wait = LEAST_WAIT_MS;
  } catch (error) {
    checked = 0;
    if (error instanceof SignedOut) say({ state: "signed_out", session: null });
    else say({ state: "silent", failure: String(error.message ?? error) });
    wait = Math.min(wait * 2, MOST_WAIT_MS);
  } finally {
    say({ sending: false });
  }
}

/** Tries to send now; what can't be sent stays and is tried again, ever less often, and at once when the browser says that it is on line. */
export async function send({ fetch = false } = {}) {
  wantsFetch ||= fetch;
  if (asked) return;
  asked = true;
  let isDone = false;
  try {
    isDone = await alone(round);
  } finally {
    asked = false;
  }
  const { ops, photos } = await store.unsent();
  const waits = !isDone || ops.some((op) => op.state !== "attention" && !op.held) || photos > 0;
  again(waits ? wait : Math.max(wait, 30_000));
}

/** Something was done: it is sent soon. */
export function soon() {
  if (line.state === "silent") return;
  again(SOON_MS);
}

/** Begins to send and to fetch; answers when the first round is over. */
export function start() {
  addEventListener("online", () => {
    wait = LEAST_WAIT_MS;
    again(100);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") again(100);
  });
  return send();
}
