// Readings as people type them: "14 7/8 in", "2 ft 3 in", "37,8 cm", "1 min 20", "1:20". Says what a reading is in the base unit of its
// quantity, exactly, whether it passes, and what was probably meant when it is far from what can be. The server judges again; its word counts.

/** An exact number: [numerator, denominator] as BigInt, denominator above zero. */
const ratio = (n, d = 1n) => (d < 0n ? [-n, -d] : [n, d]);
const plus = (a, b) => ratio(a[0] * b[1] + b[0] * a[1], a[1] * b[1]);
const times = (a, b) => ratio(a[0] * b[0], a[1] * b[1]);
const compare = (a, b) => {
  const left = a[0] * b[1];
  const right = b[0] * a[1];
  return left < right ? -1 : left > right ? 1 : 0;
};
export const exact = ([n, d]) => ratio(BigInt(n), BigInt(d));

const FRACTIONS = { "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "\u2044": "/", "\u2212": "-" };
const LONGEST = 40;
const MOST_DIGITS = 12;

/** Why a text is no reading. `key` is a message of the catalogue. */
export class Unreadable extends Error {
  constructor(key, given) {
    super(key);
    this.key = key;
    this.given = given;
  }
}

function decimal(whole, decimals, given) {
  if (whole.length + decimals.length > MOST_DIGITS) throw new Unreadable("reading-too-large", given);
  return ratio(BigInt(whole + decimals || "0"), 10n ** BigInt(decimals.length));
}

function fraction(text, given) {
  const [n, d] = text.split("/");
  if (BigInt(d) === 0n) throw new Unreadable("reading-unreadable", given);
  return ratio(decimal(n, "", given)[0], decimal(d, "", given)[0]);
}

const NUMBER = /^(\d+)\s*\/\s*(\d+)|^(\d*)([.,])(\d+)|^(\d+)(?:(?:\s+|-)(\d+\/\d+))?/;

/** Numbers and the words after them, in order. */
function terms(given) {
  const text = Array.from(given.trim(), (c) => FRACTIONS[c] ?? c).join("").trim();
  if (text === "" || text.length > LONGEST) throw new Unreadable("reading-unreadable", given);
  const found = [];
  let rest = text;
  while (rest !== "") {
    const negative = rest.startsWith("-");
    if (negative) rest = rest.slice(1);
    const match = NUMBER.exec(rest);
    if (!match) throw new Unreadable("reading-unreadable", given);
    let value;
    if (match[1] !== undefined) value = fraction(`${match[1]}/${match[2]}`, given);
    else if (match[4] !== undefined) {
      if (match[4] === "," && match[5].length === 3 && match[3] !== "0") throw new Unreadable("reading-unreadable", given);
      value = decimal(match[3], match[5], given);
    } else {
      value = decimal(match[6], "", given);
      if (match[7] !== undefined) value = plus(value, fraction(match[7], given));
    }
    rest = rest.slice(match[0].length).trimStart();
    const word = /^(?:ft3|m3)$|^[^\d-]*/.exec(rest)[0];
    rest = rest.slice(word.length);
    found.push({ value: negative ? ratio(-value[0], value[1]) : value, word: word.trim() });
    rest = rest.trimStart();
  }
  return found;
}

/** The unit that a word names among those of a quantity; `undefined` when it names none. */
function named(word, units) {
  const bare = word.replace(/\.$/, "").toLowerCase();
  return Object.values(units).find((unit) => unit.spellings.includes(bare));
}

/**
 * The value in the base unit of the quantity. `units` are those of the quantity: { code: { factor, offset, spellings, below } }, where `below`
 * is the unit that a second number is in ("2 ft 3", "1 min 20"); `bare` is the code that a number alone is in.
 */
export function read(given, bare, units, quantity) {
  const clock = quantity === "time" && /^\s*(\d+):([0-5]\d)\s*$/.exec(given);
  const text = clock ? `${clock[1]} min ${clock[2]} s` : given;
  let sum = null;
  let last = null;
  for (const { value, word } of terms(text)) {
    const unit = word === "" ? units[last === null ? bare : last.below] : named(word, units);
    if (!unit || (last !== null && units[last.below] !== unit)) throw new Unreadable("reading-unit", given);
    if (value[0] < 0n && quantity !== "temperature") throw new Unreadable("reading-negative", given);
    const amount = times(plus(value, exact(unit.offset)), exact(unit.factor));
    sum = sum === null ? amount : plus(sum, amount);
    last = unit;
  }
  if (sum === null) throw new Unreadable("reading-unreadable", given);
  return sum;
}

/** Whether a value keeps every limit, and the first that it breaks. */
export function judge(value, limits) {
  const broken = limits.find((limit) => {
    const order = compare(value, exact(limit.exact));
    return limit.bound === "at_least" ? order < 0 : order > 0;
  });
  return { passes: broken === undefined, broken };
}

/** Whether a value lies outside of what can be. */
export function isUnlikely(value, likely) {
  return Boolean(likely) && (compare(value, exact(likely[0])) < 0 || compare(value, exact(likely[1])) > 0);
}

/** What was probably typed instead, with the point one place further left or right, or the last figure as a fraction; null when nothing fits. */
export function meant(given, bare, units, quantity, likely) {
  const match = /^(\D*)(\d+)(?:[.,](\d+))?(.*)$/.exec(given.trim());
  if (!match) return null;
  const [, before, whole, decimals = "", after] = match;
  const shifted = [
    whole.length > 1 && `${before}${whole.slice(0, -1)}.${whole.slice(-1)}${decimals}${after}`,
    whole.length > 2 && `${before}${whole.slice(0, -2)}.${whole.slice(-2)}${decimals}${after}`,
    decimals !== "" && `${before}${whole}${decimals}${after}`,
    decimals === "" && `${before}${whole}0${after}`,
  ];
  return (
    shifted.filter(Boolean).find((text) => {
      try {
        return !isUnlikely(read(text, bare, units, quantity), likely);
      } catch {
        return false;
      }
    }) ?? null
  );
}
