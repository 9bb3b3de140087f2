// A little comfort on top of a page that is whole without it: copy the address, and warn before typed text is lost.
"use strict";

const form = document.querySelector("form.bench");
const address = document.getElementById("address");
let changed = false;

if (form) {
  form.addEventListener("input", () => { changed = true; });
  form.addEventListener("submit", () => { changed = false; });
  window.addEventListener("beforeunload", (event) => { if (changed) event.preventDefault(); });
}

if (address && navigator.clipboard) {
  const button = document.createElement("button");
  const said = document.createElement("span");
  button.type = "button";
  button.className = "button plain";
  button.textContent = "Copy the address";
  said.setAttribute("role", "status");
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(address.value);
    said.textContent = " Copied.";
  });
  const line = document.createElement("p");
  line.className = "actions";
  line.append(button, said);
  address.closest("p").after(line);
}
