"""Drawings of stacks: nothing overlaps or leaves the frame, everything is there, and the bytes are the same."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import dataclass, field
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from putback.drawings.canvas import width_of
from putback.drawings.shapes import LOOKS, sketch_of
from putback.drawings.sketch import Body
from putback.drawings.stack import TALLEST, WIDTH, StackPiece, stack_drawings
from putback.model.forms import PartShape

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]
SLACK = 0.011
"""What rounding to two decimals can do to a box, mm."""

LENGTHS = st.none() | st.floats(0.1, 2000)
NAMES = st.text("abcdefgh ijklm-ä", min_size=1, max_size=60).map(str.strip).filter(bool)
PIECES = st.lists(
    st.builds(
        StackPiece,
        number=st.none(),
        shape=st.sampled_from(PartShape),
        name=NAMES,
        remarks=st.just("") | NAMES,
        told=NAMES,
        fitted_new=st.booleans(),
        greased=st.booleans(),
        outside=LENGTHS,
        inside=LENGTHS,
        thickness=LENGTHS,
        pair=st.booleans(),
    ),
    min_size=1,
    max_size=30,
)


@dataclass
class Row:
    """What stands in one row of a drawing."""

    leader: Box
    parts: list[Box] = field(default_factory=list)
    others: list[Box] = field(default_factory=list)
    words: list[str] = field(default_factory=list)


def numbered(pieces: list[StackPiece]) -> list[StackPiece]:
    """Return pieces with a number each; the last one stays."""
    last = len(pieces) if len(pieces) > 1 else 0
    return [
        StackPiece(
            number=k if k != last else None,
            **{name: getattr(piece, name) for name in StackPiece.__slots__ if name != "number"},
        )
        for k, piece in enumerate(pieces, 1)
    ]


def path_box(element: ElementTree.Element) -> Box:
    """Return the box round a path; the handles of its curves lie in the box of the curve that they make."""
    places = [tuple(map(float, pair.split(","))) for pair in re.findall(r"-?[0-9.]+,-?[0-9.]+", element.get("d", ""))]
    half = float(element.get("stroke-width", "0")) / 2
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


def rows(svg: ElementTree.Element) -> list[Row]:
    """Return the rows of a drawing: each begins with the line to its part."""
    found: list[Row] = []
    for element in svg:
        kind = element.get("class", "")
        if kind == "leader":
            found.append(Row(path_box(element)))
        elif kind == "part":
            found[-1].parts.append(path_box(element))
        elif kind == "drop":
            found[-1].others.append(path_box(element))
        elif kind == "balloon":
            x, y, radius = (float(element.get(name, "")) for name in ("cx", "cy", "rx"))
            found[-1].others.append((x - radius, y - radius, x + radius, y + radius))
        elif element.tag == f"{SVG}text":
            words, size = element.text or "", float(element.get("font-size", ""))
            bold = element.get("font-weight") == "700"
            x, y, wide = float(element.get("x", "")), float(element.get("y", "")), width_of(words, size, bold=bold)
            found[-1].words.append(words)
            if kind:  # the number stands in its circle
                found[-1].others.append((x, y - 0.72 * size, x + wide, y + 0.2 * size))
    return found


def around(boxes: list[Box]) -> Box:
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def meet(one: Box, other: Box) -> bool:
    return (
        one[0] + SLACK < other[2]
        and other[0] + SLACK < one[2]
        and one[1] + SLACK < other[3]
        and other[1] + SLACK < one[3]
    )


@settings(max_examples=80, deadline=None)
@given(PIECES)
@example([StackPiece(number=None, shape=PartShape.KEY, name="a", greased=True, outside=18.0)] * 3)
def test_nothing_overlaps_or_leaves_the_frame_and_all_is_there(pieces: list[StackPiece]) -> None:
    pieces = numbered(pieces)
    drawings = stack_drawings(pieces, label="Pump", lead="From outside:")
    seen: list[Row] = []
    for drawing in drawings:
        svg = ElementTree.fromstring(drawing.svg)
        width, height = (float(svg.get(name, "").removesuffix("mm")) for name in ("width", "height"))
        here = rows(svg)
        seen += here
        assert width == WIDTH
        assert height <= TALLEST + 40 or len(here) == 1
        boxes = [around([around(row.parts), row.leader, *row.others]) for row in here]
        assert all(
            box[0] >= -SLACK and box[1] >= -SLACK and box[2] <= width + SLACK and box[3] <= height + SLACK
            for box in boxes
        )
        assert not any(meet(one, other) for one, other in combinations(boxes, 2))
        for row in here:
            things = [around(row.parts), *row.others]
            assert not any(meet(one, other) for one, other in combinations(things, 2))
    assert len(seen) == len(pieces)
    for piece, row in zip(pieces, seen, strict=True):
        told = "".join(row.words).replace(" ", "")
        number = str(piece.number) if piece.number else ""
        assert told == f"{number}{piece.name}{piece.remarks}".replace(" ", "")
    alts = " ".join(drawing.alt for drawing in drawings)
    assert all(" ".join(piece.told.split()) in " ".join(alts.split()) for piece in pieces)


@pytest.mark.parametrize("shape", PartShape)
@pytest.mark.parametrize("radius", [2.0, 5.0, 14.0])
def test_a_shape_is_as_large_as_was_asked(shape: PartShape, radius: float) -> None:
    look = LOOKS[shape]
    left, top, right, bottom = sketch_of(Body(shape, radius, look.hole * radius, max(look.least, 3.0))).box()
    line = 0.36  # half of a line on either side
    assert max(-left, right) <= 1.1 * radius + line
    assert max(-left, right) >= 0.6 * radius
    assert bottom - top < 2 * radius + max(look.least, 3.0) + 2 * line


def test_a_short_stack_is_one_drawing_and_a_long_one_several() -> None:
    washers = numbered([StackPiece(number=None, shape=PartShape.WASHER, name="washer")] * 30)
    assert len(stack_drawings(washers[:6], label="x", lead="y")) == 1
    drawings = stack_drawings(washers, label="x", lead="y")
    assert 2 <= len(drawings) <= 4
    counts = [len(rows(ElementTree.fromstring(drawing.svg))) for drawing in drawings]
    assert max(counts) - min(counts) <= 2


def test_what_is_new_and_what_is_greased_is_marked() -> None:
    pieces = [
        StackPiece(number=1, shape=PartShape.SEAL, name="seal", fitted_new=True, greased=True),
        StackPiece(number=2, shape=PartShape.PLATE, name="plate"),
    ]
    svg = stack_drawings(pieces, label="x", lead="y")[0].svg
    assert re.findall(r'class="balloon"[^>]* fill="(#\w+)"', svg) == ["#000", "#fff"]
    assert svg.count('class="drop"') == 1


def test_sizes_are_in_proportion() -> None:
    def wide(outside: float) -> float:
        pieces = [
            StackPiece(number=1, shape=PartShape.RING, name="a", outside=60),
            StackPiece(number=2, shape=PartShape.RING, name="b", outside=outside),
        ]
        boxes = [
            around(row.parts) for row in rows(ElementTree.fromstring(stack_drawings(pieces, label="x", lead="")[0].svg))
        ]
        return (boxes[1][2] - boxes[1][0]) / (boxes[0][2] - boxes[0][0])

    assert wide(30) == pytest.approx(0.5, rel=0.05)
    assert 0.2 < wide(1) == wide(2) < wide(25) < wide(30)  # none is lost beside a larger one


def test_a_drawing_is_the_same_for_every_hash_seed() -> None:
    program = (
        "import hashlib\nfrom putback.drawings.stack import *\n"
        "pieces = [StackPiece(number=k, shape=each, name=each, greased=True) for k, each in enumerate(PartShape, 1)]\n"
        "drawn = [each.svg for each in stack_drawings(pieces, label='x', lead='y')]\n"
        "print(hashlib.sha256(repr(drawn).encode()).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program], env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
            check=True, capture_output=True, text=True,
        ).stdout
        for seed in ("0", "1")
    }  # fmt: skip
    assert len(found) == 1
