// An order form in Vue 3, without templates, so that the page's policy needs no unsafe-eval.
import { createApp, h, KeepAlive, ref } from "vue";

const File = {
  name: "File",
  setup: () => {
    const result = ref(null);
    return () => h("div", [
      h("check-upload", {
        name: "check", token: document.body.dataset.token, "accept-verdicts": "conforming conforming_with_observations",
        onCheckFinished: ({ detail }) => { result.value = detail; },
      }),
      h("output", result.value ? `${result.value.check.file.name}: ${result.value.accepted ? "may be ordered" : "has to be put right"}` : ""),
    ]);
  },
};
const Address = { name: "Address", render: () => h("p", "Where to?") };

createApp({
  setup: () => {
    const step = ref("file");
    return () => h("form", { method: "post", action: "/order" }, [
      h(KeepAlive, () => (step.value === "file" ? h(File) : h(Address))),
      h("button", { type: "button", onClick: () => { step.value = step.value === "file" ? "address" : "file"; } },
        step.value === "file" ? "Address" : "Back to the file"),
      h("button", "Order"),
    ]);
  },
}).mount("main");
