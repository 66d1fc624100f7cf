// The page that writes a question: the field becomes an editor that shows each problem under its line. Everything is
// decided by the desk; without this script the same page works by its buttons.
"use strict";
(() => {
  const { autocompletion, completionKeymap, defaultKeymap, history, historyKeymap, yaml, HighlightStyle, indentOnInput,
    syntaxHighlighting, EditorState, StateEffect, StateField, Decoration, EditorView, WidgetType, highlightActiveLine,
    keymap, lineNumbers, tags } = CodeMirror;
  const at = (id) => document.getElementById(id);
  const form = at("writing"), area = form.elements.text, seal = form.elements.seal, says = JSON.parse(form.dataset.says);
  const PAUSE = 350, UNSENT = `witnessmark ${location.pathname}`;

  // What the desk has not got yet is held by the browser, for a desk that is closed while somebody types.
  const unsent = {
    read() { try { return JSON.parse(localStorage.getItem(UNSENT)); } catch { return null; } },
    write(text) { try { localStorage.setItem(UNSENT, JSON.stringify({ text, seal: seal.value })); } catch { /* full */ } },
    drop() { try { localStorage.removeItem(UNSENT); } catch { /* none is kept */ } },
  };

  async function ask(way, values, signal) {
    const answer = await fetch(way, { method: "POST", body: new URLSearchParams(values), signal });
    if (!answer.ok) throw new Error(String(answer.status));
    return answer.json();
  }

  class Told extends WidgetType {
    constructor(problem) { super(); this.problem = problem; }
    eq(other) { return JSON.stringify(other.problem) === JSON.stringify(this.problem); }
    toDOM() {
      const { expected, found, remedy } = this.problem, told = document.createElement("div");
      told.className = "cm-told";
      told.append(`${says.expected} ${expected}, ${says.found} ${found}`);
      if (remedy) {
        const strong = document.createElement("strong");
        strong.textContent = remedy;
        told.append(". ", strong);
      }
      return told;
    }
  }

  const tell = StateEffect.define();
  const problemsAtLines = StateField.define({
    create: () => Decoration.none,
    update(shown, change) {
      shown = shown.map(change.changes);
      for (const effect of change.effects) if (effect.is(tell)) shown = decorated(change.state.doc, effect.value);
      return shown;
    },
    provide: (field) => EditorView.decorations.from(field),
  });

  function decorated(doc, problems) {
    const ranges = [];
    for (const problem of problems.filter((one) => one.line >= 1 && one.line <= doc.lines)) {
      const line = doc.line(problem.line);
      ranges.push(Decoration.line({ class: "cm-wrong" }).range(line.from));
      ranges.push(Decoration.widget({ widget: new Told(problem), block: true, side: 1 }).range(line.to));
    }
    return Decoration.set(ranges, true);
  }

  function row(problem) {
    const tr = document.createElement("tr"), where = document.createElement("th");
    tr.className = "wrong";
    where.scope = "row";
    where.className = "right";
    if (problem.line) {
      const to = document.createElement("a");
      to.href = "#editor";
      to.textContent = problem.line;
      to.setAttribute("aria-label", `${says.line} ${problem.line}`);
      to.addEventListener("click", (event) => { event.preventDefault(); goTo(problem.line); });
      where.append(to);
    }
    const what = document.createElement("td"), code = document.createElement("code"), todo = document.createElement("td");
    code.textContent = problem.found;
    what.append(`${says.expected} ${problem.expected}, ${says.found} `, code);
    todo.textContent = problem.remedy;
    tr.append(where, what, todo);
    return tr;
  }

  function goTo(number) {
    const line = view.state.doc.line(Math.min(number, view.state.doc.lines));
    view.dispatch({ selection: { anchor: line.from }, effects: EditorView.scrollIntoView(line.from, { y: "center" }) });
    view.focus();
  }

  function show(told) {
    view.dispatch({ effects: tell.of(told.problems) });
    at("heading").textContent = told.heading;
    at("problems").hidden = !told.problems.length;
    at("problems").tBodies[0].replaceChildren(...told.problems.map(row));
    at("remarks").replaceChildren(...told.remarks.map((words) => {
      const item = document.createElement("li");
      item.textContent = words;
      return item;
    }));
    // replaced, so that going back leaves the page and not an earlier look
    if (!told.variants) return;
    at("variants").hidden = false;
    at("variants").contentWindow.location.replace(told.variants);
  }

  let waiting = 0, asking = null;
  async function look() {
    const text = view.state.doc.toString();
    asking?.abort();
    asking = new AbortController();
    at("state").textContent = says.looking;
    try {
      const told = await ask(form.dataset.look, { text, seal: seal.value }, asking.signal);
      if (text !== view.state.doc.toString()) return;
      unsent.drop();
      show(told);
      at("state").textContent = says.held;
    } catch (error) {
      if (error.name !== "AbortError") at("state").textContent = says.away;
    }
  }

  async function words(place) {
    const before = place.matchBefore(/[A-Za-z_][\w-]*( [\w-]+)*$/);
    if (!before && !place.explicit) return null;
    const from = before ? before.from : place.pos, line = place.state.doc.lineAt(from);
    const asked = { text: place.state.doc.toString(), line: line.number, column: from - line.from + 1 };
    try {
      const { words: options } = await ask(form.dataset.words, asked);
      return options.length ? { from, options: options.map((one, n) => ({ ...one, boost: -n })), validFor: /^[\w -]*$/ } : null;
    } catch { return null; }
  }

  const look_of = EditorView.theme({
    "&": { color: "var(--ink)", backgroundColor: "var(--paper)", border: "1px solid var(--rule)", fontSize: "0.95rem" },
    "&.cm-focused": { outline: "2.5px solid var(--accent)", outlineOffset: "2px" },
    ".cm-scroller": { fontFamily: "ui-monospace, 'DejaVu Sans Mono', Consolas, monospace", lineHeight: "1.5" },
    ".cm-content": { caretColor: "var(--ink)" },
    ".cm-gutters": { color: "var(--faint)", backgroundColor: "var(--paper)", borderRight: "1px solid var(--thin)" },
    ".cm-activeLine, .cm-activeLineGutter": { backgroundColor: "var(--shade)" },
    ".cm-wrong": { borderLeft: "5px solid var(--accent)", backgroundColor: "var(--shade)" },
    ".cm-told": { borderLeft: "5px solid var(--accent)", padding: "0.1rem 0.6rem 0.4rem", whiteSpace: "normal",
      fontFamily: "'Libertinus Serif', Cambria, Georgia, serif", fontSize: "1rem", backgroundColor: "var(--shade)" },
    ".cm-tooltip": { color: "var(--ink)", backgroundColor: "var(--paper)", border: "1.5px solid var(--accent)" },
    ".cm-tooltip.cm-tooltip-autocomplete > ul": { fontFamily: "ui-monospace, 'DejaVu Sans Mono', Consolas, monospace" },
    ".cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]": { color: "var(--on-accent)", backgroundColor: "var(--accent)" },
    ".cm-completionInfo": { fontFamily: "'Libertinus Serif', Cambria, Georgia, serif", maxWidth: "22rem" },
    ".cm-completionDetail": { fontStyle: "normal", opacity: "0.8" },
  });
  const colours = HighlightStyle.define([
    { tag: tags.definition(tags.propertyName), color: "var(--accent)" },
    { tag: tags.comment, color: "var(--faint)", fontStyle: "italic" },
  ]);

  const root = at("editor").attachShadow({ mode: "open" });  // styles of the editor come in as sheets, not as text
  const left = unsent.read();
  const doc = left && left.text !== area.value ? left.text : area.value;
  if (doc !== area.value) seal.value = left.seal; else unsent.drop();
  const keep = () => { form.requestSubmit(at("keep")); return true; };
  const view = new EditorView({
    root, parent: root, doc,
    extensions: [
      lineNumbers(), history(), yaml(), indentOnInput(), syntaxHighlighting(colours), highlightActiveLine(), look_of,
      problemsAtLines, EditorView.lineWrapping, autocompletion({ override: [words], icons: false }),
      EditorState.phrases.of({ Completions: says.completions }),
      EditorView.contentAttributes.of({ "aria-label": says.label, spellcheck: "false" }),
      keymap.of([{ key: "Mod-s", run: keep, preventDefault: true }, ...completionKeymap, ...defaultKeymap, ...historyKeymap]),
      EditorView.updateListener.of((change) => {
        if (!change.docChanged) return;
        area.value = change.state.doc.toString();
        unsent.write(area.value);
        clearTimeout(waiting);
        waiting = setTimeout(look, PAUSE);
      }),
    ],
  });
  at("plain").hidden = true;
  at("look").hidden = true;
  area.value = doc;
  if (left && doc === left.text) look().then(() => { at("state").textContent = says.again; });
  else show_first();

  function show_first() {
    const rows = [...at("problems").tBodies[0].rows].map((one) => [...one.cells].map((cell) => cell.textContent));
    if (rows.length) look();
  }
})();
