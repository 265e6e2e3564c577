"""Gradients rewritten for a rendering of ink tints, painted by PDFium; expected tints are worked out by hand.

`tests/outside/test_gradients.py` holds each type, pixel by pixel, against Ghostscript's separations of the gradient as it was.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.plates.rewriting.meshes import MOST_TRIANGLES, mesh_triangles, refined
from service.pdf.plates.rewriting.shadings import rgb_shading
from service.pdf.reading.reading_errors import READING_ERRORS
from tests.pdf.plates.gradients import (
    BLUE,
    COONS,
    CORNERS,
    GREEN,
    MAGENTA,
    TENSOR,
    YELLOW,
    Maker,
    Mesh,
    blend,
    complements,
    coons,
    gradient,
    painted,
    program,
    rainbow,
    rewritten,
    tensor,
    tints_by_pdfium,
    triangle_with_function,
    triangles,
)

PDF = Pdf.new()
"""Holds the gradients that are never painted: objects die with their file."""
TOLERANCE = 3
"""Of 255: PDFium's steps, and half a pixel of a gradient."""


def tint(make: Maker, x: float, y: float, pattern: bool = False) -> list[int]:
    """Cyan, magenta, yellow at a point of the page, in points from its bottom left."""
    pixels = tints_by_pdfium(rewritten(make, pattern))
    return pixels[int((100 - y) * 2), int(x * 2)].tolist()  # type: ignore[no-any-return]


def mixed(*parts: tuple[float, tuple[float, ...]], within: float = TOLERANCE) -> Any:
    """255ths of cyan, magenta and yellow for colours in these proportions."""
    return pytest.approx([255 * sum(share * color[at] for share, color in parts) for at in range(3)], abs=within)


# --- Axial, radial, by a function --------------------------------------------------------------------------------------


def axial(_pdf: Pdf) -> Dictionary:
    return gradient(2, Coords=[20, 0, 80, 0], Extend=[True, True], Function=blend())


def test_an_axial_gradient_keeps_its_place_and_reaches_both_ends() -> None:
    assert tint(axial, 5, 50) == [255, 0, 127]
    assert tint(axial, 95, 50) == [0, 255, 0]
    assert tint(axial, 50, 50) == mixed((0.5, GREEN), (0.5, MAGENTA))


def test_a_gradient_that_is_not_extended_leaves_the_paper() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        return gradient(2, Coords=[20, 0, 80, 0], Extend=[False, True], Function=blend())

    assert tint(make, 10, 50) == [0, 0, 0]
    assert tint(make, 90, 50) == [0, 255, 0]


def test_the_domain_of_a_gradient_says_which_part_of_its_function_is_painted() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        return gradient(2, Coords=[20, 0, 80, 0], Extend=[True, True], Domain=[0.5, 0.75], Function=blend())

    assert tint(make, 5, 50) == mixed((0.5, GREEN), (0.5, MAGENTA))
    assert tint(make, 95, 50) == mixed((0.25, GREEN), (0.75, MAGENTA))


def test_a_radial_gradient_keeps_its_circles() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        return gradient(3, Coords=[50, 50, 10, 50, 50, 40], Extend=[True, False], Function=blend())

    assert tint(make, 50, 50) == [255, 0, 127]
    assert tint(make, 75, 50) == mixed((0.5, GREEN), (0.5, MAGENTA))
    assert tint(make, 95, 50) == [0, 0, 0]


def test_a_gradient_of_a_function_of_the_place_keeps_its_matrix() -> None:
    def make(pdf: Pdf) -> Dictionary:
        function = program(pdf, "{0 0}", [0, 2, 0, 1], 4)
        return gradient(1, Matrix=[40, 0, 0, 80, 10, 10], Domain=[0, 2, 0, 1], Function=function)

    assert tint(make, 70, 26) == pytest.approx([255, 51, 0], abs=TOLERANCE)  # x is 1.5, held to 1; y is 0.2
    assert tint(make, 30, 50) == pytest.approx([127.5, 127.5, 0], abs=TOLERANCE)
    assert tint(make, 95, 50) == [0, 0, 0]


def test_functions_for_each_ink_are_read_as_one() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        one, none = Dictionary(FunctionType=2, Domain=[0, 1], N=1), Dictionary(FunctionType=2, Domain=[0, 1], C1=[0], N=1)
        return gradient(2, Coords=[0, 0, 100, 0], Function=Array([none, one, none, none]))

    assert tint(make, 80, 50) == pytest.approx([0, 204, 0], abs=TOLERANCE)


# --- Background, box ----------------------------------------------------------------------------------------------------


def test_the_background_is_converted_and_fills_what_the_gradient_leaves() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        return gradient(2, Coords=[20, 0, 80, 0], Background=[0.2, 0.4, 0.6, 0], Function=blend())

    assert tint(make, 10, 50, pattern=True) == pytest.approx([51, 102, 153], abs=1)
    assert tint(make, 10, 50) == [0, 0, 0]


def test_the_box_of_a_gradient_cuts_it() -> None:
    def make(_pdf: Pdf) -> Dictionary:
        return gradient(2, Coords=[20, 0, 80, 0], Extend=[True, True], BBox=[0, 0, 100, 40], Function=blend())

    assert tint(make, 90, 30) == [0, 255, 0]
    assert tint(make, 90, 50) == [0, 0, 0]


# --- Meshes -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("depths", [(8, 16, 8), (2, 12, 4), (4, 24, 16), (8, 32, 12), (2, 8, 2)])
def test_triangles_of_every_depth_mix_the_colours_of_their_corners(depths: tuple[int, int, int]) -> None:
    third = mixed((1 / 3, GREEN), (1 / 3, MAGENTA), (1 / 3, YELLOW))
    found = tint(lambda pdf: triangles(pdf, Mesh(*depths)), 50, 36.67)
    coarse = 255 / (2 ** depths[2] - 1) / 2  # the half of yellow that a corner's few bits cannot tell
    assert found == third if coarse < 2 else np.abs(np.array(found) - third.expected).max() < TOLERANCE + coarse


def test_a_triangle_can_go_on_from_either_side_of_the_one_before() -> None:
    (first, second, third) = mesh_triangles(triangles(PDF), 4, 4).places.round().tolist()  # type: ignore[arg-type]
    assert first == [[10, 10], [90, 10], [50, 90]]
    assert second == [[90, 10], [50, 90], [95, 95]]
    assert third == [[90, 10], [95, 95], [60, 98]]


def test_a_function_is_applied_after_the_colours_are_mixed() -> None:
    # at this height the third corner has a share of 0.5/80; along it the number goes from 0 to 1: the whole rainbow is there
    share = 0.5 / 80
    for x, before, after, place in ((34.25, GREEN, MAGENTA, 0.0), (46.25, MAGENTA, YELLOW, 0.3), (70.25, YELLOW, GREEN, 0.6)):
        number = (x - 10 - 40 * share) / 80 + 0.3 * share
        part = (number - place) / (0.4 if place == 0.6 else 0.3)
        assert 0 < part < 1.1
        assert tint(triangle_with_function, x, 10.5) == mixed((1 - min(part, 1), before), (min(part, 1), after))


def test_colours_that_are_converted_are_converted_after_mixing() -> None:
    def squared(colors: Any) -> Any:
        return 1 - colors[:, :3] ** 2

    source = Pdf.new()
    pixels = tints_by_pdfium(painted(lambda out: rgb_shading(triangles(source), squared, 4, out)))
    assert pixels[178, 100].tolist() == pytest.approx([255 * 0.25, 255 * 0.25, 255 * 0.0625], abs=6)


def test_two_patches_meet_at_the_side_they_share() -> None:
    # the middle of that side: (50 + 3·60 + 3·40 + 50)/8 and (50 + 3·40 + 3·25 + 10)/8
    for x in (49.75, 50.25):
        assert tint(coons, x, 31.9) == mixed((0.5, YELLOW), (0.5, BLUE), within=5)


@pytest.mark.parametrize(
    ("flag", "points", "colors"),
    [(1, (3, 4, 5, 6), (1, 2)), (2, (6, 7, 8, 9), (2, 3)), (3, (9, 10, 11, 0), (3, 0))],
)
def test_a_patch_starts_from_the_side_that_its_flag_names(flag: int, points: tuple[int, ...], colors: tuple[int, ...]) -> None:
    mesh, pdf = Mesh(), Pdf.new()
    others = [(60, 0), (70, 20), (90, 10), (95, 20), (80, 35), (90, 50), (75, 60), (60, 40)]
    ours = mesh.shading(pdf, 6, [mesh.record(0, COONS, CORNERS), mesh.record(flag, others, (MAGENTA, GREEN))])
    spelled = [COONS[at] for at in points] + others
    whole = mesh.record(0, spelled, [*(CORNERS[at] for at in colors), MAGENTA, GREEN])
    alone = mesh.shading(pdf, 6, [mesh.record(0, COONS, CORNERS), whole])
    found, expected = mesh_triangles(ours, 6, 4), mesh_triangles(alone, 6, 4)  # type: ignore[arg-type]
    assert np.array_equal(found.places, expected.places)
    assert np.array_equal(found.values, expected.values)


def test_the_inner_points_of_a_tensor_patch_move_its_colours() -> None:
    # the middle of the surface is the mean of the control points with weights (1 3 3 1)/8 along u and v
    weights = dict(zip(range(16), [1, 3, 3, 1, 3, 3, 1, 3, 3, 1, 3, 3, 9, 9, 9, 9], strict=True))
    x, y = (sum(weights[n] * point[axis] for n, point in enumerate(TENSOR)) / 64 for axis in (0, 1))
    assert tint(tensor, x, y) == mixed(*((0.25, color) for color in CORNERS))


def test_where_a_patch_folds_over_itself_larger_v_is_on_top() -> None:
    # v runs up to the line y = 90 and back down to 50: what comes back lies over what went up
    folded = [
        (10, 10),
        (10, 90),
        (10, 110),
        (10, 50),
        (40, 50),
        (60, 50),
        (90, 50),
        (90, 110),
        (90, 90),
        (90, 10),
        (60, 10),
        (40, 10),
    ]

    def make(pdf: Pdf) -> pikepdf.Object:
        mesh = Mesh()
        return mesh.shading(pdf, 6, [mesh.record(0, [(x, y * 0.9) for x, y in folded], (GREEN, MAGENTA, MAGENTA, GREEN))])

    # y(v) = 0.9 · (10 (1−v)³ + 270 v (1−v)² + 330 v² (1−v) + 50 v³) = 60 at v = 0.3333… and again near v = 0.8998
    height = [
        0.9 * (10 * (1 - v) ** 3 + 270 * v * (1 - v) ** 2 + 330 * v * v * (1 - v) + 50 * v**3) for v in np.linspace(0, 1, 10_001)
    ]
    last = max(np.flatnonzero(np.array(height) >= 60)) / 10_000
    assert tint(make, 50, 60) == pytest.approx([255 * (1 - last), 255 * last, 127.5 * (1 - last)], abs=6)


def test_colours_of_a_palette_are_looked_up_before_they_are_mixed() -> None:
    def lookup(index: Any) -> Any:
        return np.array([[0, 1, 1], [1, 1, 0], [1, 1, 0]], dtype=np.float64)[np.minimum(index[:, 0].astype(int), 2)]

    source = Pdf.new()
    mesh = Mesh(component=8)
    records = [mesh.record(0, [place], [(n / 255,)]) for n, place in enumerate([(0, 0), (100, 0), (0, 100)])]
    made = mesh.shading(source, 4, records, 1)
    made.ColorSpace = Array([Name.Indexed, Name.DeviceCMYK, 2, pikepdf.String(b"\0" * 12)])
    made.Decode = Array([0, 100, 0, 100, 0, 255])
    pixels = tints_by_pdfium(painted(lambda out: rgb_shading(made, lookup, 1, out)))
    assert pixels[198, 50].tolist() == pytest.approx([255 * 0.74, 0, 255 * 0.26], abs=TOLERANCE)  # x 25.25, y 0.75


def test_triangles_are_split_no_further_than_a_check_may_go() -> None:
    mesh, pdf = Mesh(), Pdf.new()
    one = [mesh.record(0, [place], [(t,)]) for place, t in (((0, 0), 0), ((100, 0), 1), ((0, 100), 0.5))]
    found = mesh_triangles(mesh.shading(pdf, 4, one * 2000, 1), 4, 1)  # type: ignore[arg-type]
    noise = refined(found, lambda t: np.repeat(np.sin(t * 1e6) > 0, 3, axis=1).astype(np.float64), 0.1)
    assert 2000 < len(noise.places) <= MOST_TRIANGLES
    assert (np.diff(noise.places[:, :, 0].max(axis=1)) != 0).any()


# --- Damage and hostility ------------------------------------------------------------------------------------------------


def test_nothing_is_wrong_with_what_is_damaged_below() -> None:
    assert len(rgb_shading(damaged(), complements, 4, PDF).read_bytes()) > 3 * 15
    assert rgb_shading(gradient(2, Coords=[0, 0, 1, 1], Function=blend()), complements, 4, PDF).ShadingType == 2


def damaged(**entries: Any) -> Any:
    made = triangles(PDF)
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


@pytest.mark.parametrize(
    "shading",
    [
        Name.DeviceCMYK,
        gradient(9),
        gradient(4),
        gradient(2, Coords=[0, 0, 1, 1]),
        gradient(2, Function=blend()),
        gradient(2, Coords=[0, 0, 1], Function=blend()),
        gradient(3, Coords=[0, 0, 1, 1], Function=blend()),
        gradient(2, Coords=[0, 0, 1, 1], Function=blend((0, 0, 0), (1, 1, 1))),
        gradient(1, Function=blend()),
        gradient(2, Coords=[0, 0, 1, 1], Function=blend(), BBox=[0, 0]),
        gradient(2, Coords=[0, 0, 1, 1], Function=blend(), Background=[0, 0, 0]),
        gradient(2, Coords=[0, 0, 1, 1], Function=blend(), Extend=7),
        damaged(BitsPerFlag=3),
        damaged(BitsPerCoordinate=64),
        damaged(BitsPerComponent=32),
        damaged(Decode=Array([0, 1, 0, 1])),
        damaged(ShadingType=5),
        damaged(ShadingType=5, VerticesPerRow=1),
        damaged(Function=blend()),
    ],
)
def test_a_damaged_gradient_is_refused(shading: Any) -> None:
    with pytest.raises(READING_ERRORS):
        rgb_shading(shading, complements, 4, Pdf.new())


@pytest.mark.parametrize("kind", [4, 6, 7])
def test_a_mesh_that_goes_on_from_nothing_is_refused(kind: int) -> None:
    mesh, pdf = Mesh(), Pdf.new()
    points = {4: 1, 6: 8, 7: 12}[kind]
    shading = mesh.shading(pdf, kind, [mesh.record(1, [(5, 5)] * points, [GREEN] * (1 if kind == 4 else 2))])
    with pytest.raises(ValueError, match="not there"):
        rgb_shading(shading, complements, 4, pdf)


@pytest.mark.parametrize("kind", [4, 5, 6, 7])
def test_an_empty_mesh_paints_nothing(kind: int) -> None:
    def make(pdf: Pdf) -> pikepdf.Object:
        return Mesh().shading(pdf, kind, [], VerticesPerRow=2)

    assert not tints_by_pdfium(rewritten(make)).any()


@pytest.mark.parametrize("kind", [4, 5, 6, 7])
def test_a_mesh_that_is_too_large_is_refused_before_it_is_painted(kind: int) -> None:
    pdf = Pdf.new()
    empty = Mesh().shading(pdf, kind, [], VerticesPerRow=2)
    bytes_each = {4: 9, 5: 8, 6: 1 + 48 + 16, 7: 1 + 64 + 16}[kind]
    empty.write(bytes(bytes_each * (MOST_TRIANGLES // (2 if kind < 6 else 8) + 1)))
    with pytest.raises(ValueError, match="more than"):
        rgb_shading(empty, complements, 4, pdf)


def test_a_gradient_without_numbers_for_its_colours_is_no_crash() -> None:
    shading = gradient(2, Coords=[0, 0, 1, 1], Function=rainbow(), Domain=[0, 1])
    shading.Function.Functions = Array([Stream(PDF, b"")])
    with pytest.raises(READING_ERRORS):
        rgb_shading(shading, complements, 4, Pdf.new())
