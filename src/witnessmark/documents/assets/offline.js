"use strict";
(() => {
  const form = document.querySelector("form[data-sheet]"), code = form.dataset.sheet, place = "witnessmark sheet " + code;
  const all = (what) => [...form.querySelectorAll(what)];
  const unitOf = (key) => form.querySelector('[data-unit="' + key + '"]');
  const ALPHABET = "23456789CDFHJKMNPRTVWXY";

  // Every answer by its key, in the order of the page, on one line each.
  const entries = () => {
    const found = new Map();
    for (const field of all("[data-key]")) {
      if (field.type === "radio" && !field.checked) continue;
      const unit = unitOf(field.dataset.key);
      const lines = field.value.split(/\r?\n/).map((line) => line.replace(/\s+/g, " ").trim()).filter((line) => line);
      const text = [lines.join(" \u00b6 "), unit ? unit.value.replace(/\s+/g, " ").trim() : ""].filter((one) => one).join(" ");
      if (text) found.set(field.dataset.key, text);
    }
    return [...found];
  };

  const check = (list) => {
    let value = 0x811c9dc5;
    for (const byte of new TextEncoder().encode(code + "\n" + list.map(([key, text]) => key + "=" + text + "\n").join(""))) {
      value = Math.imul(value ^ byte, 0x01000193) >>> 0;
    }
    let told = "";
    for (let n = 0; n < 6; n++) { told += ALPHABET[value % 23]; value = Math.floor(value / 23); }
    return told;
  };

  const text = () => {
    const list = entries();
    return "witness mark answers " + code + "\n" + list.map(([key, one]) => key + " = " + one + "\n").join("") + "check " + check(list) + "\n";
  };

  // The form alone: a number that can be read, a unit where one belongs.
  const fault = (field) => {
    const typed = field.value.trim(), unit = unitOf(field.dataset.key), has = unit && unit.value.trim();
    if (!typed) return has ? "The number is missing." : "";
    if (!field.dataset.number) return "";
    if (!/[0-9]/.test(typed)) return "A number belongs here, such as 12.5.";
    return unit && !has && !/[A-Za-z\u00b0\u00b5\u03bc\u03a9%]/.test(typed.replace(/[0-9][eE][+-]?[0-9]/, "")) ? "The unit is missing." : "";
  };

  const tell = () => {
    const numbers = all("input[data-number]");
    for (const field of numbers) document.getElementById("told-" + field.dataset.key).textContent = fault(field);
    const filled = new Set(entries().map(([key]) => key));
    const wanted = new Set(all("[data-key]").filter((one) => !one.dataset.line && one.dataset.key !== "note").map((one) => one.dataset.key));
    const empty = [...wanted].filter((key) => !filled.has(key)).map((key) => key.replace(".", ""));
    const faults = numbers.filter(fault).map((field) => field.dataset.label);
    form.querySelector(".state").textContent = [
      empty.length ? "Still empty: " + empty.join(", ") + "." : "Every answer has something in it.",
      faults.length ? "To look at once more: " + faults.join(", ") + "." : "",
    ].filter((one) => one).join(" ");
  };

  const keep = () => {
    const typed = all("[data-key], [data-unit]").map((one) => one.type === "radio" ? one.checked : one.value);
    try { localStorage.setItem(place, JSON.stringify(typed)); } catch { /* a device that keeps nothing */ }
    form.querySelector(".message").hidden = true;
    tell();
  };

  const restore = () => {
    let typed = [];
    try { typed = JSON.parse(localStorage.getItem(place)) || []; } catch { /* the same */ }
    all("[data-key], [data-unit]").forEach((one, n) => {
      if (one.type === "radio") one.checked = typed[n] === true;
      else if (typeof typed[n] === "string") one.value = typed[n];
    });
  };

  const acts = {
    save() {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([text()], { type: "text/plain" }));
      link.download = "answers-" + code + ".txt";
      link.click();
      URL.revokeObjectURL(link.href);
    },
    show() {
      const area = form.querySelector(".message textarea");
      area.value = text();
      form.querySelector(".message").hidden = false;
      area.focus();
      area.select();
    },
    clear() {
      if (!confirm("Empty the whole page? What you typed is gone then.")) return;
      form.reset();
      keep();
    },
  };

  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => { if (!event.target.readOnly) keep(); });
  all("button[data-act]").forEach((one) => one.addEventListener("click", acts[one.dataset.act]));
  form.querySelector(".send").hidden = false;
  restore();
  tell();
})();
