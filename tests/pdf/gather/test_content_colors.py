"""Colours in use: families as a printer counts them, inks, and what is not in use."""

from __future__ import annotations

from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.painted.content import Content
from tests.build import PageBuilder, drawing, page, separation
from tests.pdf.gather.content_of import content_of


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def used(content: Content) -> set[tuple[str, str, tuple[str, ...]]]:
    return {(use.family, use.kind, use.inks) for use in content.colors}


def test_a_colour_paints_the_inks_whose_part_is_not_zero(tmp_path: Path) -> None:
    found = used(content_of(card().fill(cyan=1, black=0.2), tmp_path))
    assert found == {("cmyk", "fill", ("Cyan", "Black"))}


def test_gray_paints_black_and_white_paints_nothing(tmp_path: Path) -> None:
    assert used(content_of(card().fill(gray=0.5), tmp_path)) == {("gray", "fill", ("Black",))}
    assert used(content_of(card().fill(gray=1), tmp_path)) == {("gray", "fill", ())}


def test_each_kind_of_object_is_told_apart(tmp_path: Path) -> None:
    built = card().fill(rgb=(1, 0, 0)).line((0, 0), (10, 10), 1, rgb=(0, 0, 0)).text("Rye", 8, (5, 5), rgb=(0, 0, 0))
    built.picture(at=(10, 10, 30, 30), color="rgb")
    assert {kind for _, kind, _ in used(content_of(built, tmp_path))} == {"fill", "stroke", "text", "image"}


def test_a_spot_is_a_spot_and_all_is_registration(tmp_path: Path) -> None:
    found = used(content_of(card().fill(spot=("Copper", 1)).line((0, 0), (9, 9), 1, spot=("All", 1)), tmp_path))
    assert found == {("spot", "fill", ("Copper",)), ("registration", "stroke", ("All",))}


def test_separation_none_marks_nothing(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.6.6.4."""
    content = content_of(card().fill(spot=("None", 1)), tmp_path)
    assert content.colors == ()
    assert not content.meets_trim.left


def device_n(*names: str) -> Array:
    tint = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[1, 0, 0, 0], N=1)
    return Array([Name.DeviceN, Array([Name("/" + name) for name in names]), Name.DeviceCMYK, tint])


def test_process_names_inside_devicen_are_process_inks(tmp_path: Path) -> None:
    built = card().resource("ColorSpace", "N", device_n("Cyan", "Black")).raw(b"/N cs 0.5 0 scn 0 0 9 9 re f")
    assert used(content_of(built, tmp_path)) == {("cmyk", "fill", ("Cyan",))}


def test_one_spot_in_devicen_makes_it_a_spot_space(tmp_path: Path) -> None:
    built = card().resource("ColorSpace", "N", device_n("Cyan", "Copper", "None")).raw(b"/N cs 1 1 1 scn 0 0 9 9 re f")
    assert used(content_of(built, tmp_path)) == {("spot", "fill", ("Cyan", "Copper"))}


@pytest.mark.parametrize(("channels", "family"), [(1, "gray"), (3, "rgb"), (4, "cmyk"), (6, "multicolor")])
def test_an_icc_space_counts_by_its_channels(tmp_path: Path, channels: int, family: str) -> None:
    def space(pdf: Pdf) -> object:
        return Array([Name.ICCBased, pdf.make_indirect(Stream(pdf, b"\0" * 128, N=channels))])

    values = b" ".join([b"0.5"] * channels)
    built = card().resource("ColorSpace", "Icc", space).raw(b"/Icc cs", values, b"scn 0 0 9 9 re f")
    assert {use.family for use in content_of(built, tmp_path).colors} == {family}


def test_a_default_space_stands_in_for_the_device_space(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.6.5.6."""

    def space(pdf: Pdf) -> object:
        return Array([Name.ICCBased, pdf.make_indirect(Stream(pdf, b"\0" * 128, N=4))])

    built = card().resource("ColorSpace", "DefaultCMYK", space).fill(cyan=1)
    assert {use.written for use in content_of(built, tmp_path).colors} == {"ICCBased (4 channels)"}


def test_a_space_that_nothing_paints_is_not_in_use(tmp_path: Path) -> None:
    """Producers leave unused spaces in the resources."""
    built = card().resource("ColorSpace", "Unused", separation("Silver")).raw(b"/Unused cs 1 scn 1 0 0 rg").fill(cyan=1)
    assert used(content_of(built, tmp_path)) == {("cmyk", "fill", ("Cyan",))}


def test_a_form_inherits_the_colour_that_is_set_when_it_is_drawn(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.10.1."""
    form = drawing(20, 20).raw(b"0 0 9 9 re f")
    assert used(content_of(card().raw(b"0 1 0 0 k").form(form, at=(0, 0)), tmp_path)) == {("cmyk", "fill", ("Magenta",))}


def test_a_gradient_is_judged_by_the_space_of_its_shading(tmp_path: Path) -> None:
    shading = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=[0, 0, 1, 1])
    shading.Function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0], C1=[1, 1, 1], N=1)
    by_operator = card().resource("Shading", "S", shading).raw(b"/S sh")
    pattern = Dictionary(PatternType=2, Shading=shading)
    by_pattern = card().resource("Pattern", "P", pattern).raw(b"/Pattern cs /P scn 0 0 9 9 re f")
    assert used(content_of(by_operator, tmp_path)) == {("rgb", "shading", ())}
    assert used(content_of(by_pattern, tmp_path)) == {("rgb", "shading", ())}


def test_rgb_only_in_a_soft_mask_is_told_apart(tmp_path: Path) -> None:
    def state(pdf: Pdf) -> object:
        group = Stream(pdf, b"1 1 1 rg 0 0 99 99 re f", Subtype=Name.Form, BBox=Array([0, 0, 99, 99]))
        group.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
        return Dictionary(SMask=Dictionary(S=Name.Luminosity, G=pdf.make_indirect(group)))

    found = used(content_of(card().resource("ExtGState", "Mask", state).raw(b"/Mask gs").fill(cyan=1), tmp_path))
    assert found == {("rgb", "soft mask", ()), ("cmyk", "fill", ("Cyan",))}


def test_the_space_of_a_group_counts_only_where_something_blends(tmp_path: Path) -> None:
    """Some programs give every page an RGB group, though nothing on it is transparent."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    opaque = card().key("Group", group).fill(cyan=1)
    blended = card().key("Group", group).resource("ExtGState", "Half", Dictionary(ca=0.5)).raw(b"/Half gs").fill(cyan=1)
    assert used(content_of(opaque, tmp_path)) == {("cmyk", "fill", ("Cyan",))}
    assert used(content_of(blended, tmp_path)) == {("cmyk", "fill", ("Cyan",)), ("rgb", "group", ())}
    clear_fill = card().key("Group", group).resource("ExtGState", "Clear", Dictionary(ca=0)).raw(b"/Clear gs")
    stroked = clear_fill.line((10, 10), (60, 10), 1, cyan=1).raw(b"20 20 50 50 re B")
    assert "group" not in {kind for _, kind, _ in used(content_of(stroked, tmp_path))}


def annotation(flags: int) -> PageBuilder:
    def entries(pdf: Pdf) -> Array:
        look = Stream(pdf, b"1 0 0 rg 0 0 10 10 re f", Subtype=Name.Form, BBox=Array([0, 0, 10, 10]))
        note = Dictionary(Type=Name.Annot, Subtype=Name.Square, Rect=[20, 20, 60, 60], F=flags)
        note.AP = Dictionary(N=pdf.make_indirect(look))
        return Array([pdf.make_indirect(note)])

    return card().key("Annots", entries)


def test_an_annotation_counts_where_it_prints(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 12.5.3: bit 3 prints, bit 2 hides."""
    assert used(content_of(annotation(4), tmp_path)) == {("rgb", "fill", ())}
    assert content_of(annotation(0), tmp_path).colors == ()
    assert content_of(annotation(6), tmp_path).colors == ()


def test_artwork_that_reaches_the_trim_is_told_side_by_side(tmp_path: Path) -> None:
    meets = content_of(card().fill(at=(-3, 10, 40, 58), cyan=1), tmp_path).meets_trim
    assert (meets.top, meets.right, meets.bottom, meets.left) == (False, False, True, True)


def test_white_paper_and_crop_marks_do_not_reach_the_trim(tmp_path: Path) -> None:
    marked = page(85, 55, bleed=3, slug=6).crop_marks(offset=3).fill(cyan=0).text("Rye", 8, (20, 20))
    meets = content_of(marked, tmp_path).meets_trim
    assert not any(value for _, value in meets.items())


def test_marks_that_begin_within_the_bleed_are_marks_all_the_same(tmp_path: Path) -> None:
    """Level, 1.5 mm long, from the sheet's edge to 1.5 mm outside the trim; a long or a slanted line there is artwork."""
    rgb = {"rgb": (0, 0, 0)}
    mark = content_of(card().line((-3, 0), (-1.5, 0), 0.5, **rgb), tmp_path)
    assert [use.beyond_bleed for use in mark.colors] == [True]
    for start, end in (((-2, 5), (-2, 50)), ((-3, 0), (-1.5, 1.5)), ((-3, 5), (1.5, 5))):
        art = content_of(card().line(start, end, 0.5, **rgb), tmp_path)
        assert [use.beyond_bleed for use in art.colors] == [False]


def test_blanks_are_in_no_colour(tmp_path: Path) -> None:
    """A word space that a text program left red: nothing of it prints. A full stop is ink."""
    blank = content_of(card().text(" ", 8, (5, 5), rgb=(1, 0, 0)).text("  ", 8, (5, 9), spot=("Copper", 1)), tmp_path)
    assert (blank.colors, blank.spots) == ((), ())
    assert used(content_of(card().text(" .", 8, (5, 5), rgb=(1, 0, 0)), tmp_path)) == {("rgb", "text", ())}


def test_white_is_told_apart_in_whatever_space(tmp_path: Path) -> None:
    """What is nearly white is a tint."""
    built = card().fill(at=(5, 5, 20, 20), rgb=(1, 1, 1)).fill(at=(30, 5, 50, 20), rgb=(1, 1, 0.99))
    built.text("Rye", 8, (10, 10), lab=(100, 0, 0)).fill(at=(60, 5, 80, 20), gray=1)
    found = {(use.family, use.kind, use.white): use.count for use in content_of(built, tmp_path).colors}
    assert found == {("rgb", "fill", True): 1, ("rgb", "fill", False): 1, ("lab", "text", True): 1, ("gray", "fill", True): 1}
