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
  OWN: ["once", "keep", "seen", "all_kinds"],
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
  /* Its address and what it carries hidden: text kept under another frame means something else, whatever its names. */
  frame: (print) => print.split("\n").filter((line, at) => !at || line.startsWith("hidden ")).join("\n"),
  address: (form) => new URL(form.getAttribute("action") || location.href, location.href).pathname,

  read(form) {
    return this.fields(form).filter((field) => field.type !== "hidden" && field.type !== "file").map((field) => {
      return this.isMark(field) ? [field.name, field.checked, field.value] : [field.name, field.value];
    });
  },
  /* Kept text finds its field by name, by its turn among those of one name, and a mark by what it stands for. */
  slots(form, kept) {
    const named = (some) => {
      const turns = new Map();
      return some.map(([thing, name]) => {
        turns.set(name, (turns.get(name) ?? 0) + 1);
        return [`${name} ${turns.get(name)}`, thing];
      });
    };
    const fields = this.fields(form).filter((field) => field.type !== "hidden" && field.type !== "file");
    const here = new Map(named(fields.map((field) => {
      return [field, this.isMark(field) ? `${field.name}=${field.value}` : field.name];
    })));
    const told = kept.map((one) => [one, one.length === 3 ? `${one[0]}=${one[2]}` : one[0]]);
    return named(told).map(([name, one]) => [here.get(name), one]);
  },
  what: (field) => (forms.isMark(field) ? "checked" : "value"),
  isEmpty: ([, value]) => value === false || value === "",
  fits(form, kept) {
    return this.slots(form, kept).every(([field, one]) => field || this.isEmpty(one));
  },
  holds(form, kept) {
    const same = ([field, one]) => (field ? field[this.what(field)] === one[1] : this.isEmpty(one));
    return this.slots(form, kept).every(same);
  },
  /* Gives what found no field. */
  put(form, kept) {
    const slots = this.slots(form, kept);
    const changed = slots.filter(([field, one]) => field && field[this.what(field)] !== one[1]);
    for (const [field, one] of changed) field[this.what(field)] = one[1];
    this.quiet = true;
    for (const [field] of changed) this.told(field);
    this.quiet = false;
    return slots.filter(([field, one]) => !field && !this.isEmpty(one)).map(([, one]) => one);
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
    const ways = [...form.querySelectorAll("[formaction]")].map((press) => new URL(press.formAction).pathname);
    return this.refusal() && [forms.address(form), ...ways].includes(location.pathname);
  },
  /* The page's own status, or, in a browser that does not tell it, the box of what is to be put right. */
  refusal() {
    const status = performance.getEntriesByType("navigation")[0]?.responseStatus;
    return status ? status >= 400 : Boolean(document.querySelector(".summary"));
  },

  async start(root) {
    this.inTheBook(root);
    const all = root.querySelectorAll("form[data-keep]");
    for (const form of all) {
      const draft = store.read(this.name(form.dataset.keep));
      if (draft?.names) this.offer(form, draft);
    }
    for (const form of all) await this.startPhotos(form);
  },
  /* A form that led to a paper left no page of ours that could tell it is in the book; who comes back is told here. */
  inTheBook(root) {
    const told = /(?:^|; )saved="?([^;"]*)/.exec(document.cookie)?.[1];
    if (!told) return;
    document.cookie = "saved=; Max-Age=0; Path=/; SameSite=Lax";
    const keep = decodeURIComponent(told);
    this.forget(keep);
    for (const form of root.querySelectorAll("form[data-keep]")) {
      if (form.dataset.keep !== keep) continue;
      form.querySelector(".kept")?.remove();
      this.line(form, "This was sent, and it is in the book.", { isSent: true });
    }
  },
  /* Where the form holds all of it there is nothing to say. */
  offer(form, draft) {
    const when = clock.words(draft.at);
    if (forms.holds(form, draft.typed)) return;
    const isSameFrame = forms.frame(draft.names) === forms.frame(forms.fingerprint(form));
    if (isSameFrame && this.answered(form)) {
      this.line(form, `kept from ${when}, and other than what stands here`, { draft, fits: true });
    } else if (isSameFrame && forms.fits(form, draft.typed)) {
      forms.put(form, draft.typed);
      this.line(form, `kept from ${when}, not sent yet`);
    } else if (draft.said.length) {
      this.line(form, `kept from ${when}, for this form as it was then`, { draft, fits: isSameFrame });
    }
  },
  async startPhotos(form) {
    if (!form.querySelector("input[type=file]")) return;
    const kept = await store.get("photos", form.dataset.keep);
    if (kept?.at <= store.read(this.gone(form.dataset.keep))) { await this.forget(form.dataset.keep); return; }
    if (!kept || forms.frame(kept.names) !== forms.frame(forms.fingerprint(form)) || forms.photos(form).length) return;
    forms.putPhotos(form, kept.fields);
    if (form.querySelector(".kept") || this.answered(form) || !forms.photos(form).length) return;
    this.line(form, `kept from ${clock.words(kept.at)}, not sent yet`);
  },

  /* What found no field may find one once the page has answered: the sizes of another kind of cut. */
  rest: new WeakMap(),
  into(form, typed) {
    this.rest.set(form, forms.put(form, typed));
    this.keep(form);
  },

  line(form, words, { draft = null, fits = false, isSent = false } = {}) {
    const line = document.getElementById("kept-line").content.firstElementChild.cloneNode(true);
    line.querySelector("[data-kept=words]").textContent = words;
    const text = line.querySelector("[data-kept=text]");
    if (draft) {
      text.hidden = false;
      text.querySelector("ul").append(...draft.said.map((pair) => {
        const one = document.createElement("li");
        one.textContent = pair.join(": ");
        return one;
      }));
    }
    const into = line.querySelector("[data-kept=into]");
    into.hidden = !fits;
    into.addEventListener("click", () => { line.remove(); this.into(form, draft.typed); });
    const away = line.querySelector("[data-kept=away]");
    away.hidden = isSent;
    away.addEventListener("click", () => {
      form.reset();
      for (const field of forms.fields(form)) if (field.type !== "hidden") forms.told(field);
      this.forget(form.dataset.keep);
      line.remove();
    });
    form.prepend(line);
  },
};

document.addEventListener("htmx:afterSettle", (event) => {
  const form = event.target.closest?.("form[data-keep]");
  const left = form && drafts.rest.get(form);
  if (left?.length) drafts.into(form, left);
});
for (const kind of ["input", "change"]) {
  document.addEventListener(kind, (event) => {
    const form = event.target.form;
    if (!form || !("keep" in form.dataset) || forms.quiet) return;
    drafts.keep(form);
    if (event.target.type === "file") drafts.keepPhotos(form);
  });
}
