// The words of the screens, from the message catalogues: the person's language, and English where it lacks one. Dates and times as that
// language reads them, on the building's clock.
import "./library/fluent.js";
import * as store from "./store.js";

const { FluentBundle, FluentResource } = globalThis.FluentBundle;

const FALLBACK = "en";
let language = FALLBACK;
let bundles = [];

async function fetched(tag) {
  const response = await fetch(`/phone/words/${tag}.ftl`);
  if (!response.ok) throw new Error(String(response.status));
  const text = await response.text();
  if (text !== (await store.value(`words.${tag}`))) void store.keep(`words.${tag}`, text).catch((error) => console.warn("words not kept", error));
  return text;
}

/** The words that are here; those of a newer server are taken up at the next start. */
async function catalogue(tag) {
  const here = await store.value(`words.${tag}`);
  const coming = fetched(tag).catch(() => here ?? "");
  const bundle = new FluentBundle(tag, { useIsolating: false });
  bundle.addResource(new FluentResource(here ?? (await coming)));
  return bundle;
}

/** Loads the words of a language; off line those that were loaded before. */
export async function speak(tag) {
  language = tag || FALLBACK;
  bundles = await Promise.all([...new Set([language, FALLBACK])].map(catalogue));
  document.documentElement.lang = language;
}

/** The message of a key, with its values. */
export function t(key, values) {
  for (const bundle of bundles) {
    const message = bundle.getMessage(key);
    if (message?.value) return bundle.formatPattern(message.value, values);
  }
  return key;
}

const inZone = (zone, options) => new Intl.DateTimeFormat(language === "en" ? "en-GB" : language, { timeZone: zone, ...options });

/** `Tue 3 Feb`, with the year when it is another one. */
export function day(date, today) {
  const year = today && date.slice(0, 4) !== today.slice(0, 4) ? { year: "numeric" } : {};
  return inZone("UTC", { weekday: "short", day: "numeric", month: "short", ...year }).format(new Date(`${date}T12:00:00Z`)).replaceAll(",", "");
}

/** `14:05` on the building's clock; without a zone, on this phone's. */
export const clock = (instant, zone) => inZone(zone, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(new Date(instant));
