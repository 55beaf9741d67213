"""Drawings of tightening orders: what stands where, how large, and that nothing covers anything."""

from __future__ import annotations

import math
import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.drawings.canvas import width_of
from putback.drawings.labelled import TYPE
from putback.drawings.tightening import MOST_LINKED, TALLEST, WIDEST, OrderWords, Spot, tightening_drawing
from putback.joints.patterns import Layout, Shape, order_of, positions_layout, read_layout

SVG = "{http://www.w3.org/2000/svg}"
FREE = [[-38, 42], [38, -42], [38, 42], [-38, -42], [-112, -42], [112, 42], [112, -42], [-112, 42]]
WORDS = OrderWords("Cover screws", "From 1 to the last.", "Tighten 1 → 9", "turn", "place", (("left", "front"),))

LAYOUTS = {
    "4 circle": read_layout("circle 46 mm", 4),
    "6 circle": read_layout("circle 46 mm from 30°", 6),
    "12 circle": read_layout("circle 46 mm", 12),
    "20 circle": read_layout("circle 200 mm", 20),
    "40 circle": read_layout("circle 400 mm", 40),
    "rows 2 x 5": read_layout("rows 2 x 5, 160 mm x 84 mm", 10),
    "rows 2 x 12": read_layout("rows 2 x 12, 400 mm x 60 mm", 24),
    "rows 4 x 5": read_layout("rows 4 x 5, 120 mm x 90 mm", 20),
    "row": read_layout("rows 1 x 5, 160 mm", 5),
    "column": read_layout("rows 9 x 1, 900 mm", 9),
    "rectangle": read_layout("rectangle 120 mm x 70 mm", 10),
    "free": positions_layout(FREE),
    "uneven": positions_layout([[0, 0], [100, 10], [20, 70], [60, 30], [10, -30]]),
    "pair": positions_layout([[3, 4], [8, 16]]),
    "one": positions_layout([[3, 4]]),
}


def draw(layout: Layout, words: OrderWords = WORDS, *, loosening: bool = False) -> ElementTree.Element:
    spots = [Spot(layout.places[n - 1], turn, (str(n),)) for turn, n in enumerate(order_of(layout), 1)]
    circle = math.hypot(*layout.places[0]) if layout.shape is Shape.CIRCLE else None
    return ElementTree.fromstring(tightening_drawing(spots, words, loosening=loosening, circle=circle))


def numbers(element: ElementTree.Element, *keys: str) -> list[float]:
    return [float(element.get(key, "")) for key in keys]


def bolts(svg: ElementTree.Element) -> list[tuple[float, float, float]]:
    """Return centre and outer radius of each bolt, mm, in the order of their turns."""
    found = [each for each in svg.findall(f"{SVG}ellipse") if each.get("class") == "bolt"]
    return [
        (x, y, r + line / 2) for x, y, r, line in (numbers(each, "cx", "cy", "rx", "stroke-width") for each in found)
    ]


def tags(svg: ElementTree.Element) -> list[tuple[float, float, float, float]]:
    """Return left, top, right and bottom of what stands beside bolts, without that of the key."""
    found = [numbers(each, "x", "y", "width", "height") for each in svg.findall(f"{SVG}rect") if each.get("class")]
    return [(x, y, x + w, y + h) for x, y, w, h in found][: len(bolts(svg))]


def size(svg: ElementTree.Element) -> tuple[float, float]:
    return float(svg.get("width", "").removesuffix("mm")), float(svg.get("height", "").removesuffix("mm"))


def lies_apart(svg: ElementTree.Element) -> None:
    """Fail when bolts or what stands beside them lie on one another, or leave the frame."""
    width, height = size(svg)
    found, beside = bolts(svg), tags(svg)
    for (x, y, radius), (u, v, other) in combinations(found, 2):
        assert math.hypot(u - x, v - y) > radius + other - 0.01
    for left, top, right, bottom in [*beside, *((x - r, y - r, x + r, y + r) for x, y, r in found)]:
        assert 0 <= left <= right <= width
        assert 0 <= top <= bottom <= height
    for (left, top, right, bottom), (start, high, end, low) in combinations(beside, 2):
        assert right <= start + 0.01 or end <= left + 0.01 or bottom <= high + 0.01 or low <= top + 0.01
    for left, top, right, bottom in beside:
        for x, y, radius in found:
            assert math.hypot(max(left - x, 0, x - right), max(top - y, 0, y - bottom)) >= radius - 0.01


each = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS.keys())


@each
def test_turns_are_in_the_bolts_and_places_beside_them(layout: Layout) -> None:
    svg = draw(layout)
    turns = [text.text for text in svg.findall(f"{SVG}text") if text.get("class") == "turn"]
    assert turns == [str(turn) for turn in range(1, len(layout.places) + 1)]
    assert len(tags(svg)) == len(layout.places)
    lies_apart(svg)


@each
def test_bolts_stand_as_on_the_joint_on_a_sheet_of_a_size_to_print(layout: Layout) -> None:
    svg = draw(layout)
    found = bolts(svg)
    places = [layout.places[number - 1] for number in order_of(layout)]
    for one, other in combinations(range(min(len(places), 30)), 2):
        real = places[other][0] - places[one][0], places[other][1] - places[one][1]
        paper = found[other][0] - found[one][0], found[one][1] - found[other][1]
        assert math.atan2(*real) == pytest.approx(math.atan2(*paper), abs=0.02) or math.hypot(*paper) < 2
    width, height = size(svg)
    assert width <= WIDEST + 22
    assert height <= TALLEST + 30
    assert svg.get("viewBox") == f"0 0 {width:g} {height:g}"


@settings(max_examples=60, deadline=None)
@given(
    places=st.lists(st.tuples(st.integers(-90, 90), st.integers(-60, 60)), min_size=1, max_size=30, unique=True),
    named=st.booleans(),
)
def test_law_nothing_overlaps_and_nothing_is_left_out(places: list[tuple[int, int]], named: bool) -> None:
    words = ("aft left", "45 mm") if named and len(places) < 12 else ()
    spots = [Spot((float(x), float(y)), k, words or (str(k),)) for k, (x, y) in enumerate(places, 1)]
    text = tightening_drawing(spots, WORDS if not words else OrderWords("a", "b", "c"))
    svg = ElementTree.fromstring(text)
    assert len(bolts(svg)) == len(places)
    assert len(tags(svg)) == len(places) or bolts(svg)[0][2] < 3
    lies_apart(svg)
    assert text == tightening_drawing(spots[::-1], WORDS if not words else OrderWords("a", "b", "c"))


@pytest.mark.parametrize("name", ["4 circle", "6 circle", "12 circle", "20 circle", "rows 2 x 5", "row", "free"])
def test_turns_can_be_read_at_arms_length(name: str) -> None:
    # a figure of the manual's face is 0.65 of the size of type tall
    texts = [text for text in draw(LAYOUTS[name]).findall(f"{SVG}text") if text.get("class") == "turn"]
    assert 0.65 * float(texts[0].get("font-size", "")) >= 7


def test_it_begins_with_the_black_bolt_and_loosening_with_the_last() -> None:
    tight, loose = (draw(LAYOUTS["6 circle"], loosening=loosening) for loosening in (False, True))
    assert bolts(loose) == bolts(tight)
    black = [
        [each.get("fill") == "#000" for each in svg.findall(f"{SVG}ellipse") if each.get("class") == "bolt"]
        for svg in (tight, loose)
    ]
    assert black == [[True] + [False] * 5, [False] * 5 + [True]]
    links = [path for path in loose.findall(f"{SVG}path") if path.get("class") == "link"]
    assert len(links) == 5
    start = tuple(map(float, re.findall(r"[-0-9.]+,[-0-9.]+", links[0].get("d", ""))[0].split(",")))
    assert math.dist(start, bolts(loose)[-1][:2]) == pytest.approx(8, abs=0.1)


@pytest.mark.parametrize("name", ["12 circle", "20 circle", "row"])
def test_arrows_are_left_out_where_they_would_hide_the_order(name: str) -> None:
    assert len(LAYOUTS[name].places) > MOST_LINKED or name == "row"
    assert not [path for path in draw(LAYOUTS[name]).findall(f"{SVG}path") if path.get("class") == "link"]


@pytest.mark.parametrize("side", ["up", "right", "down", "left"])
@pytest.mark.parametrize("name", ["4 circle", "row", "free"])
def test_the_front_stands_at_its_side_and_covers_nothing(name: str, side: str) -> None:
    svg = draw(LAYOUTS[name], OrderWords("a", "b", "c", "turn", "place", ((side, "front"),)))
    (mark,) = [group for group in svg.findall(f"{SVG}g") if group.get("class") == "side"]
    x, y = map(float, re.findall(r"translate\(([-0-9.]+) ([-0-9.]+)\)", mark.get("transform", ""))[0])
    half = width_of("front", 5, bold=True) / 2 + 6.1
    wide, high = (half, 2.5) if side in ("up", "down") else (2.5, half)
    assert min(x - wide, y - high) >= -0.6
    assert x + wide <= size(svg)[0] + 0.6
    edges = [(left, top, right, bottom) for left, top, right, bottom in tags(svg)]
    edges += [(u - r, v - r, u + r, v + r) for u, v, r in bolts(svg)]
    beyond = {
        "up": y + high <= min(edge[1] for edge in edges),
        "down": y - high >= max(edge[3] for edge in edges),
        "left": x + wide <= min(edge[0] for edge in edges),
        "right": x - wide >= max(edge[2] for edge in edges),
    }
    assert beyond[side]


def test_names_and_lengths_stand_beside_the_bolts_of_a_joint() -> None:
    spots = [Spot((0, 0), 1, ("front left", "45 mm")), Spot((60, 0), 2, ("rear", "70 mm"))]
    svg = ElementTree.fromstring(tightening_drawing(spots, OrderWords("a", "b", "c")))
    words = [text.text for text in svg.findall(f"{SVG}text") if text.get("class") is None]
    assert words == ["front left", "45 mm", "rear", "70 mm"]
    left, _, right, _ = tags(svg)[0]
    assert right - left > width_of("front left", TYPE, bold=True)


def test_turns_that_do_not_follow_one_another_are_refused() -> None:
    with pytest.raises(ValueError, match=r"the turns are \[1, 3\], but must be each of 1 to the last once"):
        tightening_drawing([Spot((0, 0), 1), Spot((9, 0), 3)], WORDS)
