// The page's side of a live panel. One file for every panel: it builds the controls from a description, sends what the
// learner moves, and draws the scenes that come back. It computes nothing and converts no unit: Python does both. Comes
// after mount.js in one text, which finds the panel's place on the page and gives it back when the kernel is gone.

let views = 0; // counts this panel's views, for ids that differ

export default {
  initialize({ model, signal }) {
    const panel = new Panel(model);
    panel.scan();
    panel.greet(); // after the page was reloaded the kernel may hold other values than the start ones
    const end = () => panel.end();
    if (signal) signal.addEventListener("abort", end);
    return end;
  },
};

class Panel extends Mounted {
  constructor(model) {
    super(model, model.get("spec").run);
    this.spec = model.get("spec");
    this.frame = this.spec.frame;
    this.queue = [];
    this.waiting = false;
    this.seq = 0;
    model.on("msg:custom", (message, buffers) => {
      if (message.kind === "frame") this.receive(JSON.parse(new TextDecoder().decode(buffers[0])));
    });
  }

  view(mount) {
    const view = new View(this, mount);
    view.show(this.frame);
    return view;
  }

  greet() {
    this.queue = [];
    this.waiting = false;
    this.ask({ kind: "hello" });
  }

  // One message is under way at a time; what is moved meanwhile is merged, so that the newest position always wins.
  ask(message) {
    const last = this.queue[this.queue.length - 1];
    if (last && last.kind === "set" && message.kind === "set") {
      for (const [name, change] of Object.entries(message.set)) {
        if (change.press && last.set[name]) change.press += last.set[name].press;
        last.set[name] = change;
      }
      last.final = message.final;
    } else {
      this.queue.push(message);
    }
    this.next();
  }

  next() {
    if (this.waiting || !this.queue.length) return;
    const message = this.queue.shift();
    message.seq = ++this.seq;
    this.waiting = true;
    const slow = message.final && this.spec.coarse;
    for (const view of this.mounted.values()) view.busy(slow);
    this.late = setTimeout(() => { for (const view of this.mounted.values()) view.busy(true); }, 400);
    if (!this.send(message)) {
      this.waiting = false;
      clearTimeout(this.late);
    }
  }

  receive(frame) {
    clearTimeout(this.late);
    this.waiting = false;
    if (frame.scene) this.frame = frame;
    if (!this.alive) this.reveal(true);
    for (const view of this.mounted.values()) view.show(frame);
    this.next();
  }
}

// ---- one panel on the page --------------------------------------------------------------------------------------

class View {
  constructor(panel, mount) {
    this.panel = panel;
    this.id = `evlib-${panel.spec.run}-${++views}`;
    this.controls = {};
    const spec = panel.spec;
    this.picture = svg("svg", { role: "img", class: "evlib-svg" });
    this.fields = make("div", { class: "evlib-controls" });
    for (const control of spec.controls) this.fields.append(this.control(control));
    this.units = this.tool("", { kind: "system" });
    this.hold = this.tool("Hold this case", { kind: "hold" });
    this.hold.setAttribute("aria-pressed", "false");
    const tools = make("div", { class: "evlib-tools" }, [
      this.hold, this.tool("Reset", { kind: "reset" }), this.units, this.tool("Copy as build file", { kind: "copy" }),
    ]);
    this.note = make("p", { class: "evlib-note", role: "status" });
    this.said = make("p", { class: "evlib-said", "aria-live": "polite" });
    this.table = make("div", { class: "evlib-table" });
    this.compared = make("div", { class: "evlib-table evlib-compared" });
    this.copied = make("div", { class: "evlib-copied" });
    this.figure = make("figure", {}, [this.picture]);
    this.root = make("section", {
      class: "evlib-panel", "aria-label": "Live panel: " + spec.title, "data-panel": spec.id,
      "data-probe": spec.probe || spec.controls[0].name, "data-probe-start": JSON.stringify(spec.probe_start),
    }, [
      make("p", { class: "evlib-title" }, [spec.title]),
      make("div", { class: "evlib-body" }, [this.figure, make("div", { class: "evlib-side" }, [this.fields, tools, this.note])]),
      this.said, this.table, this.compared, this.copied,
    ]);
    mount.querySelector(".evlib-live").replaceChildren(this.root);
  }

  busy(on) {
    this.figure.setAttribute("aria-busy", String(Boolean(on)));
    if (on) this.note.textContent = "working …";
  }

  // Lab's command mode would swallow the keys without the attribute, and it must stand on each input itself.
  input(kind, attributes, children) {
    return make(kind, { "data-lm-suppress-shortcuts": "true", ...attributes }, children);
  }

  tool(text, message) {
    const button = this.input("button", { type: "button" }, [text]);
    button.addEventListener("click", () => this.panel.ask({ ...message }));
    return button;
  }

  set(name, change, final = true) {
    this.panel.ask({ kind: "set", set: { [name]: change }, final });
  }

  control(spec) {
    if (spec.kind === "quantity") return this.quantity(spec);
    if (spec.kind === "choice") return this.choice(spec);
    const button = this.input("button", { type: "button", "data-control": spec.name }, [spec.label]);
    button.addEventListener("click", () => this.set(spec.name, { press: 1 }));
    this.controls[spec.name] = { show() {} };
    return make("div", { class: "evlib-control" }, [button]);
  }

  quantity(spec) {
    const id = this.id + "-" + spec.name;
    const slider = this.input("input", { type: "range", id, min: 0, max: spec.steps, step: 1, "data-control": spec.name });
    const box = this.input("input", {
      type: "text", inputmode: "text", autocomplete: "off", spellcheck: "false", size: 9, "data-typed": spec.name,
      "aria-label": spec.label + ", typed, with or without a unit", "aria-describedby": id + "-why",
    });
    const unit = make("span", { class: "evlib-unit" });
    const why = make("p", { class: "evlib-why", id: id + "-why" }, [spec.note]);
    let rest = 0; // the complete answer waits until the keys rest: a key that is held would ask for it at every step
    slider.addEventListener("input", () => {
      clearTimeout(rest);
      this.set(spec.name, { step: slider.valueAsNumber }, !this.panel.spec.coarse);
    });
    slider.addEventListener("change", () => {
      if (this.panel.spec.coarse) rest = setTimeout(() => this.set(spec.name, { step: slider.valueAsNumber }), 120);
    });
    let given = ""; // what the box last showed or sent
    const commit = () => {
      if (box.value === given) return;
      given = box.value;
      this.set(spec.name, { text: box.value });
    };
    box.addEventListener("change", commit);
    box.addEventListener("keydown", (event) => { // Enter fires no change in a cell's output
      if (event.key === "Enter") commit();
      if (event.key === "Escape") box.value = given;
    });
    this.controls[spec.name] = {
      show(state, problem) {
        if (document.activeElement !== slider) slider.value = state.step;
        slider.setAttribute("aria-valuetext", state.shown);
        unit.textContent = state.unit;
        why.textContent = problem || state.outside || spec.note;
        why.classList.toggle("evlib-problem", Boolean(problem));
        box.setAttribute("aria-invalid", String(Boolean(problem)));
        const typing = document.activeElement === box && box.value !== given;
        if (!problem && !typing) given = box.value = state.number;
      },
    };
    const label = make("label", { for: id }, [make("i", {}, [spec.symbol]), " " + spec.label]);
    return make("div", { class: "evlib-control" }, [
      label, make("div", { class: "evlib-row" }, [slider, box, unit]), why,
    ]);
  }

  choice(spec) {
    const name = this.id + "-" + spec.name;
    const options = spec.options.map((option) => this.input("input", { type: "radio", name, value: option }));
    options.forEach((option) => option.addEventListener("change", () => this.set(spec.name, { option: option.value })));
    this.controls[spec.name] = {
      show(state) { options.forEach((option) => { option.checked = option.value === state.option; }); },
    };
    return make("fieldset", { class: "evlib-control", "data-control": spec.name }, [
      make("legend", {}, [spec.label]),
      ...options.map((option) => make("label", { class: "evlib-option" }, [option, " " + option.value])),
    ]);
  }

  // Everything that a frame says, put on the page in one go: the browser paints it as one picture.
  show(frame) {
    for (const [name, state] of Object.entries(frame.controls)) {
      this.controls[name].show(state, (frame.problems || {})[name]);
    }
    this.busy(false);
    this.note.textContent = frame.problem || frame.coarse;
    this.note.classList.toggle("evlib-problem", Boolean(frame.problem));
    this.hold.setAttribute("aria-pressed", String(frame.held));
    this.hold.textContent = frame.held ? "Let the held case go" : "Hold this case";
    this.units.textContent = frame.system === "SI" ? "Units: SI" : "Units: shop";
    if (frame.case) this.copy(frame.case);
    if (!frame.scene) return;
    draw(this.picture, frame.scene, this.id);
    this.picture.setAttribute("aria-label", frame.alt);
    this.said.textContent = frame.sentence;
    this.table.innerHTML = frame.table;
    this.compared.innerHTML = frame.differences;
    this.root.dataset.frame = frame.seq;
  }

  copy(text) {
    const shown = this.input("textarea", { readonly: "", rows: text.split("\n").length, "aria-label": "this case as a build file" });
    shown.value = text;
    const word = make("p", { role: "status" }, ["Mark the text and copy it into your build file."]);
    this.copied.replaceChildren(word, shown);
    if (navigator.clipboard) {
      navigator.clipboard.writeText(text).then(() => { word.textContent = "Copied. Paste it into your build file."; }, () => {});
    }
  }
}

// ---- drawing a scene ----------------------------------------------------------------------------------------------

function draw(picture, scene, id) {
  picture.setAttribute("viewBox", `0 0 ${scene.width} ${scene.height}`);
  picture.setAttribute("width", scene.width);
  picture.setAttribute("height", scene.height);
  const clips = scene.boxes.map(([x, y, w, h], n) =>
    `<clipPath id="${id}-clip-${n}"><rect x="${x}" y="${y}" width="${w}" height="${h}"/></clipPath>`);
  const items = scene.items.map((item) => DRAW[item.kind](item, item.clip === null ? "" : ` clip-path="url(#${id}-clip-${item.clip})"`));
  picture.innerHTML = `<defs>${clips.join("")}</defs><rect width="100%" height="100%" fill="#fff"/>${items.join("")}`;
}

const DRAW = {
  line: (item, clip) => `<path d="${path(item.parts)}" fill="none"${stroke(item)}${clip}/>`,
  area: (item, clip) =>
    `<path d="${path(item.parts, item.fill !== "none")}" fill="${item.fill}" fill-opacity="${item.fill_opacity}" fill-rule="evenodd"${stroke(item)}${clip}/>`,
  image: (item, clip) => {
    const [x0, y0, x1, y1] = item.parts.flat().map((v) => v / 10);
    return `<image x="${x0}" y="${y0}" width="${x1 - x0}" height="${y1 - y0}" preserveAspectRatio="none" opacity="${item.opacity}" href="${item.href}"${clip}/>`;
  },
  text: (item) => {
    const [x, y] = item.parts[0].map((v) => v / 10);
    const s = item.size, step = 1.15 * s, last = (item.lines.length - 1) * step;
    // From the place matplotlib names to the first baseline; the shares are those of the font.
    const drop = { top: 0.76 * s, bottom: -0.24 * s - last, baseline: -last }[item.up] ?? 0.26 * s - last / 2;
    const anchor = { left: "start", right: "end" }[item.across] || "middle";
    const turn = item.turn ? ` transform="rotate(${item.turn} ${x} ${y})"` : "";
    const look = (item.bold ? ' font-weight="bold"' : "") + (item.slanted ? ' font-style="italic"' : "") +
      (item.backed ? ' stroke="#fff" stroke-width="4" paint-order="stroke" stroke-linejoin="round"' : "");
    return item.lines.map((line, n) =>
      `<text x="${x}" y="${(y + drop + n * step).toFixed(1)}" font-size="${s}" fill="${item.colour}" text-anchor="${anchor}"${turn}${look}>${escape(line)}</text>`).join("");
  },
};

function path(parts, close = false) {
  return parts.map((part) => {
    let d = "M" + part[0] / 10 + " " + part[1] / 10;
    for (let i = 2; i < part.length; i += 2) d += "L" + part[i] / 10 + " " + part[i + 1] / 10;
    return d + (close ? "Z" : "");
  }).join("");
}

function stroke(item) {
  if (item.colour === "none" || !item.width) return "";
  const dash = item.dash ? ` stroke-dasharray="${item.dash}"` : ' stroke-linecap="square"';
  return ` stroke="${item.colour}" stroke-width="${item.width}" stroke-opacity="${item.opacity}" stroke-linejoin="round"${dash}`;
}

// ---- small helpers ------------------------------------------------------------------------------------------------

function svg(kind, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", kind);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

function escape(text) {
  return text.replace(/[&<>"]/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[sign]);
}
