// <check-upload>: lets a page of another origin send a print PDF to print-spec-service, shows the result, and writes the check's id
// into the form around it. One file without dependencies; it sets no cookie, and runs under a strict Content-Security-Policy.
//
//   <script src="https://print.example/static/check-upload.js" defer></script>
//   <check-upload name="check" token="…" lang="de" accept-verdicts="conforming conforming_with_observations"></check-upload>
//
// As a module: import { CheckUpload } from "https://print.example/static/check-upload.mjs". What it has (attributes, properties,
// events, looks) stands in check-upload.d.ts beside it, with its types.
(() => {
  "use strict";
  if (customElements.get("check-upload")) return; // loaded twice
  const LARGE = 8e6; // bytes; what is larger comes piece by piece, and goes on where a line broke
  const LONGEST_TOKEN = 5000; // that fits into a header
  const MOST_FINDINGS = 6;
  const MAY_HELP = ["lost", "queue-full", "too-slow", "interrupted", "internal-error", "not-ready", "out-of-time"]; // again
  const SIGNATURE_WITHIN = 1024; // bytes; as the service looks for '%PDF-'

  const VERDICTS = ["conforming", "conforming_with_observations", "nonconforming", "inconclusive"];

  const TEXTS = {
    en: {
      group: "Print file", choose: "Choose your print file (PDF), or drop it here", most: "Up to {size}.",
      uploading: "Uploading {name}", checking: "Checking {name}", page: "Page {page} of {pages}", stop: "Stop",
      must: "To put right", should: "Remark", remedy: "What to do:", more: "And {count} more in the report.",
      report: "Open the whole report (in a new tab)", another: "Choose another file, or drop it here", again: "Try again",
      caution: "Measured on the file. The printer’s own proof and terms decide.",
      missing: "Choose the PDF that is to be printed.", busy: "The file is still being checked. Please wait a moment.",
      notAccepted: "This file cannot be ordered as it is. Put right what the list says, and choose the new file.",
      remarks: "This page takes files without remarks only.", notTaken: "This page does not take a file with this result.",
      notPdf: "{name} is not a PDF. Export a PDF from your layout program and choose that.",
      tooLarge: "{name} is {size}; this page takes up to {most}.",
      lost: "The upload did not get through: the connection was interrupted, or the service did not accept this page.",
      elsewhere: "This page is opened as {here}, but may upload as {there} only. Please tell the shop.",
      noToken: "This page has no permission to upload. Please load it again, or tell the shop.",
    },
    de: {
      group: "Druckdatei", choose: "Wählen Sie Ihre Druckdatei (PDF) aus, oder legen Sie sie hier ab",
      most: "Höchstens {size}.", uploading: "{name} wird hochgeladen", checking: "{name} wird geprüft",
      page: "Seite {page} von {pages}", stop: "Abbrechen", must: "Zu beheben", should: "Hinweis",
      remedy: "Was zu tun ist:", more: "Und {count} weitere im Bericht.",
      report: "Ganzen Bericht öffnen (in einem neuen Tab)", another: "Andere Datei auswählen, oder hier ablegen",
      again: "Noch einmal versuchen", caution: "An der Datei gemessen. Maßgeblich sind Korrekturabzug und Bedingungen der Druckerei.",
      missing: "Wählen Sie die PDF-Datei aus, die gedruckt werden soll.",
      busy: "Die Datei wird noch geprüft. Bitte warten Sie einen Augenblick.",
      notAccepted: "Mit dieser Datei können Sie so nicht bestellen. Beheben Sie, was die Liste nennt, und wählen Sie die neue Datei aus.",
      remarks: "Diese Seite nimmt nur Dateien ohne Hinweise an. Beheben Sie auch, was mit „Hinweis“ überschrieben ist.",
      notTaken: "Diese Seite nimmt keine Datei mit diesem Ergebnis an.",
      notPdf: "{name} ist keine PDF-Datei. Exportieren Sie aus Ihrem Layoutprogramm eine PDF-Datei und wählen Sie diese aus.",
      tooLarge: "{name} hat {size}; angenommen werden höchstens {most}.",
      lost: "Das Hochladen ist fehlgeschlagen: Die Verbindung brach ab, oder der Dienst lässt Uploads von dieser Website nicht zu.",
      elsewhere: "Diese Seite ist als {here} geöffnet, darf aber nur als {there} hochladen. Bitte sagen Sie dem Shop Bescheid.",
      noToken: "Diese Seite darf nicht hochladen. Bitte laden Sie sie neu, oder sagen Sie dem Shop Bescheid.",
    },
    fr: {
      group: "Fichier d’impression", choose: "Choisissez votre fichier d’impression (PDF), ou déposez-le ici",
      most: "{size} au maximum.", uploading: "Envoi de {name}", checking: "Contrôle de {name}",
      page: "Page {page} sur {pages}", stop: "Arrêter", must: "À corriger", should: "Remarque", remedy: "Que faire :",
      more: "Et {count} de plus dans le rapport.", report: "Ouvrir le rapport complet (dans un nouvel onglet)",
      another: "Choisissez un autre fichier, ou déposez-le ici", again: "Réessayer",
      caution: "Mesuré sur le fichier. L’épreuve et les conditions de l’imprimeur font foi.",
      missing: "Choisissez le PDF à imprimer.", busy: "Le contrôle du fichier est en cours. Veuillez patienter un instant.",
      notAccepted: "La commande ne peut pas être passée avec ce fichier tel quel. Corrigez les points de la liste, puis choisissez le nouveau fichier.",
      remarks: "Cette page n’accepte que des fichiers sans remarques. Corrigez aussi ce qui porte le titre « Remarque ».",
      notTaken: "Cette page n’accepte pas de fichier avec ce résultat.",
      notPdf: "{name} n’est pas un PDF. Exportez un PDF depuis votre logiciel de mise en page et choisissez-le.",
      tooLarge: "{name} pèse {size} ; {most} au maximum sont acceptés.",
      lost: "L’envoi n’a pas abouti : la connexion a été interrompue, ou le service n’accepte pas d’envois depuis ce site.",
      elsewhere: "Cette page est ouverte sous {here}, mais ne peut envoyer que sous {there}. Veuillez prévenir la boutique.",
      noToken: "Cette page n’est pas autorisée à envoyer un fichier. Veuillez la recharger, ou prévenir la boutique.",
    },
    es: {
      group: "Archivo de impresión", choose: "Elija su archivo de impresión (PDF), o suéltelo aquí",
      most: "{size} como máximo.", uploading: "Enviando {name}", checking: "Comprobando {name}",
      page: "Página {page} de {pages}", stop: "Detener", must: "Por corregir", should: "Observación", remedy: "Qué hacer:",
      more: "Y {count} más en el informe.", report: "Abrir el informe completo (en otra pestaña)",
      another: "Elija otro archivo, o suéltelo aquí", again: "Intentarlo de nuevo",
      caution: "Medido en el archivo. Mandan la prueba y las condiciones de la imprenta.",
      missing: "Elija el PDF que se va a imprimir.", busy: "El archivo todavía se está comprobando. Espere un momento.",
      notAccepted: "Este archivo no se puede encargar así. Corrija lo que dice la lista y elija el archivo nuevo.",
      remarks: "Esta página solo admite archivos sin observaciones. Corrija también lo que lleva el título «Observación».",
      notTaken: "Esta página no admite archivos con este resultado.",
      notPdf: "{name} no es un PDF. Exporte un PDF desde su programa de maquetación y elíjalo.",
      tooLarge: "{name} tiene {size}; esta página admite {most} como máximo.",
      lost: "El envío no llegó: la conexión se interrumpió, o el servicio no aceptó esta página.",
      elsewhere: "Esta página está abierta como {here}, pero solo puede enviar como {there}. Avise a la tienda.",
      noToken: "Esta página no tiene permiso para enviar archivos. Cárguela de nuevo, o avise a la tienda.",
    },
  };

  const LOOKS = new CSSStyleSheet();
  LOOKS.replaceSync(`
    :host { display: block; --cu-paper: var(--check-paper, #fdfbf7); --cu-ink: var(--check-ink, #26231f);
      --cu-line: var(--check-line, #d9d2c5); --cu-link: var(--check-link, #7a3b12); --cu-must: var(--check-must, #a83a08);
      --cu-should: var(--check-should, #0b5c8f); --cu-on-must: var(--check-on-must, #fff); }
    @supports (color: light-dark(#000, #fff)) { :host {
      --cu-paper: var(--check-paper, light-dark(#fdfbf7, #1d1b18)); --cu-ink: var(--check-ink, light-dark(#26231f, #ece6dc));
      --cu-line: var(--check-line, light-dark(#d9d2c5, #4a443b)); --cu-link: var(--check-link, light-dark(#7a3b12, #e9a777));
      --cu-must: var(--check-must, light-dark(#a83a08, #f08a5a)); --cu-on-must: var(--check-on-must, light-dark(#fff, #1d1b18));
      --cu-should: var(--check-should, light-dark(#0b5c8f, #7fc1ec)); } }
    :host([hidden]), [hidden] { display: none !important; }
    .box { background: var(--cu-paper); color: var(--cu-ink); border: 1px solid var(--cu-line); padding: 1.1rem 1.1rem .8rem;
      font: 1rem/1.5 var(--check-font, system-ui, sans-serif); overflow-wrap: anywhere; }
    .box.over { outline: 3px solid var(--cu-link); outline-offset: -3px; }
    p, label { display: block; margin: 0 0 .6rem; }
    p:empty { margin: 0; }
    label { font-weight: 600; }
    small { display: block; font-size: .875em; margin: .5rem 0; }
    input { display: block; font: inherit; color: inherit; max-width: 100%; }
    button, ::file-selector-button { font: inherit; color: var(--cu-ink); background: transparent; border: 1px solid currentColor;
      padding: .4rem .9rem; min-height: 2.75rem; cursor: pointer; margin-inline-end: .75rem; }
    button:hover, ::file-selector-button:hover { color: var(--cu-link); }
    :focus-visible { outline: 3px solid var(--cu-link); outline-offset: 2px; }
    progress { display: block; width: 100%; height: .75rem; margin: .6rem 0 0; accent-color: var(--cu-link); }
    .verdict { font-size: 1.2rem; font-weight: 600; line-height: 1.3; }
    .trouble { border-inline-start: 3px solid var(--cu-must); padding-inline-start: .8rem; margin-bottom: 1rem; }
    ol { list-style: none; margin: 0; padding: 0; }
    li { display: grid; grid-template-columns: 2.4rem 1fr; border-top: 1px solid var(--cu-line); padding: .8rem 0 .3rem; }
    .marker { width: 1.5rem; height: 1.5rem; display: grid; place-items: center; font-size: .85rem; font-weight: 700;
      margin-block-start: .1rem; margin-inline-start: .2rem; }
    .must .marker { background: var(--cu-must); color: var(--cu-on-must); transform: rotate(45deg) scale(.85);
      forced-color-adjust: none; }
    .must .marker span { transform: rotate(-45deg) scale(1.15); }
    .should .marker { border: 2px solid var(--cu-should); border-radius: 50%; box-sizing: border-box; color: var(--cu-should); }
    .word { display: block; font-size: .875em; }
    .must .word { color: var(--cu-must); }
    .should .word { color: var(--cu-should); }
    a { color: var(--cu-link); display: inline-block; padding: .3rem 0; }
    .after { border-top: 1px solid var(--cu-line); padding-top: 1rem; margin-top: .8rem; }
  `);

  const make = (tag, attributes = {}, ...inner) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inner);
    return made;
  };

  /** What a token allows, as it says itself; null where it is none. The service alone can tell whether it is right. */
  const grantIn = (token) => {
    try {
      return JSON.parse(atob(token.split(".")[0].replaceAll("-", "+").replaceAll("_", "/")));
    } catch {
      return null;
    }
  };

  const pause = (ms, signal) => new Promise((done) => {
    const timer = setTimeout(done, ms);
    signal.addEventListener("abort", () => (clearTimeout(timer), done()), { once: true });
  });

  class Trouble extends Error {
    constructor(code, sentence, status = 0) {
      super(sentence);
      Object.assign(this, { code, status });
    }
  }

  /** Names and values as the header Upload-Metadata has them. */
  const told = (values) => Object.entries(values)
    .map(([name, value]) => `${name} ${btoa(String.fromCharCode(...new TextEncoder().encode(value)))}`).join(",");

  class CheckUpload extends HTMLElement {
    static formAssociated = true;
    static observedAttributes = ["lang", "texts", "accept-verdicts", "optional", "token"];
    static TEXTS = TEXTS;
    static service = document.currentScript?.src ? new URL(document.currentScript.src).origin : location.origin;
    #internals = this.attachInternals();
    #root = this.attachShadow({ mode: "open", delegatesFocus: true });
    #status = make("p", { role: "status", part: "status", dir: "auto" });
    #body = make("div");
    #box = make("div", { class: "box", part: "box" }, this.#status, this.#body);
    #input = make("input", { type: "file", id: "file", accept: "application/pdf,.pdf", part: "input", "aria-describedby": "hint" });
    #bar = make("progress", { part: "progress" });
    #beside = make("small", { part: "progress-text" });
    #state = "empty"; // uploading, checking, finished, failed
    #run = new AbortController();
    #file = null; #key = null; #id = null; #upload = null; #check = null; #trouble = null; #disabled = false; #own = {}; #renew = null;

    constructor() {
      super();
      this.#root.adoptedStyleSheets = [LOOKS];
      this.#root.append(this.#box);
      this.#input.addEventListener("change", () => this.#input.files[0] && this.#go(this.#input.files[0]));
      this.#box.addEventListener("dragover", (event) => this.#over(event));
      this.#box.addEventListener("dragleave", () => this.#over(null));
      this.#box.addEventListener("drop", (event) => this.#drop(event));
    }

    connectedCallback() {
      for (const name of ["token", "texts", "renewToken", "disabled", "name"].filter((one) => Object.hasOwn(this, one))) {
        const value = this[name]; // set before this script was here
        delete this[name];
        this[name] = value;
      }
      if (this.#busy && this.#run.signal.aborted) this.#go(this.#file, this.#id, this.#key);
      else this.#show();
    }

    /** Moved to another place it goes on; away for longer it stops, and goes on when it comes back. */
    disconnectedCallback() { queueMicrotask(() => this.isConnected || this.#run.abort()); }
    attributeChangedCallback(name) {
      const unknown = name === "accept-verdicts" ? this.#wished.filter((one) => !VERDICTS.includes(one)) : [];
      if (unknown.length) console.warn(`<check-upload accept-verdicts>: no verdict: ${unknown.join(" ")}; there are ${VERDICTS.join(" ")}`);
      if (this.isConnected && (name !== "token" || this.#state === "empty")) this.#show();
    }
    formDisabledCallback(disabled) { this.#disabled = disabled; this.#show(); }
    formResetCallback() { this.#empty(); }
    formStateRestoreCallback(id) { if (typeof id === "string" && id) this.#go(null, id); }

    get token() { return this.getAttribute("token") ?? ""; }
    set token(value) { this.setAttribute("token", value ?? ""); }
    get renewToken() { return this.#renew; }
    set renewToken(value) { this.#renew = value; }
    get texts() { return this.#own; }
    set texts(value) { this.#own = value ?? {}; this.#show(); }
    get name() { return this.getAttribute("name") ?? ""; }
    set name(value) { this.setAttribute("name", value); }
    get disabled() { return this.hasAttribute("disabled"); }
    set disabled(value) { this.toggleAttribute("disabled", Boolean(value)); }
    get type() { return this.localName; }
    get willValidate() { return this.#internals.willValidate; }
    get form() { return this.#internals.form; }
    get value() { return this.#check?.id ?? ""; }
    get check() { return this.#check; }
    get validity() { return this.#internals.validity; }
    get validationMessage() { return this.#internals.validationMessage; }
    checkValidity() { return this.#internals.checkValidity(); }
    reportValidity() { return this.#internals.reportValidity(); }

    get #busy() { return this.#state === "uploading" || this.#state === "checking"; }
    get #home() { return (this.getAttribute("service") || CheckUpload.service).replace(/\/+$/, ""); }
    get #checks() { return `${this.#home}/v1/checks`; }
    get #language() {
      const asked = this.lang || this.closest("[lang]")?.lang || navigator.language;
      return asked.slice(0, 2).toLowerCase() in TEXTS ? asked.slice(0, 2).toLowerCase() : "en";
    }
    get #none() { return this.hasAttribute("optional") && !this.#trouble; }
    get #wished() { return this.getAttribute("accept-verdicts")?.split(/\s+/).filter(Boolean) ?? []; }
    get #accepted() {
      return this.#check !== null && (!this.#wished.length || this.#wished.includes(this.#check.verdict));
    }

    /** The service calls a file ready that this page may refuse all the same. */
    get #headline() {
      if (!this.#check || this.#accepted) return this.#check?.summary.headline;
      if (this.#check.verdict === "conforming_with_observations" && this.#wished.includes("conforming")) return this.#say("remarks");
      return this.#check.verdict.startsWith("conforming") ? this.#say("notTaken") : this.#check.summary.headline;
    }

    #say(key, values = {}) {
      let written = {};
      try { written = JSON.parse(this.getAttribute("texts")) ?? {}; } catch { /* no JSON: our own texts */ }
      const text = this.#own[key] ?? written[key] ?? TEXTS[this.#language][key];
      return text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
    }

    #size(bytes) {
      const megabytes = { style: "unit", unit: "megabyte", maximumSignificantDigits: 3 };
      return new Intl.NumberFormat(this.#language, megabytes).format(bytes / 1e6);
    }

    #tell(kind, detail) { this.dispatchEvent(new CustomEvent(`check-${kind}`, { detail, bubbles: true, composed: true })); }

    #over(event) {
      const may = event?.dataTransfer.types.includes("Files") && !this.#busy && !this.#disabled;
      if (may) event.preventDefault();
      this.#box.classList.toggle("over", Boolean(may));
    }

    #drop(event) {
      event.preventDefault(); // else the browser leaves the page and opens the file
      this.#over(null);
      const [file] = event.dataTransfer.files;
      if (file && !this.#busy && !this.#disabled) this.#go(file);
    }

    #empty() {
      this.#run.abort();
      this.#file = this.#key = this.#id = this.#upload = this.#check = this.#trouble = null;
      this.#enter("empty");
    }

    /** From a file, or from the id of what is uploaded already, to the result. The key makes a second sending the same check. */
    async #go(file, id = null, key = crypto.randomUUID()) {
      this.#run.abort();
      const { signal } = (this.#run = new AbortController());
      if (key !== this.#key) this.#upload = null;
      [this.#file, this.#id, this.#key, this.#check, this.#trouble] = [file, id, key, null, null];
      try {
        if (!id) {
          this.#enter("uploading");
          this.#tell("started", { name: file.name, size: file.size });
          this.#id = await this.#bring(file, signal);
        }
        this.#enter("checking");
        const check = await this.#follow(signal);
        if (check.state !== "finished") throw this.#problem(check.problem, 0);
        this.#check = check;
        this.#enter("finished");
        this.#tell("finished", { id: check.id, verdict: check.verdict, accepted: this.#accepted, check });
      } catch (error) {
        if (signal.aborted) return;
        this.#trouble = error instanceof Trouble ? error : new Trouble("lost", this.#say("lost"));
        this.#enter("failed");
        this.#tell("failed", { code: this.#trouble.code, detail: this.#trouble.message, status: this.#trouble.status });
      }
    }

    async #bring(file, signal) {
      if (!(await file.slice(0, SIGNATURE_WITHIN).text()).includes("%PDF-")) {
        throw new Trouble("not-a-pdf", this.#say("notPdf", { name: file.name }));
      }
      for (let renew = false, lost = 0; ; ) {
        const token = await this.#tokenFor(file, renew);
        signal.throwIfAborted();
        const { status, body, whole } = await this.#deliver(file, token, signal);
        signal.throwIfAborted();
        if (status >= 200 && status < 300 && body?.id) return body.id;
        if (status === 401 && this.#renew && !renew) renew = true;
        else if (status === 0 && (!whole || this.#upload) && lost++ < 2) await pause(1500 * lost, signal);
        else throw this.#problem(body, status);
      }
    }

    async #deliver(file, token, signal) {
      const form = new FormData();
      form.append("token", token);
      let come = 0; // bytes; the small form after the pieces does not take the bar back
      if (file.size > LARGE && token.length < LONGEST_TOKEN) {
        const upload = await this.#inPieces(file, token, signal);
        if (!upload.id) return upload;
        form.append("upload", upload.id);
        come = file.size;
      } else form.append("file", file, file.name);
      const headers = { "Accept-Language": this.#language, Prefer: "respond-async", "Idempotency-Key": this.#key };
      return this.#send("POST", this.#checks, form, headers, signal, come, come);
    }

    async #tokenFor(file, renew) {
      let grant = grantIn(this.token);
      if (this.#renew && (renew || !(grant?.expires * 1000 > Date.now() + 5000))) {
        this.token = await this.#renew();
        grant = grantIn(this.token);
      }
      const sizes = { name: file.name, size: this.#size(file.size), most: this.#size(grant?.maximum_size_bytes) };
      const origins = { here: self.origin, there: grant?.origin };
      if (!grant) throw new Trouble("token-invalid", this.#say("noToken"));
      if (grant.origin !== self.origin) throw new Trouble("token-origin", this.#say("elsewhere", origins));
      if (file.size > grant.maximum_size_bytes) throw new Trouble("too-large", this.#say("tooLarge", sizes));
      return this.token;
    }

    /** {id} of an upload that has come whole (tus 1.0), or the answer that refuses it; a broken line costs what was on it. */
    async #inPieces(file, token, signal) {
      const own = { "Tus-Resumable": "1.0.0", "Accept-Language": this.#language };
      let at = this.#upload ? null : 0; // null: how much has come is to be asked
      for (let lost = 0, reached = 0; ; ) {
        const [method, address, content, headers] = !this.#upload
          ? ["POST", `${this.#home}/v1/uploads`, null, { "Upload-Length": file.size, "Upload-Metadata": told({ filename: file.name, token }) }]
          : at === null ? ["HEAD", this.#upload, null, {}]
          : ["PATCH", this.#upload, file.slice(at), { "Upload-Offset": at, "Content-Type": "application/offset+octet-stream" }];
        const answer = await this.#send(method, address, content, { ...own, ...headers }, signal, at, file.size);
        signal.throwIfAborted();
        const { status, header } = answer, came = parseInt(header("Upload-Offset"));
        if (came > reached) [reached, lost] = [came, 0];
        if (status >= 200 && status < 300) {
          if (method === "POST") this.#upload = new URL(header("Location"), this.#home).href;
          at = came;
          if (at === file.size) return { id: this.#upload.split("/").pop() };
          continue;
        }
        if (lost++ > 8) return answer;
        if (status === 409 && came >= 0) at = came;
        else if (status === 404 && this.#upload) [this.#upload, at] = [null, 0]; // forgotten meanwhile
        else if (status === 0 || status >= 500) {
          at = this.#upload ? null : 0;
          await pause(Math.min(250 * 2 ** lost, 15000), signal);
          signal.throwIfAborted();
        } else return answer;
      }
    }

    /** {status, body, whole, header}. Status 0: no answer that this page may read; whole: every byte had gone out. */
    #send(method, address, content, headers, signal, before = 0, size = 0) {
      const request = new XMLHttpRequest(); // fetch does not tell how far an upload is
      request.open(method, address);
      request.responseType = "json";
      for (const [name, value] of Object.entries(headers)) request.setRequestHeader(name, value);
      signal.addEventListener("abort", () => request.abort(), { once: true });
      return new Promise((done) => {
        let whole = false;
        request.upload.onprogress = ({ loaded, total }) => this.#progress("uploading", Math.min(before + loaded, size || total), size || total);
        request.upload.onload = () => (whole = true);
        const header = (name) => request.getResponseHeader(name);
        request.onloadend = () => done({ status: request.status, body: request.response, whole, header });
        request.send(content);
      });
    }

    async #follow(signal) {
      const asked = { signal, credentials: "omit", cache: "no-store", headers: { "Accept-Language": this.#language } };
      const address = `${this.#checks}/${encodeURIComponent(this.#id)}`;
      for (let wait = 200, lost = 0, hears = true; ; wait = Math.min(wait * 1.4, 2000)) {
        try {
          hears = hears && (await this.#hear(`${address}/events`, signal));
          signal.throwIfAborted();
          const answer = await fetch(address, asked);
          const body = await answer.json();
          if (!answer.ok) throw this.#problem(body, answer.status);
          if (body.state === "finished" || body.state === "failed") return body;
          lost = 0;
          this.#progress("checking", body.progress?.page ?? 0, body.progress?.pages ?? 0);
        } catch (error) {
          if (error instanceof Trouble || signal.aborted || ++lost > 6) throw error;
        }
        await pause(wait, signal);
      }
    }

    /** Until the service says that the check has ended, or nothing more. Whether it said anything: else it is asked. */
    #hear(address, signal) {
      return new Promise((done) => {
        const source = new EventSource(address);
        let heard = false;
        const end = ({ type }) => (source.close(), done(heard || type !== "error"));
        source.addEventListener("progress", ({ data }) => {
          heard = true;
          const { page, pages } = JSON.parse(data).progress ?? {};
          this.#progress("checking", page ?? 0, pages ?? 0);
        });
        for (const kind of ["finished", "failed", "error"]) source.addEventListener(kind, end);
        signal.addEventListener("abort", end, { once: true });
      });
    }

    #problem(body, status) {
      if (typeof body?.detail !== "string") return new Trouble("lost", this.#say("lost"), status);
      return new Trouble(String(body.type).split("/").pop(), body.detail, status);
    }

    #progress(stage, done, total) {
      this.#bar.removeAttribute("value"); // how long it takes is unknown
      if (total) [this.#bar.max, this.#bar.value] = [total, done];
      const percent = `${Math.floor((100 * done) / total)} %`;
      this.#beside.textContent = !total ? "" : stage === "uploading" ? percent : this.#say("page", { page: done, pages: total });
      this.#tell("progress", { stage, done, total });
    }

    #enter(state) {
      const held = this.#root.activeElement !== null;
      this.#state = state;
      this.#bar.removeAttribute("value");
      this.#beside.textContent = "";
      this.#show();
      if (held) (this.#body.querySelector("button") ?? (state === "empty" ? this.#input : this.#status)).focus();
    }

    #show() {
      const trouble = this.#trouble?.message, verdict = this.#headline;
      this.#box.lang = this.#language;
      this.#internals.role = "group";
      this.#internals.ariaLabel = this.#say("group");
      this.#input.disabled = this.#disabled;
      const doing = this.#busy && this.#say(this.#state, { name: this.#file?.name ?? "PDF" });
      this.#status.textContent = doing || (trouble ?? verdict ?? "");
      this.#status.className = trouble ? "trouble" : verdict ? "verdict" : "";
      this.#status.tabIndex = -1;
      if (!this.#status.textContent) this.#status.removeAttribute("tabindex"); // else the element's focus would go there
      this.#body.replaceChildren(...(this.#busy ? this.#waiting() : [...this.#result(), this.#chooser()]));
      this.#internals.setFormValue(this.value || null, this.value || null);
      const flaw = this.#busy ? "busy" : !this.#accepted && this.#check ? "notAccepted" : this.#check || this.#none ? "" : "missing";
      const kind = flaw === "missing" ? "valueMissing" : "customError";
      this.#internals.setValidity(flaw ? { [kind]: true } : {}, flaw && this.#say(flaw), this.#box);
    }

    #button(key, press) {
      const button = make("button", { type: "button", part: "button" }, this.#say(key));
      button.addEventListener("click", press);
      return button;
    }

    #waiting() {
      this.#bar.setAttribute("aria-label", this.#status.textContent);
      return [this.#bar, this.#beside, make("p", {}, this.#button("stop", () => this.#empty()))];
    }

    #result() {
      const id = this.#trouble?.code === "lost" ? this.#id : null; // of a check that runs there; another kind is sent anew
      if (MAY_HELP.includes(this.#trouble?.code) && (id || this.#file)) {
        return [make("p", {}, this.#button("again", () => this.#go(this.#file, id, this.#key)))];
      }
      if (!this.#check) return [];
      const { findings, file } = this.#check;
      const shown = findings.slice(0, MOST_FINDINGS), report = `${this.#checks}/${this.value}/report?lang=${this.#language}`;
      const more = findings.length > shown.length && this.#say("more", { count: findings.length - shown.length });
      return [
        make("small", { part: "file", dir: "auto" }, file.name ?? ""),
        make("ol", { role: "list", part: "findings" }, ...shown.map((one, index) => this.#finding(one, index + 1))),
        ...(more ? [make("p", { part: "more" }, more)] : []),
        make("a", { href: report, target: "_blank", rel: "noopener", part: "report" }, this.#say("report")),
        make("small", { part: "caution" }, this.#say("caution")),
        ...(this.#accepted ? [] : [make("p", { part: "refusal", class: "trouble" }, this.#say("notAccepted"))]),
      ];
    }

    #finding({ level, message, remedy }, number) {
      return make("li", { class: level, part: `finding ${level}` },
        make("span", { class: "marker", part: "marker" }, make("span", {}, String(number))),
        make("div", {},
          make("strong", { class: "word", part: "word" }, this.#say(level)),
          make("p", { part: "message", dir: "auto" }, message),
          make("p", { part: "remedy", dir: "auto" }, make("strong", {}, this.#say("remedy")), " ", remedy)));
    }

    #chooser() {
      const most = grantIn(this.token)?.maximum_size_bytes;
      const fresh = this.#state === "empty";
      this.#input.value = "";
      return make("div", { class: fresh ? "" : "after", part: "drop" },
        make("label", { for: "file", part: "label" }, this.#say(fresh ? "choose" : "another")),
        this.#input,
        make("small", { id: "hint", part: "hint" }, most ? this.#say("most", { size: this.#size(most) }) : ""));
    }
  }

  customElements.define("check-upload", CheckUpload);
})();
