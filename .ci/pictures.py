"""Make the strip at the top of the README anew: `python .ci/pictures.py`. Nothing but what pip installs is needed.

Three pictures of one step of a shipped guide: as it is written, what is found when it is left out, as it is printed.
Each keeps its words, and what drew it, in itself; tests/docs/test_strip.py makes them again and compares.
"""

from __future__ import annotations

import platform
import struct
import sys
import zlib
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import typst

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "docs" / "_ext")]

from pages import printed  # noqa: E402

from pictures import found_without  # noqa: E402
from putback.typstpdf.press import lay_out_fonts  # noqa: E402

IMAGES = ROOT / "docs" / "images"

GUIDE, JOB = "procedures/hollin-20", "water-pump"

STEP = "- install: lower-washer"
"""The step, as it stands in the file of the job."""

SHOWN = 6
"""Lines of the file that are shown, from the step on."""

FIRST, LAST = "Install the lower flat washer", "Install the shaft collar"
"""The words of the step as it is printed, and of the last one that is shown with it."""

SCALE = 0.77
"""Of the printed page."""

HEIGHT = 152
"""Of all three, in points."""

PPI = 216
"""Pixels in an inch: three in a point."""

LOOKS = """
#let pale = rgb("#f7f6f3")
#let night = rgb("#1e2126")
#let mono = "DejaVu Sans Mono"
#let panel(width, number, title, ground, body) = {
  set page(width: width * 1pt, height: HEIGHT * 1pt, margin: (right: 6pt, bottom: 6pt, rest: 0pt), fill: none)
  set text(font: "Source Sans Pro", size: 11pt)
  set par(leading: 0.5em, spacing: 0.5em)
  block(width: 100%, height: 100%, radius: 5pt, stroke: 0.8pt + luma(150), fill: ground, clip: true, {
    block(width: 100%, fill: black, inset: (x: 9pt, y: 6pt), below: 0pt,
      text(fill: white, weight: "bold", { number; h(0.6em); title }))
    block(width: 100%, inset: 9pt, above: 0pt, body)
  })
}
#let line-of(words, fill: white, weight: "regular", indent: 0em) = block(width: 100%, above: 0.62em, below: 0.62em, {
  set text(font: mono, size: 8.6pt, fill: fill, weight: weight)
  par(hanging-indent: indent, { h(indent); words })
})
""".replace("HEIGHT", str(HEIGHT))


@dataclass(frozen=True, slots=True)
class Picture:
    """One of the three."""

    name: str
    """The name of its file, without the ending."""
    words: str
    """What is to be read on it."""
    source: str
    """The Typst source."""


def written() -> Picture:
    """Return the step in the file of its job."""
    lines = (ROOT / GUIDE / "jobs" / f"{JOB}.yaml").read_text(encoding="utf-8").splitlines()
    at = next(number for number, line in enumerate(lines) if line.strip() == STEP)
    indent = len(lines[at]) - len(lines[at].lstrip())
    shown = [line[indent:] for line in lines[at : at + SHOWN]]
    body = "".join(
        f"block(width: 100%, outset: (x: 4pt, y: 3pt), above: 0.85em, below: 0.85em, "
        f"fill: {'rgb(' + quoted('#ffe08a') + ')' if not number else 'none'}, "
        f"text(font: mono, size: 9.4pt, fill: black, {quoted(line.replace(' ', NO_BREAK))}))\n"
        for number, line in enumerate(shown)
    )
    return Picture("step", "\n".join(shown), f'#panel(276, "1", "You write steps", pale, {{\n{body}}})')


def found() -> Picture:
    """Return what is found when the step is left out."""
    lines = found_without(GUIDE, f"jobs/{JOB}.yaml", STEP).splitlines()
    begin = next(number for number, line in enumerate(lines) if line.startswith("  "))
    shown = [lines[0], *lines[begin : lines.index("", begin)]]
    body = "".join(f"{finding_line(line)}\n" for line in shown)
    panel = f'#panel(276, "2", "Forget one, and lint says so", night, {{\n{body}}})'
    return Picture("finding", "\n".join(shown), panel)


def finding_line(line: str) -> str:
    """Return a line of a finding as a call, in the colours of a terminal."""
    words = line.strip()
    if line.startswith("$ "):
        return f"line-of({quoted(words)}, weight: {quoted('bold')})"
    if line.startswith("      fix: "):
        return f"line-of({quoted(words)}, fill: rgb({quoted('#9fd67a')}), indent: 1em)"
    if line.startswith(("      error ", "      warning ")):
        return f"line-of({quoted(words)}, fill: rgb({quoted('#a8b0ba')}), indent: 1em)"
    before, bar, after = line.partition("|")
    if bar and not before.strip(" 0123456789"):
        fill = f", fill: rgb({quoted('#ff9389')})" if after.strip(" ~") == "" else ""
        return f"line-of({quoted(line.replace(' ', NO_BREAK))}{fill})"
    return f"line-of({quoted(words)}, fill: rgb({quoted('#ff9389')}), weight: {quoted('bold')})"


NO_BREAK = "\u00a0"
"""Keeps words that stand in columns on one line."""


def on_paper(folder: Path) -> Picture:
    """Return the step as it is printed."""
    pages = printed(ROOT / GUIDE, "a4", folder / "pages")
    part = pages.between(f"jobs/{JOB}", FIRST, LAST, below=20)
    for piece in part.pieces:
        (folder / f"{piece.page}.svg").write_bytes((part.folder / f"{piece.page}.svg").read_bytes())
    sentences = [
        place.words
        for piece in part.pieces
        for place in pages.places
        if place.page == piece.page and piece.top <= place.y < piece.top + piece.height and place.doc
    ]
    marked = f"place(dy: 1pt, rect(width: 100%, height: 19pt, radius: 2pt, stroke: 1.6pt + rgb({quoted('#e0a100')})))"
    body = f"block(width: 100%, height: {part.height * SCALE}pt, clip: true, {{\n{part.drawing(SCALE)}\n{marked}\n}})"
    panel = f'#panel(276, "3", "Printed, it has a box to tick", white, {body})'
    return Picture("page", "\n".join(sentences), panel)


def quoted(words: str) -> str:
    """Return a text as Typst writes it."""
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'


def drawn_by() -> str:
    """Return what draws the pictures here; the same draws the same bytes."""
    return f"typst {typst.__version__}, {platform.machine()}"


def told(png: bytes) -> dict[str, str]:
    """Return the texts that a PNG keeps, by keyword."""
    texts, at = {}, 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"iTXt":
            keyword, _, rest = png[at + 8 : at + 8 + length].partition(b"\0")
            texts[keyword.decode("latin-1")] = rest[4:].decode("utf-8")
        at += length + 12
    return texts


def with_texts(png: bytes, **texts: str) -> bytes:
    """Return a PNG with texts of its own before its end (PNG specification, ISO/IEC 15948, 11.3.4)."""
    chunks = b""
    for keyword, text in texts.items():
        # After the keyword: not compressed, and neither a language nor the keyword in it.
        data = b"iTXt" + keyword.encode("latin-1") + b"\0\0\0\0\0" + text.encode()
        chunks += struct.pack(">I", len(data) - 4) + data + struct.pack(">I", zlib.crc32(data))
    return png[:-12] + chunks + png[-12:]


def strip() -> dict[str, bytes]:
    """Return the three pictures by their file names."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        fonts = lay_out_fonts(folder / "fonts")
        made = {}
        for picture in (written(), found(), on_paper(folder)):
            source = folder / f"{picture.name}.typ"
            source.write_text(f"{LOOKS}\n{picture.source}\n", encoding="utf-8")
            png = typst.compile(str(source), format="png", ppi=PPI, font_paths=[str(fonts)], ignore_system_fonts=True)
            made[f"{picture.name}.png"] = with_texts(png, Software=drawn_by(), Description=picture.words)
        return made


if __name__ == "__main__":
    IMAGES.mkdir(exist_ok=True)
    for file, data in strip().items():
        (IMAGES / file).write_bytes(data)
