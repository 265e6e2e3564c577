"""What a finding is about, in a word or two: the group of its rule, or the rule where the group is too wide, as a heading."""

from __future__ import annotations

from service.language.spoken import say


def topic_named(rule_id: str) -> str:
    """'image.resolution' → 'Pictures'; 'copy.keep-clear' is not about placeholder text, as its group is."""
    topics = _topics()
    return topics.get(rule_id) or topics.get(rule_id.partition(".")[0], rule_id)


def _topics() -> dict[str, str]:
    return {
        "file": say("The file"),
        "pages": say("Pages"),
        "trim": say("Size"),
        "bleed": say("Bleed"),
        "margin": say("Safety margin"),
        "marks": say("Crop marks"),
        "image": say("Pictures"),
        "color": say("Colour"),
        "ink": say("Ink"),
        "text": say("Type"),
        "font": say("Fonts"),
        "line": say("Lines"),
        "copy": say("Placeholder text"),
        "copy.keep-clear": say("Area that stays clear"),
        "copy.trial": say("Trial program"),
        "layer": say("Layers"),
        "page": say("Comments and fields"),
        "transparency": say("Transparency"),
        "fold": say("Folds"),
        "spine": say("Spine"),
        "finish": say("Finishing"),
        "preview": say("Preview"),
    }
