// A unit's checklist as it stands on this phone: what was fetched, with what was done here laid over it. The rules are those of the server
// (which decides in the end): which item is answered, what a failure leaves to be re-checked, what keeps the next step back.

const STAGE_ASKS = { found: "found", repaired: "ready", ready: "move_in" };
const NEXT = { found: "repaired", repaired: "ready", ready: "close" };
const NEEDS = { repaired: ["found"], ready: ["found", "ready"], close: ["found", "ready", "move_in"] };
/** The rounds of a turnover, in their order. */
export const ROUNDS = ["found", "ready", "move_in"];
const GROUPS = ["look", "water", "measure"];

export const keyOf = (fixture, part, check, stage) => `${fixture}.${part}.${check}.${stage}`;
const placeKey = (one) => `${one.fixture}.${one.part}.${one.check}`;

/** The latest of what was done at one place and check on this phone, whatever the stage. */
function failures(unit, answers) {
  const standing = new Map();
  for (const one of unit.standing) {
    standing.set(one.recheck === "" ? `no.${one.deficiency}` : one.recheck.replace(/\.ready$/, ""), { ...one, of: null });
  }
  const items = new Map(unit.items.map((item) => [`${placeKey(item)}`, item]));
  for (const op of answers) {
    if (op.kind === "answer") {
      const place = placeKey(op);
      const known = standing.get(place);
      if (op.outcome === "pass") standing.delete(place);
      else if (op.outcome === "fail" && known) standing.set(place, { ...known, status: "open", failedAgain: true });
      else if (op.outcome === "fail" && items.has(place)) {
        const item = items.get(place);
        standing.set(place, {
          deficiency: null, of: op.id, title: `${item.title}${item.part_name ? ` · ${item.part_name}` : ""}: ${op.said}`, note: op.note, severity: item.severity, severity_name: item.severity_name, status: "open",
          is_waived: false, place: unit.places[item.place]?.label ?? "", recheck: keyOf(op.fixture, op.part, op.check, "ready"), repaired_at: null,
        });
      }
    } else if (op.kind === "repaired") {
      for (const [place, one] of standing) {
        const is = op.deficiency === null ? one.of === op.of : one.deficiency === op.deficiency;
        if (is) standing.set(place, { ...one, status: "repaired", repaired_at: op.at, repairedHere: true });
      }
    }
  }
  return standing;
}

/** The items with their answers, and those that a failure on this phone adds. */
function laidOver(unit, ops, standing) {
  const items = unit.items.map((item) => ({ ...item, answers: [] }));
  const byKey = new Map(items.map((item) => [item.key, item]));
  const add = (key, deficiency) => {
    const source = items.find((item) => `${placeKey(item)}.ready` === key);
    if (!source) return;
    const added = { ...source, key, stage: "ready", due: "", is_over: false, is_answered: false, last: null, answers: [], rechecks: deficiency ? [deficiency] : [], added: true };
    items.push(added);
    byKey.set(key, added);
  };
  if (unit.turnover) {
    for (const one of standing.values()) if (one.recheck && !byKey.has(one.recheck)) add(one.recheck, one.deficiency);
  }
  for (const op of ops) {
    if (op.kind !== "answer") continue;
    const key = keyOf(op.fixture, op.part, op.check, op.stage);
    // A re-check that passed here asks nothing more, but it was asked and is answered.
    if (!byKey.has(key) && op.stage === "ready") add(key, null);
    byKey.get(key)?.answers.push(op);
  }
  const repairs = new Map([...standing.values()].filter((one) => one.repairedHere).map((one) => [one.recheck, one.repaired_at]));
  for (const item of items) {
    const after = repairs.get(item.key);
    const counting = item.answers.filter((op) => after === undefined || op.at > after);
    item.isAnswered = (item.is_answered && after === undefined) || counting.length > 0;
    const here = item.answers.at(-1);
    item.seen = here ? { outcome: here.outcome, said: here.said, who: null, at: here.at, state: here.state, op: here } : item.last && { ...item.last, state: "fetched" };
  }
  return items;
}

/** Room by room, a dry look before water, water before measuring; in each the places. */
function walked(unit, items) {
  const rank = new Map();
  for (const place of unit.places) if (!rank.has(place.room)) rank.set(place.room, rank.size);
  const order = (item) => [rank.get(unit.places[item.place]?.room) ?? 99, GROUPS.indexOf(item.group), item.place];
  return items.map((item, at) => [order(item), at, item]).sort(([a, i], [b, j]) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2] || i - j).map(([, , item]) => item);
}

/** A stretch of the walk: what is looked at together, at one place. */
function stretches(unit, items) {
  const found = [];
  for (const item of items) {
    const before = found.at(-1);
    if (before && before.place === item.place && before.group === item.group) before.items.push(item);
    else found.push({ key: `${item.place}.${item.group}`, place: item.place, group: item.group, at: unit.places[item.place], items: [item] });
  }
  return found;
}

function reached(unit, ops) {
  let stage = unit.turnover?.stage ?? "";
  for (const op of ops) if (op.kind === "advance" && op.state !== "attention" && NEXT[stage] === op.to) stage = op.to;
  return stage;
}

/** The checklist of a unit with what was done on this phone. `ops` are those of the unit, in order. */
export function checklist(unit, ops) {
  const counted = ops.filter((op) => op.state !== "attention");
  const standing = failures(unit, counted);
  const all = walked(unit, laidOver(unit, counted, standing));
  const stage = reached(unit, ops);
  const part = unit.turnover ? STAGE_ASKS[stage] : "";
  const items = all.filter((item) => item.stage === part);
  const words = new Map(counted.filter((op) => op.kind === "word").map((op) => [op.deficiency, op]));
  const matters = unit.matters.map((one) => ({ ...one, isAnswered: one.is_answered || words.has(one.deficiency), word: words.get(one.deficiency) }));
  const closing = ops.findLast((op) => op.kind === "close");
  const done = ops.findLast((op) => op.kind === "visit_done" || op.kind === "no_access");
  const list = {
    unit, stage, part, items, all, matters, standing: [...standing.values()], stretches: stretches(unit, items),
    closing: closing ?? null, done: done ?? null,
    isClosed: Boolean(closing && closing.state !== "attention"),
    answered: items.filter((item) => item.isAnswered).length, asked: items.length,
    counts: Object.fromEntries(ROUNDS.map((name) => [name, count(all, matters, name)])),
  };
  list.missed = all.filter((item) => item.isAnswered && item.seen?.outcome === "not_checked");
  list.next = unit.turnover ? NEXT[stage] ?? null : null;
  list.blocks = list.next ? blocks(list) : [];
  return list;
}

function count(all, matters, part) {
  const of = all.filter((item) => item.stage === part);
  const more = part === "ready" ? matters : [];
  return { asked: of.length + more.length, answered: of.filter((item) => item.isAnswered).length + more.filter((one) => one.isAnswered).length };
}

/** What keeps the next step back: parts with unanswered items, and grave deficiencies. */
function blocks(list) {
  const unanswered = NEEDS[list.next]
    .map((part) => ({ kind: "unanswered", part, ...list.counts[part] }))
    .filter((one) => one.answered < one.asked)
    .map((one) => ({ ...one, left: one.asked - one.answered }));
  const grave = list.standing
    .filter((one) => one.severity === "life_threatening" || (one.severity === "severe" && !one.is_waived))
    .filter((one) => list.next !== "repaired" || one.status === "open")
    .map((one) => ({ kind: list.next === "repaired" ? "unrepaired" : "standing", deficiency: one }));
  return [...unanswered, ...grave];
}

/** What the walk leads to after an item or stretch: the next stretch with something unanswered, from there on and then from the start. */
export function following(list, key) {
  const open = (stretch) => stretch.items.some((item) => !item.isAnswered);
  const at = list.stretches.findIndex((stretch) => stretch.key === key);
  return list.stretches.slice(at + 1).find(open) ?? list.stretches.find(open) ?? null;
}
