"""The one line that a person reads first."""

from __future__ import annotations

from service.rules.judge import Judgement
from service.rules.wording import counted


def headline(judgement: Judgement) -> str:
    """For the summary of a check: what the verdict means for the file in hand."""
    unseen = sum(one.outcome == "not_measured" for one in judgement.rules)
    aside = f"; {counted(unseen, 'point')} not measured" if unseen else ""
    match judgement.verdict:
        case "nonconforming":
            return f"Not ready: {counted(judgement.count('must'), 'thing')} to put right"
        case "inconclusive":
            open_points = sum(
                one.level == "must" and one.reason is not None and one.outcome != "not_applicable" for one in judgement.rules
            )
            return f"Not decided: {counted(open_points, 'point')} that the printer asks for could not be measured"
        case "conforming_with_observations":
            return f"Ready, with {counted(judgement.count('should'), 'remark')}{aside}"
        case "conforming":
            return f"Ready: everything that was measured is met{aside}" if unseen else "Ready: everything asked for is met"
