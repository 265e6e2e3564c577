"""A problem as it is raised anywhere in `api/`, and the answer that it becomes (RFC 9457)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Response, jsonify

from service.answers.problems import PROBLEMS, problem_answer
from service.api.http.languages import in_spoken_language
from service.jobs.children.failures import OutOfTime
from service.jobs.queue_full import QueueFull
from service.language.spoken import say
from service.language.wording import reason


@dataclass(frozen=True)
class OnPage:
    """A problem in words for a person in a browser, where those for programs would not do; None: they do."""

    title: str | None = None
    detail: str | None = None
    what_to_do: str | None = None


class Problem(Exception):
    """Raised anywhere in `api/`; becomes the answer."""

    def __init__(
        self,
        code: str,
        detail: str,
        *,
        errors: Sequence[tuple[str, str]] = (),
        headers: Mapping[str, str] | None = None,
        on_page: OnPage | None = None,
    ) -> None:
        """`errors`: (JSON pointer that starts with the form field, sentence)."""
        super().__init__(detail)
        self.code, self.detail, self.errors, self.headers = code, detail, tuple(errors), dict(headers or {})
        self.on_page = on_page or OnPage()


def stopping() -> Problem:
    detail = say("The service is being stopped. Send the request again in a moment.")
    return Problem("stopping", detail, headers={"Retry-After": "5"})


def busy(full: QueueFull) -> Problem:
    wait = str(full.retry_after_seconds)
    detail = say("Too many files are being measured. Try again in {seconds} s.", seconds=wait)
    return Problem("queue-full", detail, headers={"Retry-After": wait})


def not_in_time(why: OutOfTime) -> Problem:
    return Problem("out-of-time", reason(why), headers={"Retry-After": "30"})


def response(problem: Problem) -> Response:
    answer = jsonify(problem_answer(problem.code, problem.detail, problem.errors))
    answer.status_code = PROBLEMS[problem.code].status
    answer.mimetype = "application/problem+json"
    answer.headers.update(problem.headers)
    return in_spoken_language(answer)
