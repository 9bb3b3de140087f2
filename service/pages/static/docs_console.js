// Starts the try-it console. Everything it loads comes from this service.
(() => {
  "use strict";

  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const follow = () => document.documentElement.classList.toggle("dark-mode", dark.matches);
  follow();
  dark.addEventListener("change", follow);

  document.getElementById("console-instead").remove();
  window.SwaggerUIBundle({
    url: "/openapi.json",
    dom_id: "#console",
    deepLinking: true,
    docExpansion: "list",
    defaultModelsExpandDepth: -1,
    tryItOutEnabled: true,
    validatorUrl: null,
  });
})();
