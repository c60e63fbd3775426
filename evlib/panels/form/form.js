// A form for the parts of a build: every value has a label, a box, where it comes from, and what became of it. The page
// judges nothing. What is typed and not yet saved is kept in the tab, so that it is there again after a kernel has died.
// Comes after panels/mount.js in one text.

// A kernel that has gone does not say so; a busy one answers later.
const PATIENCE = 8000; // ms
const UNANSWERED = "Not saved yet: no answer. What you typed is kept. Reload this page, then run all cells.";

let forms = 0; // counts the forms in this page, for ids that differ

export default {
  initialize({ model, signal }) {
    const mounted = new Forms(model, model.get("spec").run);
    mounted.scan();
    mounted.greet();
    const end = () => mounted.end();
    if (signal) signal.addEventListener("abort", end);
    return end;
  },
};

class Forms extends Mounted {
  constructor(model, run) {
    super(model, run);
    model.on("msg:custom", (message) => this.receive(message));
  }

  view(mount) {
    const form = new Form(this, this.model.get("spec"));
    mount.querySelector(".evlib-live").replaceChildren(form.root);
    return form;
  }

  greet() { this.send({ kind: "hello" }); }

  receive(message) {
    this.reveal(true);
    for (const form of this.mounted.values()) form.hear(message);
  }
}

class Form {
  constructor(forms_, spec) {
    this.forms = forms_;
    this.file = spec.file;
    this.sources = spec.sources;
    this.rows = new Map(); // path -> Row
    this.summaries = new Map(); // section -> how its title is told
    this.counts = make("p", { role: "status" }, [spec.counts]);
    const sections = spec.sections.map((section, number) => this.section(section, number === 0, ++forms));
    this.root = make("div", { class: "evlib-form" }, [this.counts, ...sections]);
    for (const row of this.rows.values()) row.restore();
    this.summarise();
  }

  section({ path, title, rows }, open, number) {
    const summary = make("summary");
    const made = rows.map((row, index) => {
      const view = new Row(this, row, `evlib-form-${number}-${index}`);
      this.rows.set(row.path, view);
      return view;
    });
    this.summaries.set(path, { summary, title, rows: made });
    const box = make("details", { "data-part": path }, [summary, ...made.map((row) => row.root)]);
    box.open = open;
    return box;
  }

  summarise() {
    for (const { summary, title, rows } of this.summaries.values()) {
      const absent = rows.some((row) => row.path.endsWith(".fitted") && row.saved === "no");
      const asked = rows.filter((row) => !row.path.endsWith(".fitted"));
      const known = asked.filter((row) => row.saved).length;
      summary.textContent = absent ? `${title}: not fitted` : `${title}: ${known} of ${asked.length} filled in`;
      for (const row of rows) row.root.hidden = absent && !row.path.endsWith(".fitted");
    }
  }

  hear(message) {
    if (message.kind === "all") for (const row of message.rows) this.rows.get(row.path)?.take(row);
    if (message.kind === "saved") this.rows.get(message.row.path)?.take(message.row, message.sentence);
    if (message.kind === "refused") this.rows.get(message.path)?.refuse(message.sentence);
    if (message.counts) this.counts.textContent = message.counts;
    this.summarise();
  }
}

class Row {
  constructor(form, row, id) {
    Object.assign(this, { form, path: row.path, saved: row.typed, id });
    this.box = this.field(row);
    this.box.value = row.typed;
    this.said = make("span", { class: "evlib-said", role: "status", id: `${id}-said` });
    const help = make("span", { class: "evlib-help", id: `${id}-help` }, [row.help]);
    const parts = [make("label", { for: id }, [row.label]), this.box];
    if (row.sourced) parts.push(this.sourceBox(row));
    this.root = make("div", { class: "evlib-entry", "data-path": row.path }, [...parts, this.said, help]);
    this.box.setAttribute("aria-describedby", `${id}-help ${id}-said`);
    this.box.addEventListener("change", () => this.submit());
    this.box.addEventListener("input", () => this.draft(this.box.value));
  }

  // Lab's command mode would swallow the keys without the attribute, and it must stand on each input itself.
  field(row) {
    const plain = { "data-lm-suppress-shortcuts": "true", id: this.id };
    if (row.kind === "choice") return this.select(plain, [["", "not known"], ...row.options.map((one) => [one, one])]);
    const box = make(row.kind === "points" ? "textarea" : "input", { ...plain, autocomplete: "off", spellcheck: "false" });
    if (row.kind === "points") box.rows = 4;
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && row.kind !== "points") this.submit();
      if (event.key !== "Escape") event.stopPropagation();
    });
    return box;
  }

  select(attributes, options) {
    return make("select", attributes, options.map(([value, words]) => make("option", { value }, [words])));
  }

  sourceBox(row) {
    const attributes = { "data-lm-suppress-shortcuts": "true", "aria-label": `${row.label}: where it comes from` };
    this.source = this.select(attributes, this.form.sources.map((one) => [one, one]));
    this.source.value = row.source;
    this.source.addEventListener("change", () => { if (this.box.value) this.submit(); });
    return this.source;
  }

  submit() {
    const text = this.box.value;
    const source = this.source ? this.source.value : "guess";
    if (text === this.saved && source === this.savedSource) return;
    this.draft(text);
    this.say("Saving ...", "");
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.say(UNANSWERED, "evlib-bad"), PATIENCE);
    if (!this.form.forms.send({ kind: "enter", path: this.path, text, source })) this.say("Not saved.", "evlib-bad");
  }

  take({ typed, source }, sentence = "") {
    if (sentence) clearTimeout(this.waiting);
    const editing = document.activeElement === this.box && this.box.value !== typed && !sentence;
    this.saved = typed;
    this.savedSource = source;
    if (editing || (this.kept() !== null && !sentence)) return; // a greeting does not overwrite what is being typed
    this.box.value = typed;
    if (this.source) this.source.value = source;
    this.box.removeAttribute("aria-invalid");
    this.forget();
    if (sentence) this.say(sentence, "evlib-good");
  }

  refuse(sentence) {
    clearTimeout(this.waiting);
    this.box.setAttribute("aria-invalid", "true");
    this.say(sentence, "evlib-bad");
  }

  say(words, kind) {
    this.said.className = `evlib-said ${kind}`;
    this.said.textContent = words;
  }

  // What is typed and not saved, kept by the tab; a page that may not keep anything simply does without.
  get key() { return `evlib:${this.form.file}:${this.path}`; }
  draft(text) { try { sessionStorage.setItem(this.key, text); } catch (error) { /* nothing to keep it in */ } }
  forget() { try { sessionStorage.removeItem(this.key); } catch (error) { /* nothing was kept */ } }
  kept() { try { return sessionStorage.getItem(this.key); } catch (error) { return null; } }

  restore() {
    const kept = this.kept();
    if (kept === null || kept === this.saved) return this.forget();
    this.box.value = kept;
    this.say("Typed earlier, not saved yet: press Enter in the box.", "evlib-bad");
    this.root.parentElement.open = true;
  }
}
