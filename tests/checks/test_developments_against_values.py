"""Developments of tapered shades against values computed elsewhere.

Each value carries its source in values.json; it is shown with a failure. Lengths in mm.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import minimize_scalar

from generator.shape.blank import blank_area, blank_loop
from generator.shape.blank_hull import blank_box
from generator.shape.development import ENDS, Development
from generator.shape.enclosing import turned_into
from tests.checks.published import Published, chosen
from tests.checks.unrolled import INCH, apex, development_of, extent, rim, turned, walked

TIGHT = 1e-9
DRAWN = 1e-3
"""Between two points of a drawn curve its bow is left out: about R (R dpsi / R)^2 / 8, under this."""


def named(*quantities: str, group: str = "") -> pytest.MarkDecorator:
    """All values of tapers whose ids end in one of the words: cones are D-T…, all others E-T…."""
    tapers = [v for v in chosen("D-T") + chosen("E-T") if v.id.startswith(group)]
    found = [v for v in tapers if v.id.split("-", 2)[2] in quantities]
    return pytest.mark.parametrize("published", found, ids=[v.id for v in found])


def test_the_values_are_all_there() -> None:
    cones, others = chosen("D-T"), chosen("E-T")
    assert [len(cones), len(others), len(chosen("D-pub"))] == [108, 61, 3]


@named("theta", "theta2", "turn")
def test_the_seam_edges_stand_at_the_published_angle(published: Published) -> None:
    found = math.degrees(development_of(published).turning)
    assert found == pytest.approx(published.value, rel=TIGHT), published.source


@named("slant")
def test_the_slant_is_the_published_one(published: Published) -> None:
    found = development_of(published).generator(0.0).length
    assert found == pytest.approx(published.value, rel=TIGHT), published.source


@named("height")
def test_the_height_is_the_published_one(published: Published) -> None:
    line = development_of(published).generator(0.0)
    assert line.high[2] - line.low[2] == pytest.approx(published.value, rel=TIGHT), published.source


@named("Rout", "Rin")
def test_a_cone_has_the_published_radius(published: Published) -> None:
    development = development_of(published)
    line = development.generator(development.length / 3)
    point = line.flat_low if published.id.endswith("Rout") else line.flat_high
    assert math.dist(apex(development), point) == pytest.approx(published.value, rel=TIGHT), published.source


@named("area", "hull")
def test_the_lateral_area_is_the_published_one(published: Published) -> None:
    assert development_of(published).area == pytest.approx(published.value, rel=TIGHT), published.source


@named("off")
def test_the_middle_of_the_sheet_has_the_published_radii(published: Published) -> None:
    development = development_of(published, published.params["delta"])
    top = apex(development)
    # A nearly straight shade has its apex 7.5 m away, where the seam edges cross at 7 degrees.
    for x in (0.0, development.length / 3, development.length):
        line = development.generator(x)
        found = [math.dist(top, line.flat_low), math.dist(top, line.flat_high)]
        assert found == pytest.approx(published.value, rel=TIGHT), published.source


@named("offP", group="D")
def test_a_rim_of_a_cone_grows_as_published(published: Published) -> None:
    thick = development_of(published, published.params["delta"])
    bare = development_of(published)
    for end in ENDS:
        grown = thick.rim_length(end) - bare.rim_length(end)
        assert grown == pytest.approx(published.value, abs=1e-8), published.source


@named("offP", group="E")
def test_the_wide_rim_is_as_long_on_the_sheets_middle_as_published(published: Published) -> None:
    found = development_of(published, published.params["delta"]).rim_length("bottom")
    assert found == pytest.approx(published.value, rel=TIGHT), published.source


@named("ease")
def test_a_margin_turned_inwards_misfits_as_published(published: Published) -> None:
    development, margin = development_of(published), published.params["m"]
    assert 2 * margin * development.turning == pytest.approx(published.value, rel=TIGHT), published.source
    for end, sign in zip(ENDS, (1, -1), strict=True):
        # The margin's edge, and the line on the shade's side on which it comes to lie.
        edge, place = (walked(list(development.outline_points(end, m))) for m in (margin, -margin))
        assert sign * (edge - place) == pytest.approx(published.value, abs=DRAWN), published.source


@named("corners")
def test_the_corners_of_the_flat_sheet_lie_where_published(published: Published) -> None:
    development = development_of(published)
    ax, ay = apex(development)
    ends = [development.generator(x) for x in (0.0, development.length)]
    points = [(x - ax, y - ay) for end in ends for x, y in (end.flat_low, end.flat_high)]
    # The bisector of both seam edges shall point along +y.
    low, high, far_low, far_high = turned(points, math.pi - development.turning / 2)
    assert (*low, *high) == pytest.approx(published.value, abs=1e-8), published.source
    assert (*far_low, *far_high) == pytest.approx([-low[0], low[1], -high[0], high[1]], abs=1e-8)


@named("end")
def test_the_seam_ends_lie_where_published(published: Published) -> None:
    development = development_of(published)
    first, last = development.generator(0.0), development.generator(development.length)
    assert first.flat_low == (0.0, 0.0)
    found = [*last.flat_low, *last.flat_high]
    assert found == pytest.approx(published.value, abs=1e-8), published.source


@named("chord")
def test_the_wide_edge_has_the_published_chord_and_rise(published: Published) -> None:
    development = development_of(published)
    start, end = (development.generator(x).flat_low for x in (0.0, development.length))
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    rise = math.dist(middle, development.generator(development.length / 2).flat_low)
    assert [math.dist(start, end), rise] == pytest.approx(published.value, abs=1e-7), published.source


@named("box")
def test_the_box_with_the_seams_alike_is_the_published_one(published: Published) -> None:
    development = development_of(published)
    points = turned(blank_loop(development, 0.0, 0.0), -development.turning / 2)
    assert extent(points) == pytest.approx(published.value, abs=DRAWN), published.source


@named("flushbox")
def test_the_box_with_one_seam_along_its_side_is_the_published_one(published: Published) -> None:
    development = development_of(published)
    (x0, y0), (x1, y1) = development.generator(0.0).flat_low, development.generator(0.0).flat_high
    points = turned(blank_loop(development, 0.0, 0.0), -math.atan2(y1 - y0, x1 - x0))
    assert extent(points) == pytest.approx(published.value, abs=DRAWN), published.source


@named("minrect")
def test_the_smallest_rectangle_is_the_published_one(published: Published) -> None:
    box = blank_box(development_of(published), 0.0, 0.0)
    assert [box.length, box.width] == pytest.approx(published.value, abs=DRAWN), published.source


@named("minwid")
def test_the_narrowest_strip_of_cloth_that_holds_the_blank_is_the_published_one(published: Published) -> None:
    found = turned_into(blank_loop(development_of(published), 0.0, 0.0), math.inf, 0.0)
    assert found.across == pytest.approx(published.value, abs=DRAWN), published.source


def test_the_blank_with_margins_and_overlap_has_the_published_area() -> None:
    (published,) = chosen("D-T02-fab-area")
    p = published.params
    found = blank_area(development_of(published), p["m"], p["overlap"])
    assert found == pytest.approx(published.value, rel=TIGHT), published.source


def test_the_blank_with_margins_and_overlap_fits_the_published_rectangle() -> None:
    (published,) = chosen("D-T02-fab-rect")
    p = published.params
    box = blank_box(development_of(published), p["m"], p["overlap"])
    assert [box.length, box.width] == pytest.approx(published.value, abs=DRAWN), published.source


@named("rho0")
def test_a_general_cone_has_the_published_radii_at_the_front(published: Published) -> None:
    development = development_of(published)
    top, line = apex(development), development.generator(0.0)
    found = [math.dist(top, line.flat_low), math.dist(top, line.flat_high)]
    assert found == pytest.approx(published.value, rel=TIGHT), published.source


@named("rhomax")
def test_the_farthest_point_of_a_general_cone_is_as_far_as_published(published: Published) -> None:
    development = development_of(published)
    top = apex(development)

    def reach(x: float) -> tuple[float, float]:
        line = development.generator(x)
        return math.dist(top, line.flat_low), math.dist(top, line.flat_high)

    step = development.length / 80
    best = max((k * step for k in range(80)), key=reach)
    near = (best - step, best + step)
    found = [-minimize_scalar(lambda x, e=e: -reach(x)[e], bounds=near, method="bounded").fun for e in (0, 1)]
    # The published maximum of the rounded rectangle meets its own second way to 2e-8 only.
    assert found == pytest.approx(published.value, rel=1e-7), published.source


@named("coords")
def test_stations_of_a_general_cone_lie_where_published(published: Published) -> None:
    development = development_of(published)
    ax, ay = apex(development)
    rows = []
    for s, *_ in published.value:
        line = development.generator(development.panel_place("bottom", s))
        (x, y), (u, v) = line.flat_low, line.flat_high
        angle = math.degrees(math.atan2(x - ax, ay - y)) % 360
        rows.append([s, angle, math.hypot(x - ax, y - ay), math.hypot(u - ax, v - ay)])
    for found, expected in zip(rows, published.value, strict=True):
        assert found == pytest.approx(expected, abs=1e-7), published.source


def test_the_textbook_net_of_a_frustum() -> None:
    # A public teaching page, "The Net of a Frustum" (read): 8, 5 and 4 inches give r 7.12, R 11.39, 126.4°.
    (published,) = chosen("D-pub1")
    development = development_of(published)
    top, line = apex(development), development.generator(0.0)
    inner, outer = math.dist(top, line.flat_high) / INCH, math.dist(top, line.flat_low) / INCH
    angle = math.degrees(development.turning)
    assert [inner, outer, angle] == pytest.approx(published.value, rel=TIGHT), published.source
    assert (round(inner, 2), round(outer, 2), round(angle, 1)) == (7.12, 11.39, 126.4)


def test_longfields_pump_funnel() -> None:
    # Longfield, Sheet Metal Drafting, page 128 (the problem's text read): 6 and 3 inches across, 3 high.
    (published,) = chosen("D-pub2")
    development = development_of(published)
    found = [development.generator(0.0).length / INCH, development.area / INCH**2]
    assert found == pytest.approx(published.value, rel=TIGHT), published.source
    # The book's own way, with its 3.1416: half of both circumferences times the slant.
    assert found[1] == pytest.approx((6 + 3) * 3.1416 / 2 * found[0], rel=3e-6)


def test_longfields_cone_has_the_area_of_half_its_circumference_times_its_slant() -> None:
    # Longfield, Sheet Metal Drafting, page 82 (read): 15.7080 times 6.
    (published,) = chosen("D-pub3")
    found = development_of(published).area / INCH**2
    assert found == pytest.approx(published.value, rel=TIGHT), published.source
    assert found == pytest.approx(15.7080 * 6, rel=3e-6)


def test_a_cone_of_90_degrees_opens_to_254_6() -> None:
    # The sector of a cone is 360° times the sine of half its apex angle (elementary); 254.6° by the
    # project's geometry notes.
    development = Development(rim(400.0), rim(100.0), 150.0)
    found = math.degrees(development.turning)
    assert found == pytest.approx(360 * math.sin(math.radians(45)), rel=1e-12)
    assert round(found, 1) == 254.6


def test_a_shade_of_300_to_290_looks_straight_but_its_edge_rises_14_8_mm() -> None:
    # The project's geometry notes; the slope is that of the value D-T04.
    development = Development(rim(300.0), rim(290.0), 250.0)
    (x, y), middle = (development.generator(development.length * k / 2).flat_low for k in (2, 1))
    assert round(math.dist((x / 2, y / 2), middle), 1) == 14.8


@pytest.mark.parametrize(
    ("low", "high", "height", "angle", "radii", "box"),
    [
        (300.0, 150.0, 200.0, 126.4044, (427.2002, 213.6001), (762.641, 330.900)),
        (400.0, 200.0, 240.0, 138.4615, (520.0, 260.0), (972.417, 427.803)),
        (400.0, 100.0, 150.0, 254.5584, (282.843, 70.711), (565.685, 454.161)),
        ((300.0, 300.0, 40.0), (200.0, 200.0, 40.0), 200.0, 109.0642, None, (953.662, 365.374)),
    ],
)
def test_the_table_of_the_geometry_notes(
    low: float | tuple[float, ...],
    high: float | tuple[float, ...],
    height: float,
    angle: float,
    radii: tuple[float, float] | None,
    box: tuple[float, float],
) -> None:
    development = Development(rim(low), rim(high), height)
    assert round(math.degrees(development.turning), 4) == angle
    found = blank_box(development, 0.0, 0.0)
    assert (found.length, found.width) == pytest.approx(box, abs=1.5e-3)
    if radii:
        top, line = apex(development), development.generator(0.0)
        found_radii = (math.dist(top, line.flat_low), math.dist(top, line.flat_high))
        assert found_radii == pytest.approx(radii, abs=5e-4)
