"use strict";
/* Sendings that wait. A form marked data-later is sent by script: laid down in the browser's own store and sent; if
   the shop does not answer, it stays there and is sent again until the shop has taken it in or refused it. The form's
   own key goes with it unchanged, so that the server takes it in once however often it comes. */

const later = {
  SOONEST: 2000,
  LATEST: 60000,
  MOST_FAULTS: 3,
  flying: new Set(),
  known: [],
  away: false,
  pause: 0,
  timer: 0,
  running: null,

  /* What is sent of one piece goes in the order in which it was written. */
  lane(url) {
    const path = new URL(url, location.href).pathname;
    return /^\/jobs\/\d+(\/\d+)?/.exec(path)?.[0] ?? path;
  },
  takes(form, press) {
    return "later" in form.dataset && form.method === "post" && !press?.hasAttribute("formaction")
      && !press?.hasAttribute("formmethod");
  },
  words(form, data, press) {
    const words = form.dataset.later.replace(/\{(\w+)\}/g, (_, name) => {
      return name === "press" ? press?.textContent.trim() ?? "" : data.get(name)?.toString().trim() ?? "";
    });
    return words.replace(/\s+/g, " ").trim();
  },
  made(form, press) {
    const data = new FormData(form);
    if (press?.name) data.append(press.name, press.value);
    const fields = Array.from(data).filter(([, value]) => !(value instanceof File) || value.size || value.name);
    return {
      id: store.id(), at: Date.now(), url: forms.address(form), lane: this.lane(forms.address(form)), fields,
      names: forms.fingerprint(form), typed: forms.read(form), said: forms.said(form), keep: form.dataset.keep ?? "",
      words: this.words(form, data, press), page: location.pathname + location.search,
      who: document.querySelector("meta[name=who]")?.content ?? "", state: "waiting", told: "", tries: 0, faults: 0,
    };
  },

  async submit(form, press) {
    const sending = this.made(form, press);
    presses.hold(form);
    this.flying.add(sending.id);
    const laidDown = store.put("sendings", sending).then(async (where) => {
      sending.held = where;
      if (form.dataset.replaces) await store.drop("sendings", form.dataset.replaces);
    });
    const slow = setTimeout(() => strip.slow(sending), 1500);
    const isBehind = this.known.some((other) => other.lane === sending.lane && other.id !== form.dataset.replaces);
    const answer = isBehind ? { away: true } : await this.send(sending);
    clearTimeout(slow);
    await laidDown;
    this.flying.delete(sending.id);
    if (answer.leadsTo) {
      await store.drop("sendings", sending.id);
      this.goOn(answer.leadsTo);
    } else if (answer.refused) {
      await store.drop("sendings", sending.id);
      this.natively(form, press);
    } else {
      await this.wait(form, sending, answer);
      if (isBehind) this.flush();
    }
  },
  goOn(to) {
    const there = new URL(to, location.href);
    if (there.hash && there.pathname === location.pathname && there.search === location.search) {
      history.replaceState(null, "", there);
      location.reload();
    } else {
      location.assign(there);
    }
  },
  /* A refusal writes nothing, so the browser may send the same form itself and show the shop's own answer. */
  natively(form, press) {
    presses.release();
    form.dataset.natively = "yes";
    form.requestSubmit(press ?? undefined);
  },
  async wait(form, sending, answer) {
    this.away = this.away || Boolean(answer.away);
    sending.tries = 1;
    sending.faults = answer.fault ? 1 : 0;
    await store.put("sendings", sending);
    if (sending.keep) await drafts.forget(sending.keep);
    presses.release();
    strip.instead(form, sending);
    await strip.show();
    this.soon();
  },

  body(sending) {
    const body = new FormData();
    for (const [name, value] of sending.fields) body.append(name, value);
    return body;
  },
  patience(sending) {
    const bytes = sending.fields.reduce((sum, [, value]) => sum + (value instanceof Blob ? value.size : 0), 0);
    return 10000 + bytes / 50;
  },
  async send(sending) {
    const headers = { "Shop-Sent": "script" };
    headers["Shop-Waited"] = String(Math.max(0, Math.floor((Date.now() - sending.at) / 1000)));
    if (sending.who) headers["Shop-By"] = encodeURIComponent(sending.who);
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), this.patience(sending));
    try {
      const answer = await fetch(sending.url, {
        method: "POST", body: this.body(sending), headers, redirect: "manual", cache: "no-store", signal: stop.signal,
      });
      return await this.heard(answer);
    } catch {
      return { away: true };
    } finally {
      clearTimeout(timer);
    }
  },
  /* Only the shop itself says where a form leads; anything else that answers on the network has taken nothing in. */
  async heard(answer) {
    const leadsTo = answer.headers.get("Shop-Leads-To");
    if (answer.status === 204 && leadsTo) return { leadsTo };
    if ([408, 425, 429, 502, 503, 504].includes(answer.status)) return { away: true };
    if (answer.status >= 500) return { fault: true, told: this.sentence(await answer.text()) };
    if (leadsTo === null) return { away: true };
    return { refused: true, told: this.sentence(await answer.text()) };
  },
  sentence(html) {
    const page = new DOMParser().parseFromString(html, "text/html");
    const found = [".summary li", ".problem", ".say p", "h1"].map((name) => [...page.querySelectorAll(name)])
      .find((some) => some.length);
    const words = (found ?? [page.body]).map((one) => one.textContent.trim().replace(/\s+/g, " "));
    return words.join(" ").slice(0, 400);
  },

  /* One round at a time, in every lane from the oldest on; lanes without photos first, since they are quick. */
  flush() {
    clearTimeout(this.timer);
    this.running ??= this.round().finally(() => { this.running = null; });
    return this.running;
  },
  async round() {
    const waiting = (await store.all("sendings")).filter((one) => !this.flying.has(one.id));
    const heavy = new Set(waiting.filter((one) => store.holdsPhoto(one)).map((one) => one.lane));
    waiting.sort((a, b) => heavy.has(a.lane) - heavy.has(b.lane) || (a.id < b.id ? -1 : 1));
    const shut = new Set(waiting.filter((one) => one.state === "stopped").map((one) => one.lane));
    let isAway = false;
    for (const sending of waiting) {
      if (isAway || shut.has(sending.lane)) continue;
      const answer = await this.send(sending);
      isAway = Boolean(answer.away) && !store.holdsPhoto(sending);
      if (!answer.leadsTo) shut.add(sending.lane);
      await this.settle(sending, answer);
    }
    this.away = waiting.length > 0 && isAway;
    await strip.show();
    this.soon();
  },
  async settle(sending, answer) {
    if (answer.leadsTo) {
      await store.drop("sendings", sending.id);
      strip.done(sending, answer.leadsTo);
      return;
    }
    if (!await store.get("sendings", sending.id)) return;
    const faults = sending.faults + (answer.fault ? 1 : 0);
    const isStopped = answer.refused || faults >= this.MOST_FAULTS;
    await store.put("sendings", {
      ...sending, tries: sending.tries + 1, faults, told: answer.told ?? sending.told,
      state: isStopped ? "stopped" : "waiting",
    });
  },
  soon() {
    clearTimeout(this.timer);
    if (!this.known.some((one) => one.state === "waiting")) { this.pause = 0; return; }
    this.pause = Math.min(this.pause ? this.pause * 2 : this.SOONEST, this.LATEST);
    this.timer = setTimeout(() => this.flush(), this.pause * (0.8 + Math.random() * 0.4));
  },
  /* Something has changed: try at once, and begin anew with short pauses. */
  now() {
    this.pause = 0;
    return this.flush();
  },
};

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== "post") return;
  const isNative = "natively" in form.dataset;
  delete form.dataset.natively;
  if (isNative || !later.takes(form, event.submitter)) { presses.hold(form); return; }
  event.preventDefault();
  if (!form.dataset.going) {
    form.dataset.going = "yes";
    later.submit(form, event.submitter).finally(() => { delete form.dataset.going; });
  }
});
window.addEventListener("online", () => later.now());
document.addEventListener("visibilitychange", () => { if (!document.hidden) later.now(); });
