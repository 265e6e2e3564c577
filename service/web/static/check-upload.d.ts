/**
 * Types of <check-upload>, for check-upload.mjs (a module) and check-upload.js (a classic script): copy this file beside your own, or
 * name it in "types". All that the element has stands here.
 *
 *   <check-upload name="check" token="…" lang="de" accept-verdicts="conforming conforming_with_observations"></check-upload>
 *
 * | attribute         | what it says                                                                                              |
 * | ----------------- | --------------------------------------------------------------------------------------------------------- |
 * | `token`           | of POST /v1/upload-tokens, asked for by the shop's backend                                                |
 * | `name`            | under which the check's id stands in the form                                                             |
 * | `accept-verdicts` | verdicts with which the form may be sent, with spaces between; left out: all                              |
 * | `optional`        | the form may be sent without a file                                                                       |
 * | `disabled`        | as of any field; a `<fieldset disabled>` around it does the same                                          |
 * | `lang`            | en, de, fr, es; left out: the language of the page around it, then the browser's                          |
 * | `texts`           | JSON: words of your own instead of the element's, by their keys (`CheckUpload.TEXTS`)                     |
 * | `service`         | address of the service, where the script did not come from there                                          |
 *
 * | event            | when                                                      | detail                                        |
 * | ---------------- | --------------------------------------------------------- | --------------------------------------------- |
 * | `check-started`  | a file was chosen or dropped                              | `name`, `size`                                |
 * | `check-progress` | while it is uploaded and checked                          | `stage`, `done`, `total` (0: unknown)         |
 * | `check-finished` | the result is there, whatever it says                     | `id`, `verdict`, `accepted`, `check`          |
 * | `check-failed`   | there is none: refused, lost, or a fault of the service   | `code`, `detail`, `status` (0: no answer)     |
 *
 * Events bubble and leave a shadow root. Looks: the properties --check-paper, --check-ink, --check-line, --check-link, --check-must,
 * --check-should, --check-on-must, --check-font; and ::part(box), status, label, input, hint, button, progress, progress-text, drop,
 * file, findings, finding, must, should, marker, word, message, remedy, more, report, caution, refusal.
 *
 * A page with a Content-Security-Policy needs the service in script-src and connect-src, and nothing else: the element writes no style
 * and no script into the page.
 */

export type Verdict = "conforming" | "conforming_with_observations" | "nonconforming" | "inconclusive";

/** What the shop needs of a check; GET /v1/checks/{id} has all of it. Ask there, from the backend, before you print. */
export interface Check {
  id: string;
  state: "finished";
  verdict: Verdict;
  summary: { nonconformities: number; observations: number; headline: string };
  findings: { rule: string; level: "must" | "should"; pages: number[]; message: string; remedy: string }[];
  file: { name: string | null; size_bytes: number; sha256: string };
  [more: string]: unknown;
}

export interface CheckStarted { name: string; size: number }
export interface CheckProgress { stage: "uploading" | "checking"; done: number; total: number }
export interface CheckFinished { id: string; verdict: Verdict; accepted: boolean; check: Check }
export interface CheckFailed { code: string; detail: string; status: number }

export interface CheckUploadEvents {
  "check-started": CustomEvent<CheckStarted>;
  "check-progress": CustomEvent<CheckProgress>;
  "check-finished": CustomEvent<CheckFinished>;
  "check-failed": CustomEvent<CheckFailed>;
}

export class CheckUpload extends HTMLElement {
  /** Where the service is, for all elements without the attribute `service`. */
  static service: string;
  /** The element's words, by language and key. */
  static readonly TEXTS: Readonly<Record<"en" | "de" | "fr" | "es", Readonly<Record<string, string>>>>;

  token: string;
  /** Gives a new token when the old one has run out; asked for before an upload begins. */
  renewToken: (() => Promise<string>) | null;
  texts: Partial<Record<string, string>>;
  name: string;
  disabled: boolean;
  /** The check's id, empty until it is finished. */
  readonly value: string;
  readonly check: Check | null;
  readonly type: "check-upload";
  readonly form: HTMLFormElement | null;
  readonly validity: ValidityState;
  readonly validationMessage: string;
  readonly willValidate: boolean;
  checkValidity(): boolean;
  reportValidity(): boolean;

  addEventListener<Kind extends keyof CheckUploadEvents>(
    kind: Kind, listener: (this: CheckUpload, event: CheckUploadEvents[Kind]) => void, options?: boolean | AddEventListenerOptions
  ): void;
  addEventListener<Kind extends keyof HTMLElementEventMap>(
    kind: Kind, listener: (this: CheckUpload, event: HTMLElementEventMap[Kind]) => void, options?: boolean | AddEventListenerOptions
  ): void;
  addEventListener(kind: string, listener: EventListenerOrEventListenerObject, options?: boolean | AddEventListenerOptions): void;
}

export default CheckUpload;

declare global {
  interface HTMLElementTagNameMap { "check-upload": CheckUpload }
}
