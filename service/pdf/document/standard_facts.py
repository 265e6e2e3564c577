"""The facts of a file as a print file, put together: what it claims, its printing condition, what else it holds.

Each part is looked at by itself: one that is damaged comes out `Unmeasured` and takes no other along.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import pikepdf

from service.language.spoken import to_say
from service.pdf.document.active_content import active_content_of
from service.pdf.document.identification import identification_of, output_intents_of, profiles_of
from service.pdf.document.linearization import linearization_of
from service.pdf.document.object_graph import features_of
from service.pdf.document.whole import text_string
from service.pdf.facts.document import Document, LayerConfiguration, Profile
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.opening import OpenedPdf
from service.pdf.reading.reading_errors import READING_ERRORS

Part = TypeVar("Part")
_PROFILES_DAMAGED = to_say("The colour profiles cannot be read: they are damaged.")


def with_standard_facts(document: Document, opened: OpenedPdf, ruler: Callable[[int], Matrix | None]) -> Document:
    """Without the profiles that only visible objects use. `ruler`: page number → from default user space to ruler mm; None for a
    page that cannot be read.
    """
    pdf = opened.pdf
    intents = _part(lambda: output_intents_of(pdf), to_say("The output intents cannot be read: they are damaged."))
    of_intents = [] if isinstance(intents, Unmeasured) else [one.profile for one in intents if one.profile]
    return replace(
        document,
        identification=_part(
            lambda: identification_of(pdf), to_say("What the file says of itself cannot be read: it is damaged.")
        ),
        output_intents=intents,
        profiles=_part(lambda: profiles_of(pdf, of_intents), _PROFILES_DAMAGED),
        layers=_part(lambda: layer_configurations(pdf), to_say("The list of the file's layers cannot be read: it is damaged.")),
        features=_part(lambda: features_of(pdf), to_say("Some object that the pages use cannot be read: it is damaged.")),
        active_content=_part(
            lambda: active_content_of(pdf, ruler),
            to_say("Some link, action or bookmark cannot be read: it is damaged."),
        ),
        linearization=_part(
            lambda: linearization_of(opened.path, pdf), to_say("The linearization dictionary cannot be read: it is damaged.")
        ),
    )


def _part(look: Callable[[], Part], damaged: str) -> Part | Unmeasured:
    """`damaged`: what is said where it cannot be read."""
    try:
        return look()
    except READING_ERRORS:
        return Unmeasured(damaged)


def profiles_in_use(pdf: pikepdf.Pdf, content: Content | Unmeasured) -> tuple[Profile, ...] | Unmeasured:
    """The profiles that a page's visible objects use."""
    uses = () if isinstance(content, Unmeasured) else content.colors
    return _part(lambda: profiles_of(pdf, [use.profile for use in uses if use.profile]), _PROFILES_DAMAGED)


def layer_configurations(pdf: pikepdf.Pdf) -> tuple[LayerConfiguration, ...] | None:
    """ISO 32000-2:2020, 8.11.4: D, then Configs."""
    properties = pdf.Root.get("/OCProperties")
    if not isinstance(properties, pikepdf.Dictionary):
        return None
    others = properties.get("/Configs")
    listed = [properties.get("/D"), *(others if isinstance(others, pikepdf.Array) else ())]
    groups = properties.get("/OCGs")
    layers = {one.objgen for one in groups if isinstance(one, pikepdf.Dictionary)} if isinstance(groups, pikepdf.Array) else set()
    return tuple(_configuration(one, layers) for one in listed if isinstance(one, pikepdf.Dictionary))


def _configuration(configuration: pikepdf.Dictionary, layers: set[tuple[int, int]]) -> LayerConfiguration:
    name, order = configuration.get("/Name"), configuration.get("/Order")
    missing = layers - _ordered(order) if isinstance(order, pikepdf.Array) else set()
    return LayerConfiguration(
        name=text_string(bytes(name)) if isinstance(name, pikepdf.String) else None,
        automatic="/AS" in configuration,
        layers_not_in_order=len(missing),
    )


def _ordered(order: pikepdf.Array) -> set[tuple[int, int]]:
    """All layers of nested arrays, whose first item may be a heading."""
    found, pending, entered = set(), [order], set()
    while pending:
        array = pending.pop()
        if array.objgen != (0, 0) and array.objgen in entered:
            continue
        entered.add(array.objgen)
        for one in array:
            if isinstance(one, pikepdf.Dictionary):
                found.add(one.objgen)
            elif isinstance(one, pikepdf.Array):
                pending.append(one)
    return found
