"""The page "Before you start", which `putback build` puts in front of all others, whatever the author wrote."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext.building import section
from putback.sphinxext.outdated import depend_on
from putback.sphinxext.safety import before_you_start
from putback.sphinxext.sources import opened_at
from putback.words import catalogue

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment

NAME = "before-you-start"
"""The page, unless the author has one of this name."""


def put_in_front(app: Sphinx) -> None:
    """Add the page to the book of a guide that is about to be made; call before `app.build`."""
    page = _FrontPage()
    app.connect("env-get-outdated", page.add)
    # Before Sphinx collects the tables of contents of what it has read.
    app.connect("doctree-read", page.list_first, priority=100)
    app.connect("env-updated", page.forget_place)


def _file(env: BuildEnvironment) -> Path:
    """Return the page's source: an author must not be able to leave it out, so it is not a file of the guide."""
    return Path(env.doctreedir).resolve() / f"{NAME}.yaml"


def is_beforehand(path: Path, env: BuildEnvironment) -> bool:
    """Tell whether a source file is that page's."""
    return path == _file(env)


def beforehand(env: BuildEnvironment) -> list[nodes.Node]:
    """Return the page for the guide that the whole project is."""
    opened = opened_at(env, Path(env.srcdir))
    depend_on(env, opened.guide, opened.guide.files)
    words = catalogue(opened)
    return [section(words.labels.safety.before, NAME, *before_you_start(opened, words, 2))]


class _FrontPage:
    def __init__(self) -> None:
        self.docname = NAME

    def add(
        self, app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]
    ) -> list[str]:
        """Make the page known to Sphinx, under a name that no page of the author has."""
        del app, added, changed, removed
        while self.docname in env.found_docs:
            self.docname += "-first"
        file = _file(env)
        file.write_text("", encoding="utf-8")
        # Sphinx has no public way to a page whose source lies elsewhere. A path that is absolute stays as it is.
        env.project.docnames.add(self.docname)
        env.project._docname_to_path[self.docname] = file
        return [self.docname]

    def forget_place(self, app: Sphinx, env: BuildEnvironment) -> None:
        """Let the page stand in the search index by its name: where it lay is different each time."""
        del app
        env.project._docname_to_path[self.docname] = Path(f"{self.docname}.yaml")

    def list_first(self, app: Sphinx, document: nodes.document) -> None:
        """Put the page first in the table of contents that stands on the book's first page."""
        if app.env.docname != app.config.root_doc:
            return
        contents = next(iter(document.findall(addnodes.toctree)), None)
        if contents is None:
            contents = addnodes.toctree(
                parent=app.env.docname, entries=[], includefiles=[], hidden=True, maxdepth=2, caption=None, glob=False,
                numbered=0, includehidden=False, titlesonly=False,
            )  # fmt: skip
            holder: nodes.Element = next(iter(document.findall(nodes.section)), document)
            holder.append(contents)
        contents["entries"].insert(0, (None, self.docname))
        contents["includefiles"].insert(0, self.docname)
