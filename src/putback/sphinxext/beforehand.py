"""Pages that `putback build` makes, whatever the author wrote: "Before you start" first; tables and the index last."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from docutils import nodes
from sphinx import addnodes

from putback.ledger.opened import Opened
from putback.model.machine import Machine
from putback.prose.placed import placed
from putback.sphinxext.building import section
from putback.sphinxext.machinepage import narrowed
from putback.sphinxext.matter import at_the_back, not_shown
from putback.sphinxext.matter.indexpage import DIRECTIVE, INDEX, index
from putback.sphinxext.outdated import depend_on
from putback.sphinxext.safety import before_you_start
from putback.sphinxext.sources import opened_at
from putback.words import Language, catalogue
from putback.words.labels import Labels

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment


class _Made(NamedTuple):
    """A page that is made."""

    title: Callable[[Labels], str]
    """Its heading."""
    make: Callable[[Opened, Machine | None, Language], list[nodes.Node]]
    """Makes what is below it."""
    is_wanted: Callable[[Opened, Machine | None], bool]
    """Whether a book has it."""
    is_first: bool = False
    """Whether it stands in front of all others."""


INDEX_PAGE = "index-of-things"
"""The name of the page that has the index."""


def has_index(opened: Opened) -> bool:
    """Tell whether a book has an index, on a page of the author or on one that is made."""
    return opened.guide.machine is not None and bool(opened.guide.jobs) and bool(opened.books)


MADE: Mapping[str, _Made] = {
    "before-you-start": _Made(
        lambda labels: labels.safety.before,
        lambda opened, _, words: before_you_start(opened, words, 2),
        lambda opened, machine: True,
        is_first=True,
    ),
    "reference-tables": _Made(
        lambda labels: labels.reference.title,
        lambda opened, machine, words: at_the_back(opened, machine, words) if machine else [],
        lambda opened, machine: machine is not None and any(True for _ in not_shown(opened, machine)),
    ),
    INDEX_PAGE: _Made(
        lambda labels: labels.book.index,
        lambda opened, _, words: index(opened, words, 2),
        lambda opened, _: has_index(opened) and DIRECTIVE not in placed(opened.guide),
    ),
}
"""Every page, by its name, unless the author has one of this name."""


def put_around(app: Sphinx, opened: Opened) -> None:
    """Add the pages to the book of a guide that is about to be made; call before `app.build`."""
    machine = _machine(opened)
    for name, made in MADE.items():
        if made.is_wanted(opened, machine):
            page = _MadePage(name, is_first=made.is_first)
            app.connect("env-get-outdated", page.add)
            # Before Sphinx collects the tables of contents of what it has read.
            app.connect("doctree-read", page.list_it, priority=100)
            app.connect("env-updated", page.forget_place)


def _machine(opened: Opened) -> Machine | None:
    machine = opened.guide.machine
    return narrowed(machine, opened) if machine is not None else None


def _file(env: BuildEnvironment, name: str) -> Path:
    """Return a page's source: an author must not be able to leave it out, so it is not a file of the guide."""
    return Path(env.doctreedir).resolve() / f"{name}.yaml"


def made_page(path: Path, env: BuildEnvironment) -> list[nodes.Node] | None:
    """Return the page of a source file for the guide that the whole project is; None when it is no such page's."""
    made = MADE.get(path.stem)
    if made is None or path != _file(env, path.stem):
        return None
    opened = opened_at(env, Path(env.srcdir))
    depend_on(env, opened.guide, opened.guide.files)
    words = catalogue(opened)
    if path.stem == INDEX_PAGE:
        env.metadata[env.docname][INDEX] = True
    found, title = made.make(opened, _machine(opened), words), made.title(words.labels)
    if len(found) == 1 and isinstance(found[0], nodes.section):
        # A heading with one other below it says nothing that the lower one does not say.
        title, found = found[0].children[0].astext(), found[0].children[1:]
    return [section(title, path.stem, *found)]


class _MadePage:
    def __init__(self, name: str, *, is_first: bool) -> None:
        self.name = self.docname = name
        self.is_first = is_first

    def add(
        self, app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]
    ) -> list[str]:
        """Make the page known to Sphinx, under a name that no page of the author has."""
        del app, added, changed, removed
        while self.docname in env.found_docs:
            self.docname += "-first" if self.is_first else "-last"
        file = _file(env, self.name)
        file.write_text("", encoding="utf-8")
        # Sphinx has no public way to a page whose source lies elsewhere. A path that is absolute stays as it is.
        env.project.docnames.add(self.docname)
        env.project._docname_to_path[self.docname] = file
        return [self.docname]

    def forget_place(self, app: Sphinx, env: BuildEnvironment) -> None:
        """Let the page stand in the search index by its name: where it lay is different each time."""
        del app
        env.project._docname_to_path[self.docname] = Path(f"{self.docname}.yaml")

    def list_it(self, app: Sphinx, document: nodes.document) -> None:
        """Put the page first, or last, in the tables of contents that stand on the book's first page."""
        if app.env.docname != app.config.root_doc:
            return
        tables = list(document.findall(addnodes.toctree))
        if not tables:
            tables = [_contents(app.env.docname)]
            holder: nodes.Element = next(iter(document.findall(nodes.section)), document)
            holder.append(tables[0])
        contents, at = (tables[0], 0) if self.is_first else (tables[-1], len(tables[-1]["entries"]))
        contents["entries"].insert(at, (None, self.docname))
        contents["includefiles"].insert(at and len(contents["includefiles"]), self.docname)


def _contents(docname: str) -> addnodes.toctree:
    """Return an empty table of contents."""
    listed: dict[str, list[object]] = {"entries": [], "includefiles": []}
    shown = {"hidden": True, "maxdepth": 2, "caption": None, "glob": False, "numbered": 0}
    return addnodes.toctree("", parent=docname, includehidden=False, titlesonly=False, **listed, **shown)
