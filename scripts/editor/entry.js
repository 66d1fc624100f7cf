// What the desk's page for writing a question uses of CodeMirror, as one file: `bash scripts/renew-editor` makes it.
export { autocompletion, completionKeymap } from "@codemirror/autocomplete";
export { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
export { yaml } from "@codemirror/lang-yaml";
export { HighlightStyle, indentOnInput, syntaxHighlighting } from "@codemirror/language";
export { EditorState, StateEffect, StateField } from "@codemirror/state";
export { Decoration, EditorView, WidgetType, drawSelection, highlightActiveLine, keymap, lineNumbers } from "@codemirror/view";
export { tags } from "@lezer/highlight";
