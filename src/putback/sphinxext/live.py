"""What turns the page of a job into a tool at the bench, where scripts run: which files it loads, and their words.

The scripts are classic ones, loaded with `defer`: the data of the job, then the script of all jobs, which runs when the
page is there. They write nothing that an author wrote as HTML. Without them, the page is what it was.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator
from dataclasses import asdict
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext import tracked
from putback.sphinxext.escaped import as_script
from putback.sphinxext.lean import lean
from putback.words import labels_for

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.builders import Builder


class HasLines(Protocol):
    """A page that is made of lines: steps, safety messages, notes."""

    lines: int


_P = TypeVar("_P", bound=HasLines)
_L = TypeVar("_L")


def in_turn(line: Callable[[_P, _L], Iterator[nodes.Node]]) -> Callable[[_P, _L], Iterator[nodes.Node]]:
    """Let what a method makes of a line carry its number, counted from 0 down the page, as a class: `line-7`.

    Steps do not need it: they have ids.
    """

    @wraps(line)
    def counted(page: _P, of: _L) -> Iterator[nodes.Node]:
        number = page.lines
        page.lines += 1
        for node in line(page, of):
            if isinstance(node, nodes.Element) and not isinstance(node, own.step):
                node["classes"] = [*node["classes"], f"line-{number}"]
            yield node

    return counted


MODULES = (
    # What knows nothing of the page: the record of a sheet, and what it says.
    "judge", "diagram", "way", "ledger", "record", "answers", "store", "sheets", "timers", "files", "state", "acts",
    "desk", "session",
    # What shows it; the last begins.
    "page", "view-lines", "view-step", "view-machine", "view-bar", "view-count", "view-sheet", "notices", "awake",
    "begin",
)  # fmt: skip
"""The scripts in the order in which they run; a page loads them as one."""

SCRIPT = "putback-bench.js"
"""That one, with the words for all pages: it is made for the language of the book."""

_SOURCES = Path(__file__).parent / "static" / "bench"

_LAST = 900
"""Where scripts of ours stand among those of a page, as Sphinx counts it: after all others."""


def _load(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
) -> None:
    """Let the page of a job load what it needs, and no other page."""
    del templatename
    data = tracked.script_of(app, pagename) if doctree is not None else None
    if data is None:
        return
    beside = f"../{posixpath.dirname(pagename)}/{data}"  # as Sphinx counts it, from its folder of scripts
    app.add_js_file(beside, priority=_LAST, loading_method="defer")
    app.add_js_file(SCRIPT, priority=_LAST + 1, loading_method="defer")
    app.add_css_file("putback-bench.css")
    context["putback_live"] = True


def _write_script(app: Sphinx, builder: Builder) -> None:
    if builder.format != "html":
        return
    words = as_script("PUTBACK_WORDS", asdict(labels_for(app.config.language).at_bench))
    place = builder.outdir / "_static" / SCRIPT
    place.parent.mkdir(parents=True, exist_ok=True)
    modules = (lean((_SOURCES / f"{name}.js").read_text("utf-8")) for name in MODULES)
    place.write_text("".join([words, *modules]), "utf-8", newline="\n")


def setup_live(app: Sphinx) -> None:
    """Register what the page of a job loads."""
    app.connect("html-page-context", _load)
    app.connect("write-started", _write_script)
