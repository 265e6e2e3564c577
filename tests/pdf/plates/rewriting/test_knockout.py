"""When a knockout group is told from one that is none (ISO 32000-2:2020, 11.4.6): a blended object lies over an earlier one."""

from __future__ import annotations

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream

from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import Box
from service.pdf.plates.rewriting.knockout import MOST_OBJECTS, blends_over_itself

FIRST, OVER_IT, BESIDE_IT = b"10 10 50 50 re f ", b"40 40 50 50 re f ", b"60 10 30 50 re f "


def told_apart(content: bytes) -> bool:
    with pikepdf.new() as pdf:
        mask = Stream(pdf, b"0 0 100 100 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 100, 100])
        mask.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
        states = Dictionary(
            Half=Dictionary(ca=0.5, CA=0.5), Dark=Dictionary(BM=Name.Multiply), Full=Dictionary(ca=1, CA=1, BM=Name.Normal),
            Mask=Dictionary(SMask=Dictionary(S=Name.Alpha, G=pdf.make_indirect(mask))),
        )
        picture = Stream(pdf, b"\0", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, BitsPerComponent=8)
        picture.ColorSpace, picture.SMask = Name.DeviceGray, pdf.make_indirect(Stream(pdf, b"\x80", Subtype=Name.Image))
        form = Stream(pdf, FIRST + OVER_IT, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 100, 100]))
        group = Stream(pdf, b"/Half gs " + FIRST + OVER_IT, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 100, 100]))
        group.Group, group.Resources = Dictionary(S=Name.Transparency), Dictionary(ExtGState=states)
        listed = Dictionary({f"/{key}": pdf.make_indirect(one) for key, one in (("P", picture), ("F", form), ("G", group))})
        resources = Resources(Dictionary(ExtGState=states, XObject=listed), Shared(pdf))
        return blends_over_itself([content], resources, Box(0, 0, 100, 100), Shared(pdf))


@pytest.mark.parametrize("state", [b"/Half", b"/Dark", b"/Mask"])
def test_a_blended_object_over_an_earlier_one_is_told_apart(state: bytes) -> None:
    assert told_apart(FIRST + state + b" gs " + OVER_IT)


@pytest.mark.parametrize(
    "content",
    [
        FIRST + b"/Half gs " + BESIDE_IT,
        b"/Half gs " + FIRST + b"/Full gs " + OVER_IT,
        b"/Half gs 10 10 50 50 re B",
        b"/Half gs " + FIRST,
        FIRST + OVER_IT,
        b"/Half gs " + FIRST + b"60 10 50 50 re n 60 70 9 9 re W n " + OVER_IT,
        b"/Half gs /G Do",
        b"/Half gs 30 0 0 30 0 0 cm /P Do",
    ],
    ids=["beside", "opaque over it", "an area with its outline", "alone", "all opaque", "clipped away", "a group", "a picture"],
)
def test_others_look_as_in_any_group(content: bytes) -> None:
    assert not told_apart(content)


def test_a_picture_with_a_soft_mask_blends_and_so_does_what_a_form_adds() -> None:
    assert told_apart(FIRST + b"q 30 0 0 30 20 20 cm /P Do Q")
    assert told_apart(b"/Half gs /F Do")
    assert told_apart(FIRST + b"/G Do")


def test_of_very_many_objects_the_later_ones_count_together() -> None:
    many = b"".join(b"%d %d 0.5 0.5 re f " % (at % 40, at // 40) for at in range(MOST_OBJECTS + 200))
    assert not told_apart(many + b"/Half gs 80 80 5 5 re f")
    assert told_apart(many + b"/Half gs 20 16 1 1 re f")
