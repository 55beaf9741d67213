"""The way in: few lines cross, no box lies on another or under a line, and every row of the data is in it."""

from __future__ import annotations

import subprocess
import sys
from itertools import combinations, pairwise, permutations, product
from random import Random
from xml.etree import ElementTree

import pytest

from putback.drawings.canvas import width_of
from putback.drawings.layers import Pair, crossings, layered, reduced
from putback.drawings.wayin import SIZE, OffRow, WayBox, way_in_drawing

SVG = "{http://www.w3.org/2000/svg}"
NAMES = (
    "2 handle bolts, 13 mm hex",
    "carburettor",
    "exhaust-gasket",
    "cover screws (only with an electric start)",
    "cap",
)


def edges_of(seed: int, boxes: int, more: int) -> list[Pair]:
    """Return a random way in: every box leads to the last one."""
    random = Random(seed)
    edges = {(box, random.randrange(box + 1, boxes)) for box in range(boxes - 1)}
    for _ in range(more if boxes > 2 else 0):
        upper, lower = sorted(random.sample(range(boxes), 2))
        edges.add((upper, lower))
    return reduced(sorted(edges))


def boxes_of(seed: int, boxes: int, more: int) -> list[WayBox]:
    random = Random(seed)
    edges = edges_of(seed, boxes, more)
    return [
        WayBox(
            tuple(OffRow(random.choice(NAMES), random.random() < 0.4) for _ in range(random.randrange(1, 9))),
            tuple(upper for upper, lower in edges if lower == box),
        )
        for box in range(boxes)
    ]


@pytest.mark.parametrize("seed", range(40))
def test_in_a_small_graph_no_line_crosses_that_need_not(seed: int) -> None:
    found = layered(7, edges_of(seed, 7, 4))
    least = min(crossings(rows, found.links) for rows in product(*(list(permutations(row)) for row in found.rows)))
    assert crossings(found.rows, found.links) == least


def test_a_large_graph_is_untangled_as_far_as_sweeps_do() -> None:
    tangled = swept = 0
    for seed in range(6):
        found = layered(25, edges_of(seed, 25, 10))
        swept += crossings(found.rows, found.links)
        tangled += crossings([sorted(row) for row in found.rows], found.links)
    assert swept * 3 < tangled


def test_what_follows_from_other_edges_is_left_out() -> None:
    assert reduced([(0, 1), (1, 2), (0, 2), (2, 3), (0, 3), (4, 3)]) == [(0, 1), (1, 2), (2, 3), (4, 3)]


Rect = tuple[float, float, float, float]


def rects(svg: ElementTree.Element) -> list[Rect]:
    found = []
    for rect in svg.findall(f"{SVG}rect[@class='box']"):
        x, y, wide, high = (float(rect.get(name, "")) for name in ("x", "y", "width", "height"))
        found.append((x, y, x + wide, y + high))
    return found


def passes(start: tuple[float, float], end: tuple[float, float], box: Rect) -> bool:
    """Tell whether a line passes through a box, by points close to each other."""
    left, top, right, bottom = box
    points = [
        (start[0] + (end[0] - start[0]) * part / 60, start[1] + (end[1] - start[1]) * part / 60) for part in range(61)
    ]
    return any(left + 0.05 < x < right - 0.05 and top + 0.05 < y < bottom - 0.05 for x, y in points)


@pytest.mark.parametrize("boxes", [1, 2, 3, 5, 8, 13, 20, 30])
@pytest.mark.parametrize("seed", range(4))
def test_nothing_lies_on_a_box_and_all_stands_in_the_frame(boxes: int, seed: int) -> None:
    data = boxes_of(seed, boxes, boxes // 3)
    svg = ElementTree.fromstring(way_in_drawing(data, label="Way in", words="All of it."))
    wide, high = (float(svg.get(name, "").removesuffix("mm")) for name in ("width", "height"))
    frames = rects(svg)
    assert len(frames) == boxes
    for one, other in combinations(frames, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    assert all(box[0] >= 0 and box[1] >= 0 and box[2] <= wide and box[3] <= high for box in frames)
    words: list[list[str]] = [[] for _ in frames]
    for text in svg.findall(f"{SVG}text"):
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        end = x + width_of(text.text or "", SIZE, bold=text.get("font-weight") == "700")
        (home,) = [number for number, box in enumerate(frames) if box[0] <= x and end <= box[2] and box[1] < y < box[3]]
        words[home].append(text.text or "")
    said = sorted("".join(lines).replace(" ", "") for lines in words)
    assert said == sorted("".join(row.words for row in box.rows).replace(" ", "") for box in data)
    lines = svg.findall(f"{SVG}path[@class='line']")
    assert len(lines) == len(svg.findall(f"{SVG}path[@class='arrow']")) == len(edges_of(seed, boxes, boxes // 3))
    for line in lines:
        points = [tuple(map(float, point.split(","))) for point in line.get("d", "")[1:].split("L")]
        for first, then in pairwise((point[0], point[1]) for point in points):
            assert 0 <= first[0] <= wide
            assert not any(passes(first, then, box) for box in frames)


def test_what_comes_off_first_is_on_top() -> None:
    rows = [WayBox((OffRow("cowl", True),)), WayBox((OffRow("cover", True),), (0,)), WayBox((OffRow("part"),), (0, 1))]
    svg = ElementTree.fromstring(way_in_drawing(rows, label="Way in", words="All of it."))
    tops = {text.text: float(text.get("y", "")) for text in svg.findall(f"{SVG}text")}
    assert tops["cowl"] < tops["cover"] < tops["part"]
    with pytest.raises(ValueError, match="no box"):
        way_in_drawing([], label="", words="")


def test_the_same_data_give_the_same_bytes_for_every_seed_of_hashes() -> None:
    program = (
        "from tests.drawings.test_wayin import boxes_of\n"
        "from putback.drawings.wayin import way_in_drawing\n"
        "print([way_in_drawing(boxes_of(s, 18, 8), label='', words='') for s in range(2)])"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(filter(None, sys.path))},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "7")
    }
    assert len(found) == 1
