"""What a command line refuses by itself is said in the language that `--lang` names."""

from __future__ import annotations

import pytest

from service.__main__ import main

DUMMY = ["dummy", "card.pdf", "-o", "made.pdf"]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (["--caliper-mm", "2"], "Dicke eines Blatts in Millimetern"),
        (["--flip", "sideways"], "zur Wahl stehen"),
        (["--paper"], "Hier fehlt ein Wert"),
        (["--folded"], "Unbekannte Angaben: --folded"),
    ],
)
def test_a_command_line_is_refused_in_the_language_that_it_names(
    wrong: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for named in (["--lang", "de"], ["--lang=de"]):
        with pytest.raises(SystemExit) as ended:
            main([*DUMMY, *named, *wrong])
        assert ended.value.code == 2
        told = capsys.readouterr().err
        assert said in told
        assert "Fehler" in told
        assert told.startswith("Aufruf: print-spec ")


def test_a_command_line_that_names_no_language_is_refused_in_english(capsys: pytest.CaptureFixture[str]) -> None:
    for named in ([], ["--lang", "tlh"]):
        with pytest.raises(SystemExit):
            main([*DUMMY, *named, "--caliper-mm", "2"])
        assert "error: argument" in capsys.readouterr().err
