/* Comfort only: whatever happens here can also be done without it. */
"use strict";

const SENDING = "aria-disabled";
const PATIENCE_MS = 8000;
const LOST = "That did not get through. Look whether it was saved, then press again.";

function focusProblem(root) {
  const problem = root.querySelector("[data-focus]");
  if (problem) problem.focus();
}

function onSubmit(event) {
  const form = event.target;
  const button = event.submitter;
  if (form.method !== "post" || !button) return;
  if (button.getAttribute(SENDING) === "true") {
    event.preventDefault();
    event.stopPropagation();
    return;
  }
  button.setAttribute(SENDING, "true");
  setTimeout(() => button.removeAttribute(SENDING), PATIENCE_MS);
}

function letPressAgain(root) {
  for (const button of root.querySelectorAll(`[${SENDING}="true"]`)) {
    button.removeAttribute(SENDING);
  }
}

function closeMenus(except) {
  for (const menu of document.querySelectorAll("details[data-menu][open]")) {
    if (!except || !menu.contains(except)) menu.open = false;
  }
}

/* data-add-row="prefix": clone the template of an empty row, number it, count it. */
function addRow(button) {
  const prefix = button.dataset.addRow;
  const total = document.getElementById(`id_${prefix}-TOTAL_FORMS`);
  const pattern = document.querySelector(`template[data-row="${prefix}"]`);
  const rows = document.querySelector(`[data-rows="${prefix}"]`);
  if (!total || !pattern || !rows) return;
  const row = pattern.content.cloneNode(true);
  for (const part of row.querySelectorAll("*")) {
    for (const attribute of part.attributes) {
      attribute.value = attribute.value.replaceAll("__prefix__", total.value);
    }
  }
  total.value = Number(total.value) + 1;
  const first = row.querySelector("input:not([type=hidden]), select, textarea");
  rows.append(row);
  if (first) first.focus();
}

/* data-copy="id": copy the words of that element and say so in the live region. */
async function copyWords(button) {
  const source = document.getElementById(button.dataset.copy);
  const words = source.value ?? source.textContent.trim();
  await navigator.clipboard.writeText(words);
  say("Copied.");
}

function say(words, kind = "notice-success") {
  const line = document.createElement("p");
  line.className = `notice ${kind}`;
  line.textContent = words;
  document.getElementById("notices").replaceChildren(line);
}

/* data-reveal="id": show what is typed in a password field, or hide it again. */
function reveal(button) {
  const field = document.getElementById(button.dataset.reveal);
  const hidden = field.type === "password";
  field.type = hidden ? "text" : "password";
  button.textContent = hidden ? "Hide it" : "Show it";
}

function onClick(event) {
  closeMenus(event.target);
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.addRow) addRow(button);
  if (button.dataset.copy) copyWords(button);
  if (button.dataset.reveal) reveal(button);
}

function onChange(event) {
  const form = event.target.closest("form[data-autosubmit]");
  if (form) form.requestSubmit();
}

function onKey(event) {
  if (event.key !== "Escape") return;
  const menu = document.querySelector("details[data-menu][open]");
  closeMenus();
  if (menu) menu.querySelector("summary").focus();
}

/* Buttons that need this script stand hidden until it is here: data-with-script. */
function showComforts(root) {
  for (const part of root.querySelectorAll("[data-with-script][hidden]")) {
    part.hidden = false;
  }
}

/* An error page answers with a sentence; say that one where it can be had. */
function onError(event) {
  letPressAgain(document);
  const page = event.detail.xhr?.responseText ?? "";
  const lead = new DOMParser().parseFromString(page, "text/html").querySelector(".lead");
  say(lead?.textContent || LOST, "notice-warning");
}

document.addEventListener("submit", onSubmit);
document.addEventListener("click", onClick);
document.addEventListener("change", onChange);
document.addEventListener("keydown", onKey);
document.addEventListener("htmx:load", (event) => {
  showComforts(event.detail.elt);
  focusProblem(event.detail.elt);
});
document.addEventListener("htmx:afterRequest", () => letPressAgain(document));
document.addEventListener("htmx:responseError", onError);
document.addEventListener("htmx:sendError", onError);
window.addEventListener("pageshow", () => letPressAgain(document));
showComforts(document);
focusProblem(document);
