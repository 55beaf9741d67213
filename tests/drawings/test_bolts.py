"""Bolts at true size: as long and as wide on paper as they are, on A4 and on Letter."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest
import typst
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.drawings.bolt_shapes import BoltShape, NutShape, RingShape, Shape, across
from putback.drawings.bolts import (
    BOOK,
    HIGHEST,
    LARGE,
    SHEET,
    Column,
    SizedRow,
    has_ends,
    is_broken,
    is_in_full,
    outlines,
    shape_of,
    that_fit,
    true_size_drawing,
)
from putback.joints.heads import Head, HeadForm, Recess, head_of, nut_of
from putback.joints.threads import read_thread
from putback.model.machine import Fastener, Part
from putback.model.piece_sizes import piece_sizes
from putback.typstpdf.press import lay_out_fonts
from tests.drawings.machines import words_of

SVG = "{http://www.w3.org/2000/svg}"

# thread, drive, form: what it looks like, its width and height, what a tool goes into
HEADS = [
    ("M8 x 1.25", "hex 13 mm", None, Head(HeadForm.HEX, 13, 5.3)),
    ("M10 x 1.25", "hex 14 mm", None, Head(HeadForm.HEX, 14, 6.4)),
    ("M6", None, None, Head(HeadForm.HEX, 10, 4)),
    ("M6", "inner hex 5 mm", None, Head(HeadForm.SOCKET_CAP, 10, 6, recess=Recess.HEX, recess_size=5)),
    ("M6", "hex 5 mm", None, Head(HeadForm.SOCKET_CAP, 10, 6, recess=Recess.HEX, recess_size=5)),
    ("M6", "hex key 4 mm", HeadForm.COUNTERSUNK, Head(HeadForm.COUNTERSUNK, 12, 3.3, None, Recess.HEX, 4)),
    ("M4 x 0.7", "slot 6 mm", None, Head(HeadForm.CHEESE, 7, 2.6, recess=Recess.SLOT, recess_size=6)),
    ("M5", "cross PH2", None, Head(HeadForm.PAN, 9.5, 3, recess=Recess.CROSS)),
    ("M8", "hex 13 mm", HeadForm.HEX_FLANGE, Head(HeadForm.HEX_FLANGE, 13, 8.1, flange=18)),
    ("M8", "slot 6 mm", HeadForm.NONE, Head(HeadForm.NONE, 8, 0, recess=Recess.SLOT, recess_size=6)),
    ("5/16-18 UNC", "hex 1/2 in", None, Head(HeadForm.HEX, 12.7, 13 / 64 * 25.4)),
]


@pytest.mark.parametrize(("thread", "drive", "form", "expected"), HEADS)
def test_a_head_is_as_its_drive_and_its_form_say(
    thread: str, drive: str | None, form: HeadForm | None, expected: Head
) -> None:
    head = head_of(read_thread(thread), drive, form=form)
    assert head._replace(width=0, height=0) == expected._replace(width=0, height=0)
    assert (head.width, head.height) == pytest.approx((expected.width, expected.height))


def test_a_nut_is_as_high_as_its_kind() -> None:
    assert [nut_of(read_thread("M8"), "hex 13 mm", thin=thin)[1:3] for thin in (False, True)] == [(13, 6.8), (13, 4)]
    assert nut_of(read_thread("1/2-13 UNC"), None).height == pytest.approx(7 / 16 * 25.4)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_on_paper_a_millimetre_is_a_millimetre(paper: str, tmp_path: Path) -> None:
    """The strokes of the ruler, and the corners of the bolt, read back from the PDF of a page."""
    bolt = BoltShape(8, 1.25, 45, head_of(read_thread("M8 x 1.25"), "hex 13 mm"))
    svg = true_size_drawing([SizedRow(bolt, "Cover bolts", "4 × M8 x 1.25, 45 mm")], "a", "b")
    manual = Path(__file__).parents[2] / "src/putback/typstpdf/manual.typ"
    around = "#let on-sheet = false\n#let large = false\n#let sizes = (table: 9.5pt)\n#let text-height() = 250mm\n"
    template = around + _only(manual.read_text(encoding="utf-8"), "drawn")
    (tmp_path / "manual.typ").write_text(template, encoding="utf-8")
    (tmp_path / "bolt.svg").write_text(svg, encoding="utf-8")
    # In a branch of a branch the column is narrower than the drawing.
    (tmp_path / "page.typ").write_text(
        f'#import "manual.typ": drawn\n#set page(paper: "{paper}", margin: (left: 120mm, right: 18mm))\n'
        '#drawn(image("bolt.svg"), [words], true-size: true)',
        encoding="utf-8",
    )
    fonts = lay_out_fonts(tmp_path / "fonts")
    typst.compile(str(tmp_path / "page.typ"), output=str(tmp_path / "page.pdf"), font_paths=[str(fonts)])
    lines = _strokes(pypdf.PdfReader(tmp_path / "page.pdf").pages[0])
    level = [(x, end) for x, y, end, low in lines if abs(y - low) < 0.01]
    upright = [(x, abs(low - y)) for x, y, end, low in lines if abs(x - end) < 0.01]
    (ruler,) = {line for line in level if line[1] - line[0] == pytest.approx(50, abs=0.02)}
    ticks = sorted({round(x - ruler[0], 2) for x, high in upright if high < 3.05})
    assert ticks[:51] == pytest.approx(list(range(51)), abs=0.02)
    assert any(end - ruler[0] == pytest.approx(45, abs=0.02) for _, end in level)
    assert any(high == pytest.approx(8, abs=0.02) for _, high in upright)


def _only(source: str, name: str) -> str:
    """Return one function of a template."""
    start = source.index(f"#let {name}(")
    return source[start : source.index("\n}\n", start) + 3]


def _strokes(page: pypdf.PageObject) -> list[tuple[float, float, float, float]]:
    """Return the straight lines of a page, each with both ends, mm."""
    matrices, found, here = [(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)], [], (0.0, 0.0)

    def forms(content: object, resources: object) -> list[tuple[list[float], bytes]]:
        return pypdf.generic.ContentStream(content, page.pdf).operations

    def walk(content: object, resources: object) -> None:
        nonlocal here
        depth = len(matrices)
        for values, operator in forms(content, resources):
            match operator:
                case b"q":
                    matrices.append(matrices[-1])
                case b"Q":
                    matrices.pop()
                case b"cm":
                    matrices[-1] = _times([float(each) for each in values], matrices[-1])
                case b"Do":
                    form = resources["/XObject"][values[0]].get_object()  # type: ignore[index]
                    if form["/Subtype"] == "/Form":
                        matrices.append(
                            _times([float(n) for n in form.get("/Matrix", (1, 0, 0, 1, 0, 0))], matrices[-1])
                        )
                        walk(form, form.get("/Resources", resources))
                        matrices.pop()
                case b"m" | b"l":
                    a, b, c, d, e, f = matrices[-1]
                    x, y = map(float, values)
                    there = ((a * x + c * y + e) / 72 * 25.4, (b * x + d * y + f) / 72 * 25.4)
                    if operator == b"l":
                        found.append((*min(here, there), *max(here, there)))
                    here = there
        del matrices[depth:]

    walk(page.get_contents(), page["/Resources"])
    return found


def _times(one: list[float], other: tuple[float, ...]) -> tuple[float, float, float, float, float, float]:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m


threads = st.sampled_from(
    ["M3", "M4", "M6", "M8", "M10", "M12", "M16", "M24", "M64", "1/4-20 UNC", "#10-32", "1/2-13 UNC"]
)
forms = st.sampled_from([None, *HeadForm])
drives = st.sampled_from([None, "slot 6 mm", "cross PH2", "torx T30", "hex key 4 mm", "hex key 14 mm", "square 10 mm"])


@st.composite
def shapes(draw: st.DrawFn) -> Shape:
    thread = read_thread(draw(threads))
    match draw(st.integers(0, 5)):
        case 0:
            return NutShape(thread.diameter, thread.pitch, nut_of(thread, None, thin=draw(st.booleans())))
        case 1:
            outside = draw(st.integers(8, 60) | st.integers(60, 9999))
            return RingShape(outside, draw(st.integers(0, 7)), draw(st.sampled_from([None, 1.5, 400.0])))
        case _:
            head = head_of(thread, draw(drives), form=draw(forms))
            return BoltShape(
                thread.diameter,
                thread.pitch,
                draw(st.integers(4, 260) | st.just(9999)),
                head,
                draw(st.none() | st.just(3.0)),
            )


@settings(max_examples=60, deadline=None)
@given(
    found=st.lists(shapes(), min_size=1, max_size=8),
    name=st.text(min_size=1, max_size=60),
    column=st.sampled_from([BOOK, LARGE, SHEET]),
)
def test_law_each_piece_is_in_the_frame_and_none_lies_on_another(found: list[Shape], name: str, column: Column) -> None:
    found = [shape for shape, fits in zip(found, that_fit(found, column), strict=True) if fits] or [RingShape(20)]
    rows = [SizedRow(shape, name, "M8 x 1.25, 45 mm, at front left, front right and aft left") for shape in found]
    text = true_size_drawing(rows, "a", "b", column)
    assert text == true_size_drawing(rows, "a", "b", column)
    svg = ElementTree.fromstring(text)
    width, height = (float(svg.get(key, "").removesuffix("mm")) for key in ("width", "height"))
    assert width <= column.width
    level = 0.0
    assert height < HIGHEST + 20 * len(found)  # of long names
    ends = [each for each in svg if (each.get("class") or "") in ("end", "side", "shank", "break", "recess", "hole")]
    for element in ends:
        left, top, right, bottom = _box(element)
        assert left >= 0.5
        assert right <= width - 0.4
        assert 0 < top <= bottom < height
    firsts = [_box(each) for each in ends if each.get("class") == "end"]
    seen = [shape for shape in found if has_ends(found, column) or not shape.beyond]
    for shape, (_, top, _, bottom) in zip(seen, firsts, strict=True):
        middle = (top + bottom) / 2
        assert middle - across(shape) / 2 > level
        level = middle + across(shape) / 2
    shanks = [_box(each) for each in ends if each.get("class") == "shank"]
    bolts = [shape for shape in found if isinstance(shape, BoltShape)]
    for bolt, (left, top, right, bottom) in zip(bolts, shanks, strict=True):
        assert bottom - top == pytest.approx(bolt.diameter, abs=0.02)
        assert is_broken(bolt, found, column) or right - left == pytest.approx(bolt.length, abs=0.02)


def _box(element: ElementTree.Element) -> tuple[float, float, float, float]:
    if element.tag == f"{SVG}ellipse":
        x, y, r, s = (float(element.get(key, "")) for key in ("cx", "cy", "rx", "ry"))
        return x - r, y - s, x + r, y + s
    if element.tag == f"{SVG}rect":
        x, y, w, h = (float(element.get(key, "")) for key in ("x", "y", "width", "height"))
        return x, y, x + w, y + h
    pairs = [tuple(map(float, pair.split(","))) for pair in re.findall(r"[-0-9.]+,[-0-9.]+", element.get("d", ""))]
    return (
        min(x for x, _ in pairs), min(y for _, y in pairs), max(x for x, _ in pairs), max(y for _, y in pairs)
    )  # fmt: skip


FACTS = """
  rear-bolts:
    {count: 3, kind: bolt, thread: M8 x 1.25, drive: hex 13 mm, length: {left: 45 mm, right: 45 mm, aft: 70 mm}}
  nut: {kind: nut, thread: M8 x 1.25, drive: hex 13 mm}
  pin: {kind: pin}
  plug: {kind: plug, thread: G 1/4, drive: hex 17 mm}
  flush-screws: {count: 2, kind: screw, thread: M6, drive: hex key 4 mm, head: countersunk, length: 20 mm}
"""


def test_a_thing_has_an_outline_for_each_length_and_none_without_a_size() -> None:
    words = words_of(FACTS)
    found = {key: outlines(thing, words) for key, thing in words.things.items() if isinstance(thing, Fastener)}
    assert {key: [(each.place, each.width, each.height) for each in of] for key, of in found.items()} == {
        "rear-bolts": [("left, right", 50.65, 15.37), ("aft", 75.65, 15.37)],
        "nut": [("", 15.37, 15.37)],
        "pin": [],
        "plug": [],
        "flush-screws": [("", 20.35, 12.35)],
    }
    assert (
        found["rear-bolts"][0].alt.replace("\N{NO-BREAK SPACE}", " ")
        == "Rear bolts: 2 × M8 x 1.25, 45 mm, 13 mm hex, at left and right"
    )
    assert all("<text" not in each.svg for of in found.values() for each in of)


def test_a_round_part_lies_flat_and_a_rod_on_its_side() -> None:
    parts = {
        "seal-washer": "{outside: 14 mm, inside: 8 mm, thickness: 1.5 mm}",
        "roller": "{outside: 6 mm, thickness: 30 mm}",
        "plate": "{thickness: 2 mm}",
    }
    words = words_of(FACTS, parts=", ".join(f"{key}: {{size: {size}}}" for key, size in parts.items()))
    found = [outlines(thing, words) for key in parts if isinstance(thing := words.things[key], Part)]
    assert [[(each.width, each.height) for each in of] for of in found] == [[(14.35, 14.35)], [(30.35, 6.35)], []]
    told = found[0][0].alt.replace("\N{NO-BREAK SPACE}", " ")
    assert told == "Seal washer: 14 mm outside, 8 mm inside, 1.5 mm thick"


def test_the_length_of_a_countersunk_head_is_that_of_the_whole_piece() -> None:
    found = {
        key: [is_in_full(shape) for size in piece_sizes(thing) if (shape := shape_of(size))]
        for key, thing in words_of(FACTS).things.items()
        if isinstance(thing, Fastener)
    }
    assert (found["rear-bolts"], found["flush-screws"]) == ([False, False], [True])
