"""What is stored with a check has a numbered form: whoever changes a record raises the number."""

from __future__ import annotations

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import BeyondLimits, NotAsked
from service.pdf.question import Question
from service.rules.judgement import InWords, Judgement
from service.store.checks import FORMS, READ, STORED_AS
from tests.stored_records import fingerprint, shapes

STORED = (Measurements, Question, Judgement, InWords, BeyondLimits, NotAsked)


def test_records_change_only_with_the_number_of_their_form() -> None:
    found = fingerprint(shapes(*STORED))
    known = max(FORMS)
    assert FORMS[known] == found, (
        f"The records that are stored with a check are others than in form {known}. An older check has nothing to say of a new "
        f'fact, and must not pass for it. Add `{known + 1}: "{found}"` to FORMS in service/store/checks.py, and leave the older '
        "ones. Older checks are then measured again."
    )
    assert len(set(FORMS.values())) == len(FORMS)


def test_an_older_form_is_read_as_long_as_it_has_the_same_facts() -> None:
    facts = fingerprint(shapes(*(one for one in STORED if one is not InWords)))
    for form in set(READ) - {STORED_AS}:
        assert FORMS[form] == facts, f"Facts have changed since form {form}: take it out of READ in service/store/checks.py."


def test_every_change_of_a_record_is_seen() -> None:
    plain = shapes(*STORED)
    assert {"Measurements", "Document", "Page", "TextRun", "Failure", "Box", "Finding", "Place"} <= plain.keys()
    assert fingerprint(plain) == fingerprint(dict(reversed(plain.items())))
    for record, kinds in plain.items():
        for name in kinds:
            renamed = {("other" if one == name else one): kind for one, kind in kinds.items()}
            assert fingerprint({**plain, record: renamed}) != fingerprint(plain)
            assert fingerprint({**plain, record: {**kinds, name: "other"}}) != fingerprint(plain)
        assert fingerprint({**plain, record: {**kinds, "more": "bool"}}) != fingerprint(plain)
