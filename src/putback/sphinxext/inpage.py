"""A drawing in a page of HTML: without what the style sheet says anyway, and fit for a telephone and for paper."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from putback.drawings.packed import packed
from putback.sphinxext import nodes as own

if TYPE_CHECKING:
    from docutils import nodes

TELEPHONE = 100.0
"""What is wider, mm, would be too small to read on a telephone."""
COLUMN = 158.0
"""Width of the words of a step on A4, mm: what `putback-print.css` leaves beside the box and the number."""
HIGHEST, HIGHEST_ALONE = 150.0, 135.0
"""Several drawings, or one, are at most so high on paper, mm: higher, they would leave a page before them empty."""
GUTTER = 3.0
"""What is between two drawings on paper, mm."""
SHRUNK = 0.8
"""Two drawings stand below each other before they are made smaller than this."""

_HEAD = re.compile(r' width="([0-9.]+)mm" height="([0-9.]+)mm".*?<title>([^<]*)</title>', re.DOTALL)
"""The width, the height and the title of a drawing."""


def in_page(node: nodes.Element) -> str:
    """Return a drawing with what a telephone shows of it: it drawn for a narrow column, or else it in a box."""
    every = [svg for svg, _ in own.drawings_of(node)]
    drawn, narrow = "".join(map(packed, every)), node.get("narrow", "")
    found = _HEAD.search(every[0])
    paper = "" if node.get("true_size") else on_paper(every)
    if found is None or float(found[1]) <= TELEPHONE:
        style = f' style="{paper}"' if paper else ""
        return f'<div class="drawn"{style}>{drawn}</div>'
    if narrow:
        return f'<div class="drawn">{drawn}</div><div class="drawn narrow">{packed(narrow)}</div>'
    # The box scrolls, and the keyboard reaches it.
    named = f'role="group" aria-label="{found[3].replace(chr(34), "&quot;")}" tabindex="0"'
    return f'<div class="drawn wide" {named} style="--putback-wide: {found[1]}mm{paper and f"; {paper}"}">{drawn}</div>'


def on_paper(svgs: list[str]) -> str:
    """Return the property that says how wide each of some drawings is on paper; nothing when they keep their size."""
    sizes = [(float(found[1]), float(found[2])) for found in map(_HEAD.search, svgs) if found]
    if len(sizes) < len(svgs):
        return ""
    natural, room = max(wide for wide, _ in sizes), (COLUMN - GUTTER) / 2
    two = len(sizes) > 1 and room >= SHRUNK * natural
    most = min(natural, room) if two else min(natural, COLUMN)
    highs = [high * most / wide for wide, high in sizes]
    rows = [max(pair) for pair in zip(highs[::2], [*highs[1::2], 0.0], strict=False)] if two else highs
    limit = HIGHEST if len(sizes) > 1 else HIGHEST_ALONE
    most *= min(1.0, limit / (sum(rows) + GUTTER * (len(rows) - 1)))
    return f"--putback-paper: {most:.4g}mm" if most < natural else ""
