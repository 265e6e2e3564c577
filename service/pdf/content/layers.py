"""Optional content: which layers print (ISO 32000-2:2020, 8.11).

* The default configuration decides: BaseState, ON, OFF, then the automatic states of AS for the event (8.11.4.4).
* Membership dictionaries: the policies AllOn, AnyOn, AnyOff, AllOff, and visibility expressions, which go before (8.11.2.2).
* A group whose Intent the configuration does not share has no effect (8.11.2.3).
"""

from __future__ import annotations

from typing import Literal

import pikepdf

Event = Literal["Print", "View"]
ObjectId = tuple[int, int]
DEEPEST_EXPRESSION = 16
NO_LAYERS: dict[ObjectId, bool] = {}


def layer_states(pdf: pikepdf.Pdf, event: Event) -> dict[ObjectId, bool]:
    """Each optional content group's object id → whether it is on for that event."""
    properties = pdf.Root.get("/OCProperties")
    if not isinstance(properties, pikepdf.Dictionary):
        return NO_LAYERS
    configuration = properties.get("/D")
    if not isinstance(configuration, pikepdf.Dictionary):
        configuration = pikepdf.Dictionary()
    on = configuration.get("/BaseState") != "/OFF"
    groups = {group.objgen: group for group in _groups(properties.get("/OCGs"))}
    states = dict.fromkeys(groups, on)
    for key, state in (("/ON", True), ("/OFF", False)):
        states.update((group.objgen, state) for group in _groups(configuration.get(key)))
    for automatic in _groups(configuration.get("/AS")):
        if automatic.get("/Event") == "/" + event:
            states.update(_automatic(automatic))
    wanted = _intents(configuration)
    for identity, group in groups.items():
        if "/All" not in wanted and not wanted & _intents(group):
            states[identity] = True
    return states


def _automatic(usage: pikepdf.Dictionary) -> dict[ObjectId, bool]:
    """What the usage dictionaries of the groups recommend; one 'off' outweighs every 'on'."""
    found: dict[ObjectId, bool] = {}
    categories = usage.get("/Category")
    for group in _groups(usage.get("/OCGs")):
        described = group.get("/Usage")
        for category in categories if isinstance(categories, pikepdf.Array) else ():
            entry = described.get(str(category)) if isinstance(described, pikepdf.Dictionary) else None
            state = entry.get(f"{category}State") if isinstance(entry, pikepdf.Dictionary) else None
            if state in ("/ON", "/OFF"):
                found[group.objgen] = found.get(group.objgen, True) and state == "/ON"
    return found


def _groups(listed: object) -> list[pikepdf.Dictionary]:
    if isinstance(listed, pikepdf.Dictionary):
        return [listed]
    return [one for one in listed if isinstance(one, pikepdf.Dictionary)] if isinstance(listed, pikepdf.Array) else []


def _intents(dictionary: pikepdf.Dictionary) -> set[str]:
    intent = dictionary.get("/Intent")
    if isinstance(intent, pikepdf.Array):
        return {str(one) for one in intent}
    return {str(intent)} if isinstance(intent, pikepdf.Name) else {"/View"}


def is_on(content: object, states: dict[ObjectId, bool]) -> bool:
    """Whether what belongs to this group or membership dictionary appears. What cannot be understood appears."""
    if not isinstance(content, pikepdf.Dictionary):
        return True
    if content.get("/Type") != "/OCMD":
        return states.get(content.objgen, True)
    expression = content.get("/VE")
    if isinstance(expression, pikepdf.Array):
        return _evaluate(expression, states, 0)
    found = [states.get(group.objgen, True) for group in _groups(content.get("/OCGs"))]
    if not found:
        return True
    policy = str(content.get("/P", "/AnyOn"))
    return {
        "/AllOn": all(found),
        "/AnyOff": not all(found),
        "/AllOff": not any(found),
    }.get(policy, any(found))


def layer_name(content: pikepdf.Dictionary) -> str:
    """The group's name, or those of a membership's groups."""
    groups = [content] if content.get("/Type") != "/OCMD" else _groups(content.get("/OCGs"))
    names = [str(name)[:100] for group in groups if isinstance(name := group.get("/Name"), pikepdf.String)]
    return ", ".join(names) or "unnamed layer"


def _evaluate(expression: object, states: dict[ObjectId, bool], depth: int) -> bool:
    if isinstance(expression, pikepdf.Dictionary):
        return states.get(expression.objgen, True)
    if not isinstance(expression, pikepdf.Array) or not len(expression) or depth > DEEPEST_EXPRESSION:
        return True
    operator, values = str(expression[0]), [_evaluate(one, states, depth + 1) for one in list(expression)[1:]]
    if operator == "/Not":
        return not (values and values[0])
    return any(values) if operator == "/Or" else all(values)
