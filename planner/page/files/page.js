// Keeps the page as the ledger stands. Without it everything can be recorded all the same.
"use strict";

const EVERY_MS = 2000;
const SETTLE_MS = 1000; // a tap that was meant for the run before must not hit the new one

const notice = (id, shown) => { document.getElementById(id).hidden = !shown; };

const typing = () => {
  const form = document.getElementById("form");
  if (!form) return false;
  const fields = [...form.querySelectorAll("input:not([type=hidden])")];
  return fields.some((field) => field.value.trim() || field === document.activeElement);
};

function show(text) {
  const drawn = new DOMParser().parseFromString(text, "text/html");
  document.querySelector("main").replaceWith(drawn.querySelector("main"));
  document.title = drawn.title;
  document.body.dataset.mark = drawn.body.dataset.mark;
  const buttons = document.querySelectorAll("#form button");
  buttons.forEach((button) => { button.disabled = true; });
  setTimeout(() => buttons.forEach((button) => { button.disabled = false; }), SETTLE_MS);
}

async function got(address) {
  const answer = await fetch(address, { cache: "no-store" });
  if (!answer.ok) throw new Error(answer.statusText);
  return answer.text();
}

async function look() {
  try {
    const news = (await got("mark")) !== document.body.dataset.mark;
    notice("news", news && typing());
    if (news && !typing()) {
      const text = await got("./");
      if (typing()) notice("news", true);
      else show(text);
    }
    notice("contact", false);
  } catch {
    notice("contact", true);
  }
  setTimeout(look, EVERY_MS);
}

setTimeout(look, EVERY_MS);
