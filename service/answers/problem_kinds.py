"""What kinds of problems are told as, and those of catalogues; all of them are in `problems`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ProblemKind:
    status: int
    title: str
    what_to_do: str


OF_CATALOGUES: dict[str, ProblemKind] = {
    "catalogue-not-found": ProblemKind(
        404, "There is no such catalogue", "GET /v1/catalogues lists them. The id may be misspelled, or that revision never was."
    ),
    "catalogue-exists": ProblemKind(
        409,
        "There is a catalogue of that id already",
        "Choose another id, or replace that catalogue with PUT and its ETag in 'If-Match'.",
    ),
    "catalogue-deleted": ProblemKind(
        410,
        "The catalogue was deleted",
        "Its revisions can still be read: GET /v1/catalogues/{id}/revisions lists them. POST makes a new one of the same id.",
    ),
    "catalogue-changed": ProblemKind(
        412,
        "The catalogue was changed meanwhile",
        "Read the catalogue again, put your change into it, and send it with the new ETag in 'If-Match'.",
    ),
    "invalid-catalogue": ProblemKind(
        422,
        "The catalogue cannot be used",
        "'errors' points at each mistake: /sheets/3/bleed/minimum is one of the fourth sheet with the defaults laid over it.",
    ),
}
