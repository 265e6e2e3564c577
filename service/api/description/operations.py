"""Every call under the name by which programs know it, in the order of the job, with what it is for.

A name is for good: clients that others' generators make call their functions after it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Operation:
    method: str
    path: str
    id: str
    purpose: str
    """For whoever writes the caller: when to call it, what to do with the answer."""


@dataclass(frozen=True)
class Group:
    name: str
    purpose: str
    operations: tuple[Operation, ...]


_CHECK = "/v1/checks/{check_id}"
_UPLOAD = "/v1/uploads/{upload_id}"
_PAGE = f"{_CHECK}/pages/{{page}}"
_SPEC = "/v1/specs/{spec_id}"
_CATALOGUE = "/v1/catalogues/{catalogue_id}"

GROUPS = (
    Group(
        "Check a file",
        "Send a PDF and name the sheet that judges it. An ordering page gets a token for its visitors first.",
        (
            Operation(
                "post", "/v1/checks", "checkFile",
                "The one call that most callers need: a form with `file` and `spec`. It answers `201` with the result, or "
                "`202` where that takes longer: ask at `Location` until `state` is `finished` or `failed`. A broken or "
                "locked PDF is a result as well; only what is no PDF at all, or no form, is a problem. With `check` instead"
                " of `file`, a file that was sent before is judged by another sheet. Send an `Idempotency-Key` and repeat "
                "the request as often as the line breaks: it stays one check.",
            ),
            Operation(
                "post", "/v1/uploads", "createUpload",
                "For large files and bad lines: any client of tus 1.0 (tus-js-client, tuspy, Uppy) sends the file and goes on "
                "where the line broke. Then name it: `checkFile` with `upload` and its id instead of `file`.",
            ),
            Operation(
                "patch", _UPLOAD, "addToUpload",
                "All that is missing or some of it. Where the line breaks, what came stays: ask `getUpload` how much, and go "
                "on from there.",
            ),
            Operation("get", _UPLOAD, "getUpload", "Before you go on, and to see which check has taken it."),
            Operation("delete", _UPLOAD, "forgetUpload", "An upload is forgotten by itself; this is for sooner."),
            Operation(
                "post", "/v1/upload-tokens", "createUploadToken",
                "For an ordering page: your backend asks for a token, your page's `<check-upload>` sends files with it "
                "straight to the service. Look at the check yourself before you take the order: what a browser sends is a "
                "claim.",
            ),
            Operation(
                "delete", "/v1/upload-tokens/{token_id}", "revokeUploadToken",
                "When its order was placed or given up: nothing more comes with it.",
            ),
        ),
    ),
    Group(
        "Read the result",
        "A result says what does not conform, where in millimetres, measured against required, and what to do.",
        (
            Operation(
                "get", _CHECK, "getCheck",
                "Ask again while `state` is `queued` or `running`. Then `verdict` decides, `findings` say why, and `rules` "
                "how each rule came out: what could not be measured is told and never passed. Places are `[x0, y0, x1, y1]`"
                " in mm from the top-left corner of the trimmed page; the bleed is negative.",
            ),
            Operation(
                "get", f"{_CHECK}/events", "followCheck",
                "Instead of asking again: `new EventSource(…)` in a browser, `curl -N`, any reader of Server-Sent Events. It "
                "ends with `finished` or `failed`; then `getCheck`. `Prefer: wait=20` on `getCheck` does for who wants only "
                "the end.",
            ),
            Operation(
                "get", f"{_CHECK}/measurements", "getMeasurements",
                "The facts of a long document some pages at a time, where a check's own answer has `measurements: null`.",
            ),
            Operation("delete", _CHECK, "forgetCheck", "A check is forgotten by itself at `expires_at`; this is for sooner."),
        ),
    ),
    Group(
        "What people look at",
        "Made from a checked file on demand, for as long as the check is kept.",
        (
            Operation(
                "get", f"{_CHECK}/report", "getReport",
                "One page of HTML, or a PDF to hand on, or the same as JSON, by `Accept` or `format`.",
            ),
            Operation("get", f"{_PAGE}/picture", "getPagePicture", "To show a designer where each finding is."),
            Operation("get", f"{_PAGE}/plates", "listPlates", "Which inks a page uses, and how much of each."),
            Operation("get", f"{_PAGE}/plates/total", "getTotalInk", "To see where the ink is too much to dry."),
            Operation(
                "get", f"{_PAGE}/plates/{{ink}}", "getPlate",
                "To see what one ink prints, a varnish or a cutting line as well.",
            ),
            Operation(
                "get", f"{_CHECK}/preview", "getPreview",
                "To send to the client, who approves words and layout on it.",
            ),
            Operation("get", f"{_CHECK}/dummy", "getDummy", "To print, fold and staple on a desk."),
            Operation(
                "get", f"{_CHECK}/single-pages", "getSinglePages",
                "For a printer who takes single pages, from a file of spreads.",
            ),
        ),
    ),
    Group(
        "Sheets",
        "What a printer asks of a file, product by product: those that come with the service, and your own.",
        (
            Operation("get", "/v1/specs", "listSpecs", "To fill a list of products. `Link` leads from page to page."),
            Operation(
                "get", _SPEC, "getSpec",
                "Its digest is the ETag: keep it, and see whether a check was judged by this very sheet.",
            ),
            Operation(
                "post", "/v1/specs/matches", "matchSpecs",
                "Where the sender does not know which product the file is for.",
            ),
            Operation(
                "post", "/v1/specs/readings", "readSpec",
                "A printer's published text in, a draft out, each value with the words that it came from, and what was not "
                "understood. Compare the draft with the text, then keep it with `createSpec`.",
            ),
            Operation(
                "post", "/v1/specs/template-readings", "readTemplate",
                "For a printer who publishes empty documents instead of text: its sizes, bleed, margins and folds as a draft.",
            ),
            Operation("post", "/v1/specs", "createSpec", "A sheet that `extends` another says only what is different."),
            Operation(
                "put", _SPEC, "replaceSpec",
                "Each write is a new revision. `If-Match` takes the ETag of the one that you read, so that nobody's work is"
                " written over.",
            ),
            Operation("delete", _SPEC, "deleteSpec", "Its revisions stay readable: checks name them."),
            Operation(
                "get", f"{_SPEC}/revisions", "listSpecRevisions",
                "To see which revision judged a check, and what there is since.",
            ),
            Operation(
                "get", f"{_SPEC}/drawing", "getSpecDrawing",
                "To show what is asked, beside the upload or on a product's page.",
            ),
            Operation("get", f"{_SPEC}/template", "getSpecTemplate", "To hand a designer a document that begins right."),
            Operation("get", "/v1/specs/schema", "getSpecSchema", "For an editor or a form that helps to write a sheet."),
        ),
    ),
    Group(
        "Catalogues",
        "Several sheets as the catalogue of one printer, with what holds for all of them laid over each.",
        (
            Operation("get", "/v1/catalogues", "listCatalogues", "To see what there is."),
            Operation(
                "post", "/v1/catalogues", "createCatalogue",
                "A check by one of its sheets names it as `spec=copperbeck-press/halyard-card`. `matchSpecs` and `listSpecs` "
                "take `catalogue`, to ask which of your products a file is.",
            ),
            Operation(
                "get", _CATALOGUE, "getCatalogue",
                "With `whole=true` it is one file, which `createCatalogue` of another service takes.",
            ),
            Operation(
                "put", _CATALOGUE, "replaceCatalogue",
                "Also to take its sheets anew after one of them was changed: a revision always asks the same.",
            ),
            Operation("get", f"{_CATALOGUE}/revisions", "listCatalogueRevisions", "To see what was asked when."),
            Operation(
                "get", f"{_CATALOGUE}/sheets/{{sheet_id}}", "getCatalogueSheet",
                "To see what a sheet asks once the defaults are laid over it.",
            ),
            Operation("delete", _CATALOGUE, "deleteCatalogue", "Its revisions stay readable: checks name them."),
        ),
    ),
    Group(
        "Reference",
        "What is judged, what can go wrong, and whether the service is well.",
        (
            Operation(
                "get", "/v1/rules", "listRules",
                "Why a rule is there, and what it cannot know. People read it under /docs/rules.",
            ),
            Operation("get", "/problems", "listProblems", "`type` of every problem is one of these."),
            Operation("get", "/problems/{slug}", "getProblem", "The page that a problem's `type` leads to."),
            Operation("get", "/v1/audit", "listAudit", "Who made keys, wrote sheets and deleted checks in your account."),
            Operation("get", "/healthz", "getHealth", "For whoever restarts what does not answer."),
            Operation("get", "/readyz", "getReadiness", "For whoever sends requests only where there is room for them."),
        ),
    ),
)

BY_CALL = {(one.method, one.path): (group, one) for group in GROUPS for one in group.operations}
