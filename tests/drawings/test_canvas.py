"""What drawings are drawn with: words are measured as they are printed, and nothing of an author breaks the SVG."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
import typst

from putback.drawings.canvas import Canvas, number, width_of, wrapped
from putback.typstpdf.press import lay_out_fonts


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("words", ["pump housing bolt", "M8 x 1.25", "WAVE", "ft·lb", "5 to 7 N·m"])
def test_words_are_as_long_as_the_press_sets_them(words: str, bold: bool, tmp_path: Path) -> None:
    fonts = lay_out_fonts(tmp_path / "fonts")
    weight = "bold" if bold else "regular"
    source = tmp_path / "words.typ"
    source.write_text(
        f'#set text(font: "Source Sans Pro", size: 10mm, weight: "{weight}", kerning: false, ligatures: false)\n'
        f'#context [#metadata(measure("{words}").width.mm()) <long>]',
        encoding="utf-8",
    )
    found = typst.query(str(source), "<long>", field="value", one=True, font_paths=[str(fonts)])
    assert width_of(words, 10, bold=bold) == pytest.approx(float(found), rel=0.02)


def test_words_are_wrapped_and_none_is_lost() -> None:
    words = "the long rear gearcase bolt of the supercalifragilistic extension"
    lines = wrapped(words, 20, 3.5)
    assert all(width_of(line, 3.5) <= 20 for line in lines)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert wrapped("WW", 0.1, 3.5) == ["W", "W"]


def test_words_of_an_author_do_not_break_the_drawing() -> None:
    canvas = Canvas(30, 10)
    canvas.words((1, 5), "<b> & \x00 \ud800", 3, halo=True)
    canvas.box((0, 0), 3, 3)
    svg = ElementTree.fromstring(canvas.svg("a < b", 'say "c"'))
    assert [child.text for child in svg if child.text] == [
        "a < b",
        'say "c"',
        "<b> & \ufffd \ufffd",
        "<b> & \ufffd \ufffd",
    ]
    assert svg.get("width") == "30mm"


def test_numbers_are_short_and_the_same_everywhere() -> None:
    assert [number(value) for value in (0.1 + 0.2, -0.001, 12, 1e-9, 3.14159)] == ["0.3", "0", "12", "0", "3.14"]


def test_words_are_as_long_in_every_face_as_in_that_of_the_manual() -> None:
    canvas = Canvas(30, 10)
    canvas.words((1, 5), "gearcase bolt", 3, bold=True)
    canvas.words((1, 9), "1", 3)
    long, short = ElementTree.fromstring(canvas.svg("", ""))[-2:]
    assert float(long.get("textLength", "")) == pytest.approx(width_of("gearcase bolt", 3, bold=True), abs=0.01)
    assert short.get("textLength") is None
