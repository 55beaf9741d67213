"""References in texts, printed: the number of a step, the title of a job, a limit, and where each leads.

The form that an author wrote stands in the words of a page until the page is made; then each is put in its place, on
this page and in what the search finds.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from docutils import nodes

from putback.guide.named import Named
from putback.ledger.opened import Opened
from putback.model.job import Block, Sequence
from putback.prose.references import Reference, references
from putback.sheet import JobSheet, SheetStep, sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import link
from putback.words import Language

_BEGINS = re.compile(r"(?:^|[.!?:]\s)$")


class Pointed(NamedTuple):
    """What stands on the page for a reference."""

    words: str
    """Its words."""
    kind: str = ""
    """What it leads to, as the domain calls it; nothing for plain words."""
    target: str = ""
    """The name of that."""


class Pointers:
    """Finds what the texts of one page refer to: of a job, or of a page that lies in none."""

    def __init__(
        self, opened: Opened, words: Language, job: Sequence | None = None, sheet: JobSheet | None = None
    ) -> None:
        self.opened = opened
        self.words = words
        self.job = job
        self.named = Named(opened.guide, opened.nesting)
        self._lines: dict[str, list[SheetStep]] = {}
        if job is not None and sheet is not None:
            self._lines[job.path] = list(sheet.walk())

    def put_in(self, page: nodes.Element) -> None:
        """Put what is meant in the place of each reference on a page."""
        number = ""
        for node in list(page.findall()):
            if isinstance(node, own.step):
                number = node["number"]
            elif isinstance(node, nodes.Text) and "{" in node and not isinstance(node.parent, nodes.title):
                pieces = list(self.pieces(node.astext(), number))
                if any(isinstance(piece, nodes.Element) for piece in pieces) or len(pieces) > 1:
                    node.parent.replace(node, pieces)

    def pieces(self, text: str, number: str) -> Iterator[nodes.Node]:
        """Yield the words of a text, and a link for each reference in it."""
        end = 0
        for reference in references(text):
            pointed = self.found(reference, number)
            if pointed is None:
                continue
            if reference.start > end:
                yield nodes.Text(text[end : reference.start])
            words = _as_begun(text, reference, pointed.words)
            yield link(pointed.kind, pointed.target, words) if pointed.kind else nodes.Text(words)
            end = reference.end
        if end < len(text):
            yield nodes.Text(text[end:])

    def in_words(self, text: str, number: str = "") -> str:
        """Return a text with the words of what it refers to."""
        for reference in reversed([*references(text)]):
            pointed = self.found(reference, number)
            if pointed is not None:
                text = text[: reference.start] + _as_begun(text, reference, pointed.words) + text[reference.end :]
        return text

    def found(self, reference: Reference, number: str = "") -> Pointed | None:
        """Return what a reference is printed as; `number` is the step that it stands at. None for an unknown name."""
        jobs, name = self.opened.guide.jobs, reference.name
        if reference.kind == "job":
            if name not in jobs:
                return None
            here = self.job is not None and jobs[name].path == self.job.path
            # A link to the page that one reads, with its number, would send them looking for another.
            return Pointed(self.words.job_named(jobs[name].title), "" if here else "job", name)
        if reference.kind == "limit":
            limit = self.named.limit(name, self.job)
            return Pointed(self.words.limit(limit)) if limit is not None else None
        job: Sequence | None = jobs.get(reference.of) if reference.of else self.job
        if job is None and not reference.of:
            job = jobs.get(self.named.in_one_job(reference.kind).get(name, ""))
        return self._at_step(reference, job, number) if job is not None else None

    def _at_step(self, reference: Reference, job: Sequence, number: str) -> Pointed | None:
        title = "" if self.job is not None and job.path == self.job.path else job.title
        said = self.words.step_named if reference.kind == "step" else self.words.figure_named
        line = self._line(job, reference, "" if title else number)
        if line is not None:
            return Pointed(said(line.number, title), "step", step_target(job, line.number))
        # The manual of one kind of machine has no step that is for others.
        return Pointed(said("")) if reference.name in self.named.known(reference.kind, None, job) else None

    def _line(self, job: Sequence, reference: Reference, number: str) -> SheetStep | None:
        """Return the step of that name, or that shows that picture; where a block is done twice, the nearer one."""
        if job.path not in self._lines:
            sheet = sheet_of(job, self.opened)
            self._lines[job.path] = list(sheet.walk()) if sheet else []
        lines = self._lines[job.path]
        here = next((place for place, line in enumerate(lines) if number and line.number == number), 0)
        found = [(abs(place - here), place) for place, line in enumerate(lines) if _is_meant(line, reference)]
        return lines[min(found)[1]] if found else None


def pointed(found: Iterable[nodes.Node], opened: Opened, words: Language) -> list[nodes.Node]:
    """Return nodes for a page that is no job's, with what is meant in the place of each reference."""
    page = nodes.Element("", *found)
    Pointers(opened, words).put_in(page)
    return list(page.children)


def step_target(sequence: Sequence, number: str) -> str:
    """Return the name by which the domain knows a step of a job, or of a block with a page of its own."""
    return f"{'block ' if isinstance(sequence, Block) else ''}{sequence.key}.{number}"


def _is_meant(line: SheetStep, reference: Reference) -> bool:
    step = line.step
    if not line.number:
        return False
    if reference.kind == "step":
        return step.name is not None and step.name.name == reference.name
    return step.figure is not None and step.figure.image.name == reference.name


def _as_begun(text: str, reference: Reference, words: str) -> str:
    """Return words with a capital where a sentence begins."""
    return words[:1].upper() + words[1:] if _BEGINS.search(text[: reference.start]) else words
