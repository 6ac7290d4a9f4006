// What a technician does, as ops that are kept on this phone before any screen says so. An op carries what is sent (`sent`) and what the
// checklist on this phone needs. Until it is sent it can be taken back; afterwards the item is answered again.
import * as store from "./store.js";
import { newId, sha256 } from "./ids.js";
import { scaled } from "./photo.js";
import { soon } from "./send.js";

/** How long an answer whose note is being written waits for it before it is sent all the same. */
const HELD_MS = 15 * 60_000;

function made(unit, kind, wire, more = {}) {
  const id = newId();
  const at = new Date().toISOString();
  return { id, unit: unit?.id ?? null, at, kind, state: "here", sentence: "", fetched_at: unit?.fetched_at ?? null, sent: { id, at, kind, ...wire }, ...wire, ...more };
}

async function put(list) {
  await store.write(async ({ ops }) => {
    for (const op of list) await ops.put(op);
  });
  soon();
  return list;
}

function answerOp(unit, item, { outcome, reading = "", reason = "", why = "", note = "", detail = null, said }, held) {
  const wire = {
    turnover: unit.turnover?.id ?? null, visit: unit.visit?.id ?? null, stage: item.stage, fixture: item.fixture, part: item.part, check: item.check,
    version: item.version, outcome: reading === "" ? outcome : "", reading, reason, why, note, detail,
  };
  // A reading is judged by the server; what this phone makes of it is for its own screens.
  return made(unit, "answer", wire, { outcome, said, title: item.title, place: unit.places[item.place]?.label ?? "", ...(held ? { held: Date.now() } : {}) });
}

/** Keeps an answer. `held`: it waits for its note and photo before it is sent. */
export async function answer(unit, item, given, held = false) {
  return (await put([answerOp(unit, item, given, held)]))[0];
}

/** Passes several items at once, each with an answer of its own. */
export async function passAll(unit, items) {
  return put(items.map((item) => answerOp(unit, item, { outcome: "pass", said: item.answer.pass })));
}

/** Writes the note of an answer; one that is on its way already is answered again with it. Answers with the id of the op that carries it. */
export async function note(id, text) {
  const { op, isNew } = await store.write(async ({ ops }) => {
    const there = await ops.get(id);
    if (!there || there.note === text) return { op: there, isNew: false };
    const isNew = there.state !== "here";
    const next = isNew ? { ...there, ...again(), state: "here", held: undefined } : { ...there };
    next.note = text;
    next.sent = { ...next.sent, id: next.id, at: next.at, note: text };
    await ops.put(next);
    return { op: next, isNew };
  });
  if (isNew) soon();
  return op?.id ?? id;
}

const again = () => ({ id: newId(), at: new Date().toISOString() });

/** Lets an answer go that waited for its note. */
export async function release(id) {
  await store.write(async ({ ops }) => {
    const op = await ops.get(id);
    if (op?.held) await ops.put({ ...op, held: undefined });
  });
  soon();
}

/** Lets go what was held when a page was closed over it. */
export async function releaseOld(age = HELD_MS) {
  await store.write(async ({ ops }) => {
    for (const op of await ops.getAll()) if (op.held && Date.now() - op.held >= age) await ops.put({ ...op, held: undefined });
  });
}

/** Takes back what was not sent yet, with its photos; false when it is on its way or gone. */
export async function undo(ids) {
  return store.write(async ({ ops, photos }) => {
    const found = await Promise.all(ids.map((id) => ops.get(id)));
    if (found.some((op) => !op || op.state !== "here")) return false;
    for (const op of found) {
      for (const other of await ops.index("unit").getAll(op.unit)) {
        if (other.kind === "photo" && other.of === op.id && other.state === "here") {
          await ops.delete(other.id);
          await photos.delete(other.id);
        }
      }
      await ops.delete(op.id);
    }
    return true;
  });
}

/** Keeps a photo of what an answer saw: scaled down here, announced after the answer, sent after it. */
export async function addPhoto(unit, of, file) {
  const blob = await scaled(file);
  const sum = await sha256(await blob.arrayBuffer());
  const op = made(unit, "photo", { of, sha256: sum, bytes: blob.size });
  await store.write(async ({ ops, photos }) => {
    await ops.put(op);
    await photos.put({ id: op.id, unit: op.unit, of, blob, bytes: blob.size, received: 0, state: "here" });
  });
  soon();
  return op;
}

export const repaired = (unit, one, { parts, minutes, note: text }) =>
  put([made(unit, "repaired", { deficiency: one.deficiency, of: one.deficiency === null ? one.of : null, parts, minutes, note: text })]);

export const word = (unit, matter, outcome, reason, text) =>
  put([made(unit, "word", { deficiency: matter.deficiency, outcome, reason, note: text })]);

export const advance = (unit, to) => put([made(unit, "advance", { turnover: unit.turnover.id, to })]);

export const close = (unit, name, signature) => put([made(unit, "close", { turnover: unit.turnover.id, name, signature })]);

export const visitDone = (unit) => put([made(unit, "visit_done", { visit: unit.visit.id })]);

export const noAccess = (unit, reason, text) => put([made(unit, "no_access", { visit: unit.visit.id, reason, text })]);

export const report = (unit, place, title, text) => put([made(unit, "report", { place, title, severity: "", note: text })]);

export const urgent = (unit, emergency, building, text) => put([made(unit, "urgent", { emergency, building, note: text })]);

/** Takes an op out of the list once somebody has read why it could not be taken. */
export async function noted(id) {
  await store.write(({ ops }) => ops.delete(id));
}
