"""What a Dockerfile says, as far as ours goes; whatever else it says is refused, so that no step is passed over."""

from __future__ import annotations

import json
import re
import shlex
from dataclasses import dataclass

KNOWN = {"FROM", "WORKDIR", "COPY", "ARG", "RUN", "USER", "ENV", "VOLUME", "EXPOSE", "HEALTHCHECK", "CMD"}


class NotUnderstood(ValueError):
    """And which line."""


@dataclass(frozen=True)
class Step:
    name: str
    text: str
    """What stands behind the name, on one line."""

    @property
    def flags(self) -> dict[str, str]:
        """'--from=build' → from: build; those before everything else."""
        return dict(re.findall(r"--([a-z-]+)=(\S+)\s+", _flags(self.text)))

    @property
    def rest(self) -> str:
        return self.text.removeprefix(_flags(self.text))

    @property
    def command(self) -> list[str]:
        """As it is started: a list is taken as it is, a line is for the shell."""
        text = self.rest.removeprefix("CMD ").strip() if self.name == "HEALTHCHECK" else self.rest
        if not text.startswith("["):
            return ["/bin/sh", "-c", text]
        words: list[str] = json.loads(text)
        return words

    @property
    def words(self) -> list[str]:
        return shlex.split(self.rest)

    @property
    def values(self) -> dict[str, str]:
        """Of ENV and ARG: name → value."""
        pairs = (word.partition("=") for word in self.words)
        return {name: value for name, _, value in pairs}


@dataclass(frozen=True)
class Stage:
    base: str
    """'python:3.12-slim', or the name of a stage before it."""
    name: str
    steps: tuple[Step, ...]

    def last(self, name: str) -> Step:
        return [step for step in self.steps if step.name == name][-1]


def stages_of(text: str) -> list[Stage]:
    """Raises `NotUnderstood`."""
    stages: list[Stage] = []
    for step in _steps(text):
        if step.name == "FROM":
            base, *named = step.words
            stages.append(Stage(base, named[1] if named else "", ()))
        elif not stages:
            raise NotUnderstood(f"{step.name} before FROM")
        else:
            before = stages.pop()
            stages.append(Stage(before.base, before.name, (*before.steps, step)))
    return stages


def _steps(text: str) -> list[Step]:
    lines = "\n".join(line for line in text.splitlines() if not line.lstrip().startswith("#"))
    steps = []
    for line in re.sub(r"\s*\\\n\s*", " ", lines).splitlines():
        if not line.strip():
            continue
        name, _, rest = line.strip().partition(" ")
        if name.upper() not in KNOWN:
            raise NotUnderstood(line)
        steps.append(Step(name.upper(), rest.strip()))
    return steps


def _flags(text: str) -> str:
    found = re.match(r"(--[a-z-]+=\S+\s+)*", text)
    return found[0] if found else ""
