"""What a reader's machine may have of type: the face that the pages bring, a wide one, both, or none.

Chromium on Linux asks fontconfig for what is installed. A file of its own, with a cache of its own, makes it see a few
files and nothing else, whatever the machine has.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

DEJAVU = Path(os.environ.get("PUTBACK_WIDE_FACE", "/usr/share/fonts/truetype/dejavu"))
"""The folder of DejaVu Sans (Debian: fonts-dejavu-core), the widest of the sans faces that people have."""

WIDE = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
"""The cuts that are shown. It has no italics, as on most machines: they are slanted by the browser."""


@dataclass(frozen=True, slots=True)
class Faces:
    """What type a browser has."""

    name: str
    """What tests call it."""
    installed: Sequence[str]
    """Files of the folder above that the browser sees."""
    shipped: bool
    """Whether it takes the fonts that pages bring."""

    @property
    def flags(self) -> tuple[str, ...]:
        """Return the flags of the browser."""
        return () if self.shipped else ("--disable-remote-fonts",)

    def variables(self, place: Path) -> dict[str, str]:
        """Write a configuration below `place`, and return the variables that make a program read it and no other."""
        fonts = place / "fonts"
        fonts.mkdir(parents=True, exist_ok=True)
        for file in self.installed:
            shutil.copy(DEJAVU / file, fonts)
        if not self.installed:
            blank(fonts / "blank.ttf")
        config = place / "fonts.conf"
        config.write_text(
            "<?xml version='1.0'?>\n<!DOCTYPE fontconfig SYSTEM 'urn:fontconfig:fonts.dtd'>\n"
            f"<fontconfig><dir>{escape(str(fonts))}</dir>"
            f"<cachedir>{escape(str(place / 'cache'))}</cachedir></fontconfig>\n",
            "utf-8",
        )
        return {"FONTCONFIG_FILE": str(config)}


def blank(file: Path) -> None:
    """Write a face that has a space and nothing else: with no face at all, Chromium lays out no text, not even ours."""
    made: Any = FontBuilder(1000, isTTF=True)
    made.setupGlyphOrder([".notdef", "space"])
    made.setupCharacterMap({0x20: "space"})
    made.setupGlyf({name: TTGlyphPen(None).glyph() for name in (".notdef", "space")})
    made.setupHorizontalMetrics(dict.fromkeys((".notdef", "space"), (500, 0)))
    made.setupHorizontalHeader(ascent=800, descent=-200)
    made.setupNameTable({"familyName": BLANK, "styleName": "Regular"})
    made.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200)
    made.setupPost()
    made.save(file)


BLANK = "Putback Blank"
"""The family of a face with nothing in it."""

SHIPPED = Faces("shipped", WIDE, shipped=True)
"""The pages' own face; what it lacks comes from the other."""
ALONE = Faces("alone", (), shipped=True)
"""The pages' own face, on a machine that has as good as none."""
FOREIGN = Faces("foreign", WIDE, shipped=False)
"""Fonts of pages are blocked, and all that the machine has is wide."""
EVERY = (SHIPPED, ALONE, FOREIGN)
