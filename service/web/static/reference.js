// Shows /openapi.json with the viewer that is shipped with the service, and adds what it lacks: code that makes each call,
// problems told in short, and names for whoever hears the page.

const ROOT = document.getElementById("reference");
const dark = window.matchMedia("(prefers-color-scheme: dark)");
const followScheme = () => document.documentElement.classList.toggle("dark-mode", dark.matches);
dark.addEventListener("change", followScheme);
followScheme();

function additions({ React }) {
  const h = React.createElement;
  return {
    components: {
      JobLayout: layoutOf(h),
      // The line of a call is a button already; a link inside it could not be reached by itself.
      DeepLink: ({ text }) => h("span", null, text),
    },
    wrapComponents: {
      parameters: (Original) => {
        const Code = codeOf(React);
        return (props) => {
          const [path, method] = props.pathMethod;
          const samples = props.specSelectors.specJson().getIn(["paths", path, method, "x-codeSamples"]);
          const call = `${method.toUpperCase()} ${path}`;
          return h(React.Fragment, null, samples && h(Code, { samples: samples.toJS(), call }), h(Original, props));
        };
      },
      response: (Original) => (props) => (isProblem(props) ? h(Problem(h), props) : h(Original, props)),
    },
  };
}

function layoutOf(h) {
  return function JobLayout({ getComponent, specSelectors }) {
    const status = specSelectors.loadingStatus();
    if (status !== "success") return h("p", null, status === "failed" ? "/openapi.json cannot be loaded." : "…");
    const part = (name) => h(getComponent(name, true));
    const models = h("div", { className: "wrapper" }, part("Models"));
    return h("div", { className: "swagger-ui" }, part("SvgAssets"), part("errors"), h("div", { id: "operations" }, part("operations")), models);
  };
}

// --- Code ---------------------------------------------------------------------------------------------------------------

let chosen = "curl";

function codeOf(React) {
  const h = React.createElement;
  return function Code({ samples, call }) {
    const [label, choose] = React.useState(chosen);
    const [copied, setCopied] = React.useState(false);
    const sample = samples.find((one) => one.label === label) ?? samples[0];
    const button = (one) =>
      h("button", {
        key: one.label, type: "button", "aria-pressed": one === sample,
        onClick: () => { chosen = one.label; choose(one.label); setCopied(false); },
      }, one.label);
    const copy = () => navigator.clipboard?.writeText(sample.source).then(() => setCopied(true));
    return h("div", { className: "code-of-call" },
      h("div", { className: "opblock-section-header" },
        h("h4", null, "Code"),
        h("div", { role: "group", "aria-label": `Language of the code for ${call}` }, samples.map(button)),
        h("button", { type: "button", className: "copy", onClick: copy }, copied ? "Copied" : "Copy")),
      h("pre", { tabIndex: 0, role: "region", "aria-label": `${sample.label}: ${call}` }, h("code", null, sample.source)));
  };
}

// --- Problems ------------------------------------------------------------------------------------------------------------

const PROBLEM = "application/problem+json";
const isProblem = ({ code, response }) => (code === "default" || Number(code) >= 400) && response.getIn?.(["content", PROBLEM]);

function Problem(h) {
  return function ProblemRow({ code, response }) {
    const examples = response.getIn(["content", PROBLEM, "examples"])?.toJS() ?? {};
    const one = ([name, { summary, value }]) =>
      h("details", { key: name }, h("summary", null, `${name}: ${summary}`), h("pre", { tabIndex: 0 }, JSON.stringify(value, null, 2)));
    const told = Object.entries(examples);
    return h("tr", { className: "response", "data-code": code },
      h("td", { className: "response-col_status" }, code),
      h("td", { className: "response-col_description", colSpan: 2 },
        told.length ? told.map(one) : h("p", null, response.get("description"))));
  };
}

// --- Names ---------------------------------------------------------------------------------------------------------------

function name() {
  for (const field of ROOT.querySelectorAll("select:not([aria-label]), input:not([aria-label]), textarea:not([aria-label])")) {
    const parameter = field.closest("[data-param-name]")?.dataset.paramName ?? field.closest("tr")?.querySelector(".parameter__name")?.textContent;
    const ofExamples = field.matches(".examples-select-element") ? "Example" : null;
    field.setAttribute("aria-label", ofExamples ?? parameter ?? field.placeholder ?? "Value");
  }
  for (const text of ROOT.querySelectorAll("pre.microlight:not([tabindex])")) text.tabIndex = 0;
}

new MutationObserver(name).observe(ROOT, { childList: true, subtree: true });

// --- Trying out ----------------------------------------------------------------------------------------------------------

// The viewer fills each field of a form with a word, and sends those that were emptied: a field left alone is left out here.
function withoutFilling(description) {
  const forms = Object.values(description.paths).flatMap(Object.values).map((call) => call.requestBody?.content["multipart/form-data"]);
  for (const form of forms) {
    const name = form?.schema.$ref?.split("/").pop();
    const properties = name ? description.components.schemas[name].properties : {};
    for (const property of Object.values(properties)) property.example ??= "";
  }
  return description;
}

function withoutEmptyFields(request) {
  if (request.body instanceof FormData)
    for (const [field, value] of [...request.body]) if (value === "" || value.size === 0) request.body.delete(field);
  return request;
}

const description = await fetch("/openapi.json").then((answer) => answer.json());

window.SwaggerUIBundle({
  spec: withoutFilling(description),
  domNode: ROOT,
  layout: "JobLayout",
  requestInterceptor: withoutEmptyFields,
  deepLinking: true,
  defaultModelsExpandDepth: 0,
  docExpansion: "list",
  syntaxHighlight: { activated: false },
  validatorUrl: null,
  plugins: [additions],
});
