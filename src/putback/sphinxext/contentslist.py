"""The contents beside each page, made once for all pages of a folder: they differ in the entry of the page alone.

Sphinx makes the list anew for each page, which costs, in a book of many jobs, more than the pages themselves. Here the
list of a folder is made as for a page that is in no list, and a page gets it with its own entry opened. Where more than
that could differ, Sphinx makes the list.
"""

from __future__ import annotations

import posixpath
from collections import Counter
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from docutils import nodes
from sphinx import addnodes

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.builders import Builder
    from sphinx.builders.html import StandaloneHTMLBuilder

HOW = {"includehidden": True, "collapse": True, "maxdepth": 2}
"""How the theme asks for the list."""

_NOWHERE = "\N{NO-BREAK SPACE}"
"""A page that is in no list: it has the name of none."""

_OPEN, _CLOSE = '<ul class="current">\n', "</ul>\n"


class _Listed(NamedTuple):
    """Where a page is listed."""

    part: int
    """The number of the list on the first page."""
    entry: tuple[str | None, str]
    """The title that it has there, if any, and its name."""


class ContentsList:
    """The lists of one building of a book."""

    def __init__(self) -> None:
        """Begin with none."""
        self.forget()

    def forget(self) -> None:
        """Forget what another building made."""
        self.lists: list[addnodes.toctree] | None = None
        self.listed: dict[str, _Listed] = {}
        self.made: dict[str, list[str]] = {}

    def of(self, builder: StandaloneHTMLBuilder, page: str) -> str | None:
        """Return the list of a page as HTML; None when Sphinx has to make it."""
        if self.lists is None:
            self.lists = list(builder.env.master_doctree.findall(addnodes.toctree))
            self.listed = self._read(builder, self.lists)
        where = self.listed.get(page)
        if where is None:
            return None
        folder = posixpath.dirname(page)
        if folder not in self.made:
            nowhere = posixpath.join(folder, _NOWHERE)
            self.made[folder] = [_shown(builder, nowhere, each) for each in self.lists]
        parts = self.made[folder]
        opened = self._opened(builder, page, parts[where.part], where)
        return None if opened is None else "".join([*parts[: where.part], opened, *parts[where.part + 1 :]])

    @staticmethod
    def _read(builder: StandaloneHTMLBuilder, lists: list[addnodes.toctree]) -> dict[str, _Listed]:
        """Return the pages that the first page alone lists, once, and that have one heading at their top."""
        env = builder.env
        times = Counter(name for names in env.toctree_includes.values() for name in names)
        entries = [(number, entry) for number, each in enumerate(lists) for entry in each["entries"]]
        here = Counter(name for _, (_, name) in entries)
        return {
            entry[1]: _Listed(number, entry)
            for number, entry in entries
            if times[entry[1]] == here[entry[1]] == 1 and entry[1] in env.tocs and len(env.tocs[entry[1]].children) == 1
        }

    def _opened(self, builder: StandaloneHTMLBuilder, page: str, part: str, where: _Listed) -> str | None:
        """Return a list with the entry of a page opened; None where it is not as it should be."""
        assert self.lists is not None
        alone = self.lists[where.part].copy()
        alone["entries"] = [where.entry]
        alone.attributes.pop("caption", None)
        own = _shown(builder, page, alone)
        nowhere = posixpath.join(posixpath.dirname(page), _NOWHERE)
        address = escape(builder.get_relative_uri(nowhere, page))
        start = part.find(f'<li class="toctree-l1"><a class="reference internal" href="{address}">')
        end = part.find("\n", start) + 1
        whole = own.startswith(_OPEN) and own.endswith(_CLOSE) and part.count("<ul>\n") == 1
        if start < 0 or not whole or not part[start:end].endswith("</a></li>\n"):
            return None
        before = part[:start].replace("<ul>\n", _OPEN)
        return f"{before}{own.removeprefix(_OPEN).removesuffix(_CLOSE)}{part[end:]}"


def _shown(builder: StandaloneHTMLBuilder, page: str, toctree: addnodes.toctree) -> str:
    """Return a list of the first page as it stands beside a page."""
    found = builder.env.resolve_toctree(page, builder, toctree, **HOW)  # type: ignore[arg-type]
    return "" if found is None else builder.render_partial(found)["fragment"]


def setup_contents(app: Sphinx) -> None:
    """Let our theme have its lists from here."""
    contents = ContentsList()

    def begin(app: Sphinx, builder: Builder) -> None:
        contents.forget()

    def offer(
        app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
    ) -> None:
        sphinx: Callable[..., str] | None = context.get("toctree")
        if app.builder.name != "html" or sphinx is None:
            return

        def toctree(**how: Any) -> str:
            made = contents.of(cast("StandaloneHTMLBuilder", app.builder), pagename) if how == HOW else None
            return sphinx(**how) if made is None else made

        context["toctree"] = toctree

    app.connect("write-started", begin)
    app.connect("html-page-context", offer)
