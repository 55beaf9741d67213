"""Drawings in a page weigh much less than alone, and nothing of them is lost."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path
from hypothesis import given
from hypothesis import strategies as st

import putback.sphinxext
from putback.drawings import packed as it
from putback.drawings.canvas import FAMILY, PAPER, Canvas
from putback.drawings.packed import packed
from putback.drawings.shortpaths import short
from tests.drawings.shipped import GUIDES, drawings

SVG = "{http://www.w3.org/2000/svg}"
SHEET = Path(putback.sphinxext.__file__).parent / "static" / "putback-drawings.css"


def drawn(data: str) -> list[tuple[str, Any]]:
    """Return what a reader of paths that is not ours makes of one, to a hundredth."""
    pen = RecordingPen()
    parse_path(data, pen)
    return [
        (name, tuple(tuple(round(each, 2) + 0.0 for each in place) for place in places)) for name, places in pen.value
    ]


lengths = st.integers(-30000, 30000).map(lambda hundredths: f"{hundredths / 100:g}")
places = st.tuples(lengths, lengths).map(",".join)
moves = st.one_of(
    places.map(lambda to: f"L{to}"),
    st.tuples(places, places, places).map(lambda all_of: f"C{' '.join(all_of)}"),
    st.tuples(places, places).map(lambda all_of: f"Q{' '.join(all_of)}"),
    lengths.map(lambda to: f"h{to}"),
    lengths.map(lambda to: f"V{to}"),
)
figures = st.tuples(places, st.lists(moves, min_size=1, max_size=6), st.sampled_from(["", "Z"])).map(
    lambda figure: f"M{figure[0]}{''.join(figure[1])}{figure[2]}"
)


@given(st.lists(figures, min_size=1, max_size=4).map("".join))
def test_a_path_in_fewer_letters_is_the_same_path(data: str) -> None:
    assert drawn(short(data)) == drawn(data)


@pytest.mark.parametrize(
    ("data", "fewer"),
    [
        ("M0.5,0.25L1,0.25L1,2", "m.5.25h.5v1.75"),
        ("M10,10L9.5,9.75L9.25,10.5Z", "m10 10-.5-.25-.25.75z"),
        ("M5,5Z M6,6L7,8", "m5 5zm1 1 1 2"),
        ("M1,1A2,3 0 1 0 5,5", "m1 1a2 3 0 1 0 4 4"),
    ],
)
def test_no_letter_is_left_over(data: str, fewer: str) -> None:
    assert short(data) == fewer


def test_the_style_sheet_says_what_the_classes_mean() -> None:
    text = re.sub(r"/\*.*?\*/", "", SHEET.read_text("utf-8"), flags=re.DOTALL)
    rules = {
        name.strip(): dict(re.findall(r"([a-z-]+):\s*([^;]+);", body))
        for name, body in re.findall(r"([^{}]+)\{([^}]*)\}", text)
    }

    def said(name: str, value: str) -> str:
        return f"{value}px" if name in ("stroke-width", "font-size") else value

    whole = rules.pop(".packed")
    assert whole.items() >= {name: said(name, value) for name, value in it.USUAL.items()}.items()
    assert whole["background"] == PAPER
    assert [part.strip("\"'") for part in whole["font-family"].split(", ")] == [
        part.strip("'") for part in FAMILY.split(", ")
    ]
    assert rules.pop(".packed text") == it.OF_TEXT
    assert rules.pop(".packed rect") == it.OF_RECT
    assert rules.pop(f".packed .{it.HALO}") == {
        "stroke": PAPER,
        "stroke-width": f"{it.HALO_WIDE}em",
        "stroke-linejoin": "round",
        "paint-order": "stroke",
    }
    assert rules == {f".packed .{name}": {key: said(key, value)} for name, (key, value) in it.CLASSES.items()}


@pytest.mark.parametrize("guide", GUIDES)
def test_every_shipped_drawing_is_packed_and_says_the_same(guide: str) -> None:
    for svg in drawings(guide):
        before, after = ElementTree.fromstring(svg), ElementTree.fromstring(packed(svg))
        assert after.get("class") == it.CLASS
        assert after.get("viewBox") == before.get("viewBox")
        for name in ("title", "desc"):
            assert after.findtext(name) == before.findtext(f"{SVG}{name}")
        words = sorted(text.text or "" for text in before.iter(f"{SVG}text") if not text.get("aria-hidden"))
        assert sorted(text.text or "" for text in after.iter("text")) == words


@pytest.mark.parametrize("guide", GUIDES)
def test_drawings_in_a_page_weigh_less_than_two_fifths(guide: str) -> None:
    assert sum(len(packed(svg)) for svg in drawings(guide)) < 0.4 * sum(map(len, drawings(guide)))


def test_words_and_the_paper_round_them_are_one_piece() -> None:
    canvas = Canvas(30, 10)
    canvas.words((1, 5), "<b> & co", 3, halo=True)
    canvas.words((1, 9), "white", 3.3, bold=True, fill="#fff")
    svg = ElementTree.fromstring(packed(canvas.svg("a < b", 'say "c"')))
    assert [(text.text, text.get("class")) for text in svg.iter("text")] == [("<b> & co", "a o"), ("white", "p t5 b a")]


def test_lines_of_one_look_are_one_path_and_what_lies_on_top_stays_there() -> None:
    canvas = Canvas(30, 30)
    canvas.line([(1, 1), (9, 9)])
    canvas.line([(1, 2), (9, 9)])
    canvas.box((0, 0), 20, 20)
    canvas.line([(1, 3), (9, 9)])
    svg = ElementTree.fromstring(packed(canvas.svg("", "")))
    assert [part.tag for part in svg if part.tag not in ("title", "desc")] == ["path", "rect", "path"]


@pytest.mark.parametrize(
    "strange",
    [
        '<image href="x.png"/>',
        '<text x="1" y="2" fill="#123456">words</text>',
        '<text x="1" y="2" stroke="#fff" aria-hidden="true">words</text>',
        '<text x="1" y="2"><tspan>words</tspan></text>',
    ],
)
def test_what_the_style_sheet_does_not_know_stays_as_it_is(strange: str) -> None:
    canvas = Canvas(30, 10)
    canvas.shapes.append(strange)
    svg = canvas.svg("", "")
    assert packed(svg) == svg


def test_a_colour_or_width_without_a_class_is_said_where_it_is() -> None:
    canvas = Canvas(30, 10)
    canvas.line([(1, 1), (9, 9)], stroke="#123456", weight=3.21, dash="1 2")
    (path,) = ElementTree.fromstring(packed(canvas.svg("", ""))).iter("path")
    assert path.attrib == {"stroke": "#123456", "stroke-width": "3.21", "stroke-dasharray": "1 2", "d": "m1 1 8 8"}
