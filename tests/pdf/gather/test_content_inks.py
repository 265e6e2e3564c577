"""Lines, overprint, transparency, spots, hidden layers and artwork: what the walk tells beyond colours, pictures and text."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from tests.build import PageBuilder, drawing, page
from tests.pdf.gather.content_of import content_of

BLACK_TEXT = {"cyan": 0, "magenta": 0, "yellow": 0, "black": 1}


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def state(**entries: object) -> Dictionary:
    return Dictionary({f"/{key}": value for key, value in entries.items()})


# --- Lines ------------------------------------------------------------------------------------------------------------


def test_a_line_has_the_width_that_its_matrix_leaves(tmp_path: Path) -> None:
    form = drawing(40, 20).line((5, 5), (35, 5), 1, black=1)
    content = content_of(card().line((10, 40), (70, 40), 0.5, black=1).form(form, at=(10, 10), scale=0.25), tmp_path)
    assert sorted(line.width_pt for line in content.lines) == pytest.approx([0.25, 0.5], abs=0.001)


def test_a_squeezed_line_is_as_thin_as_its_thinnest_part(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.4.3.2."""
    content = content_of(card().raw(b"q 1 0 0 0.2 0 0 cm 1 w 0 0 0 1 K 20 300 m 90 300 l S Q"), tmp_path)
    assert [line.width_pt for line in content.lines] == pytest.approx([0.2])


def test_width_zero_is_told_as_zero(tmp_path: Path) -> None:
    assert [line.width_pt for line in content_of(card().line((5, 5), (30, 30), 0, black=1), tmp_path).lines] == [0]


def test_an_area_as_thin_as_a_line_is_a_line(tmp_path: Path) -> None:
    thin = content_of(card().fill(at=(10, 10, 60, 10.05), black=1), tmp_path)
    square = content_of(card().fill(at=(10, 10, 60, 15), black=1), tmp_path)
    assert [(line.drawn, round(line.width_pt, 2)) for line in thin.lines] == [("thin fill", 0.14)]
    assert square.lines == ()


def test_lines_of_one_width_and_ink_are_summed_up(tmp_path: Path) -> None:
    built = card()
    for y in range(5, 50, 5):
        built.line((10, y), (70, y), 0.5, black=0.4)
    (line,) = content_of(built, tmp_path).lines
    assert (line.count, line.inks, line.tint) == (9, ("Black",), 0.4)


# --- On ink, reversed, overprint --------------------------------------------------------------------------------------


def test_white_text_on_a_dark_panel_is_reversed_and_on_paper_is_not(tmp_path: Path) -> None:
    built = card().fill(at=(0, 0, 40, 55), cyan=1).text("on ink", 8, (5, 20), gray=1).text("on paper", 8, (50, 20), gray=1)
    runs = {run.text: (run.white, run.on_ink) for run in content_of(built, tmp_path).text_runs}
    assert runs == {"on ink": (True, True), "on paper": (True, False)}


def test_a_white_panel_makes_paper_again(tmp_path: Path) -> None:
    built = card().fill(cyan=1).fill(at=(20, 10, 60, 40), gray=1).text("rye", 8, (30, 25), **BLACK_TEXT)
    assert [run.on_ink for run in content_of(built, tmp_path).text_runs] == [False]


@pytest.mark.parametrize(
    ("entries", "color", "case"),
    [
        (state(OP=True, op=True, OPM=1), b"0 0 0 0 k", "white vanishes"),
        (state(OP=True, op=True, OPM=0), b"0 0 0 0 k", None),
        (state(OP=True, op=True, OPM=1), b"1 g", None),
        (state(OP=True, op=False, OPM=1), b"0 0 0 0 k", None),
        (state(OP=True, op=True, OPM=1), b"0 0 0 1 k", "black overprints"),
        (state(OP=True, op=True, OPM=0), b"0 0 0 1 k", "black knocks out"),
        (state(OP=True, op=True, OPM=1), b"0 g", "black knocks out"),
        (state(OP=False, op=False), b"0 0 0 1 k", "black knocks out"),
        (state(OP=False, op=False), b"0 0 0 0.5 k", None),
    ],
)
def test_what_becomes_of_white_and_black_on_ink(tmp_path: Path, entries: Dictionary, color: bytes, case: str | None) -> None:
    """ISO 32000-2:2020, 8.6.7 and Tables 148 and 149: mode 1 spares inks at zero for DeviceCMYK only."""
    built = card().fill(cyan=1).resource("ExtGState", "Over", entries).raw(b"/Over gs", color, b"60 60 50 40 re f")
    assert [use.case for use in content_of(built, tmp_path).overprints] == ([case] if case else [])


def test_op_alone_sets_both_parameters(tmp_path: Path) -> None:
    """ISO 32000-2:2020, Table 57: OP sets filling too unless op stands beside it."""
    built = card().fill(cyan=1).resource("ExtGState", "Over", state(OP=True, OPM=1)).raw(b"/Over gs 0 0 0 1 k 60 60 50 40 re f")
    assert [use.case for use in content_of(built, tmp_path).overprints] == ["black overprints"]


def test_black_text_that_knocks_out_of_a_tint_tells_its_size(tmp_path: Path) -> None:
    (use,) = content_of(card().fill(yellow=0.4).text("opening hours", 7, (10, 20), **BLACK_TEXT), tmp_path).overprints
    assert (use.case, use.kind, use.size_pt) == ("black knocks out", "text", 7.0)


def test_black_on_bare_paper_meets_nothing(tmp_path: Path) -> None:
    assert content_of(card().text("opening hours", 7, (10, 20), **BLACK_TEXT), tmp_path).overprints == ()


# --- Transparency -----------------------------------------------------------------------------------------------------


def test_each_kind_of_transparency_is_told(tmp_path: Path) -> None:
    built = card().resource("ExtGState", "A", state(ca=0.5)).resource("ExtGState", "B", state(BM=Name.Multiply))
    built.raw(b"q /A gs").fill(at=(0, 0, 9, 9), cyan=1).raw(b"Q q /B gs").fill(at=(9, 9, 20, 20), cyan=1).raw(b"Q")
    built.picture(at=(30, 10, 50, 30), soft_mask=True)
    found = {(use.kind, use.detail) for use in content_of(built, tmp_path).transparency}
    assert found == {("alpha", "0.5"), ("blend mode", "Multiply"), ("picture with soft mask", "")}


def test_a_state_that_nothing_uses_is_no_transparency(tmp_path: Path) -> None:
    built = card().resource("ExtGState", "A", state(ca=0.5)).raw(b"q /A gs Q").fill(cyan=1)
    assert content_of(built, tmp_path).transparency == ()


def test_a_group_drawn_half_opaque_is_transparency_though_its_content_is_opaque(tmp_path: Path) -> None:
    def group(pdf: Pdf) -> object:
        form = Stream(pdf, b"1 0 0 0 k 0 0 50 50 re f", Subtype=Name.Form, BBox=Array([0, 0, 50, 50]))
        form.Group = Dictionary(S=Name.Transparency)
        return pdf.make_indirect(form)

    built = card().resource("XObject", "G", group).resource("ExtGState", "A", state(ca=0.5)).raw(b"/A gs /G Do")
    assert {use.kind for use in content_of(built, tmp_path).transparency} == {"alpha"}


# --- Spots ------------------------------------------------------------------------------------------------------------


def test_a_spot_ink_tells_its_tints_and_whether_it_overprints(tmp_path: Path) -> None:
    built = card().resource("ExtGState", "Over", state(OP=True, op=True)).raw(b"/Over gs")
    built.fill(at=(10, 10, 30, 30), spot=("Foil", 1)).fill(at=(40, 10, 60, 30), spot=("Foil", 0.3))
    (spot,) = content_of(built, tmp_path).spots
    assert (spot.ink, spot.kind, spot.count, spot.overprints, spot.alone) == ("Foil", "fill", 2, True, True)
    assert (spot.tint_least, spot.tint_most) == pytest.approx((0.3, 1.0))


def test_a_picture_in_a_spot_ink_can_hold_every_tint(tmp_path: Path) -> None:
    (spot,) = content_of(card().picture(at=(10, 10, 30, 30), color="Copper"), tmp_path).spots
    assert (spot.kind, spot.tint_least, spot.tint_most) == ("image", 0.0, 1.0)


# --- Layers -----------------------------------------------------------------------------------------------------------


def layered(flags: dict[str, str]) -> PageBuilder:
    """A fill on the layer 'Guides' with usage states; both events are automatic."""

    def make(pdf: Pdf) -> object:
        usage = Dictionary(Print=Dictionary(PrintState=Name(flags["Print"])), View=Dictionary(ViewState=Name(flags["View"])))
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Guides", Usage=usage))
        events = [Dictionary(Event=one, Category=Array([one]), OCGs=Array([layer])) for one in (Name.Print, Name.View)]
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary(AS=Array(events)))
        return layer

    return card().resource("Properties", "L", make).raw(b"/OC /L BDC").fill(at=(10, 10, 20, 20), cyan=1).raw(b"EMC")


def test_content_that_shows_and_does_not_print_is_told_with_its_layer(tmp_path: Path) -> None:
    content = content_of(layered({"Print": "/OFF", "View": "/ON"}), tmp_path)
    assert [(use.prints, use.shows, use.layer, use.count) for use in content.hidden] == [(False, True, "Guides", 1)]
    assert content.colors == ()


def test_content_that_prints_and_does_not_show_is_told_and_counted(tmp_path: Path) -> None:
    content = content_of(layered({"Print": "/ON", "View": "/OFF"}), tmp_path)
    assert [(use.prints, use.shows) for use in content.hidden] == [(True, False)]
    assert len(content.colors) == 1


def test_content_that_shows_and_prints_is_not_hidden(tmp_path: Path) -> None:
    assert content_of(layered({"Print": "/ON", "View": "/ON"}), tmp_path).hidden == ()


def on_layer(name: str) -> PageBuilder:
    """Whatever is painted from here on, up to EMC."""

    def make(pdf: Pdf) -> object:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary())
        return layer

    return card().fill(yellow=0.2).resource("Properties", "L", make).raw(b"/OC /L BDC")


def test_what_prints_of_a_layer_is_told_by_its_name(tmp_path: Path) -> None:
    built = on_layer("Guides").line((0, 3), (85, 3), 0.5, cyan=1).fill(at=(3, 0, 3.1, 55), rgb=(1, 0, 0))
    built.text("safe area", 8, (10, 10), magenta=1).fill(at=(10, 10, 20, 20), cyan=1).raw(b"EMC").fill(at=(1, 1, 9, 9), black=1)
    (layer,) = content_of(built, tmp_path).layers
    assert (layer.layer, layer.lines, layer.texts, layer.others, layer.inks) == ("Guides", 2, 1, 1, ("Cyan",))
    assert [round(one.height) for one in layer.boxes_mm] == [0, 55]


def test_marks_in_one_path_on_a_layer_are_where_they_paint(tmp_path: Path) -> None:
    """The box around all of them would span the page."""
    marks = b"0 0 0 1 K .25 w -20 8.5 m -2 8.5 l 8.5 -20 m 8.5 -2 l 270 8.5 m 255 8.5 l 249.4 190 m 249.4 175 l S EMC"
    (layer,) = content_of(on_layer("Trim marks").raw(marks), tmp_path).layers
    assert all(max(one.width, one.height) < 20 for one in layer.boxes_mm)


def test_a_layer_that_does_not_print_holds_nothing_that_does(tmp_path: Path) -> None:
    assert content_of(layered({"Print": "/OFF", "View": "/ON"}), tmp_path).layers == ()
    assert len(content_of(layered({"Print": "/ON", "View": "/ON"}), tmp_path).layers) == 1


# --- Artwork and marks ------------------------------------------------------------------------------------------------


def artwork_of(content: Content) -> list[Box]:
    assert not isinstance(content.artwork, Unmeasured)
    return [one.box_mm for one in content.artwork]


def test_vector_objects_are_listed_with_their_visible_part(tmp_path: Path) -> None:
    (box,) = artwork_of(content_of(card().fill(at=(10, 10, 100, 20), cyan=1), tmp_path))
    assert box == pytest.approx(Box(10, 10, 88, 20), abs=0.01)


def test_a_crowd_of_specks_keeps_its_outermost_edges(tmp_path: Path) -> None:
    built = card()
    for step in range(200):
        x = 10.1 + (step % 20) * 0.09
        built.fill(at=(x, 10.1, x + 0.05, 11.9), cyan=1)
    (box,) = artwork_of(content_of(built, tmp_path))
    assert box == pytest.approx(Box(10.1, 10.1, 10.1 + 19 * 0.09 + 0.05, 11.9), abs=0.01)


def test_white_leaves_no_ink_and_is_no_artwork(tmp_path: Path) -> None:
    assert artwork_of(content_of(card().fill(at=(10, 10, 30, 20), gray=1), tmp_path)) == []


def test_crop_marks_are_told_as_eight_lines_outside_the_trim(tmp_path: Path) -> None:
    content = content_of(page(85, 55, bleed=3, slug=8).crop_marks(offset=3, length=5), tmp_path)
    assert len(content.mark_lines) == 8
    assert all(mark.registration for mark in content.mark_lines)
    assert {round(max(mark.box_mm.width, mark.box_mm.height), 2) for mark in content.mark_lines} == {5.0}


def test_marks_drawn_as_one_path_are_told_one_by_one(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3, slug=8).raw(b"1 1 1 1 K 0.25 w 0 31 m 14 31 l 31 0 m 31 14 l S")
    assert len(content_of(built, tmp_path).mark_lines) == 2


# --- Stand-ins --------------------------------------------------------------------------------------------------------


def test_an_object_that_is_not_in_the_file_is_a_stand_in(tmp_path: Path) -> None:
    content = content_of(card().raw(b"q 100 0 0 50 30 30 cm /Lost Do Q"), tmp_path)
    assert [one.kind for one in content.stand_ins] == ["missing object"]


# --- What type and lines need besides ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("color", "tint"),
    [
        ({"black": 1}, 1.0),
        ({"gray": 0.25}, 0.75),
        ({"cyan": 1, "magenta": 0.5, "black": 0.2}, 0.2),
        ({"cyan": 1}, 0.0),
        ({"rgb": (0, 0, 0)}, 0.0),
    ],
)
def test_text_tells_how_strong_its_black_is(tmp_path: Path, color: dict[str, object], tint: float) -> None:
    (run,) = content_of(card().text("rye", 8, (10, 20), **color), tmp_path).text_runs
    assert run.black_tint == pytest.approx(tint)


def test_a_dark_brown_and_a_rich_black_on_one_line_are_two_runs(tmp_path: Path) -> None:
    built = card().text("rye", 8, (10, 20), cyan=1, black=0.2).text("oat", 8, (15, 20), cyan=1, black=1)
    assert [run.black_tint for run in content_of(built, tmp_path).text_runs] == [0.2, 1.0]


def test_lines_outside_the_trim_are_summed_up_apart(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3, slug=8).crop_marks(offset=3, length=5)
    built.line((10, 10), (70, 10), 0.25, cyan=1, magenta=1, yellow=1, black=1)
    lines = content_of(built, tmp_path).lines
    assert sorted((line.beyond_trim, line.count) for line in lines) == [(False, 1), (True, 8)]


# --- What black stands on -------------------------------------------------------------------------------------------


def tints_below(built: PageBuilder, folder: Path) -> list[dict[str, float] | None]:
    found = content_of(built, folder).overprints
    return [None if one.tints_below is None else {tint.ink: tint.strength for tint in one.tints_below} for one in found]


def test_black_type_is_told_the_plain_colour_that_it_stands_on(tmp_path: Path) -> None:
    assert tints_below(card().fill(cyan=0.3, yellow=0.1).text("rye", 8, (10, 20), **BLACK_TEXT), tmp_path) == [
        {"Cyan": 0.3, "Yellow": 0.1}
    ]
    assert tints_below(card().fill(rgb=(0.9, 0.8, 0.7)).text("rye", 8, (10, 20), **BLACK_TEXT), tmp_path) == [
        {"Cyan": pytest.approx(0.1), "Magenta": pytest.approx(0.2), "Yellow": pytest.approx(0.3)}
    ]
    half = card().resource("ExtGState", "Half", Dictionary(ca=0.5)).raw(b"q /Half gs").fill(cyan=1).raw(b"Q")
    assert tints_below(half.text("rye", 8, (10, 20), **BLACK_TEXT), tmp_path) == [None]


@pytest.mark.parametrize(
    ("second", "below"),
    [
        ({}, {"Cyan": 0.4}),
        ({"at": (40, -3, 88, 58), "cyan": 0.6}, None),  # the tint changes below
        ({"at": (40, -3, 88, 58), "cyan": 0.4}, {"Cyan": 0.4}),
    ],
)
def test_large_black_that_overprints_knows_whether_its_ground_is_even(
    second: dict[str, Any], below: dict[str, float] | None, tmp_path: Path
) -> None:
    made = card().fill(cyan=0.4)
    if second:
        made.fill(**second)
    made.resource("ExtGState", "Over", Dictionary(op=True, OP=True, OPM=1)).raw(b"/Over gs").fill((10, 10, 70, 45), black=1)
    assert tints_below(made, tmp_path) == [below]


FLATTENED = {"cyan": 0.28, "magenta": 0, "yellow": 0.07, "black": 1}


@pytest.mark.parametrize(
    ("panel", "inks"),
    [
        ({"cyan": 0.28, "yellow": 0.07}, ("Black",)),
        ({"cyan": 0.27, "yellow": 0.07}, ("Black",)),  # as 8 bits round it
        ({"cyan": 0.24, "yellow": 0.07}, ("Cyan", "Yellow", "Black")),
        ({"cyan": 0.28, "magenta": 0.1, "yellow": 0.07}, ("Cyan", "Yellow", "Black")),
        (None, ("Cyan", "Yellow", "Black")),
    ],
)
def test_black_that_flattening_merged_with_its_ground_is_black_alone(
    panel: dict[str, float] | None, inks: tuple[str, ...], tmp_path: Path
) -> None:
    """In the other plates the letters have no edge."""
    made = card().fill((5, 5, 80, 50), **panel) if panel else card()
    made.text("opening hours", 7, (10, 20), **FLATTENED).line((10, 40), (60, 40), 0.2, **FLATTENED)
    content = content_of(made, tmp_path)
    assert [run.inks for run in content.text_runs] == [inks]
    assert [line.inks for line in content.lines] == [inks]


def test_merged_black_that_crosses_the_edge_of_its_panel_shows_its_inks(tmp_path: Path) -> None:
    made = card().fill((5, 5, 25, 50), cyan=0.28, yellow=0.07).text("open from seven to four", 12, (10, 20), **FLATTENED)
    assert [run.inks for run in content_of(made, tmp_path).text_runs] == [("Cyan", "Yellow", "Black")]


# --- Frames -----------------------------------------------------------------------------------------------------------


def frames_of(raw: bytes, tmp_path: Path) -> list[tuple[tuple[float, ...], float]]:
    """`raw` in points from the foot of the card's bleed, which lies 3 mm beyond the trim."""
    found = content_of(card().raw(b"q 0 0 0 1 K 2 w " + raw + b" Q"), tmp_path).frames
    return [(tuple(round(one, 1) for one in frame.box_mm), round(frame.width_mm, 2)) for frame in found]


def test_a_rectangle_around_most_of_the_page_is_a_frame(tmp_path: Path) -> None:
    """3 mm are 8.504 pt: the rectangle runs 5 mm inside the trim, its line half a point less."""
    around = ((4.6, 4.6, 80.4, 50.4), 0.71)
    assert frames_of(b"22.677 22.677 212.598 127.559 re S", tmp_path) == [around]
    assert frames_of(b"22.677 22.677 m 235.275 22.677 l 235.275 150.236 l 22.677 150.236 l h S", tmp_path) == [around]


def test_what_is_small_slanted_or_off_the_page_is_no_frame(tmp_path: Path) -> None:
    assert frames_of(b"60 60 80 60 re S", tmp_path) == []
    assert frames_of(b"22 22 m 235 30 l 235 150 l 22 150 l h S", tmp_path) == []
    assert frames_of(b"0 0 m 20 20 l 240 20 l 240 150 l 20 150 l 20 20 l S", tmp_path) == []
    assert frames_of(b"2 2 253 168 re S", tmp_path) == []
