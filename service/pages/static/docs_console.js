// Starts the try-it console. Everything it loads comes from this service.
(() => {
  "use strict";

  const place = document.getElementById("console");

  // The page itself has the title, the description and the landmarks; only the operations are wanted of Swagger UI.
  const operationsOnly = ({ React }) => ({
    components: {
      OperationsOnly: ({ getComponent }) =>
        React.createElement(
          "div",
          { className: "swagger-ui" },
          React.createElement(getComponent("errors", true)),
          React.createElement(getComponent("operations", true)),
        ),
    },
  });

  // Swagger UI leaves its lists of choices without a name for screen readers.
  const nameChoices = () => {
    for (const choice of place.querySelectorAll("select:not([aria-label])")) {
      const parameter = choice.closest("tr[data-param-name]");
      choice.setAttribute("aria-label", parameter ? parameter.dataset.paramName : "Choice");
    }
  };

  document.getElementById("console-instead").remove();
  new MutationObserver(nameChoices).observe(place, { childList: true, subtree: true });
  window.SwaggerUIBundle({
    url: "/openapi.json",
    domNode: place,
    plugins: [operationsOnly],
    layout: "OperationsOnly",
    docExpansion: "list",
    syntaxHighlight: false,
    tryItOutEnabled: true,
    validatorUrl: null,
  });
})();
