// Keys, the lines that other devices enter, clocks, and word when something was not saved.
"use strict";

const touch = () => document.getElementById("out-of-touch");
function alarm(words) { const bar = touch(); if (bar) bar.textContent = words; }

// -- arrow keys turn the cards, as the two big touches do
addEventListener("keydown", (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (event.target.closest("input, select, textarea, summary, [contenteditable]")) return;
  const rel = { ArrowRight: "next", PageDown: "next", ArrowLeft: "prev", PageUp: "prev" }[event.key];
  const link = rel && document.querySelector(`.walk a[rel="${rel}"]`);
  if (link) { event.preventDefault(); link.click(); }
});

// -- what others enter: the server tells the last row of the log, the page asks for what shows it
let source = null;
function listen() {
  if (source || document.hidden || !document.body.dataset.row) return;
  source = new EventSource("/events");
  source.onmessage = (event) => {
    alarm("");
    if (event.data === document.body.dataset.row) return;
    document.body.dataset.row = event.data;
    document.body.dispatchEvent(new CustomEvent("log-changed"));
  };
  source.onerror = () => alarm(document.body.dataset.lost);
}
function deafen() { if (source) { source.close(); source = null; } }
addEventListener("visibilitychange", () => (document.hidden ? deafen() : listen()));
addEventListener("pagehide", deafen);
addEventListener("pageshow", listen);

for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError"]) {
  addEventListener(name, () => alarm(document.body.dataset.unsaved));
}
addEventListener("htmx:afterRequest", (event) => { if (event.detail.successful) alarm(""); });

// -- clocks: seconds still to go, or gone by
function shown(seconds) {
  const whole = Math.max(0, Math.round(seconds));
  const part = (n) => String(n).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  return (hours ? `${hours}:` : "") + `${part(Math.floor(whole / 60) % 60)}:${part(whole % 60)}`;
}
function tick() {
  for (const clock of document.querySelectorAll("[data-until]")) {
    const left = (Date.parse(clock.dataset.until) - Date.now()) / 1000;
    clock.textContent = left > 0 ? shown(left) : clock.dataset.over;
    if (left <= 0 && left > -1.5 && navigator.vibrate) navigator.vibrate([400, 200, 400]);
  }
  for (const clock of document.querySelectorAll("[data-since]")) {
    clock.textContent = shown((Date.now() - Date.parse(clock.dataset.since)) / 1000);
  }
}
setInterval(tick, 1000);
addEventListener("htmx:afterSettle", tick);

addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) print();
});
addEventListener("DOMContentLoaded", () => { tick(); listen(); });
