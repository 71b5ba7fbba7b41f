"use strict";
/* A finger or a mouse signs in a field of 600 by 200; what is kept is one SVG path. Its form sends the path under the
   name that the field says; without script there is the tick beside it. A signature is for the list above it: when
   that list changes, it is taken away again. */

const signature = {
  WIDE: 600, HIGH: 200, LEAST: 3, MOST: 18000,

  start(root) {
    for (const pad of root.querySelectorAll("[data-sign]")) this.ready(pad);
  },

  ready(pad) {
    const field = pad.querySelector("svg"), path = field.querySelector(".signing-ink"), form = pad.closest("form");
    const pen = { last: null, path, pad, signed: (path.getAttribute("d") || "") !== "" };
    pad.hidden = false;
    field.addEventListener("pointerdown", (event) => this.down(pen, field, event));
    field.addEventListener("pointermove", (event) => this.move(pen, field, event));
    for (const end of ["pointerup", "pointercancel"]) field.addEventListener(end, () => { pen.last = null; });
    pad.querySelector("[data-sign-clear]").addEventListener("click", () => this.clear(pen, "empty"));
    form.addEventListener("formdata", (event) => {
      event.formData.set(pad.dataset.sign, path.getAttribute("d") || "");
    });
    form.addEventListener("change", (event) => {
      if (event.target.closest("[data-signed-for]") && pen.signed) this.clear(pen, "changed");
    });
    this.say(pen, pen.signed ? "signed" : "empty");
  },

  at(field, event) {
    const box = field.getBoundingClientRect();
    const held = (value, most) => Math.round(Math.min(Math.max(value, 0), most) * 10) / 10;
    return [held(((event.clientX - box.left) / box.width) * this.WIDE, this.WIDE),
      held(((event.clientY - box.top) / box.height) * this.HIGH, this.HIGH)];
  },
  down(pen, field, event) {
    if (event.button !== 0 || !event.isPrimary) return;
    event.preventDefault();
    field.setPointerCapture(event.pointerId);
    pen.last = this.at(field, event);
    this.add(pen, `M${pen.last}L${pen.last}`);
  },
  move(pen, field, event) {
    if (!pen.last || !event.isPrimary) return;
    for (const one of event.getCoalescedEvents?.() ?? [event]) {
      const to = this.at(field, one);
      if (Math.hypot(to[0] - pen.last[0], to[1] - pen.last[1]) < this.LEAST) continue;
      this.add(pen, `L${to}`);
      pen.last = to;
    }
  },
  add(pen, step) {
    const drawn = pen.path.getAttribute("d") || "";
    if (drawn.length + step.length > this.MOST) return;
    pen.path.setAttribute("d", drawn + step);
    pen.signed = true;
    this.say(pen, "signed");
  },
  clear(pen, why) {
    pen.path.setAttribute("d", "");
    pen.signed = false;
    pen.last = null;
    this.say(pen, why);
  },

  /* The words stand in the page; here only which of them is shown. */
  say(pen, which) {
    for (const words of pen.pad.querySelectorAll("[data-sign-words]")) {
      words.hidden = words.dataset.signWords !== which;
    }
    pen.pad.querySelector("[data-sign-clear]").disabled = which !== "signed";
  },
};

signature.start(document);
