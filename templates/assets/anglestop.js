// Small conveniences only; every page works without this file.
// Counts ticked rows and answered checks, ticks a whole table, prints. It sends nothing and stores nothing.
"use strict";

function ticked(scope) {
  return scope.querySelectorAll(".pick input[name]:checked").length;
}

function countRows(form) {
  const count = form.querySelector("[data-count]");
  if (count) {
    const n = ticked(form);
    count.textContent = n === 0 ? count.dataset.none : count.dataset.some.replace("#", n);
  }
}

function countAnswers(form) {
  const asks = form.querySelectorAll(".ask");
  const answered = Array.from(asks).filter((ask) => {
    const fixture = ask.closest(".fixture");
    const reading = ask.querySelector(".with-unit input");
    if (ask.querySelector(".answer input:checked") || (reading && reading.value.trim() !== "")) return true;
    return !reading && fixture && fixture.querySelector(".all-pass input:checked");
  }).length;
  // What was answered before and is no longer asked counts as well.
  const before = Number(form.dataset.before || 0);
  document.querySelectorAll("[data-answered]").forEach((place) => {
    // How it is said stands beside it, with a mark for each number.
    place.textContent = place.dataset.answered.replace("##", before + asks.length).replace("#", before + answered);
  });
  const thread = document.querySelector("progress[data-thread]");
  if (thread) {
    thread.max = before + asks.length;
    thread.value = before + answered;
  }
}

document.addEventListener("change", (event) => {
  const form = event.target.closest("form");
  if (!form) return;
  if (event.target.matches("[data-pick-all]")) {
    const scope = event.target.closest("tbody") || form;
    scope.querySelectorAll(".pick input[name]").forEach((box) => { box.checked = event.target.checked; });
  }
  if (form.querySelector(".pick")) countRows(form);
  if (form.querySelector(".ask")) countAnswers(form);
});

// What takes a while says so; coming back to the page takes the word away again.
document.addEventListener("submit", (event) => {
  event.target.querySelectorAll("[data-busy]").forEach((note) => { note.hidden = false; });
});
window.addEventListener("pageshow", () => {
  document.querySelectorAll("[data-busy]").forEach((note) => { note.hidden = true; });
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});

document.querySelectorAll("[data-script]").forEach((place) => { place.hidden = false; });
document.querySelectorAll("form").forEach((form) => {
  if (form.querySelector(".pick")) countRows(form);
  if (form.querySelector(".ask")) countAnswers(form);
});
