/*
 * Where records are kept: localStorage, which all folders of a machine may share, so each key begins with the folder.
 * Where it is full, denied or off, everything works from memory, and `state` says that nothing is kept.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  const FIRST = "putback.1";
  const PAIRS = /[\ud800-\udbff][\udc00-\udfff]|[\ud800-\udfff]/g; // half of a pair cannot be encoded

  /** Return the address of a guide's folder, from that of a page in it and the way up ("../" of a page in jobs/). */
  function folderOf(address, up) {
    const path = String(address).split(/[?#]/)[0];
    const parts = path.split("/").slice(0, -1);
    for (const part of String(up || "").split("/")) if (part === "..") parts.pop();
    return parts.join("/") + "/";
  }

  /** Return a key of these parts, which no other parts give. */
  function keyOf(parts) {
    return [FIRST, ...parts.map((part) => encodeURIComponent(String(part).replace(PAIRS, (found) => (found.length === 2 ? found : "?"))))].join("|");
  }

  /** Open the store of one guide in one folder. `reach` returns the storage, or throws. */
  function open(reach, folder, guide) {
    const memory = new Map(); // what could not be written, and null for what could not be removed
    let state = "yes";

    function storage() {
      try {
        return (reach && reach()) || null;
      } catch (error) {
        return null;
      }
    }

    const key = (name) => keyOf([folder, guide, ...name]);

    function get(name) {
      const full = key(name);
      if (memory.has(full)) return memory.get(full);
      try {
        return storage().getItem(full);
      } catch (error) {
        state = "no";
        return null;
      }
    }

    /** Write, and return whether it is kept. What is not written stays in memory, and is tried again with the next. */
    function put(name, text) {
      memory.set(key(name), text);
      return settle();
    }

    function drop(name) {
      memory.set(key(name), null);
      return settle();
    }

    /** Give up what could not be written: what is kept stays as it is. */
    const forget = (name) => memory.delete(key(name));

    function settle() {
      const kept = storage();
      state = kept ? "yes" : "no";
      // What is removed goes first: it makes room.
      const waiting = [...memory].sort((one, other) => (one[1] === null ? 0 : 1) - (other[1] === null ? 0 : 1));
      for (const [full, text] of kept ? waiting : []) {
        try {
          if (text === null) kept.removeItem(full);
          else kept.setItem(full, text);
          memory.delete(full);
        } catch (error) {
          state = full_(error) ? "full" : "no";
        }
      }
      return state;
    }

    /** Return the last parts of all names that begin with these parts. */
    function names(start) {
      const found = new Set();
      const before = key(start) + "|";
      const add = (full) => {
        if (full.startsWith(before) && !full.slice(before.length).includes("|")) found.add(full);
      };
      try {
        const kept = storage();
        for (let index = 0; index < kept.length; index += 1) add(String(kept.key(index)));
      } catch (error) {
        state = "no";
      }
      for (const [full, text] of memory) text === null ? found.delete(full) : add(full);
      return [...found].sort().map((full) => decoded(full.slice(before.length))).filter((part) => part !== null);
    }

    /** Return whether a key of the storage is this name. */
    const is = (full, name) => full === key(name);

    // Some browsers have a storage that refuses whatever is written.
    const probed = put(["probe"], "1");
    drop(["probe"]);
    state = probed;
    return { get, put, drop, forget, names, is, settle, state: () => state };
  }

  function full_(error) {
    return !!error && (/quota/i.test(String(error.name)) || error.code === 22 || error.code === 1014);
  }

  function decoded(part) {
    try {
      return decodeURIComponent(part);
    } catch (error) {
      return null;
    }
  }

  Putback.store = { open, folderOf, keyOf };
})(typeof window === "object" ? window : globalThis);
