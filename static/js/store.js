"use strict";
/* The browser's own store. A shop's server on a plain-http name is no secure context, so there is neither a service
   worker nor a promise that the store is lasting; IndexedDB works all the same and takes photos too. Where it does not
   open, words go to localStorage, and what even that does not take is held as long as the page is open. */

const store = {
  opened: null,
  held: new Map(),

  open() {
    this.opened ??= new Promise((resolve) => {
      let asked;
      try { asked = indexedDB.open("shop", 1); } catch { resolve(null); return; }
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore("sendings", { keyPath: "id" });
        asked.result.createObjectStore("photos", { keyPath: "id" });
      };
      asked.onsuccess = () => {
        asked.result.onversionchange = () => asked.result.close();
        asked.result.onclose = () => { this.opened = null; };
        resolve(asked.result);
      };
      asked.onerror = () => resolve(null);
      asked.onblocked = () => resolve(null);
    });
    return this.opened;
  },

  /* One step in one transaction; undefined where the store is shut, so that the caller can fall back. */
  async step(kind, mode, act) {
    const database = await this.open();
    if (!database) return { shut: true };
    return new Promise((resolve) => {
      let asked;
      try {
        const step = database.transaction(kind, mode, { durability: "strict" });
        asked = act(step.objectStore(kind));
        step.oncomplete = () => resolve({ value: asked.result });
        step.onabort = step.onerror = () => resolve({ shut: true });
      } catch { resolve({ shut: true }); }
    });
  },

  holdsPhoto: (thing) => thing.fields.some(([, value]) => value instanceof Blob),

  aside: (kind, id) => `kept:${kind}:${id}`,

  async put(kind, thing) {
    const done = await this.step(kind, "readwrite", (things) => things.put(thing));
    if (!done.shut) return "store";
    if (!this.holdsPhoto(thing)) {
      try {
        localStorage.setItem(this.aside(kind, thing.id), JSON.stringify(thing));
        return "store";
      } catch { /* full or shut: held below */ }
    }
    this.held.set(this.aside(kind, thing.id), thing);
    return "page";
  },

  async drop(kind, id) {
    this.held.delete(this.aside(kind, id));
    try { localStorage.removeItem(this.aside(kind, id)); } catch { /* nothing was there then */ }
    return this.step(kind, "readwrite", (things) => things.delete(id));
  },

  async get(kind, id) {
    const found = (await this.step(kind, "readonly", (things) => things.get(id))).value;
    return found ?? this.beside(kind).find((thing) => thing.id === id);
  },

  async all(kind) {
    const found = (await this.step(kind, "readonly", (things) => things.getAll())).value ?? [];
    return [...found, ...this.beside(kind)].sort((a, b) => (a.id < b.id ? -1 : 1));
  },

  beside(kind) {
    const found = [...this.held].filter(([name]) => name.startsWith(this.aside(kind, ""))).map(([, thing]) => thing);
    try {
      for (const name of Object.keys(localStorage)) {
        if (name.startsWith(this.aside(kind, ""))) found.push(JSON.parse(localStorage.getItem(name)));
      }
    } catch { /* shut */ }
    return found;
  },

  /* Short texts that must be there at the next key stroke: written before the event is over. */
  read(name) {
    try { return JSON.parse(localStorage.getItem(name) ?? "null"); } catch { return null; }
  },
  write(name, thing) {
    try { localStorage.setItem(name, JSON.stringify(thing)); } catch { /* full or shut: only the help is lost */ }
  },
  erase(name) {
    try { localStorage.removeItem(name); } catch { /* nothing was there then */ }
  },

  /* Ids sort by time. crypto.randomUUID is for secure contexts only; this is not. */
  id: () => Date.now().toString().padStart(15, "0") + "-" + store.chance(6),
  chance: (bytes) => Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (b) => b.toString(16).padStart(2, "0"))
    .join(""),
};
