// Where a widget that is never displayed belongs on the page. A cell's output holds a mount (class "evlib-run-...") with
// a live part, empty, and a static part. The live part is filled here, and the static one hidden while a kernel answers;
// when the kernel is gone, the static part returns: no dead controls. Used by panels and by the boxes of exercises.

class Mounted {
  constructor(model, run) {
    this.model = model;
    this.run = run;
    this.mounted = new Map(); // mount element -> view
    this.alive = true;
    // Fired when the kernel restarts, dies or is reconnected.
    model.on("comm_live_update", () => this.doubt());
    this.watch = new MutationObserver(() => this.scan());
    this.watch.observe(document.body, { childList: true, subtree: true });
  }

  // A subclass builds the live part of a mount here: a view has `root` and is put into `.evlib-live`.
  view(mount) { throw new Error("no view for " + mount.className); }

  // A subclass asks the kernel here whether it still knows this widget; an answer is to end in reveal(true).
  greet() {}

  // Find mounts that are not filled yet: the cell may be drawn later than the comm opens, or drawn twice.
  scan() {
    if (!this.alive) return;
    for (const mount of document.getElementsByClassName("evlib-run-" + this.run)) {
      if (this.mounted.has(mount)) continue;
      this.mounted.set(mount, this.view(mount));
      uncover(mount, true);
    }
  }

  doubt() {
    this.reveal(false);
    this.greet();
  }

  reveal(live) {
    this.alive = live;
    for (const mount of this.mounted.keys()) uncover(mount, live);
    if (live) this.scan();
  }

  // False where the comm is closed: the kernel is gone.
  send(message) {
    try {
      this.model.send(message);
      return true;
    } catch (error) {
      this.reveal(false);
      return false;
    }
  }

  end() {
    this.watch.disconnect();
    this.reveal(false);
    for (const view of this.mounted.values()) view.root.remove();
    this.mounted.clear();
  }
}

function uncover(mount, live) {
  mount.querySelector(".evlib-live").hidden = !live;
  mount.querySelector(".evlib-static").hidden = live;
}

function make(kind, attributes = {}, children = []) {
  const element = document.createElement(kind);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}
