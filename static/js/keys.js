"use strict";
/* The keypad, and buttons that take one press at a time. */

/* Puts a key's sign where the cursor is, then tells the field that it was typed into. */
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

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-keypad] button");
  if (button) keypads.press(button);
});
/* A key takes no focus, so the field keeps its cursor and no system pad comes up. */
document.addEventListener("pointerdown", (event) => {
  if (event.target.closest("[data-keypad] button")) event.preventDefault();
});
window.addEventListener("pageshow", () => presses.release());
document.addEventListener("htmx:afterSwap", (event) => keypads.show(event.target));
