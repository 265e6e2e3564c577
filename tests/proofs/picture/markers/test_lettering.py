"""Words below a picture, broken into lines."""

from __future__ import annotations

from service.proofs.picture.markers.lettering import broken, font


def test_a_line_ends_at_no_space_that_does_not_break() -> None:
    face = font(12)
    for width in range(60, 300, 20):
        lines = broken("Der Beschnitt misst 2,5\u00a0mm statt 3\u00a0mm", width, face)
        assert [one for one in lines if "2,5 mm" in one]
        assert [one for one in lines if "3 mm" in one]


def test_a_space_that_the_typeface_lacks_is_drawn_as_a_plain_one() -> None:
    assert broken("l\u2019impression\u202f; voil\u00e0\u00a0: fini", 1000, font(12)) == ["l\u2019impression ; voil\u00e0 : fini"]
