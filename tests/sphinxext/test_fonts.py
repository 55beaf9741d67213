"""The fonts that the theme ships: whole, with the letterforms of the printed manual, and no more than are asked for."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import font_source_sans_pro
import pytest
from fontTools.ttLib import TTFont

import putback.sphinxext

PLACE = Path(putback.sphinxext.__file__).parent
FONTS = PLACE / "theme" / "static" / "fonts"
SOURCE = Path(font_source_sans_pro.font_directory)
SHEETS = (*sorted((PLACE / "static").glob("*.css")), PLACE / "theme" / "static" / "manual.css")
MANUAL = SHEETS[-1].read_text("utf-8")

FACE = re.compile(r"@font-face \{(.*?)\}", re.DOTALL)
FILES = sorted(path.name for path in FONTS.glob("*.woff2"))


def faces() -> list[dict[str, str]]:
    """Return the properties of each `@font-face`."""
    return [dict(re.findall(r"([\w-]+): (.*?);", body)) for body in FACE.findall(MANUAL)]


def file_of(face: dict[str, str]) -> str:
    found = re.fullmatch(r'url\("fonts/([\w-]+\.woff2)"\) format\("woff2"\)', face["src"])
    assert found, face["src"]
    return found[1]


@pytest.mark.parametrize("name", FILES)
def test_a_shipped_font_has_the_letterforms_of_the_printed_manual_s(name: str) -> None:
    shipped, source = TTFont(FONTS / name), TTFont(SOURCE / name.replace(".woff2", ".ttf"))
    assert shipped.flavor == "woff2"
    assert shipped.getBestCmap() == source.getBestCmap()
    assert shipped.getGlyphOrder() == source.getGlyphOrder()
    assert shipped["hmtx"].metrics == source["hmtx"].metrics
    for glyph in source.getGlyphOrder():
        ours, theirs = shipped["glyf"][glyph], source["glyf"][glyph]
        assert ours.getCoordinates(shipped["glyf"])[0] == theirs.getCoordinates(source["glyf"])[0], glyph
    for number in (0, 1, 2, 5, 13):  # copyright, family, cut, version, licence
        assert shipped["name"].getDebugName(number) == source["name"].getDebugName(number)
    assert all((tag in shipped) == (tag in source) for tag in ("GSUB", "GPOS", "GDEF", "kern"))


def test_the_licence_of_the_fonts_is_beside_them() -> None:
    ours = (FONTS / "OFL.txt").read_text("utf-8").split()
    assert ours == (SOURCE / "LICENSE.txt").read_text("utf-8").split()


def test_every_font_that_is_shipped_is_used_and_the_other_way_round() -> None:
    assert sorted({file_of(face) for face in faces()}) == FILES
    assert all(face["font-display"] == "swap" for face in faces())


def test_every_weight_that_the_sheets_ask_for_has_a_cut_of_its_own() -> None:
    weights = {weight for sheet in SHEETS for weight in re.findall(r"font-weight: (\d+);", sheet.read_text("utf-8"))}
    shipped = {(face["font-weight"], face.get("font-style", "normal")) for face in faces()}
    assert {(weight, "normal") for weight in weights} <= shipped
    assert {("400", "italic"), ("700", "italic")} <= shipped


def test_a_cut_is_what_the_sheet_says_that_it_is() -> None:
    for face in faces():
        font: Any = TTFont(FONTS / file_of(face))
        assert str(font["OS/2"].usWeightClass) == face["font-weight"]
        assert (font["post"].italicAngle != 0) == (face.get("font-style") == "italic")


def test_nothing_is_fetched_from_the_network_and_no_family_is_forced_on_other_themes() -> None:
    for sheet in SHEETS:
        text = sheet.read_text("utf-8")
        assert not re.search(r"https?:|//fonts|@import", text)
    assert "font-family" not in (PLACE / "static" / "putback.css").read_text("utf-8")
