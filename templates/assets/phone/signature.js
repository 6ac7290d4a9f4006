// A signature drawn with a finger, kept as lines in a box of 1000 by 300, so that it prints at any size and weighs little.
import { html } from "./library/lit-html.js";
import { t } from "./words.js";

const WIDTH = 1000;
const HEIGHT = 300;
const LONGEST = 18_000;

let strokes = [];

function point(event) {
  const box = event.currentTarget.getBoundingClientRect();
  const within = (value, most) => Math.max(0, Math.min(most, Math.round(value)));
  return [within(((event.clientX - box.left) / box.width) * WIDTH, WIDTH), within(((event.clientY - box.top) / box.height) * HEIGHT, HEIGHT)];
}

const path = () => strokes.map((stroke) => stroke.map(([x, y], at) => `${at === 0 ? "M" : "L"}${x} ${y}`).join("")).join("");

function show(svg) {
  svg.querySelector("path").setAttribute("d", path());
}

function down(event) {
  event.preventDefault();
  event.currentTarget.setPointerCapture(event.pointerId);
  strokes.push([point(event)]);
}

function move(event) {
  if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
  const stroke = strokes.at(-1);
  const [x, y] = point(event);
  const [fromX, fromY] = stroke.at(-1);
  if (Math.hypot(x - fromX, y - fromY) < 4 || path().length > LONGEST) return;
  stroke.push([x, y]);
  show(event.currentTarget);
}

/** The signature as an SVG path; empty when nothing but a dot was drawn. */
export function drawnSignature() {
  const length = strokes.flatMap((stroke) => stroke.slice(1).map(([x, y], at) => Math.hypot(x - stroke[at][0], y - stroke[at][1]))).reduce((sum, one) => sum + one, 0);
  return length < 60 ? "" : path();
}

export function clearSignature() {
  strokes = [];
  const svg = document.querySelector("#signature");
  if (svg) show(svg);
}

export function signature() {
  return html`<svg id="signature" class="signature" viewBox=${`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby="sign-label" aria-description=${t("sign-instead")} @pointerdown=${down} @pointermove=${move}><path d=${path()}></path></svg>`;
}
