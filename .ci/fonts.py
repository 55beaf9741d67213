"""Make the web fonts of the theme anew: `python .ci/fonts.py`.

The pages have the face of the printed manual, so it comes from the same package: each cut whole, packed as WOFF2. Its
name is reserved by its licence for the unchanged face; a subset could not keep it. tests/sphinxext/test_fonts.py holds
that the letterforms are those of the package.
"""

from __future__ import annotations

from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

SOURCE = Path(font_source_sans_pro.font_directory)
PLACE = Path("src/putback/sphinxext/theme/static/fonts")
CUTS = ("Regular", "It", "Semibold", "Bold", "BoldIt")
"""What the style sheets ask for: weights 400, 600 and 700, and 400 and 700 in italics."""


def main() -> None:
    """Write the fonts and their licence."""
    PLACE.mkdir(parents=True, exist_ok=True)
    for cut in CUTS:
        font = TTFont(SOURCE / f"SourceSansPro-{cut}.ttf", recalcBBoxes=False, recalcTimestamp=False)
        font.flavor = "woff2"
        font.save(PLACE / f"SourceSansPro-{cut}.woff2")
    licence = (SOURCE / "LICENSE.txt").read_text("utf-8")  # universal newlines
    (PLACE / "OFL.txt").write_text(licence.strip() + "\n", "utf-8")


if __name__ == "__main__":
    main()
