"""Directives for prose pages: tables of the guide that the page lies in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from docutils import nodes
from sphinx import addnodes
from sphinx.util.docutils import SphinxDirective

from putback.ledger.opened import Opened
from putback.model.machine import Machine
from putback.sheet import sheet_of
from putback.sheet.shopping import shopping_list
from putback.sphinxext import machinepage, upkeep
from putback.sphinxext.domain import PutbackDomain
from putback.sphinxext.matter import MATTER, Matter
from putback.sphinxext.matter.indexpage import INDEX, index
from putback.sphinxext.optionstable import options
from putback.sphinxext.outdated import depend_on
from putback.sphinxext.pointers import Pointers
from putback.sphinxext.safety import before_you_start, caution_panels
from putback.sphinxext.shoppinglist import shopping_tables
from putback.sphinxext.sources import opened_for
from putback.sphinxext.symptomtable import sign_id, signs, symptom_table
from putback.sphinxext.things import is_the_place, note_shown, note_things
from putback.variants import EntangledError
from putback.words import Language, catalogue


class _FromGuide(SphinxDirective):
    """Shows something of the guide that the page lies in."""

    has_content = False

    def run(self) -> list[nodes.Node]:
        """Return the nodes, or an error at the directive's line when there is no guide to show."""
        opened = opened_for(self.env, self.env.docname)
        if opened is None:
            return [self.state.document.reporter.error(f"'{self.name}': this page is not in a guide", line=self.lineno)]
        guide = opened.guide
        depend_on(self.env, guide, guide.files)
        if guide.machine is None:
            return [self.state.document.reporter.error(f"'{self.name}': machine.yaml has errors", line=self.lineno)]
        return self.show(opened, machinepage.narrowed(guide.machine, opened), catalogue(opened))

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        """Return what the directive stands for."""
        raise NotImplementedError

    def level(self) -> int:
        """Return the level of headings below the one that the directive stands under."""
        around = 0
        node: Any = self.state_machine.node
        while node is not None:
            around += isinstance(node, nodes.section)
            node = node.parent
        return max(2, around + 1)


def _table(make: Callable[[Machine, Language, Opened], nodes.table | None]) -> type[_FromGuide]:
    class FactsTable(_FromGuide):
        def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
            result = make(machine, words, opened)
            if result is not None:
                Pointers(opened, words).put_in(result)
            note_shown(self.env, opened.guide)
            if result is not None and is_the_place(self.env, opened.guide, self.name):
                noted = list(note_things(self.env, result, machine, words))
                entries = [("single", title, anchor, "", None) for title, anchor in noted]
                return [addnodes.index(entries=entries), result]
            for name in result.findall(nodes.paragraph) if result is not None else ():
                # Elsewhere, only the machine's page is where a reference to a thing leads.
                name["ids"] = []
                name.attributes.pop("putback_thing", None)
            return [result if result is not None else nodes.paragraph("", words.labels.job.none)]

    return FactsTable


class Jobs(_FromGuide):
    """The table of jobs."""

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine
        return [machinepage.job_table(opened.guide, words)]


class Cautions(_FromGuide):
    """The safety messages of all jobs."""

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine, words
        domain = cast("PutbackDomain", self.env.get_domain("putback"))
        panels = caution_panels(opened)
        for panel in panels:
            if isinstance(panel, nodes.Element) and (key := panel.attributes.pop("putback_caution", None)):
                domain.note("caution", key, panel["ids"][0], opened.guide.library.cautions[key].hazard)
        return panels


def _matter(matter: Matter) -> type[_FromGuide]:
    class OfTheBack(_FromGuide):
        def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
            return matter.make(opened, machine, words)

    return OfTheBack


class Symptoms(_FromGuide):
    """The symptom table."""

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine
        domain = cast("PutbackDomain", self.env.get_domain("putback"))
        for symptom, _ in signs(opened):
            domain.note("symptom", symptom.key, sign_id(symptom), symptom.sign.removesuffix("."))
        return symptom_table(opened, words, self.level())


class IndexOfThings(_FromGuide):
    """The index of parts, fasteners, tools and hazards."""

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine
        self.env.metadata[self.env.docname][INDEX] = True
        return index(opened, words, self.level())


class Card(_FromGuide):
    """A job of checks on one card; the name of the job stands after the directive's own."""

    required_arguments = 1

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine
        job = opened.guide.jobs.get(self.arguments[0])
        sheet = sheet_of(job, opened) if job else None
        if job is None or sheet is None:
            message = f"'{self.name}': this guide has no job '{self.arguments[0]}', or its steps cannot be worked out"
            return [self.state.document.reporter.error(message, line=self.lineno)]
        return upkeep.card(job, sheet, opened, words)


class ShoppingTables(_FromGuide):
    """What to get for some jobs, with boxes to tick; the names of the jobs stand after the directive's own."""

    optional_arguments = 1
    final_argument_whitespace = True

    def show(self, opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
        del machine
        names = self.arguments[0].split() if self.arguments else list(opened.guide.jobs)
        strange = [name for name in names if name not in opened.guide.jobs]
        if strange:
            message = f"'{self.name}': this guide has no job '{strange[0]}'"
            return [self.state.document.reporter.error(message, line=self.lineno)]
        try:
            wanted = shopping_list(opened, names)
        except EntangledError:
            wanted = None
        if wanted is None or wanted.unwalked:
            message = f"'{self.name}': what these jobs need cannot be worked out"
            return [self.state.document.reporter.error(message, line=self.lineno)]
        return list(shopping_tables(wanted, opened, words))


class BeforeYouStart(SphinxDirective):
    """What goes before the guide, when to stop and call a professional, and who can do its jobs."""

    has_content = False

    def run(self) -> list[nodes.Node]:
        """Return the nodes, or an error at the directive's line when the page lies in no guide."""
        opened = opened_for(self.env, self.env.docname)
        if opened is None:
            return [self.state.document.reporter.error(f"'{self.name}': this page is not in a guide", line=self.lineno)]
        depend_on(self.env, opened.guide, opened.guide.files)
        return before_you_start(opened, catalogue(opened), 3)


DIRECTIVES: dict[str, type[SphinxDirective]] = {
    "putback-options": _table(lambda machine, words, _: options(machine, words)),
    "putback-torques": _table(lambda machine, words, _: machinepage.torques(machine, words)),
    "putback-parts": _table(machinepage.parts_to_buy),
    "putback-fluids": _table(lambda machine, words, _: machinepage.fluids(machine, words)),
    "putback-settings": _table(lambda machine, words, _: machinepage.settings(machine, words)),
    "putback-jobs": Jobs,
    "putback-cautions": Cautions,
    "putback-card": Card,
    "putback-supplies": ShoppingTables,
    "putback-symptoms": Symptoms,
    "putback-index": IndexOfThings,
    **{each.directive: _matter(each) for each in MATTER},
    "putback-before-you-start": BeforeYouStart,
}
"""Every directive, by name."""
