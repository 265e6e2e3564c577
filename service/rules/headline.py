"""The one line that a person reads first."""

from __future__ import annotations

from service.language.spoken import say, say_many
from service.language.wording import after_a_colon, clauses
from service.rules.judgement import Judgement


def headline(judgement: Judgement) -> str:
    """For the summary of a check: what the verdict means for the file in hand."""
    unseen = sum(one.outcome == "not_measured" for one in judgement.rules)
    aside = [say_many("{count} point not measured", "{count} points not measured", unseen)] if unseen else []
    match judgement.verdict:
        case "nonconforming":
            musts = judgement.count("must")
            return say_many("Not ready: {count} thing to put right", "Not ready: {count} things to put right", musts)
        case "inconclusive" if unreadable := _not_read(judgement):
            return say("Not decided: {reason}", reason=after_a_colon(unreadable))
        case "inconclusive":
            open_points = sum(
                one.level == "must" and one.reason is not None and one.outcome != "not_applicable" for one in judgement.rules
            )
            return say_many(
                "Not decided: {count} point that the printer asks for could not be measured",
                "Not decided: {count} points that the printer asks for could not be measured",
                open_points,
            )
        case "conforming_with_observations":
            ready = say_many("Ready, with {count} remark", "Ready, with {count} remarks", judgement.count("should"))
            return clauses([ready, *aside])
        case "conforming" if unseen:
            return clauses([say("Ready: everything that was measured is met"), *aside])
        case "conforming":
            return say("Ready: everything asked for is met")


def _not_read(judgement: Judgement) -> str | None:
    """Why the file, or a page of it, could not be read to the end within our limits; None where that is not what is open."""
    return next((one.reason for one in judgement.rules if (one.rule, one.outcome) == ("file.readable", "not_measured")), None)
