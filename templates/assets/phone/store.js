// What is kept on this phone: checklists fetched ahead, what was done and not yet taken back by a later fetch, photos, and a few values.
// A write is on the disk before its promise answers. Nothing of residents, keys or cost ever comes here.
import { openDB } from "./library/idb.js";

const NAME = "anglestop";
const VERSION = 1;
const STORES = ["units", "ops", "photos", "kept"];

/** A browser that was killed while it made its store may not open it again before it is closed whole; then this page says so. */
const PATIENCE_MS = 10_000;

let opened = null;

function open() {
  opened ??= within(PATIENCE_MS, openDB(NAME, VERSION, {
    upgrade(db) {
      db.createObjectStore("units", { keyPath: "id" });
      db.createObjectStore("ops", { keyPath: "id" }).createIndex("unit", "unit");
      db.createObjectStore("photos", { keyPath: "id" }).createIndex("unit", "unit");
      db.createObjectStore("kept");
    },
    // Another tab has a newer page: let go, and take the new one up at the next look.
    blocking() {
      opened?.then((db) => db.close());
      opened = null;
    },
    terminated() {
      opened = null;
    },
  }));
  return opened;
}

function within(limit, promise) {
  const late = new Promise((_, refuse) => {
    setTimeout(() => refuse(new Error("the store does not open")), limit);
  });
  return Promise.race([promise, late]);
}

// A page that is left lets its store go, so that no page that the browser keeps for the way back holds it.
addEventListener("pagehide", () => {
  opened?.then((db) => db.close(), () => {});
  opened = null;
});

/** Other tabs of this browser hear of every change. */
const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel(NAME);
const listeners = new Set();
channel?.addEventListener("message", () => listeners.forEach((listener) => listener()));

export function onChange(listener) {
  listeners.add(listener);
}

function changed() {
  listeners.forEach((listener) => listener());
  channel?.postMessage("changed");
}

/** Does `work` with the stores in one transaction that is on the disk when this answers; throws `QuotaExceededError` when there is no room. */
export async function write(work) {
  const db = await open();
  const tx = db.transaction(STORES, "readwrite", { durability: "strict" });
  const stores = Object.fromEntries(STORES.map((name) => [name, tx.objectStore(name)]));
  let answer;
  try {
    answer = await work(stores);
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // It has ended already.
    }
    await tx.done.catch(() => {});
    throw error;
  }
  await tx.done;
  changed();
  return answer;
}

export async function value(key) {
  return (await open()).get("kept", key);
}

export async function keep(key, content) {
  await write(({ kept }) => kept.put(content, key));
}

export async function units() {
  return (await open()).getAll("units");
}

export async function unit(id) {
  return (await open()).get("units", id);
}

const inOrder = (a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1);

/** Everything that was done in a unit and is not yet part of what was fetched, in order. */
export async function opsOf(unitId) {
  return (await (await open()).getAllFromIndex("ops", "unit", unitId)).sort(inOrder);
}

export async function ops() {
  return (await (await open()).getAll("ops")).sort(inOrder);
}

export async function op(id) {
  return (await open()).get("ops", id);
}

export async function photosOf(unitId) {
  return (await open()).getAllFromIndex("photos", "unit", unitId);
}

export async function photos() {
  return (await open()).getAll("photos");
}

export async function photo(id) {
  return (await open()).get("photos", id);
}

/** How much is not yet sent: answers with their steps, and photos. */
export async function unsent() {
  const [all, pictures] = await Promise.all([ops(), photos()]);
  const waiting = all.filter((one) => one.state !== "sent");
  return {
    ops: waiting,
    answers: waiting.filter((one) => one.kind !== "photo").length,
    photos: pictures.filter((one) => one.state !== "sent").length,
  };
}

/** Forgets everything, for a sign-out. */
export async function clear() {
  await write(async (stores) => {
    for (const name of STORES) await stores[name].clear();
  });
}

/** Asks the browser to keep this when room grows short; whether it does is its own affair. */
export async function persist() {
  try {
    return (await navigator.storage?.persist?.()) ?? false;
  } catch {
    return false;
  }
}
