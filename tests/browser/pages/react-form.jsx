// An order form in React 19: the element's properties and events are props.
import { useState } from "react";
import { createRoot } from "react-dom/client";

function Order({ token, renewToken }) {
  const [result, setResult] = useState(null);
  const [step, setStep] = useState("file");
  if (step === "address") {
    return <p>Where to? <button onClick={() => setStep("file")}>Back to the file</button></p>;
  }
  return (
    <form method="post" action="/order">
      <check-upload
        name="check" token={token} renewToken={renewToken} accept-verdicts="conforming conforming_with_observations"
        oncheck-finished={({ detail }) => setResult(detail)}
      />
      <output>{result ? `${result.check.file.name}: ${result.accepted ? "may be ordered" : "has to be put right"}` : ""}</output>
      <button type="button" onClick={() => setStep("address")}>Address</button>
      <button disabled={!result?.accepted}>Order</button>
    </form>
  );
}

const renewToken = async () => (await (await fetch("/token", { method: "POST" })).json()).token;
createRoot(document.querySelector("main")).render(<Order token={document.body.dataset.token} renewToken={renewToken} />);
