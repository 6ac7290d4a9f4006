// The drawing of a fixture with its leak points, as the server drew it. It is parsed as SVG and only its shapes and words are taken over.
import { html, nothing } from "./library/lit-html.js";
import { t } from "./words.js";

const ALLOWED = new Set(["svg", "g", "path", "circle", "rect", "line", "polyline", "polygon", "text", "tspan", "title", "desc", "defs", "pattern"]);
const known = new Map();

function safe(text) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  const bad = parsed.nodeName !== "svg" || [parsed, ...parsed.querySelectorAll("*")].some((node) => !ALLOWED.has(node.nodeName) || [...node.attributes].some((one) => /^on|href$/i.test(one.name)));
  return bad ? null : document.importNode(parsed, true);
}

/** A drawing beneath a summary, open or folded away. */
export function drawn(place, isOpen = false) {
  if (!place?.drawing) return nothing;
  if (!known.has(place.drawing)) known.set(place.drawing, safe(place.drawing));
  const node = known.get(place.drawing);
  if (!node) return nothing;
  return html`<details class="more-of" ?open=${isOpen}><summary>${t("leak-points")}</summary><figure>${node.cloneNode(true)}<figcaption>${place.points}</figcaption></figure></details>`;
}

/** The points of a drawing as choices: "1 supply connection". */
export const pointsOf = (place) => (place?.points ? place.points.split(", ").map((words) => words.trim()) : []);
