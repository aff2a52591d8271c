// Keeps the page as the ledger stands, and an answer until it has arrived.
// Without it everything can be recorded all the same.
"use strict";

const AGAIN_MS = 2000;
const SETTLE_MS = 1000; // a tap that was meant for the run before must not hit the new one
const home = new URL(document.body.dataset.home, location.href).href;
const SLOT = `unsent ${home}`;
const drawn = {}; // by part of the page, its markup as it was drawn
let delivering = false;
let pictured = ""; // the ledger's end of which pictures stand here
let refused = false; // an answer stands here to be mended: no news may take it away

const notice = (id, shown) => {
  const told = document.getElementById(id);
  if (told) told.hidden = !shown;
};
const parts = (of) => [...of.querySelectorAll("[data-part]")];
const remember = () => parts(document).forEach((part) => { drawn[part.id] = part.innerHTML; });
const run = (of) => of.querySelector("[name=run]")?.value;
const atHome = () => parts(document).length > 0;

function typing() {
  const form = document.getElementById("form");
  if (!form) return false;
  const fields = [...form.querySelectorAll("input:not([type=hidden])")];
  return fields.some((field) => field.value.trim() || field === document.activeElement);
}

function settle() {
  const buttons = document.querySelectorAll("#form button");
  buttons.forEach((button) => { button.disabled = true; });
  setTimeout(() => buttons.forEach((button) => { button.disabled = false; }), SETTLE_MS);
}

// Put what is new into its place; nothing else moves, and nothing typed is lost unless `sent`.
function show(page, sent) {
  let held = false;
  for (const part of parts(page)) {
    const here = document.getElementById(part.id);
    const markup = part.innerHTML;
    if (drawn[part.id] === markup && !sent) continue;
    if (part.id === "asked" && typing() && !sent) {
      held = run(here) !== run(part);
      continue;
    }
    here.innerHTML = markup;
    drawn[part.id] = markup;
    if (part.id === "asked") settle();
  }
  notice("news", held);
  if (!held) document.title = page.title;
  document.body.dataset.mark = page.body.dataset.mark;
  if (sent) document.getElementById("run")?.focus();
  pictures();
}

const read = async (answer) => new DOMParser().parseFromString(await answer.text(), "text/html");

async function refresh() {
  const page = await read(await fetch("./", { cache: "no-store" }));
  if (refused) return;
  if (atHome() && parts(page).length) show(page, false);
  else if (atHome() || parts(page).length) location.reload(); // it can be read no more, or again
}

// Once what matters more is worked out: drawing would keep that waiting.
async function pictures() {
  const place = document.getElementById("pictures");
  const head = document.body.dataset.mark?.split(".")[0];
  if (!place || head === pictured || document.getElementById("waits")) return;
  pictured = head;
  const page = await fetch("pictures", { cache: "no-store" }).then(read).catch(() => null);
  const found = page?.querySelector(".pictures");
  if (!found) {
    pictured = ""; // to be asked for again with the next news
    return;
  }
  const open = [...place.querySelectorAll("details")].map((details) => details.open);
  await Promise.all([...found.querySelectorAll("img")].map((image) => {
    const early = new Image(); // drawn before it takes the older one's place
    early.src = image.getAttribute("src");
    return early.decode().catch(() => {});
  }));
  found.querySelectorAll("details").forEach((details, at) => { details.open = open[at] ?? false; });
  place.replaceChildren(found);
}

const unsent = () => JSON.parse(localStorage.getItem(SLOT) ?? "null");

// Send what is kept; it stays kept until the machine has said what became of it.
async function deliver() {
  const entry = unsent();
  if (!entry || delivering) return;
  delivering = true;
  try {
    const answer = await fetch(entry.to, { method: "POST", body: new URLSearchParams(entry.body) });
    if (!answer.ok && answer.status !== 422) throw new Error(answer.statusText);
    const page = await read(answer);
    localStorage.removeItem(SLOT);
    notice("kept", false);
    arrived(page, answer);
  } catch {
    document.querySelector("#kept span").textContent = entry.what;
    notice("kept", true);
  } finally {
    delivering = false;
  }
}

function arrived(page, answer) {
  refused = !answer.ok;
  if (atHome() && parts(page).length) show(page, true);
  else if (answer.ok) location.replace(home);
  else document.querySelector("main").replaceWith(page.querySelector("main"));
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  event.preventDefault();
  if (unsent()) return;
  const fields = new FormData(form);
  if (event.submitter) fields.set(event.submitter.name, event.submitter.value);
  const body = new URLSearchParams(fields).toString();
  const what = `${form.dataset.what}: ${fields.get("outcome") || "nothing"}`;
  localStorage.setItem(SLOT, JSON.stringify({ to: form.action, body, what }));
  deliver();
});

document.getElementById("forget")?.addEventListener("click", () => {
  localStorage.removeItem(SLOT);
  notice("kept", false);
});

function listen() {
  const news = new EventSource(`${home}news`);
  news.onopen = () => { notice("contact", false); deliver(); };
  news.onmessage = (event) => {
    if (event.data !== document.body.dataset.mark) refresh().catch(() => {});
  };
  news.onerror = () => {
    notice("contact", true);
    news.close();
    setTimeout(listen, AGAIN_MS);
  };
}

remember();
if (document.body.dataset.mark) listen();
addEventListener("online", deliver);
setInterval(deliver, AGAIN_MS);
deliver();
pictures();
