// What a page's own code does with the element, held to its types.
import CheckUploadByDefault, { CheckUpload, type CheckFinished } from "./check-upload.mjs";

const upload: CheckUpload | null = document.querySelector("check-upload");
if (upload) {
  upload.token = "…";
  upload.renewToken = async () => "…";
  upload.texts = { choose: "Visitenkarte hier ablegen" };
  upload.disabled = !upload.willValidate;
  upload.addEventListener("check-finished", ({ detail }) => order(detail));
  upload.addEventListener("check-progress", ({ detail: { stage, done, total } }) => console.log(stage.length, done / total));
  upload.addEventListener("check-failed", ({ detail: { code, status } }) => console.log(code, status.toFixed()));
  upload.addEventListener("focus", ({ relatedTarget }) => console.log(relatedTarget));
}

function order({ id, verdict, accepted, check }: CheckFinished): string {
  const worst = check.findings.filter(({ level }) => level === "must").map(({ message, remedy }) => `${message} ${remedy}`);
  return accepted && verdict !== "inconclusive" ? id : worst.join("\n");
}

// @ts-expect-error: what is only read
upload!.value = "another check";
CheckUpload.service = "https://print.example";
console.log(CheckUploadByDefault === CheckUpload, CheckUpload.TEXTS.de.choose);
