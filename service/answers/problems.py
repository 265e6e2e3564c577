"""Everything that can go wrong for a caller: a closed list of problems (RFC 9457), each with a page under /problems/<slug>."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from service.answers.problem_kinds import OF_CATALOGUES, ProblemKind
from service.language.spoken import say

PROBLEMS: dict[str, ProblemKind] = {
    "bad-request": ProblemKind(
        400,
        "The request cannot be read",
        "The bytes are no complete HTTP request, form or header. Send it with an HTTP library and look at 'detail'.",
    ),
    "digest-mismatch": ProblemKind(
        400,
        "The body was changed on its way",
        "Send it again. The header Content-Digest is of the whole body as it is sent: of a form, all of the form.",
    ),
    "not-this-machine": ProblemKind(
        421,
        "The service is open to this machine alone",
        "Call it by 127.0.0.1 or localhost. Under another name it answers with keys (PRINT_SPEC_ACCESS=keys), or where it was "
        "told to be open anywhere (open-anywhere).",
    ),
    "key-missing": ProblemKind(
        401,
        "This needs an API key",
        "Send the key in the header 'Authorization: Bearer psk_…'. Whoever runs the service makes keys: print-spec keys make.",
    ),
    "key-invalid": ProblemKind(
        401,
        "The API key is not valid",
        "Compare it with the one that you were given, letter by letter; it may have been turned off. Whoever runs the service "
        "makes a new one.",
    ),
    "key-not-enough": ProblemKind(
        403,
        "The API key does not allow this",
        "'detail' says what it would have to allow. Whoever runs the service makes a key that does.",
    ),
    "token-expired": ProblemKind(
        401,
        "The upload token has expired",
        "Load the page that you came from again: it gets a new token. A shop's page can renew it by itself.",
    ),
    "token-spent": ProblemKind(
        401,
        "The upload token was used up or taken back",
        "Load the page that you came from again: it gets a new token. The shop's own backend says with 'uses' how often one may "
        "be used.",
    ),
    "token-invalid": ProblemKind(
        401,
        "The upload token is not valid",
        "The shop's own backend gets a token with POST /v1/upload-tokens; its page sends it as it is, in the form field 'token'.",
    ),
    "token-origin": ProblemKind(
        403,
        "The upload token is for another page",
        "A token is for pages of one origin: scheme, host and port, letter by letter. The shop's own backend asks for it with "
        "the origin under which its page is opened; www.shop.example and shop.example are two.",
    ),
    "token-not-found": ProblemKind(
        404,
        "There is no such upload token",
        "The id is wrong, or the token has expired or was taken back. An id is given with the token by POST /v1/upload-tokens.",
    ),
    "not-found": ProblemKind(404, "There is nothing at this address", "Compare the address with the reference under /docs."),
    "check-not-found": ProblemKind(
        404,
        "There is no such check",
        "The id is wrong, or the check was forgotten: by DELETE, or past its 'expires_at'. Send the PDF again.",
    ),
    "spec-not-found": ProblemKind(
        404, "There is no such spec sheet", "GET /v1/specs lists those that there are; 'detail' names the nearest."
    ),
    "page-not-found": ProblemKind(404, "There is no such page", "'detail' says which pages the file has; they count from 1."),
    "ink-not-found": ProblemKind(
        404,
        "The page has no such ink",
        "GET /v1/checks/{id}/pages/{page}/plates lists its inks with the addresses of their plates.",
    ),
    "upload-not-found": ProblemKind(
        404,
        "There is no such upload",
        "The id is wrong, or the upload was forgotten: by DELETE, or past its 'Upload-Expires'. Begin a new one.",
    ),
    **OF_CATALOGUES,
    "problem-not-found": ProblemKind(404, "There is no such problem", "GET /problems lists them all."),
    "method-not-allowed": ProblemKind(
        405, "This address does not take that method", "The header 'Allow' names the methods that it takes."
    ),
    "not-acceptable": ProblemKind(
        406, "None of the accepted formats can be made", "Ask in the header 'Accept' for a format that 'detail' names."
    ),
    "too-slow": ProblemKind(
        408,
        "The request arrived too slowly",
        "Send it again over a better connection; a smaller PDF needs less time.",
    ),
    "check-not-finished": ProblemKind(
        409,
        "That check is not finished",
        "Ask for it again after 'Retry-After' seconds, and use its measurements when its state is 'finished'.",
    ),
    "check-failed": ProblemKind(
        409, "That check failed", "This is no fault of your file: the service could not look at it. Send the PDF again."
    ),
    "upload-offset": ProblemKind(
        409,
        "The piece does not begin where the upload ends",
        "HEAD says how much has come ('Upload-Offset'); go on from there.",
    ),
    "upload-not-whole": ProblemKind(
        409, "The upload is not finished", "HEAD says how much has come ('Upload-Offset'); send the rest, then ask for the check."
    ),
    "upload-taken": ProblemKind(
        409,
        "A check has taken the upload",
        "A file is checked once as an upload. GET /v1/uploads/{id} names the check that has it: send that in 'check' for another "
        "sheet, or upload the file again.",
    ),
    "spec-exists": ProblemKind(
        409,
        "There is a sheet of that id already",
        "Choose another id, or replace that sheet with PUT and its ETag in 'If-Match'.",
    ),
    "spec-stored": ProblemKind(
        409,
        "The sheet came with the service and cannot be changed",
        "Make a sheet of your own under another id that says 'extends:' and this one's id, and change what is different.",
    ),
    "spec-deleted": ProblemKind(
        410,
        "The spec sheet was deleted",
        "Its revisions can still be read: GET /v1/specs/{id}/revisions lists them. POST makes a new sheet of the same id.",
    ),
    "file-forgotten": ProblemKind(
        410,
        "The PDF of the check is no longer kept",
        "The check itself can still be read. What is drawn from the file needs the file: send the PDF again as a new check.",
    ),
    "spec-changed": ProblemKind(
        412,
        "The spec sheet was changed meanwhile",
        "Read the sheet again, put your change into it, and send it with the new ETag in 'If-Match'.",
    ),
    "tus-version": ProblemKind(
        412,
        "This version of tus is not spoken here",
        "OPTIONS answers with the versions that are, in 'Tus-Version'. Clients of tus 1.0 send 'Tus-Resumable: 1.0.0'.",
    ),
    "too-large": ProblemKind(
        413,
        "The upload is too large",
        "Send a smaller PDF: without embedded originals, hidden layers or pages that are not printed. "
        "Whoever runs the service sets the limit (PRINT_SPEC_MAXIMUM_UPLOAD).",
    ),
    "not-a-pdf": ProblemKind(
        415,
        "The file is not a PDF",
        "Export a PDF from your layout program and send that. A picture that is renamed to .pdf does not become one.",
    ),
    "address-too-long": ProblemKind(
        414, "The address of the request is too long", "Write what is long into the body: a form, or JSON."
    ),
    "unsupported-media-type": ProblemKind(
        415,
        "This kind of body is not taken",
        "'detail' names the types that this address takes. A PDF comes in a form (multipart/form-data, field 'file') or bare as "
        "application/pdf; a sheet as application/json or application/yaml.",
    ),
    "invalid-request": ProblemKind(
        422,
        "Something in the request is missing or wrong",
        "'errors' names each field with a JSON pointer and says what to write there.",
    ),
    "invalid-sheet": ProblemKind(
        422,
        "The spec sheet cannot be used",
        "'errors' points at each mistake, as in /spec_sheet/bleed/minimum. An unknown key is refused, never ignored.",
    ),
    "unknown-spec": ProblemKind(
        422, "There is no spec sheet of that id", "GET /v1/specs lists the stored sheets; 'errors' names the nearest ids."
    ),
    "key-reused": ProblemKind(
        422,
        "The idempotency key belongs to another request",
        "Use a new Idempotency-Key for each new request, and the same key only to send exactly the same request again.",
    ),
    "plates-not-made": ProblemKind(
        422,
        "Separations cannot be made of this page",
        "The request is right, and asking again in the same way does not help. 'detail' names the reason; where it lies in the "
        "file, put it right in the layout, export again and send the new PDF.",
    ),
    "picture-not-made": ProblemKind(
        422,
        "A picture cannot be made of this page",
        "The request is right, and asking again in the same way does not help. 'detail' names the reason; where it lies in the "
        "file, put it right in the layout, export again and send the new PDF.",
    ),
    "proof-not-made": ProblemKind(
        422,
        "This PDF cannot be made from the file",
        "The request is right, and asking again in the same way does not help. 'detail' names the reason; where it lies in the "
        "file, put it right in the layout, export again and send the new PDF.",
    ),
    "sheet-not-drawn": ProblemKind(
        422,
        "This sheet gives nothing to draw",
        "'detail' says what is missing. What only the order knows goes into the address: ?inner_pages=96&caliper_mm=0.11.",
    ),
    "if-match-missing": ProblemKind(
        428,
        "It is not said which revision is to be replaced",
        "Send the ETag that GET answered with in the header 'If-Match', so that nobody's change is overwritten unseen.",
    ),
    "headers-too-large": ProblemKind(
        431, "The headers of the request are too large", "Leave out what this service does not need, such as cookies."
    ),
    "too-many-requests": ProblemKind(
        429,
        "Your account has sent too many requests",
        "Send the request again after 'Retry-After' seconds. The headers RateLimit-Policy and RateLimit say how many there may "
        "be and how many are left. Whoever runs the service sets them (print-spec keys limits).",
    ),
    "bytes-spent": ProblemKind(
        429,
        "Your account has sent as many bytes as it may in a day",
        "Send the file again after 'Retry-After' seconds. Whoever runs the service sets how many there may be "
        "(print-spec keys limits).",
    ),
    "queue-full": ProblemKind(429, "Too many checks are waiting", "Send the request again after 'Retry-After' seconds."),
    "too-many-uploads": ProblemKind(
        429,
        "Too many uploads are on their way",
        "Have those checked that are finished (POST /v1/checks with 'upload'), and take those back that nobody needs (DELETE).",
    ),
    "internal-error": ProblemKind(
        500,
        "The service failed",
        "This is no fault of your file. Send it again; if it stays, give the request id to whoever runs the service.",
    ),
    "interrupted": ProblemKind(
        503,
        "The check was interrupted",
        "The service was ended three times while the check ran, and what ended it may be the file. Send it again; if it happens "
        "again, give the file to whoever runs the service.",
    ),
    "stopping": ProblemKind(
        503, "The service is being stopped", "Send the request again after 'Retry-After' seconds; as a rule it is started again."
    ),
    "crowded": ProblemKind(
        503, "Too many connections are open", "Close those that are not needed, and try again after 'Retry-After' seconds."
    ),
    "out-of-time": ProblemKind(
        503,
        "The service did not get it done in time",
        "This is a limit of the service and no fault of what you sent. Send the request again after 'Retry-After' seconds; if "
        "it stays, 'detail' says what else may help.",
    ),
    "not-ready": ProblemKind(
        503, "The service is not ready", "Its database or its data folder cannot be used just now. Try again; the log says why."
    ),
    "too-many-sheets": ProblemKind(
        507,
        "No more sheets can be kept",
        "Delete sheets that nobody needs; one that has too many revisions begins anew under another id. A check takes a sheet "
        "that is not kept, too: 'spec_sheet'. Whoever runs the service says how many are kept (PRINT_SPEC_OWN_SHEETS).",
    ),
    "account-full": ProblemKind(
        507,
        "Your account keeps as many files as it may",
        "DELETE checks that nobody needs any longer, or wait until they expire. Whoever runs the service sets how much is kept "
        "(print-spec keys limits).",
    ),
    "no-room": ProblemKind(
        507,
        "There is no room for the file",
        "Try again later: files are forgotten when their time is over. Whoever runs the service gives it more room, or sets what "
        "is to stay free (PRINT_SPEC_FREE_SPACE). DELETE forgets a check and its file at any time.",
    ),
}


def problem_answer(code: str, detail: str, errors: Sequence[tuple[str, str]] = ()) -> dict[str, Any]:
    kind = PROBLEMS[code]
    answer: dict[str, Any] = {"type": f"/problems/{code}", "title": say(kind.title), "status": kind.status, "detail": detail}
    if errors:
        answer["errors"] = [{"pointer": pointer, "detail": sentence} for pointer, sentence in errors]
    return answer
