"""Drawings of tightening orders: what stands where, how large, and that both printers read them."""

from __future__ import annotations

import math
import re
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
import typst

from putback.drawings.canvas import FAMILY
from putback.drawings.tightening import MOST_LINKED, TALLEST, WIDTHS, tightening_drawing
from putback.joints.patterns import Layout, order_of, positions_layout, read_layout
from putback.typstpdf.press import lay_out_fonts
from putback.words.english.orders import in_words

SVG = "{http://www.w3.org/2000/svg}"
FREE = [[-38, 42], [38, -42], [38, 42], [-38, -42], [-112, -42], [112, 42], [112, -42], [-112, 42]]

LAYOUTS = {
    "4 circle": read_layout("circle 46 mm", 4),
    "6 circle": read_layout("circle 46 mm from 30°", 6),
    "12 circle": read_layout("circle 46 mm", 12),
    "20 circle": read_layout("circle 200 mm", 20),
    "40 circle": read_layout("circle 400 mm", 40),
    "200 circle": read_layout("circle 4 m", 200),
    "rows 2 x 5": read_layout("rows 2 x 5, 160 mm x 84 mm", 10),
    "rows 2 x 12": read_layout("rows 2 x 12, 400 mm x 60 mm", 24),
    "row": read_layout("rows 1 x 5, 160 mm", 5),
    "column": read_layout("rows 9 x 1, 900 mm", 9),
    "rectangle": read_layout("rectangle 120 mm x 70 mm", 10),
    "free": positions_layout(FREE),
    "uneven": positions_layout([[0, 0], [100, 10], [20, 70], [60, 30], [10, -30]]),
    "pair": positions_layout([[3, 4], [8, 16]]),
    "one": positions_layout([[3, 4]]),
}


def draw(layout: Layout) -> ElementTree.Element:
    return ElementTree.fromstring(
        tightening_drawing(layout, order_of(layout), label="Cover screws", words="From 1 to the last.")
    )


def bolts(svg: ElementTree.Element) -> list[tuple[float, float, float]]:
    """Return centre and outer radius of each bolt, mm, in the order of their turns."""
    group = svg.findall(f"{SVG}g")[-1]
    line = float(group.get("stroke-width", ""))
    return [
        (float(circle.get("cx", "")), float(circle.get("cy", "")), float(circle.get("r", "")) + line / 2)
        for circle in group.findall(f"{SVG}circle")
    ]


def type_size(svg: ElementTree.Element) -> float:
    return float(svg.findall(f"{SVG}g")[-1].get("font-size", ""))


def size(svg: ElementTree.Element) -> tuple[float, float]:
    return float(svg.get("width", "").removesuffix("mm")), float(svg.get("height", "").removesuffix("mm"))


each = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS.keys())


@each
def test_the_number_on_a_bolt_is_its_turn(layout: Layout) -> None:
    svg = draw(layout)
    texts = svg.findall(f"{SVG}g")[-1].findall(f"{SVG}text")
    assert [text.text for text in texts] == [str(turn) for turn in range(1, len(layout.places) + 1)]
    for text, (x, y, radius) in zip(texts, bolts(svg), strict=True):
        assert float(text.get("x", "")) == x
        assert y < float(text.get("y", "")) < y + radius


@each
def test_bolts_stand_as_on_the_joint(layout: Layout) -> None:
    found = bolts(draw(layout))
    places = [layout.places[number - 1] for number in order_of(layout)]
    for one, other in combinations(range(min(len(places), 30)), 2):
        real = places[other][0] - places[one][0], places[other][1] - places[one][1]
        paper = found[other][0] - found[one][0], found[one][1] - found[other][1]
        assert math.atan2(*real) == pytest.approx(math.atan2(*paper), abs=0.02) or math.hypot(*paper) < 2


@each
def test_no_bolt_touches_another_or_the_edge_of_the_sheet(layout: Layout) -> None:
    svg = draw(layout)
    width, height = size(svg)
    found = bolts(svg)
    for (x, y, radius), (u, v, other) in combinations(found, 2):
        assert math.hypot(u - x, v - y) > radius + other
    for x, y, radius in found:
        assert radius <= x <= width - radius
        assert radius <= y <= height - radius


@each
def test_the_sheet_is_of_a_size_to_print(layout: Layout) -> None:
    svg = draw(layout)
    width, height = size(svg)
    assert WIDTHS[0] <= width <= WIDTHS[1] + 0.01
    assert height <= TALLEST + 0.01
    assert svg.get("viewBox") == f"0 0 {width:g} {height:g}"


@pytest.mark.parametrize("name", ["4 circle", "rows 2 x 5", "row", "free"])
def test_bolts_far_apart_take_no_more_room_than_a_quarter_of_a_page(name: str) -> None:
    """A page has 249 mm for text; a drawing that fills it makes a step begin a page."""
    assert size(draw(LAYOUTS[name]))[1] <= 66 + 0.01


@each
def test_figures_stay_within_their_bolts(layout: Layout) -> None:
    svg = draw(layout)
    digits = len(str(len(layout.places)))
    assert math.hypot(0.56 * digits, 0.72) * type_size(svg) <= 2 * bolts(svg)[0][2]


@pytest.mark.parametrize("name", ["4 circle", "6 circle", "12 circle", "20 circle", "rows 2 x 5", "row", "free"])
def test_figures_can_be_read_at_arms_length(name: str) -> None:
    # a figure of the manual's face is 0.65 of the size of type tall
    assert 0.65 * type_size(draw(LAYOUTS[name])) >= 7


def test_the_first_bolt_is_marked_as_the_start() -> None:
    group = draw(LAYOUTS["6 circle"]).findall(f"{SVG}g")[-1]
    assert [circle.get("fill") for circle in group.findall(f"{SVG}circle")] == ["#000"] + ["#fff"] * 5
    assert [text.get("fill") for text in group.findall(f"{SVG}text")] == ["#fff"] + ["#000"] * 5


def test_arrows_lead_from_each_bolt_to_the_next() -> None:
    svg = draw(LAYOUTS["6 circle"])
    found = bolts(svg)
    paths = svg.findall(f"{SVG}g")[0].findall(f"{SVG}path")
    assert len(paths) == 5
    for k, path in enumerate(paths):
        numbers = [tuple(map(float, pair.split(","))) for pair in re.findall(r"[-0-9.]+,[-0-9.]+", path.get("d", ""))]
        assert math.dist(numbers[0], found[k][:2]) == pytest.approx(8, abs=0.1)
        assert math.dist(numbers[2], found[k + 1][:2]) == pytest.approx(8.5, abs=0.1)


@pytest.mark.parametrize("name", ["12 circle", "20 circle", "row"])
def test_arrows_are_left_out_where_they_would_hide_the_order(name: str) -> None:
    assert len(LAYOUTS[name].places) > MOST_LINKED or name == "row"
    assert len(draw(LAYOUTS[name]).findall(f"{SVG}g")) == 1


def test_the_outline_is_a_circle_or_goes_round_the_outermost_bolts() -> None:
    (circle,) = draw(LAYOUTS["4 circle"]).findall(f"{SVG}circle")
    x, y, radius = (float(circle.get(key, "")) for key in ("cx", "cy", "r"))
    for u, v, bolt in bolts(draw(LAYOUTS["4 circle"])):
        assert math.hypot(u - x, v - y) + bolt == pytest.approx(radius - 4, abs=0.05)
    outline = draw(LAYOUTS["uneven"]).findall(f"{SVG}path")
    corners = re.findall(r"[-0-9.]+,[-0-9.]+", outline[0].get("d", ""))
    assert len(corners) == 4  # 60, 30 lies inside
    assert [path.get("stroke") for path in outline] == ["#a6a6a6", "#fff"]


def test_loosening_has_the_numbers_of_tightening_and_begins_with_the_last() -> None:
    layout = LAYOUTS["6 circle"]
    tight, loose = (
        ElementTree.fromstring(tightening_drawing(layout, order_of(layout), label="", words="", loosening=loosening))
        for loosening in (False, True)
    )
    assert bolts(loose) == bolts(tight)
    texts = [[text.text for text in svg.findall(f"{SVG}g")[-1].findall(f"{SVG}text")] for svg in (tight, loose)]
    assert texts[0] == texts[1] == list("123456")
    black = [circle.get("fill") == "#000" for circle in loose.findall(f"{SVG}g")[-1].findall(f"{SVG}circle")]
    assert black == [False] * 5 + [True]
    path = loose.findall(f"{SVG}g")[0].findall(f"{SVG}path")[0].get("d", "")
    start = tuple(map(float, re.findall(r"[-0-9.]+,[-0-9.]+", path)[0].split(",")))
    assert math.dist(start, bolts(loose)[-1][:2]) == pytest.approx(8, abs=0.1)


@pytest.mark.parametrize("side", ["up", "right", "down", "left"])
@pytest.mark.parametrize("name", ["4 circle", "row", "free"])
def test_the_front_stands_at_its_side_and_covers_no_bolt(name: str, side: str) -> None:
    layout = LAYOUTS[name]
    svg = ElementTree.fromstring(
        tightening_drawing(layout, order_of(layout), label="", words="", front=(side, "front"))
    )
    (mark,) = [group for group in svg.findall(f"{SVG}g") if group.get("class") == "front"]
    x, y = map(float, re.findall(r"translate\(([-0-9.]+) ([-0-9.]+)\)", mark.get("transform", ""))[0])
    width, height = size(svg)
    near = {"up": y, "right": width - x, "down": height - y, "left": x}[side]
    assert near == 5
    for u, v, radius in bolts(svg):
        assert {"up": v - radius, "right": width - u - radius, "down": height - v - radius, "left": u - radius}[
            side
        ] > 10
        assert radius <= u <= width - radius
        assert radius <= v <= height - radius


def test_it_says_in_words_what_it_shows() -> None:
    svg = draw(LAYOUTS["4 circle"])
    assert svg.get("role") == "img"
    assert svg[0].tag == f"{SVG}title"
    assert svg[0].text == "Cover screws"
    assert svg[1].tag == f"{SVG}desc"
    assert svg[1].text == "From 1 to the last."


def test_it_is_black_on_white_in_any_theme() -> None:
    svg = draw(LAYOUTS["free"])
    width, height = size(svg)
    ground = svg[2]
    assert (ground.tag, ground.attrib) == (
        f"{SVG}rect",
        {"width": f"{width:g}", "height": f"{height:g}", "fill": "#fff"},
    )
    text = ElementTree.tostring(svg, encoding="unicode")
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', text)) == {"#fff", "#000", "#a6a6a6", "none"}
    assert "currentColor" not in text
    assert "var(" not in text


def test_words_of_the_author_cannot_break_it() -> None:
    svg = tightening_drawing(LAYOUTS["pair"], (1, 2), words="nut <b>", label='5 < 6 & "7"\x00\n\ud800 ]]>')
    assert ElementTree.fromstring(svg)[0].text == '5 < 6 & "7"\ufffd \ufffd ]]>'


def test_it_is_the_same_each_time_and_without_long_numbers() -> None:
    first, second = (
        tightening_drawing(LAYOUTS["12 circle"], order_of(LAYOUTS["12 circle"]), words="Nuts", label="Nuts")
        for _ in range(2)
    )
    assert first == second
    assert re.search(r"[0-9]\.[0-9]{3}|-0[^.]|[0-9]e", re.sub(r"<(title|desc)>.*", "", first)) is None


@pytest.mark.parametrize("order", [(1, 2, 3), (1, 2, 3, 3), (0, 1, 2, 3)])
def test_an_order_that_is_none_is_not_drawn(order: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="does not name each of 4 places once"):
        tightening_drawing(LAYOUTS["4 circle"], order, words="Nuts", label="Nuts")


def test_a_given_order_is_drawn_as_given() -> None:
    layout = positions_layout(FREE)
    svg = ElementTree.fromstring(tightening_drawing(layout, range(1, 9), words="1 to 8", label="Head bolts"))
    x, y, _ = bolts(svg)[4]
    assert (x, y) == (min(x for x, _, _ in bolts(svg)), max(y for _, y, _ in bolts(svg)))


def test_the_printed_manual_sets_the_figures_in_its_own_face(tmp_path: Path) -> None:
    fonts = lay_out_fonts(tmp_path / "fonts")
    layout = LAYOUTS["20 circle"]
    svg = tightening_drawing(layout, order_of(layout), words="Nuts", label="Nuts")
    (tmp_path / "drawing.svg").write_text(svg, encoding="utf-8")
    (tmp_path / "sheet.typ").write_text('#image("drawing.svg", alt: "Nuts")\n', encoding="utf-8")
    _, warnings = typst.compile_with_warnings(
        str(tmp_path / "sheet.typ"),
        output=str(tmp_path / "sheet.pdf"),
        font_paths=[str(fonts)],
        ignore_system_fonts=True,
    )
    assert warnings == []
    pypdf = pytest.importorskip("pypdf")
    page = pypdf.PdfReader(str(tmp_path / "sheet.pdf")).pages[0]
    figures = "".join(page.extract_text().split())
    assert sorted(figures) == sorted("".join(str(turn) for turn in range(1, 21)))
    assert FAMILY.startswith("'Source Sans Pro'")
    assert b"SourceSansPro-Bold" in (tmp_path / "sheet.pdf").read_bytes()


def test_an_order_in_words_goes_by_the_clock() -> None:
    words = in_words((1, 3, 2, 4), LAYOUTS["4 circle"])
    assert words == "start at 12 o'clock; 2 at 6 o'clock, opposite; 3 at 3 o'clock; 4 at 9 o'clock, opposite"
