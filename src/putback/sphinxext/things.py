"""Where the things of a machine are described: on its own page, or in a table that a page of prose shows instead."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, cast

from docutils import nodes

from putback.guide.record import Guide
from putback.guide.stamps import stamp_of
from putback.model.machine import Machine
from putback.prose.placed import placed, placed_on
from putback.source.intake import LARGEST_PAGE, NotReadError, take
from putback.sphinxext.building import link, paragraph
from putback.sphinxext.domain import PutbackDomain, guide_folder
from putback.sphinxext.searching import numbered
from putback.words import Language

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment

SHOWN_BY = {
    "options": "putback-options",
    "fasteners-and-torques": "putback-torques",
    "fluids": "putback-fluids",
    "settings": "putback-settings",
}
"""Tables of the machine's page, each with the directive that shows the same one on a page of prose."""


def shown_elsewhere(guide: Guide) -> frozenset[str]:
    """Return the tables that a page of the book shows; the machine's page does not print them a second time."""
    there = placed(guide)
    return frozenset(ident for ident, directive in SHOWN_BY.items() if directive in there)


def note_shown(env: BuildEnvironment, guide: Guide) -> None:
    """Note that the current page is to be read again when another page comes to show one of the tables."""
    env.metadata[env.docname][_SHOWN] = (guide.root, _places(placed(guide)))


def moved(app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]) -> list[str]:
    """Return the pages of which a table now stands on another page than when they were read."""
    del app, added, changed, removed
    now: dict[Path, frozenset[tuple[str, str]]] = {}
    found = []
    for page, about in env.metadata.items():
        root, before = about.get(_SHOWN, (None, None))
        if isinstance(root, Path) and page in env.found_docs:
            if root not in now:
                now[root] = _places(placed_on(_pages_below(root)))
            found += [page] if now[root] != before else []
    return found


_SHOWN = "putback_shown"
"""Where a page's metadata say which pages show the tables."""


def _places(there: Mapping[str, str]) -> frozenset[tuple[str, str]]:
    return frozenset((name, page) for name, page in there.items() if name in SHOWN_BY.values())


def _pages_below(root: Path) -> dict[str, str]:
    """Return the texts of a guide's pages, by their paths in it."""
    paths = [Path(name) for name, _, _ in stamp_of(root) if name.endswith(".md")]
    return {path.relative_to(root).as_posix(): _text(path) for path in paths if path.is_relative_to(root)}


def _text(path: Path) -> str:
    try:
        return take(path, LARGEST_PAGE).decode("utf-8", errors="replace")
    except NotReadError:
        return ""


def is_the_place(env: BuildEnvironment, guide: Guide, directive: str) -> bool:
    """Tell whether what a directive shows on the current page is where references to things lead."""
    page = placed(guide).get(directive) if directive in SHOWN_BY.values() else None
    folder = guide_folder(env.docname)
    return page is not None and env.docname == (f"{folder}/{page}" if folder else page)


def note_things(
    env: BuildEnvironment, found: nodes.Element, machine: Machine, words: Language
) -> Iterator[tuple[str, str]]:
    """Note all things that a page, or a table on it, describes; yield the title and the anchor of each."""
    domain = cast("PutbackDomain", env.get_domain("putback"))
    for node in found.findall(nodes.paragraph):
        key = node.attributes.pop("putback_thing", None)
        if key is not None:
            thing, anchor = machine.things[key], node["ids"][0]
            title = words.title_of(thing)
            domain.note("thing", key, anchor, title, numbered(title, [thing]), f"{thing.name[:1]}{title[1:]}")
            yield title, anchor


def see_elsewhere(firsts: Mapping[str, str], words: Language) -> nodes.paragraph:
    """Return where the tables are that stand on other pages, by their titles: each with the name of its first thing."""
    line = paragraph(f"{words.labels.reference.elsewhere} ")
    for at, (title, key) in enumerate(firsts.items()):
        line += [nodes.Text(", ")] if at else []
        line += link("at", key, title) if key else nodes.Text(title)
    line += nodes.Text(".")
    return line
