"""Make the two pictures of the README anew: `python .ci/pictures.py` (needs `pdftoppm`).

`docs/images/page.png` is the page of the shipped guide's PDF on which the pump-housing bolts are tightened.
`docs/images/finding.svg` is the output of `putback lint` in the README, which tests/test_docs.py holds true.
"""

from __future__ import annotations

import re
import struct
import subprocess
import zlib
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.sax.saxutils import escape

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual

IMAGES = Path("docs/images")
WIDTH = 1000
"""Of the page, in pixels."""
NO_BREAK = "\u00a0"
"""Keeps the indent where SVG would drop it."""
GREATEST = 128
"""Colours of the page; a palette makes the file a third as large."""
WANTED = "Tighten the four pump-housing bolts crosswise to"
"""Words on the page to show."""

ROLES = (
    (re.compile(r"procedures/\S+"), "#1f4f82"),
    (re.compile(r" +\|? *~+|.*\| +~+"), "#b3261e"),
    (re.compile(r" {6}error .*"), "#5f6368"),
    (re.compile(r" {2}\S.*"), "#b3261e"),
)
"""What gets a colour in the picture of the finding, as on a terminal; the first that fits a line."""


def page() -> bytes:
    """Return the page as a PNG with a palette."""
    with TemporaryDirectory() as folder:
        pdf = build_manual(open_guide(read_guide(Path("procedures/hollin-20"))), ["pdf"], Path(folder)).files[0]
        text = subprocess.run(["pdftotext", pdf, "-"], check=True, capture_output=True, text=True).stdout
        number = next(at for at, words in enumerate(text.split("\f"), 1) if WANTED in " ".join(words.split()))
        drawn = subprocess.run(
            ["pdftoppm", "-f", str(number), "-l", str(number), "-scale-to-x", str(WIDTH), "-scale-to-y", "-1", pdf],
            check=True, capture_output=True,
        ).stdout  # fmt: skip
    head = re.match(rb"P6\s+(\d+)\s+(\d+)\s+255\s", drawn)
    assert head is not None
    return png(int(head[1]), int(head[2]), drawn[head.end() :])


def png(width: int, height: int, pixels: bytes) -> bytes:
    """Return 8-bit RGB pixels as a PNG of the commonest colours (PNG specification, ISO/IEC 15948)."""
    points = [pixels[at : at + 3] for at in range(0, len(pixels), 3)]
    palette = [colour for colour, _ in Counter(points).most_common(GREATEST)]
    index = {colour: number for number, colour in enumerate(palette)}

    def nearest(colour: bytes) -> int:
        found = index.get(colour)
        if found is None:
            found = min(
                range(len(palette)), key=lambda n: sum((a - b) ** 2 for a, b in zip(palette[n], colour, strict=True))
            )
            index[colour] = found
        return found

    rows = b"".join(
        b"\0" + bytes(nearest(point) for point in points[row * width : (row + 1) * width]) for row in range(height)
    )

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)
    parts = ((b"IHDR", head), (b"PLTE", b"".join(palette)), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*part) for part in parts)


def finding() -> str:
    """Return the README's finding as an SVG."""
    blocks = re.findall(
        r"^```console\n(.*?)^```$", Path("README.md").read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
    )
    lines = next(block for block in blocks if "never goes back" in block).splitlines()
    height, width = 20 * len(lines) + 32, 9 * max(map(len, lines)) + 32
    rows = [
        f'<text x="16" y="{34 + 20 * number}" fill="{colour_of(line)}">{escape(line).replace(" ", NO_BREAK)}</text>'
        for number, line in enumerate(lines)
        if line
    ]
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"',
            f'  role="img" aria-label="{escape(lines[3].strip())}"',
            '  font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="14.5">',
            f'<rect width="{width}" height="{height}" rx="6" fill="#f7f6f3" stroke="#c9c6bf"/>',
            *rows,
            "</svg>\n",
        )
    )


def colour_of(line: str) -> str:
    """Return the colour of a line."""
    return next((colour for pattern, colour in ROLES if pattern.fullmatch(line)), "#202124")


if __name__ == "__main__":
    IMAGES.mkdir(exist_ok=True)
    (IMAGES / "page.png").write_bytes(page())
    (IMAGES / "finding.svg").write_text(finding(), encoding="utf-8")
