"use strict";
/* The waiting strip: what waits for the shop's network, what was not taken in and why, what is in the book now. */

const strip = {
  gone: [],

  root: () => document.getElementById("waiting"),
  part: (root, name) => root.querySelector(`[data-waiting=${name}]`),
  copy: (name) => document.getElementById(name).content.firstElementChild.cloneNode(true),

  async show() {
    const all = await store.all("sendings");
    later.known = all.filter((one) => !later.flying.has(one.id));
    const root = this.root();
    if (!root) return;
    const waiting = later.known.filter((one) => one.state === "waiting");
    const stopped = later.known.filter((one) => one.state === "stopped");
    root.hidden = !later.known.length && !this.gone.length;
    this.line(root, "line", waiting.length ? this.waits(waiting) : "");
    this.line(root, "stopped", stopped.length ? this.stands(stopped) : "");
    this.line(root, "done", this.gone.length ? this.inTheBook() : "");
    this.line(root, "lost", later.known.some((one) => one.held === "page") ? root.dataset.lost : "");
    this.part(root, "try").hidden = !waiting.length;
    this.part(root, "anew").hidden = !this.gone.length;
    this.part(root, "look").hidden = !later.known.length;
    this.part(root, "list").replaceChildren(...later.known.map((one) => this.item(one)));
    for (const panel of document.querySelectorAll(".waiting-kept")) this.tell(panel);
  },
  line(root, name, words) {
    const line = this.part(root, name);
    line.hidden = !words;
    if (line.textContent !== words) line.textContent = words;
  },
  names(some) {
    const words = some.slice(0, 3).map((one) => one.words);
    return words.join(", ") + (some.length > 3 ? ` and ${some.length - 3} more` : "");
  },
  waits(some) {
    return some.length === 1 ? `1 sending waits for the shop’s network: ${this.names(some)}.`
      : `${some.length} sendings wait for the shop’s network: ${this.names(some)}.`;
  },
  stands(some) {
    return some.length === 1 ? `1 sending was not taken in, and is kept: ${this.names(some)}. ${some[0].told}`
      : `${some.length} sendings were not taken in, and are kept: ${this.names(some)}.`;
  },
  inTheBook() {
    return `In the book now: ${this.names(this.gone)}.`;
  },
  done(sending) {
    this.gone.push(sending);
  },

  item(sending) {
    const item = this.copy("waiting-one");
    this.part(item, "words").textContent = sending.words;
    this.part(item, "when").textContent = `from ${clock.words(sending.at)}${sending.who ? " by " + sending.who : ""}`;
    this.part(item, "said").textContent = sending.said.map((pair) => pair.join(": ")).join(" · ");
    this.line(item, "told", sending.state === "stopped" ? sending.told : this.behind(sending));
    const form = this.part(item, "form");
    form.hidden = sending.state !== "stopped";
    form.href = `${sending.page}#waiting-${sending.id}`;
    const isHere = sending.page === location.pathname + location.search;
    form.addEventListener("click", () => { if (isHere) this.soonOpen(); });
    const away = this.part(item, "away");
    away.addEventListener("click", () => this.throwAway(sending, away));
    return item;
  },
  behind(sending) {
    const first = later.known.find((one) => {
      return one.lane === sending.lane && one.id < sending.id && one.state === "stopped";
    });
    return first ? `It waits behind “${first.words}”, which was not taken in.` : "";
  },
  /* Nothing typed goes with one press. */
  async throwAway(sending, button) {
    if (!("sure" in button.dataset)) {
      button.dataset.sure = "yes";
      button.textContent = button.dataset.ask;
      return;
    }
    await store.drop("sendings", sending.id);
    await later.now();
  },

  /* What stands in a form's place tells how its sending fares. */
  tell(panel) {
    const sending = later.known.find((one) => one.id === panel.dataset.sending);
    const inTheBook = !sending && this.gone.some((one) => one.id === panel.dataset.sending);
    const state = this.part(panel, "state");
    if (inTheBook) state.textContent = state.dataset.inTheBook;
    else if (sending?.state === "stopped") state.textContent = sending.told;
    else if (sending) state.textContent = this.behind(sending) || state.dataset.waits;
    else state.textContent = state.dataset.thrown;
    const back = this.part(panel, "back");
    back.hidden = sending?.state !== "stopped";
    back.href = `#waiting-${panel.dataset.sending}`;
    for (const way of panel.querySelectorAll("a[data-next]")) {
      way.hidden = [...later.known, ...this.gone].some((one) => one.url === new URL(way.href).pathname);
    }
  },

  /* After a sending began to wait, its form gives way to what was kept and where to go on. */
  instead(form, sending) {
    const panel = this.copy("waiting-kept");
    panel.dataset.sending = sending.id;
    this.part(panel, "words").textContent = sending.words;
    this.part(panel, "back").addEventListener("click", () => this.soonOpen());
    const ways = this.part(panel, "ways");
    for (const way of form.querySelectorAll("a[data-next]")) ways.append(way.cloneNode(true));
    const another = this.part(panel, "another");
    another.hidden = !("again" in form.dataset);
    another.addEventListener("click", () => this.another(form, panel));
    form.hidden = true;
    form.after(panel);
    panel.tabIndex = -1;
    panel.focus();
    panel.scrollIntoView({ block: "center" });
  },
  /* One more of the same, while the page is open: with a key of its own. */
  another(form, panel) {
    form.reset();
    const once = form.querySelector("input[name=once]");
    if (once) once.value = store.chance(12);
    panel.remove();
    form.hidden = false;
    forms.fields(form).find((field) => field.type !== "hidden")?.focus();
  },
  slow(sending) {
    const root = this.root();
    if (!root) return;
    root.hidden = false;
    this.line(root, "line", `Sending: ${sending.words} …`);
  },

  soonOpen: () => setTimeout(() => strip.open()),
  /* A refused sending's text goes back into its form; the sending stays until the form is sent. */
  async open() {
    const id = /^#waiting-(.+)$/.exec(location.hash)?.[1];
    const sending = id && await store.get("sendings", id);
    if (!sending) return;
    const panel = document.querySelector(`.waiting-kept[data-sending="${CSS.escape(id)}"]`);
    if (panel) { panel.previousElementSibling.hidden = false; panel.remove(); }
    const form = [...document.querySelectorAll("form[data-later]")].find((one) => {
      return !one.hidden && forms.fingerprint(one) === sending.names;
    });
    if (!form) {
      this.part(this.root(), "look").open = true;
      this.line(this.root(), "lost", this.root().dataset.noForm);
      return;
    }
    for (let fold = form.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    forms.put(form, sending.typed);
    forms.putPhotos(form, sending.fields.filter(([, value]) => value instanceof Blob));
    form.dataset.replaces = id;
    drafts.keep(form);
    form.scrollIntoView();
  },
};

document.addEventListener("click", (event) => {
  const press = event.target.closest("#waiting [data-waiting]");
  if (press?.dataset.waiting === "try") { strip.line(strip.root(), "line", "Trying …"); later.now(); }
  if (press?.dataset.waiting === "anew") location.assign(location.pathname + location.search);
});
