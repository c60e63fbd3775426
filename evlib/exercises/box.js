// The box under an exercise: a labelled field or a list of choices, a button, and what the marker says. The page judges
// nothing: every answer goes to the one marker. Comes after panels/mount.js in one text.

let boxes = 0; // counts this exercise's boxes, for ids that differ

export default {
  initialize({ model, signal }) {
    const mounted = new Boxes(model, model.get("spec").run);
    mounted.scan();
    mounted.greet(); // after the page was reloaded the kernel may know a later answer than at the start
    const end = () => mounted.end();
    if (signal) signal.addEventListener("abort", end);
    return end;
  },
};

class Boxes extends Mounted {
  constructor(model, run) {
    super(model, run);
    this.said = model.get("spec").last;
    model.on("msg:custom", (message) => this.receive(message));
  }

  view(mount) {
    const box = new Box(this, this.model.get("spec"));
    mount.querySelector(".evlib-live").replaceChildren(box.root);
    if (this.said) box.say(this.said);
    return box;
  }

  greet() { this.send({ kind: "hello" }); }

  receive(message) {
    this.reveal(true);
    if (!message.verdict) return;
    this.said = message;
    for (const box of this.mounted.values()) box.say(message);
  }
}

class Box {
  constructor(boxes_, spec) {
    this.boxes = boxes_;
    this.id = `evlib-box-${spec.run}-${++boxes}`;
    this.heard = make("p", { class: "evlib-heard", role: "status" });
    const button = this.input("button", { type: "button" }, [spec.button]);
    button.addEventListener("click", () => this.submit());
    const field = spec.options.length ? this.choices(spec) : this.field(spec);
    this.root = make("div", { class: "evlib-box", "data-exercise": spec.id }, [field, button, this.heard]);
  }

  // Lab's command mode would swallow the keys without the attribute, and it must stand on each input itself.
  input(kind, attributes, children) {
    return make(kind, { "data-lm-suppress-shortcuts": "true", ...attributes }, children);
  }

  field(spec) {
    const box = this.input(spec.long ? "textarea" : "input", { id: this.id, autocomplete: "off", spellcheck: "false" });
    if (spec.long) box.rows = 4;
    else box.type = "text";
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && !spec.long) this.submit();
      if (event.key !== "Escape") event.stopPropagation();
    });
    this.typed = () => box.value;
    this.fill = (text) => { if (!box.value) box.value = text; };
    return make("div", { class: "evlib-field" }, [make("label", { for: this.id }, [spec.label]), box]);
  }

  choices(spec) {
    const radios = spec.options.map(([letter]) => this.input("input", { type: "radio", name: this.id, value: letter }));
    this.typed = () => (radios.find((radio) => radio.checked) || { value: "" }).value;
    this.fill = (text) => {
      if (!this.typed()) for (const radio of radios) radio.checked = radio.value === text;
    };
    const rows = spec.options.map(([letter, text], n) => make("label", {}, [radios[n], ` ${letter}. ${text}`]));
    return make("fieldset", {}, [make("legend", {}, [spec.label]), ...rows]);
  }

  submit() { this.boxes.send({ kind: "answer", text: this.typed() }); }

  say({ text, verdict, words, sentence }) {
    this.fill(text);
    this.heard.className = "evlib-heard evlib-" + verdict.replace(" ", "-");
    this.heard.replaceChildren(make("b", {}, [words + (sentence ? ": " : "")]), sentence);
  }
}
