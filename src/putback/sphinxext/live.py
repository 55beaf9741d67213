"""What turns the page of a job into a tool at the bench, where scripts run: which files it loads, and their words.

The scripts are classic ones, each loaded with `defer`, so they run in this order when the page is there. They write
nothing that an author wrote as HTML. Without them, the page is what it was.
"""

from __future__ import annotations

import json
import posixpath
from collections.abc import Callable, Iterator
from dataclasses import asdict
from functools import wraps
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext import tracked
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


KEPT = (
    "judge", "diagram", "way", "ledger", "record", "answers", "store", "sheets", "timers", "files", "state", "acts",
    "desk", "session",
)  # fmt: skip
"""What knows nothing of the page: the record of a sheet, and what it says."""

SEEN = (
    "page", "view-lines", "view-step", "view-machine", "view-bar", "view-count", "view-sheet", "notices", "awake",
    "begin",
)  # fmt: skip
"""What shows it; the last begins."""

WORDS = "bench/words.js"
"""The words of the scripts, for all pages; it is made for the language of the book."""

_FIRST = 700
"""Where scripts of ours stand among those of a page, as Sphinx counts it: after all others, in the order of names."""


def script_of(name: str, value: object) -> str:
    """Return a classic script that sets a name of the window; whatever is in the value, it stays a value."""
    said = json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=False)
    for sign, escaped in (("<", "\\u003c"), (">", "\\u003e"), ("\u2028", "\\u2028"), ("\u2029", "\\u2029")):
        said = said.replace(sign, escaped)
    return f"window.{name}={said};\n"


def _load(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
) -> None:
    """Let the page of a job load what it needs, and no other page."""
    del templatename
    data = tracked.script_of(app, pagename) if doctree is not None else None
    if data is None:
        return
    beside = f"../{posixpath.dirname(pagename)}/{data}"  # as Sphinx counts it, from its folder of scripts
    names = [*(f"bench/{name}.js" for name in KEPT), WORDS, beside, *(f"bench/{name}.js" for name in SEEN)]
    for at, name in enumerate(names):
        app.add_js_file(name, priority=_FIRST + at, loading_method="defer")
    app.add_css_file("bench.css")
    context["putback_live"] = True


def _write_words(app: Sphinx, builder: Builder) -> None:
    if builder.format != "html":
        return
    labels = labels_for(app.config.language).at_bench
    place = builder.outdir / "_static" / WORDS
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text(script_of("PUTBACK_WORDS", asdict(labels)), "utf-8")


def setup_live(app: Sphinx) -> None:
    """Register what the page of a job loads."""
    app.connect("html-page-context", _load)
    app.connect("write-started", _write_words)
