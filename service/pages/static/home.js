// Shows the answer without loading the page anew. Without this script, or where it fails, the form loads the page.

let latest = 0;

async function answer(address, asked) {
  const response = await fetch(address, { headers: { Accept: "text/html" } });
  if (!response.ok) throw new Error(`status ${response.status}`);
  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  if (asked !== latest) return;
  for (const part of ["form.ask", "#result"]) {
    document.querySelector(part).replaceWith(document.adoptNode(page.querySelector(part)));
  }
  document.title = page.title;
  history.pushState(null, "", address);
  const first = document.querySelector("form.ask [aria-invalid]") ?? document.querySelector("#result");
  first.focus({ preventScroll: true });
  first.scrollIntoView({ block: first.id === "result" ? "start" : "center" });
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form.ask")) return;
  event.preventDefault();
  const given = [...new FormData(form)].filter(([, text]) => text.trim());
  const address = `${location.pathname}?${new URLSearchParams(given)}`;
  latest += 1;
  answer(address, latest).catch(() => location.assign(address));
});

addEventListener("popstate", () => location.reload());
