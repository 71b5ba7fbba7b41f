"use strict";
/* What is typed outlives a reload, a dead battery and hours without the shop's network: a draft of each form marked
   data-keep, under that form's own address and names, until the server says that it is saved. */

const clock = {
  /* "14:05", with the day where it is not today's. */
  words(at) {
    const then = new Date(at);
    const time = then.toTimeString().slice(0, 5);
    if (then.toDateString() === new Date().toDateString()) return time;
    return `${then.getDate()} ${then.toLocaleString("en", { month: "short" })} ${time}`;
  },
};

const forms = {
  OWN: ["once", "keep", "seen"],
  quiet: false,
  skips(field) {
    return !field.name || ["password", "submit", "button", "reset"].includes(field.type) || field.tagName === "FIELDSET"
      || field.tagName === "OUTPUT" || this.OWN.includes(field.name);
  },
  isMark: (field) => field.type === "checkbox" || field.type === "radio",
  fields: (form) => Array.from(form.elements).filter((field) => !forms.skips(field)),

  /* A form's fingerprint: its address, its fields in their order, and what it carries hidden, such as the unit or the
     phase. What was typed under another fingerprint means something else here. */
  fingerprint(form) {
    const names = this.fields(form).map((field) => {
      const value = field.type === "hidden" || this.isMark(field) ? "=" + field.value : "";
      return `${field.type} ${field.name}${value}`;
    });
    return [this.address(form), ...names].join("\n");
  },
  address: (form) => new URL(form.getAttribute("action") || location.href, location.href).pathname,

  read(form) {
    return this.fields(form).filter((field) => field.type !== "hidden" && field.type !== "file").map((field) => {
      return this.isMark(field) ? [field.name, field.checked, field.value] : [field.name, field.value];
    });
  },
  put(form, kept) {
    const fields = this.fields(form).filter((field) => field.type !== "hidden" && field.type !== "file");
    const changed = fields.filter((field, at) => {
      const what = this.isMark(field) ? "checked" : "value";
      if (field[what] === kept[at][1]) return false;
      field[what] = kept[at][1];
      return true;
    });
    this.quiet = true;
    for (const field of changed) this.told(field);
    this.quiet = false;
    return changed.length > 0;
  },
  differs(form, kept) {
    return JSON.stringify(this.read(form)) !== JSON.stringify(kept);
  },
  untouched(form) {
    return this.fields(form).every((field) => {
      if (field.type === "file") return field.files.length === 0;
      if (this.isMark(field)) return field.checked === field.defaultChecked;
      if (field.tagName === "SELECT") {
        const own = Array.from(field.options).findIndex((option) => option.defaultSelected);
        return field.selectedIndex === Math.max(own, 0);
      }
      return field.value === field.defaultValue;
    });
  },
  photos(form) {
    const inputs = this.fields(form).filter((field) => field.type === "file");
    return inputs.flatMap((input) => Array.from(input.files, (file) => [input.name, file]));
  },
  putPhotos(form, photos) {
    for (const input of this.fields(form).filter((field) => field.type === "file" && !field.files.length)) {
      const box = new DataTransfer();
      for (const [name, file] of photos) if (name === input.name) box.items.add(file);
      if (!box.files.length) continue;
      input.files = box.files;
      this.quiet = true;
      this.told(input);
      this.quiet = false;
    }
  },
  told(field) {
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  },

  /* What stands in the fields, in the words of their labels, for the person to read. */
  said(form) {
    const said = [];
    for (const field of this.fields(form)) {
      if (field.type === "hidden" || (this.isMark(field) && !field.checked)) continue;
      const label = field.labels?.[0]?.querySelector(".choice-words")?.firstChild ?? field.labels?.[0];
      const words = (label?.textContent ?? field.name).trim().replace(/\s+/g, " ");
      const group = field.closest("fieldset")?.querySelector("legend")?.textContent.trim();
      if (field.type === "file") said.push(...Array.from(field.files, (file) => [words, file.name]));
      else if (field.type === "checkbox") said.push([words, "yes"]);
      else if (field.type === "radio") said.push([group ?? field.name, words]);
      else if (field.tagName === "SELECT") said.push([words, field.selectedOptions[0]?.textContent.trim() ?? ""]);
      else if (field.value.trim()) said.push([words, field.value.trim()]);
    }
    return said;
  },
};

const drafts = {
  name: (keep) => "typed:" + keep,
  /* The hour of throwing away, written at once: the store drops photos only later, and a reload may come before. */
  gone: (keep) => "gone:" + keep,

  keep(form) {
    const keep = form.dataset.keep;
    if (forms.untouched(form) && !this.answered(form)) { this.forget(keep); return; }
    const draft = { names: forms.fingerprint(form), at: Date.now(), typed: forms.read(form), said: forms.said(form) };
    store.write(this.name(keep), draft);
  },
  keepPhotos(form) {
    const thing = { id: form.dataset.keep, names: forms.fingerprint(form), at: Date.now(), fields: forms.photos(form) };
    return thing.fields.length ? store.put("photos", thing) : store.drop("photos", thing.id);
  },
  async forget(keep) {
    store.erase(this.name(keep));
    store.write(this.gone(keep), Date.now());
    const done = await store.drop("photos", keep);
    if (!done.shut) store.erase(this.gone(keep));
  },

  /* Whether this form came back from the server with what was typed: then the server's text stands. */
  answered(form) {
    return this.refusal() && forms.address(form) === location.pathname;
  },
  /* The page's own status, or, in a browser that does not tell it, the box of what is to be put right. */
  refusal() {
    const status = performance.getEntriesByType("navigation")[0]?.responseStatus;
    return status ? status >= 400 : Boolean(document.querySelector(".summary"));
  },

  async start(root) {
    for (const form of root.querySelectorAll("form[data-keep]")) {
      const draft = store.read(this.name(form.dataset.keep));
      if (draft?.names) this.offer(form, draft);
      await this.startPhotos(form);
    }
  },
  offer(form, draft) {
    const when = clock.words(draft.at);
    if (draft.names !== forms.fingerprint(form)) {
      if (draft.said.length) this.line(form, `kept from ${when}, for this form as it was then`, draft);
    } else if (!this.answered(form)) {
      if (forms.put(form, draft.typed)) this.line(form, `kept from ${when}, not sent yet`);
    } else if (forms.differs(form, draft.typed)) {
      this.line(form, `kept from ${when}, and other than what stands here`, draft, true);
    }
  },
  async startPhotos(form) {
    if (!form.querySelector("input[type=file]")) return;
    const kept = await store.get("photos", form.dataset.keep);
    if (kept?.at <= store.read(this.gone(form.dataset.keep))) { await this.forget(form.dataset.keep); return; }
    if (!kept || kept.names !== forms.fingerprint(form) || forms.photos(form).length) return;
    forms.putPhotos(form, kept.fields);
    if (!form.querySelector(".kept")) this.line(form, `kept from ${clock.words(kept.at)}, not sent yet`);
  },

  line(form, words, draft = null, fits = false) {
    const line = document.getElementById("kept-line").content.firstElementChild.cloneNode(true);
    line.querySelector("[data-kept=words]").textContent = words;
    const text = line.querySelector("[data-kept=text]");
    if (draft) {
      text.hidden = false;
      text.querySelector("p").textContent = draft.said.map((pair) => pair.join(": ")).join(" · ");
    }
    const into = line.querySelector("[data-kept=into]");
    into.hidden = !fits;
    into.addEventListener("click", () => { line.remove(); forms.put(form, draft.typed); });
    line.querySelector("[data-kept=away]").addEventListener("click", () => {
      form.reset();
      for (const field of forms.fields(form)) if (field.type !== "hidden") forms.told(field);
      this.forget(form.dataset.keep);
      line.remove();
    });
    form.prepend(line);
  },
};

for (const kind of ["input", "change"]) {
  document.addEventListener(kind, (event) => {
    const form = event.target.form;
    if (!form || !("keep" in form.dataset) || forms.quiet) return;
    drafts.keep(form);
    if (event.target.type === "file") drafts.keepPhotos(form);
  });
}
