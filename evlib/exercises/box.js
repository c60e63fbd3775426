// The box under an exercise: a labelled field or a list of choices, a button, and what the marker says. The page judges
// nothing: every answer goes to the one marker. Comes after panels/mount.js in one text.

let boxes = 0; // counts this exercise's boxes, for ids that differ
const PATIENCE = 8000; // ms
const UNANSWERED = "No answer came. What you typed is kept: run all cells again, then send it once more.";
const EARLIER = "Typed earlier and not marked yet: send it once more.";

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
    box.open(this.said);
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
    const forms = { line: this.field, text: this.field, choices: this.choices, order: this.order, lines: this.lines };
    const field = forms[spec.form].call(this, spec);
    this.root = make("div", { class: "evlib-box", "data-exercise": spec.id }, [field, button, this.heard]);
    this.key = `evlib-answer-${spec.id}`;
    for (const kind of ["input", "change"]) this.root.addEventListener(kind, () => this.stale());
  }

  // What was typed and got no answer is shown again; else what the marker said last.
  open(said) {
    const left = this.kept();
    if (left && !(said && said.text === left)) {
      this.fill(left);
      this.tell("unread", "not read", EARLIER);
    } else if (said) this.say(said);
  }

  // Lab's command mode would swallow the keys without the attribute, and it must stand on each input itself.
  input(kind, attributes, children) {
    return make(kind, { "data-lm-suppress-shortcuts": "true", ...attributes }, children);
  }

  field(spec) {
    const box = this.entry(spec.form === "text");
    this.typed = () => box.value;
    this.fill = (text) => { if (!box.value) box.value = text; };
    return make("div", { class: "evlib-field" }, [make("label", { for: this.id }, [spec.label]), box]);
  }

  // Where something is typed: one line, sent with Enter, or room for sentences.
  entry(long) {
    const box = this.input(long ? "textarea" : "input", { id: this.id, autocomplete: "off", spellcheck: "false" });
    if (long) box.rows = 4;
    else box.type = "text";
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && !long) this.submit();
      if (event.key !== "Escape") event.stopPropagation();
    });
    return box;
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

  // Rows that move: each has a button up and one down, and the focus goes with the row.
  order(spec) {
    const list = make("ol", {});
    const moved = make("p", { class: "evlib-moved", role: "status" });
    let touched = false;
    const rows = spec.options.map(([letter, text]) => {
      const row = make("li", { "data-letter": letter }, [make("span", {}, [text])]);
      const buttons = [["Up", -1], ["Down", 1]].map(([word, by]) => {
        const button = this.input("button", { type: "button", "aria-label": `${word}: ${text}` }, [word]);
        button.addEventListener("click", () => {
          const now = [...list.children], at = now.indexOf(row), to = Math.min(Math.max(at + by, 0), now.length - 1);
          if (to !== at) list.insertBefore(row, by < 0 ? now[to] : now[to].nextSibling);
          button.focus();
          this.stale();
          touched = true;
          moved.textContent = `Now step ${to + 1} of ${now.length}: ${text}`;
        });
        return button;
      });
      row.prepend(make("span", { class: "evlib-moves" }, buttons));
      return row;
    });
    list.append(...rows);
    this.typed = () => [...list.children].map((row) => row.dataset.letter).join(" ");
    this.fill = (text) => {
      if (touched) return;
      touched = true;
      for (const letter of text.split(/[^a-z]*/i)) list.append(...rows.filter((row) => row.dataset.letter === letter));
    };
    return make("fieldset", {}, [make("legend", {}, [spec.label]), list, moved]);
  }

  // The lines of a sum to choose one of, and what should stand there: "3: 85 kPa".
  lines(spec) {
    const choices = this.choices(spec), line = this.typed, choose = this.fill;
    const box = this.entry(false);
    const label = make("label", { for: this.id }, ["what should stand there, with its unit, once the line is found"]);
    this.typed = () => line() + (line() && box.value ? ": " + box.value : "");
    this.fill = (text) => {
      const [, number, value] = text.match(/^(?:line\s*)?(\d)[\s:;,.)]*(.*)$/i) || [];
      if (number) choose(number);
      if (value && !box.value) box.value = value;
    };
    return make("div", {}, [choices, make("div", { class: "evlib-field" }, [label, box])]);
  }

  submit() {
    const text = this.typed();
    this.keep(text);
    this.stale();
    this.waiting = setTimeout(() => { this.waiting = 0; this.tell("unread", "not read", UNANSWERED); }, PATIENCE);
    this.boxes.send({ kind: "answer", text });
  }

  say({ text, verdict, words, sentence }) {
    if (!this.waiting && this.kept() && this.kept() !== text) return; // an older answer: the newer one waits
    clearTimeout(this.waiting);
    this.waiting = 0;
    this.keep("");
    this.fill(text);
    this.tell(verdict, words, sentence);
  }

  tell(verdict, words, sentence) {
    this.heard.className = "evlib-heard evlib-" + verdict.replace(" ", "-");
    this.heard.replaceChildren(make("b", {}, [words + (sentence ? ": " : "")]), sentence);
  }

  // A verdict does not stand beside another answer than its own.
  stale() {
    if (this.waiting) return;
    this.heard.className = "evlib-heard";
    this.heard.replaceChildren();
  }

  keep(text) {
    try { text ? sessionStorage.setItem(this.key, text) : sessionStorage.removeItem(this.key); } catch (error) { /* nowhere */ }
  }

  kept() { try { return sessionStorage.getItem(this.key); } catch (error) { return null; } }
}
