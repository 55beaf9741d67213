"""Gathers the passages of all pages, and writes them beside the pages for the search."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext.escaped import as_script
from putback.sphinxext.searching import keep_numbers_whole
from putback.sphinxext.sought.passages import Sought, passages
from putback.words import labels_for

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.builders.html import StandaloneHTMLBuilder
    from sphinx.environment import BuildEnvironment

SEARCH = "search"
"""The name of the page that searches."""

DATA = "search-data.js"
"""The file in which it searches. A page in a folder may load a script, and nothing else."""

_THEME = Path(__file__).parents[1] / "theme"
_KEPT = "sought.json"
"""What an earlier build has read of the pages that are not read again; with the doctrees."""


def setup_search(app: Sphinx) -> None:
    """Register the search: ours with our theme; with others that of Sphinx, to which a part number is a word."""
    app.connect("config-inited", keep_numbers_whole)
    app.connect("builder-inited", _begin)


def _begin(app: Sphinx) -> None:
    """Search in place of Sphinx, where the pages have our theme."""
    builder: Any = app.builder
    if builder.name not in ("html", "dirhtml") or not _is_ours(builder):
        return
    builder.search = False
    gathered = _Gathered(app)
    app.connect("doctree-resolved", gathered.take, priority=900)  # when all words of the page are there
    app.connect("html-page-context", gathered.say)
    app.connect("html-collect-pages", gathered.pages)


def _is_ours(builder: StandaloneHTMLBuilder) -> bool:
    """Tell whether the theme is ours, or one that is made from it."""
    return _THEME in (Path(folder) for folder in builder.theme.get_theme_dirs())


class _Gathered:
    """The passages of each page."""

    def __init__(self, app: Sphinx) -> None:
        self.app = app
        self.builder = cast("StandaloneHTMLBuilder", app.builder)
        self.file = Path(app.doctreedir) / _KEPT
        self.kept = _kept(self.file)
        self.named: dict[str, dict[str, list[str]]] | None = None

    def take(self, app: Sphinx, document: nodes.document, docname: str) -> None:
        """Take the passages of a page."""
        if self.named is None:
            self.named = _described(app.env)
        _name_messages(document)
        self.kept[docname] = passages(document, self.named.get(docname, {}), app.config.language)

    def say(
        self, app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
    ) -> None:
        """Tell the templates that there is a search."""
        del pagename, templatename, doctree
        context["putback_search"] = SEARCH
        context["putback_search_words"] = asdict(labels_for(app.config.language).search)

    def pages(self, app: Sphinx) -> Iterator[tuple[str, dict[str, Any], str]]:
        """Write what was gathered, and yield the page that searches."""
        env = app.env
        for docname in sorted(env.found_docs - self.kept.keys()):
            # It was read and written by a build that did not search; `take` is told of it again.
            env.get_and_resolve_doctree(docname, self.builder, tags=self.builder.tags)
        self.kept = {docname: found for docname, found in self.kept.items() if docname in env.found_docs}
        self.file.write_text(json.dumps(self.kept, ensure_ascii=True), encoding="utf-8")
        in_order = dict.fromkeys(chain(env.collect_relations(), sorted(self.kept)))
        data = search_data(
            [
                (self.builder.get_target_uri(docname), self.kept[docname])
                for docname in in_order
                if docname in self.kept
            ],
        )
        (Path(self.builder.outdir) / DATA).write_bytes(data)
        yield SEARCH, {}, "search.html"


def search_data(pages: Sequence[tuple[str, Sequence[Sought]]]) -> bytes:
    """Return the script that holds the passages of pages, each page by its address.

    It has a list of pages `[address, title]`, and a list of passages `[page, anchor, number, title, text, within]`:
    `page` and `within` are places in these lists.
    """
    listed: list[list[str]] = []
    found: list[list[object]] = []
    for address, said in pages:
        first = len(found)
        found += [
            [len(listed), *each[:4], first + each.within if each.within >= 0 else -1]
            for each in map(Sought._make, said)
        ]
        listed.append([address, said[0][2] if said else ""])
    return as_script("PUTBACK_SEARCH", {"pages": listed, "passages": found}).encode()


def _kept(file: Path) -> dict[str, list[Sought]]:
    """Return what an earlier build has kept; nothing when that cannot be read."""
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
        return {docname: [Sought(*each) for each in found] for docname, found in data.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def _described(env: BuildEnvironment) -> dict[str, dict[str, list[str]]]:
    """Return what all domains know to be described, by page and anchor, the words first that say most."""
    found: dict[str, dict[str, list[str]]] = {}
    for domain in env.domains.sorted():
        for _name, shown, kind, docname, anchor, priority in domain.get_objects():
            if priority < 0 or not anchor:
                continue
            words = found.setdefault(docname, {}).setdefault(anchor, [])
            if domain.name != "putback":
                words += [str(shown), f"\n{domain.object_types[kind].lname}\n"]
            elif shown not in words:
                words.append(str(shown))
    return found


def _name_messages(document: nodes.document) -> None:
    """Give each safety message of a job an address."""
    for page in document.findall(nodes.section):
        if "job" in page["classes"]:
            for number, panel in enumerate(page.findall(own.panel), 1):
                panel["ids"] = panel["ids"] or [f"{page['ids'][0].removesuffix('-job')}-message-{number}"]
