"""Print a guide as pictures of its pages, in a process of its own: `python printing.py GUIDE PAPER FOLDER`.

Sphinx keeps much in its own process, and the documentation is being built by another Sphinx meanwhile. `FOLDER` gets an
SVG for each page, `1.svg` and so on, and `places.json`: where each step and each heading stands.
"""

from __future__ import annotations

import io
import json
import math
import re
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import typst
from sphinx.application import Sphinx

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.beforehand import put_around
from putback.sphinxext.domain import PutbackDomain
from putback.sphinxext.settled import settings
from putback.sphinxext.sources import pages_of

_LABEL = re.compile(r'(?:anchor\(|label-name: )"(?P<doc>[^":]+):(?P<name>[^"]+)"')

_COLOUR = re.compile(r"\x1b\[[0-9;]*m")
"""What Sphinx puts around its warnings."""

_ASK = """
#let place-of(found) = {{
  let at = found.location().position()
  (page: at.page, y: at.y.pt())
}}
#context [#metadata((
  {names}.map(name => query(label(name)).map(place-of).at(0, default: none)),
  query(<end-of-chapter>).map(place-of),
)) <places-of-all>]
"""
"""What is added to the manual to learn where its anchors are, and where chapters end; in points from the top."""


def print_pages(guide: Path, paper: str, folder: Path) -> None:
    """Print a guide. Raises `SystemExit` with what Sphinx said when that fails or warns."""
    opened, said = open_guide(read_guide(guide)), io.StringIO()
    with TemporaryDirectory() as scratch, pages_of(opened):
        app = Sphinx(
            srcdir=opened.guide.root, confdir=None, outdir=Path(scratch, "pdf"), doctreedir=Path(scratch, "work"),
            buildername="typstpdf", confoverrides=settings(opened, paper, draft=False), status=None, warning=said,
            freshenv=False, parallel=1,
        )  # fmt: skip
        put_around(app, opened)
        app.build(force_all=True)
        if app.statuscode or said.getvalue():
            raise SystemExit(f"{guide.name} cannot be printed: {_COLOUR.sub('', said.getvalue())}")
        source = Path(scratch, "work", "typst", "pages.main.typ")
        pages, places = _drawn(source, _words(app))
        for number, page in enumerate(pages, 1):
            (folder / f"{number}.svg").write_bytes(_on_whole_points(page))
    (folder / "places.json").write_text(json.dumps(places), encoding="utf-8")


def _words(app: Sphinx) -> dict[str, str]:
    """Return what each anchor stands at: the sentence of a step with its number, the words of a heading."""
    words: dict[str, str] = {}
    domain = app.env.get_domain("putback")
    assert isinstance(domain, PutbackDomain)
    for known in domain.objects.values():
        words[f"{known.docname}:{known.anchor}"] = known.sought or known.title
    for docname in app.env.found_docs:
        for section in app.env.get_doctree(docname).findall(lambda node: node.tagname == "section"):
            for name in section["ids"]:
                words[f"{docname}:{name}"] = section[0].astext()
    return words


def _drawn(source: Path, words: dict[str, str]) -> tuple[list[bytes], list[dict[str, Any]]]:
    """Return the pages, and where anchors are and chapters end (these without a document): page, y in pt, words.

    One compiler answers both, so that the book is laid out once.
    """
    text = source.read_text(encoding="utf-8")
    named = [(found["doc"], f"{found['doc']}:{found['name']}") for found in _LABEL.finditer(text)]
    names = json.dumps([name for _, name in named], ensure_ascii=False).replace("[", "(", 1)
    source.write_text(text + _ASK.format(names=f"{names.removesuffix(']')},)"), encoding="utf-8")
    compiler = typst.Compiler(
        str(source), root=str(source.parent), font_paths=[str(source.parent / "fonts")], ignore_system_fonts=True
    )
    pages = compiler.compile(format="svg")
    anchors, ends = json.loads(compiler.query("<places-of-all>", field="value", one=True))
    known = [(name, at) for name, at in zip(named, anchors, strict=True) if at]
    places = [
        *({"page": at["page"], "y": at["y"], "doc": doc, "words": words.get(name, "")} for (doc, name), at in known),
        *({"page": at["page"], "y": at["y"], "doc": "", "words": ""} for at in ends),
    ]
    return pages if isinstance(pages, list) else [pages], places


def _on_whole_points(page: bytes) -> bytes:
    """Return a page with a little more paper at the right and below, so that its size is so many whole points.

    Otherwise its pixels would not lie on those of the picture that it is drawn into.
    """
    head, size, rest = page.partition(b">")
    width, height = (math.ceil(float(number)) for number in re.findall(rb'viewBox="0 0 ([\d.]+) ([\d.]+)"', head)[0])
    head = re.sub(rb'viewBox="[^"]*"', b'viewBox="0 0 %d %d"' % (width, height), head)
    head = re.sub(rb' width="[^"]*"', b' width="%dpt"' % width, head)
    return re.sub(rb' height="[^"]*"', b' height="%dpt"' % height, head) + size + rest


if __name__ == "__main__":
    print_pages(Path(sys.argv[1]), sys.argv[2], Path(sys.argv[3]))
