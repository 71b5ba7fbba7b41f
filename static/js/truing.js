"use strict";
/* The boxes of the chuck sheet: after two tenths, a space or a stroke the next box is on; without script each is
   tapped. */

const boxes = {
  all: () => Array.from(document.querySelectorAll("[data-box]")),
  at: 0,
  pad: null,

  start() {
    this.pad = document.querySelector("[data-keypad=f-r0]");
    const isCoarse = matchMedia("(pointer: coarse)").matches;
    for (const box of document.querySelectorAll("[data-box], [data-also]")) if (isCoarse) box.inputMode = "none";
    this.turn(Math.max(0, this.all().findIndex((box) => !box.value)));
  },
  /* Which box the keys write into. */
  turn(at) {
    const all = this.all();
    this.at = at;
    all.forEach((box, i) => box.parentElement.toggleAttribute("data-now", i === at));
    if (this.pad) this.pad.dataset.keypad = all[at].id;
  },
  go(at) {
    if (at < 0 || at >= this.all().length) return;
    this.turn(at);
    this.all()[at].focus({ preventScroll: true });
  },
  isFull(box) {
    const reads = document.querySelector("[name=reads]:checked")?.value;
    return box.value === "/" || (reads === "tenth" && /^[+-]?\d\d$/.test(box.value));
  },
  typed(box) {
    const isSpaced = box.value.endsWith(" ");
    if (isSpaced) box.value = box.value.trim();
    if (isSpaced || this.isFull(box)) this.go(this.all().indexOf(box) + 1);
  },
};

document.addEventListener("input", (event) => {
  if ("box" in event.target.dataset && !forms.quiet && event.inputType !== "deleteContentBackward") {
    boxes.typed(event.target);
  }
});
document.addEventListener("focusin", (event) => {
  if ("box" in event.target.dataset) boxes.turn(boxes.all().indexOf(event.target));
  if ("also" in event.target.dataset && boxes.pad) boxes.pad.dataset.keypad = event.target.id;
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !("box" in event.target.dataset)) return;
  event.preventDefault();
  boxes.go(boxes.at + 1);
});
/* A thumb cannot set a cursor between two figures: it stands at the end. */
document.addEventListener("click", (event) => {
  const box = event.target;
  if ("box" in box.dataset) box.setSelectionRange(box.value.length, box.value.length);
});
/* Taking back in an empty box goes on in the one before. */
document.addEventListener("click", (event) => {
  const isBack = event.target.closest("[data-keypad] [data-key=back]");
  if (isBack && boxes.at > 0 && !boxes.all()[boxes.at].value) boxes.go(boxes.at - 1);
}, true);
/* After what was kept is back in the boxes: the next empty one is on. */
document.addEventListener("DOMContentLoaded", () => boxes.start());
