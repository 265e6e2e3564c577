"""What the form tells of a draft, in the words of its questions."""

from __future__ import annotations

from service.language.spoken import speaking
from service.sheets.differences import Change
from service.web.writing.told import differing


def test_levels_that_differ_are_named_as_the_form_names_them_in_every_language() -> None:
    changes = [
        Change(("levels",), {"text.inks": "off", "file.size": "should"}, None),
        Change(("finishes", 0, "overprint_level"), "must", "should"),
    ]
    with speaking("fr"):
        levels, overprint = differing(changes, ())
    assert levels.before == "text.inks\u00a0: pas de contrôle, file.size\u00a0: un souhait, pas une exigence"
    assert (overprint.before, overprint.after) == ("une exigence", "un souhait, pas une exigence")
