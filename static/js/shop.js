"use strict";
/* Three small helps; each page works without them. No answer is ever worked out here. */

/* The keypad: puts a key's sign where the cursor is, then tells the field that it was typed into. */
const keypads = {
  show(root) {
    for (const pad of root.querySelectorAll("[data-keypad]")) {
      pad.hidden = false;
      const field = document.getElementById(pad.dataset.keypad);
      if (field && matchMedia("(pointer: coarse)").matches) field.inputMode = "none";
    }
  },
  sign(key, field, isUnit) {
    const before = field.value.slice(0, field.selectionStart ?? field.value.length);
    return isUnit && before && !before.endsWith(" ") ? " " + key : key;
  },
  press(button) {
    const field = document.getElementById(button.closest("[data-keypad]").dataset.keypad);
    if (!field) return;
    const start = field.selectionStart ?? field.value.length;
    const end = field.selectionEnd ?? start;
    if (button.dataset.key === "back") {
      field.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    } else {
      field.setRangeText(this.sign(button.dataset.key, field, "unit" in button.dataset), start, end, "end");
    }
    field.dispatchEvent(new Event("input", { bubbles: true }));
  },
};

/* A second press of the same button while the first is on its way does nothing. */
const presses = {
  hold(form) {
    setTimeout(() => {
      for (const button of form.querySelectorAll("button[type=submit]")) button.disabled = true;
    });
  },
  release() {
    for (const button of document.querySelectorAll("button[type=submit]:disabled")) button.disabled = false;
  },
};

/* Typed words outlive a dead battery: kept in this browser until the server says they are saved. */
const keeping = {
  key: (name) => "typed:" + name,
  skips: (field) => !field.name || field.type === "hidden" || field.type === "password" || field.type === "file",
  read(form) {
    const kept = [];
    for (const field of form.elements) {
      if (this.skips(field)) continue;
      const isMark = field.type === "checkbox" || field.type === "radio";
      kept.push([field.name, isMark ? field.value : null, isMark ? field.checked : field.value]);
    }
    return kept;
  },
  keep(form) {
    try {
      localStorage.setItem(this.key(form.dataset.keep), JSON.stringify(this.read(form)));
    } catch { /* a full or closed store loses only the help */ }
  },
  forget(name) {
    try { localStorage.removeItem(this.key(name)); } catch { /* as above */ }
  },
  kept(name) {
    try { return JSON.parse(localStorage.getItem(this.key(name)) ?? "null"); } catch { return null; }
  },
  put(form, kept) {
    let changed = false;
    const rest = Array.from(form.elements).filter((field) => !this.skips(field));
    for (const [name, value, state] of kept) {
      const at = rest.findIndex((field) => field.name === name && (value === null || field.value === value));
      if (at < 0) continue;
      const [field] = rest.splice(at, 1);
      const what = value === null ? "value" : "checked";
      if (field[what] === state) continue;
      field[what] = state;
      changed = true;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
    return changed;
  },
  tell(form) {
    const strip = document.getElementById("notice");
    if (!strip) return;
    const line = document.createElement("p");
    line.className = "notice notice--look";
    line.textContent = "What you typed here before is back. It is not saved yet. ";
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Forget it";
    button.addEventListener("click", () => { this.forget(form.dataset.keep); form.reset(); line.remove(); });
    line.append(button);
    strip.append(line);
  },
  start() {
    const saved = document.querySelector("meta[name=saved]");
    if (saved) this.forget(saved.content);
    for (const form of document.querySelectorAll("form[data-keep]")) {
      const kept = this.kept(form.dataset.keep);
      if (kept && this.put(form, kept)) this.tell(form);
    }
  },
};

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-keypad] button");
  if (button) keypads.press(button);
});
/* A key takes no focus, so the field keeps its cursor and no system pad comes up. */
document.addEventListener("pointerdown", (event) => {
  if (event.target.closest("[data-keypad] button")) event.preventDefault();
});
document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (form && "keep" in form.dataset) keeping.keep(form);
});
document.addEventListener("submit", (event) => {
  if (!event.defaultPrevented && event.target.method === "post") presses.hold(event.target);
});
window.addEventListener("pageshow", () => presses.release());
document.addEventListener("htmx:afterSwap", (event) => keypads.show(event.target));
keypads.show(document);
keeping.start();
