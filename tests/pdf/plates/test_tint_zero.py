"""Tint 0 prints nothing: what is measured of it, and what the plates show. Each kind with its near miss."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pikepdf import Dictionary

from service.pdf.facts.painted.content import Content, inks_of
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import PageBuilder, page, separation
from tests.outside.separations import our_plates

OVER = Dictionary(OP=True, op=True, OPM=1)


def content_of(made: PageBuilder, folder: Path) -> Content:
    pages = measure(made.save(folder / "page.pdf")).pages
    assert not isinstance(pages, Unmeasured)
    assert isinstance(pages[0].content, Content)
    return pages[0].content


def plates_of(made: PageBuilder, folder: Path) -> dict[str, np.ndarray]:
    return dict(our_plates(made.bytes(), folder).coverage)


def ground(**inks: float) -> PageBuilder:
    made = page(85, 55, bleed=0).fill((5, 5, 80, 50), **inks)
    return made.resource("ColorSpace", "All", separation("All")).resource("ExtGState", "Over", OVER)


def with_halo(tint: float) -> PageBuilder:
    """Black type on cyan with an outline in registration colour."""
    made = ground(cyan=0.6).raw(b"q /All CS %g SCN 6 w" % tint)
    return made.text("Rye", 60, (12, 35), mode=1, spot=("All", 0)).raw(b"Q").text("Rye", 60, (12, 35), black=1)


def test_a_white_halo_in_registration_colour_at_tint_0_is_no_registration_colour(tmp_path: Path) -> None:
    content = content_of(with_halo(0), tmp_path)
    assert not [use for use in content.colors if use.family == "registration"]
    assert inks_of(content) == ("Cyan", "Black")
    plates = plates_of(with_halo(0), tmp_path)
    assert plates["Cyan"].min() == 0  # it knocks the cyan out
    assert set(plates) == {"Cyan", "Black"}


def test_at_a_tint_above_0_it_is(tmp_path: Path) -> None:
    uses = [use for use in content_of(with_halo(0.02), tmp_path).colors if use.family == "registration"]
    assert [(use.kind, use.count, use.inks) for use in uses] == [("text", 1, ("All",))]


@pytest.mark.parametrize(("tint", "families"), [(0, ["cmyk"]), (0.5, ["cmyk", "registration"])])
def test_white_letters_in_registration_colour(tint: float, families: list[str], tmp_path: Path) -> None:
    made = ground(cyan=0.6).text("Rye", 60, (12, 35), spot=("All", tint))
    assert sorted({use.family or "" for use in content_of(made, tmp_path).colors}) == families


def spot_at_0(overprints: bool, **inks: float) -> PageBuilder:
    made = ground(**inks).resource("ColorSpace", "Copper", separation("Copper")).raw(b"/Over gs" if overprints else b"")
    return made.raw(b"/Copper cs 0 scn 60 40 90 60 re f")


def test_a_spot_at_tint_0_on_the_same_spot_knocks_out_with_overprint_and_without(tmp_path: Path) -> None:
    same = {"spot": ("Copper", 0.8)}
    assert content_of(spot_at_0(True, **same), tmp_path).overprints == ()
    over, plain = (plates_of(spot_at_0(one, **same), tmp_path) for one in (True, False))
    assert np.array_equal(over["Copper"], plain["Copper"])
    assert (over["Copper"][100, 150], over["Copper"][30, 150]) == (0, 204)


def test_on_process_inks_it_vanishes_and_that_is_told(tmp_path: Path) -> None:
    content = content_of(spot_at_0(True, magenta=0.8), tmp_path)
    assert [one.case for one in content.overprints] == ["white vanishes"]
    over, plain = (plates_of(spot_at_0(one, magenta=0.8), tmp_path)["Magenta"] for one in (True, False))
    assert (over[100, 150], plain[100, 150]) == (204, 0)


def test_a_spot_that_is_used_at_tint_0_alone_makes_no_plate(tmp_path: Path) -> None:
    content = content_of(spot_at_0(False, magenta=0.8), tmp_path)
    assert (content.spots, inks_of(content)) == ((), ("Magenta",))
