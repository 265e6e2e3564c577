// What an ordering page would write with the types that are made of /openapi.json. It has to pass `tsc --strict`.

import type { components, operations } from "./made";

type Check = components["schemas"]["CheckAnswer"];
type Problem = components["schemas"]["ProblemAnswer"];
type Finding = Check["findings"][number];
type Language = NonNullable<NonNullable<operations["checkFile"]["parameters"]["query"]>["lang"]>;

export async function check(service: string, pdf: Blob, spec: string, language: Language): Promise<Check> {
  const form = new FormData();
  form.append("file" satisfies keyof components["schemas"]["CheckForm"], pdf, "card.pdf");
  form.append("spec", spec);
  const answer = await fetch(`${service}/v1/checks?lang=${language}`, { method: "POST", body: form });
  if (!answer.ok) throw new Error(((await answer.json()) as Problem).detail);
  const found = (await answer.json()) as operations["checkFile"]["responses"]["201"]["content"]["application/json"];
  return found.state === "failed" && found.problem ? Promise.reject(new Error(found.problem.detail)) : found;
}

export function told(one: Finding): string {
  const [first] = one.places;
  const where = first ? `page ${first.page}, ${first.box_mm.map((mm) => mm.toFixed(1)).join(" ")} mm` : "the whole file";
  return `${one.level === "must" ? "Put right" : "Look at"}: ${one.message} ${one.remedy} (${where})`;
}

export function mayPrint(one: Check): boolean {
  return one.verdict === "conforming" || one.verdict === "conforming_with_observations";
}
