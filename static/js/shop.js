"use strict";
/* Where the small helps begin; each page works without them. No answer is ever worked out here. */

const shop = {
  async start() {
    keypads.show(document);
    const saved = document.querySelector("meta[name=saved]");
    if (saved) drafts.forget(saved.content);
    await drafts.start(document);
    await strip.show();
    await strip.open();
  },
};

window.addEventListener("pageshow", (event) => {
  if (!event.persisted) return;
  drafts.inTheBook(document);
  strip.show().then(() => later.now());
});
/* htmx listens from DOMContentLoaded on, and what is put back into a form must be heard: its echo, its drawing. */
document.addEventListener("DOMContentLoaded", () => {
  shop.start().then(() => later.now()).then(() => ahead.read(document));
});
