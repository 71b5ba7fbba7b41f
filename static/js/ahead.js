"use strict";
/* While the shop does not answer, a link must not lead to the browser's own page of regret. The pages that come next
   (links marked data-next) are read ahead and can be opened; any other link says that it has to wait. */

const ahead = {
  pages: new Map(),
  left: new Map(),

  address: (href) => new URL(href, location.href).href.split("#")[0],

  async read(root) {
    for (const link of root.querySelectorAll("a[data-next]")) {
      const address = this.address(link.href);
      if (this.pages.has(address)) continue;
      this.pages.set(address, null);
      try {
        const answer = await fetch(address, { headers: { "Shop-Ahead": "yes" } });
        if (answer.ok && !answer.redirected) this.pages.set(address, await answer.text());
        else this.pages.delete(address);
      } catch {
        this.pages.delete(address);
      }
    }
  },

  async go(link) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), 5000);
    try {
      await fetch("/static/there", { method: "HEAD", cache: "no-store", signal: stop.signal });
      location.assign(link.href);
    } catch {
      const html = this.pages.get(this.address(link.href));
      if (html) this.open(html, link.href);
      else strip.line(strip.root(), "lost", strip.root().dataset.noPage);
    } finally {
      clearTimeout(timer);
    }
  },
  /* A page read ahead carries a form's key, so it is opened once. What is left stays as it was, for the way back. */
  open(html, href) {
    const page = new DOMParser().parseFromString(html, "text/html");
    this.pages.delete(this.address(href));
    this.leave();
    history.pushState({}, "", href);
    this.turn(page.title, page.body.className, [...page.body.childNodes]);
    htmx.process(document.body);
    shop.start();
    document.getElementById("main")?.focus();
  },
  leave() {
    this.left.set(this.here, [document.title, document.body.className, [...document.body.childNodes]]);
  },
  turn(title, look, nodes) {
    document.title = title;
    document.body.className = look;
    document.body.replaceChildren(...nodes);
    this.here = this.address(location.href);
    scrollTo(0, 0);
  },
  /* Back and forward between pages that share this one document. */
  back() {
    const there = this.address(location.href);
    if (there === this.here) return;
    const kept = this.left.get(there);
    this.leave();
    if (!kept) { location.reload(); return; }
    this.turn(...kept);
    strip.show();
  },
};
ahead.here = ahead.address(location.href);

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href]");
  if (!link || !later.away || event.defaultPrevented || event.ctrlKey || event.metaKey || link.target) return;
  const there = new URL(link.href, location.href);
  if (there.origin !== location.origin || (there.hash && there.pathname === location.pathname)) return;
  event.preventDefault();
  ahead.go(link);
});
window.addEventListener("popstate", () => ahead.back());
