"""What the Dockerfile says, read as it stands; `python -m tests.deploy.image` carries it out."""

from __future__ import annotations

import re

import pytest

from tests.deploy.image.building import ROOT
from tests.deploy.image.dockerfile import NotUnderstood, stages_of

TEXT = """
# a comment
FROM python:3.12-slim AS build
COPY one two ./
RUN first \\
    # in between
    && second
FROM python:3.12-slim
COPY --from=build /installed /usr/local
ENV A=1 B="2 3"
HEALTHCHECK --interval=30s --timeout=5s \\
    CMD ["python", "-c", "pass"]
CMD ["serve"]
"""


def test_stages_have_their_steps_in_order_and_on_one_line_each() -> None:
    build, image = stages_of(TEXT)
    assert (build.name, build.base, image.name) == ("build", "python:3.12-slim", "")
    assert [step.name for step in build.steps] == ["COPY", "RUN"]
    assert build.last("RUN").command == ["/bin/sh", "-c", "first && second"]
    copy = image.last("COPY")
    assert (copy.flags, copy.words) == ({"from": "build"}, ["/installed", "/usr/local"])
    assert image.last("ENV").values == {"A": "1", "B": "2 3"}
    health = image.last("HEALTHCHECK")
    assert (health.flags["timeout"], health.command) == ("5s", ["python", "-c", "pass"])


@pytest.mark.parametrize("line", ["ADD x /", "SHELL [\"bash\"]", "ONBUILD RUN x"])
def test_a_step_that_is_not_carried_out_is_not_passed_over(line: str) -> None:
    with pytest.raises(NotUnderstood):
        stages_of(f"FROM x\n{line}\n")


def test_ours_is_understood_pinned_to_one_debian_and_runs_as_nobody_who_owns_it() -> None:
    stages = stages_of((ROOT / "Dockerfile").read_text())
    (base,) = {stage.base for stage in stages}
    assert re.fullmatch(r"python:3\.12-slim-bookworm(@sha256:[0-9a-f]{64})?", base)
    image = stages[-1]
    names = [step.name for step in image.steps]
    assert image.last("USER").rest == "print-spec"
    assert names.index("USER") > max(place for place, name in enumerate(names) if name in ("RUN", "COPY"))
    assert image.last("CMD").command[:2] == ["print-spec", "serve"]
    assert image.last("HEALTHCHECK").command[0] == "python"
