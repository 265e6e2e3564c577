"""Which layers print (ISO 32000-2:2020, 8.11)."""

from __future__ import annotations

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from service.pdf.content.layers import is_on, layer_states


def layers(*names: str, **configuration: object) -> tuple[Pdf, list[pikepdf.Object]]:
    pdf = Pdf.new()
    groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name)) for name in names]
    default = Dictionary({f"/{key}": value for key, value in configuration.items()})
    pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=default)
    return pdf, groups


def test_layers_are_on_unless_the_configuration_says_otherwise() -> None:
    pdf, (artwork, guides) = layers("Artwork", "Guides")
    pdf.Root.OCProperties.D.OFF = Array([guides])
    states = layer_states(pdf, "Print")
    assert is_on(artwork, states)
    assert not is_on(guides, states)


def test_base_state_off_turns_on_only_what_is_listed() -> None:
    pdf, (artwork, guides) = layers("Artwork", "Guides", BaseState=Name.OFF)
    pdf.Root.OCProperties.D.ON = Array([artwork])
    states = layer_states(pdf, "Print")
    assert (is_on(artwork, states), is_on(guides, states)) == (True, False)


def test_a_layer_may_show_on_screen_and_not_print() -> None:
    pdf, (guides,) = layers("Guides")
    guides.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF), View=Dictionary(ViewState=Name.ON))
    events = [Name.Print, Name.View]
    pdf.Root.OCProperties.D.AS = Array([Dictionary(Event=one, Category=Array([one]), OCGs=Array([guides])) for one in events])
    assert not is_on(guides, layer_states(pdf, "Print"))
    assert is_on(guides, layer_states(pdf, "View"))


@pytest.mark.parametrize(("policy", "printed"), [("AllOn", False), ("AnyOn", True), ("AnyOff", True), ("AllOff", False)])
def test_membership_policies(policy: str, printed: bool) -> None:
    """ISO 32000-2:2020, Table 97, with one layer on and one off."""
    pdf, (artwork, guides) = layers("Artwork", "Guides")
    pdf.Root.OCProperties.D.OFF = Array([guides])
    membership = Dictionary(Type=Name.OCMD, OCGs=Array([artwork, guides]), P=Name("/" + policy))
    assert is_on(membership, layer_states(pdf, "Print")) is printed


def test_a_visibility_expression_goes_before_the_policy() -> None:
    pdf, (artwork, guides) = layers("Artwork", "Guides")
    pdf.Root.OCProperties.D.OFF = Array([guides])
    expression = Array([Name.And, artwork, Array([Name.Not, Array([Name.Or, guides])])])
    membership = Dictionary(Type=Name.OCMD, OCGs=Array([guides]), P=Name.AllOn, VE=expression)
    assert is_on(membership, layer_states(pdf, "Print"))


def test_a_file_without_layers_prints_everything() -> None:
    assert layer_states(Pdf.new(), "Print") == {}
    assert is_on(None, {})
