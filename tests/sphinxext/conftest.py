"""A small Sphinx project made on the spot, printed, and read back."""

from __future__ import annotations

import io
import re
import subprocess
import sys
import warnings
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any, ClassVar

import pytest
from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective, docutils_namespace, patch_docutils

from putback.sphinxext import nodes as own
from putback.sphinxext.paper import setup_paper
from tests.printed import Place, words_of

EXTENSION = "typst_sample"

Maker = Callable[[], Sequence[nodes.Node]]


class Made(SphinxDirective):
    """`.. made:: name` puts the nodes in place that the test makes under that name."""

    required_arguments = 1
    makers: ClassVar[dict[str, Maker]] = {}

    def run(self) -> list[nodes.Node]:
        made = list(self.makers[self.arguments[0]]())
        for node in made:
            self.set_source_info(node)
        return made


def _setup(app: Sphinx) -> None:
    setup_paper(app)
    app.add_directive("made", Made)


@dataclass(frozen=True, slots=True)
class Manual:
    """What came out of a build."""

    pdf: Path
    warnings: str
    status: int

    @property
    def pages(self) -> list[str]:
        """The text of each page, each run of blanks as one blank."""
        done = subprocess.run(["pdftotext", "-layout", str(self.pdf), "-"], capture_output=True, check=True)
        pages = done.stdout.decode("utf-8").split("\f")[:-1]
        return [" ".join(page.replace("\u200b", "").replace("\u2060", "").split()) for page in pages]

    @property
    def text(self) -> str:
        return " ".join(self.pages)

    def place(self, word: str) -> Place:
        """Where a word is printed first behind the contents."""
        pages = words_of(self.pdf)[2:]
        return next(place for page in pages for found, place in page if found == word)


Build = Callable[..., Manual]


@pytest.fixture
def manual(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Build:
    """Return a function that writes files, prints them with `typstpdf` and returns the manual."""
    module = ModuleType(EXTENSION)
    module.setup = _setup  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, EXTENSION, module)
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)

    def build(
        files: Mapping[str, str | bytes], made: Mapping[str, Maker] | None = None, to: str = "out", **settings: Any
    ) -> Manual:
        source = tmp_path / "source"
        for name, content in files.items():
            path = source / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass"))
        Made.makers.clear()
        Made.makers.update(made or {})
        overrides = {
            "project": "Tarrick D2",
            "extensions": ["myst_parser", EXTENSION],
            "myst_enable_extensions": ["deflist", "fieldlist", "colon_fence", "dollarmath", "substitution"],
            **settings,
        }
        told = io.StringIO()
        out = tmp_path / to
        with patch_docutils(), docutils_namespace(), warnings.catch_warnings():
            # MyST-Parser 5 still uses a name that Sphinx 9 calls old.
            warnings.filterwarnings("ignore", message=".*myst_parser.*")
            app = Sphinx(source, None, out, tmp_path / f"{to}-trees", "typstpdf", overrides, status=None, warning=told)
            app.build()
        pdfs = sorted(out.glob("*.pdf"))
        plain = re.sub(r"\x1b\[[0-9;]*m", "", told.getvalue())
        return Manual(pdfs[0] if pdfs else out / "none.pdf", plain, app.statuscode)

    return build


# Makers of the extension's nodes.


def para(text: str) -> nodes.paragraph:
    return nodes.paragraph("", text)


def step(number: str, text: str, *rest: nodes.Node, box: bool = True, only: str = "") -> own.step:
    sentence = own.step_text()
    if only:
        sentence += own.only_when("", only, label=only)
    sentence += nodes.Text(text)
    node = own.step(number=number, box=box)
    node += sentence
    node += list(rest)
    return node


def panel(signal: str, hazard: str, consequence: str, *avoid: str) -> own.panel:
    node = own.panel(signal=signal)
    node += own.panel_hazard("", hazard)
    node += own.panel_consequence("", consequence)
    how = own.panel_avoid()
    how += [para(text) for text in avoid]
    node += how
    return node


def steps(*children: nodes.Node) -> own.steps:
    node = own.steps()
    node += list(children)
    return node


def otherwise(label: str, *children: nodes.Node) -> own.otherwise:
    node = own.otherwise(label=label)
    node += list(children)
    return node


def table(head: Sequence[str], rows: Sequence[Sequence[str]], classes: Sequence[str] = ()) -> nodes.table:
    group = nodes.tgroup(cols=len(head))
    group += [nodes.colspec(colwidth=1) for _ in head]
    parts: list[tuple[nodes.Element, Sequence[Sequence[str]]]] = [(nodes.thead(), [head]), (nodes.tbody(), rows)]
    for part, lines in parts:
        for line in lines:
            row = nodes.row()
            row += [nodes.entry("", para(cell)) for cell in line]
            part += row
        group += part
    whole = nodes.table(classes=list(classes))
    whole += group
    return whole


def bullets(*items: str) -> nodes.bullet_list:
    listed = nodes.bullet_list()
    listed += [nodes.list_item("", para(item)) for item in items]
    return listed


def section(title: str, *children: nodes.Node) -> nodes.section:
    node = nodes.section(ids=[nodes.make_id(title)])
    node += nodes.title("", title)
    node += list(children)
    return node


def setup_block(facts: Mapping[str, str], *children: nodes.Node) -> own.setup:
    listed = own.facts()
    for label, value in facts.items():
        listed += own.fact("", para(value), label=label)
    block = own.setup()
    block += listed
    block += list(children)
    return block


def torque(text: str) -> own.torque:
    return own.torque("", text)
