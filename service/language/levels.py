"""What people read where a sheet has `must`, `should` and `off`: one set of words, on every page and at the command line.

The sheet's author chooses how strictly something is asked; whoever sent the file reads what follows from it. What a program
reads stays `must`, `should` and `off`. Texts that name a level inside a sentence are held to these words by
`tests/language/test_levels.py`.
"""

from __future__ import annotations

from collections.abc import Mapping

from service.language.spoken import to_say

ASKED: Mapping[str, str] = {"must": to_say("a must"), "should": to_say("a wish, no must"), "off": to_say("not checked")}
"""How strictly something is asked."""

FOUND: Mapping[str, str] = {"must": to_say("to put right"), "should": to_say("remark")}
"""A finding of that level."""

HEADED: Mapping[str, str] = {"must": to_say("To put right"), "should": to_say("Remarks")}
"""All findings of that level."""

NUMBERED: Mapping[str, str] = {"must": to_say("To put right, {number}"), "should": to_say("Remark, {number}")}
"""The marker of a finding in words."""
