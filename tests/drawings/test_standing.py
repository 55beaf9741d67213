"""Levels and controls: every name of the data is in the drawing, within its frame and clear of the others."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import pytest

from putback.drawings.canvas import width_of
from putback.drawings.controls import LOOKS, SIZE, DrawnPosition, control_drawing
from putback.drawings.levels import SEEN_AT, DrawnLevel, level_drawing
from putback.words.drawn import DrawnSaid, LevelSaid

SVG = "{http://www.w3.org/2000/svg}"
LEVEL = LevelSaid("Level of the oil", "Level of the oil: between the two marks.", "good")
CONTROL = DrawnSaid("Positions of the tap", "", "Open and closed. Set: closed.", "Open and closed. Set: closed.")
MARKS = [(), ("",), ("FULL",), ("", ""), ("MIN", "MAX"), ("add oil up to here", "never fill above this")]
NAMES = [
    ["open", "closed"],
    ["forward", "neutral", "reverse"],
    ["idle", "a quarter of its way", "1500 rpm", "full"],
    ["all the way to the left", "off", "low", "medium", "high", "all the way to the right"],
]


def boxes(svg: ElementTree.Element) -> dict[str, tuple[float, float, float, float]]:
    """Return the box of each text: left, top, right, bottom, mm."""
    found = {}
    for text in svg.findall(f"{SVG}text"):
        words = text.text or ""
        wide = width_of(words, SIZE, bold=text.get("font-weight") == "700")
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor", "")]
        found[words] = (x, y - 0.7 * SIZE, x + wide, y + 0.2 * SIZE)
    return found


def stands_well(svg: ElementTree.Element) -> None:
    wide, high = (float(svg.get(name, "").removesuffix("mm")) for name in ("width", "height"))
    found = list(boxes(svg).values())
    for left, top, right, bottom in found:
        assert left >= -0.01
        assert top >= 0
        assert right <= wide + 0.01
        assert bottom <= high + 0.2
    for one, other in combinations(found, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


@pytest.mark.parametrize("marks", MARKS, ids=str)
@pytest.mark.parametrize("seen_at", SEEN_AT)
def test_a_level_names_its_marks_and_what_is_good(seen_at: str, marks: tuple[str, ...]) -> None:
    for good in (None, *range(len(marks))):
        svg = ElementTree.fromstring(level_drawing(DrawnLevel(seen_at, marks, good), LEVEL))
        stands_well(svg)
        named = {name for name in marks if name} if seen_at != "hole" else set()
        assert set(boxes(svg)) == {"good", *named}
        assert svg.findall(f"{SVG}path[@class='wet']")


def test_a_level_is_wet_up_to_the_mark_that_it_should_reach() -> None:
    def surface(good: int | None) -> float:
        svg = ElementTree.fromstring(level_drawing(DrawnLevel("sight-glass", ("LOW", "HIGH"), good), LEVEL))
        lines = [path.get("d", "")[1:].split("L")[0] for path in svg.findall(f"{SVG}path[@class='wet']")]
        return min(float(point.split(",")[1]) for point in lines)

    assert surface(1) < surface(None) < surface(0)
    with pytest.raises(ValueError, match="window"):
        level_drawing(DrawnLevel("window", (), None), LEVEL)


@pytest.mark.parametrize("names", NAMES, ids=len)
@pytest.mark.parametrize("looks", sorted(LOOKS))
def test_a_control_names_its_positions_and_the_one_to_set_is_bold(looks: str, names: list[str]) -> None:
    for chosen, name in enumerate(names):
        positions = [DrawnPosition(each, each == "open") for each in names]
        svg = ElementTree.fromstring(control_drawing(looks, positions, chosen, CONTROL))
        stands_well(svg)
        bold = [text.text for text in svg.findall(f"{SVG}text") if text.get("font-weight") == "700"]
        assert (bold, sorted(boxes(svg))) == ([name], sorted(names))
        assert svg.findall("*[@class='chosen']")


def test_a_tap_is_open_with_its_handle_along_the_pipe() -> None:
    pair = [DrawnPosition("open", True), DrawnPosition("closed")]
    svg = ElementTree.fromstring(control_drawing("tap", pair, 1, CONTROL))
    along, across = (path.get("d", "")[1:].split("L") for path in svg.findall(f"{SVG}path"))
    assert {point.split(",")[1] for point in along} != {point.split(",")[1] for point in across}
    assert len({point.split(",")[1] for point in along}) == 1
    assert len({point.split(",")[0] for point in across}) == 1
    with pytest.raises(ValueError, match="dial"):
        control_drawing("dial", pair, 0, CONTROL)
