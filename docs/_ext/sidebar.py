"""The sidebar shows the pages of a part of the documentation wherever the reader is: folded, under the part's entry.

The part that the reader is in has its pages there already. The catalogue of checks has too many, and a page of its own.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from docutils import nodes
    from sphinx.application import Sphinx
    from sphinx.util.typing import ExtensionMetadata

FEWEST_PAGES = 4
"""A part of fewer pages has them all on its first."""

MOST_PAGES = 40
"""A part of more pages is not unfolded beside a page."""


def unfold(app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.Node | None) -> None:
    """Have the contents of a page name the pages of the other parts as well."""
    del templatename, doctree
    plain, pathto = context["toctree"], context["pathto"]

    def folded(**options: Any) -> str:
        contents = str(plain(**options))
        for part, pages in app.env.toctree_includes.items():
            if part == app.config.root_doc or not FEWEST_PAGES <= len(pages) <= MOST_PAGES:
                continue
            # Where the part is open, a list follows its link; and the link of a page to itself is `#`.
            link = f'href="{escape(pathto(part))}">{_words(app, part)}</a>'
            contents = contents.replace(f"{link}</li>", f"{link}{_fold(app, pages, pathto)}</li>")
        return contents

    if pagename != "search":
        context["toctree"] = folded


def _fold(app: Sphinx, pages: list[str], pathto: Any) -> str:
    """Return the pages of a part as a list that opens at a touch."""
    links = "".join(
        f'<li class="toctree-l2"><a class="reference internal" href="{escape(pathto(page))}">{_words(app, page)}</a>'
        "</li>"
        for page in pages
    )
    return f'<details class="part"><summary>All {len(pages)} pages</summary><ul>{links}</ul></details>'


def _words(app: Sphinx, page: str) -> str:
    """Return the title of a page as the contents have it."""
    return escape(app.env.titles[page].astext(), quote=False)


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register what unfolds the contents."""
    app.connect("html-page-context", unfold)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
