"""Steps in the index that Sphinx makes: below each thing, where a job takes it off, puts it on or tightens it.

`putback build` prints an index of its own, see `indexpage`; other Sphinx projects have only this one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.sheet import JobSheet
from putback.sheet.indexed import indexed_in
from putback.telling import in_order
from putback.words import catalogue

if TYPE_CHECKING:
    from docutils import nodes
    from sphinx.application import Sphinx


def step_entries(job: Job, sheet: JobSheet, opened: Opened, anchors: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the entries of a job's steps, as Sphinx writes them, each with its anchor; `anchors` is by number."""
    words = catalogue(opened)
    labels = words.labels.reference.index
    for entry in indexed_in(job, sheet, opened):
        if isinstance(entry.what, str):
            continue
        name = _plain(words.title_of(entry.what))
        for done in (done for used in entry.jobs for done in used.done):
            label = getattr(labels, done.handling or "step")
            for number in done.steps:
                if number in anchors:
                    yield f"{name}; {_plain(job.title)}: {label} {number}", anchors[number]


def _plain(words: str) -> str:
    """Return words without the sign that parts an entry of Sphinx from what stands below it."""
    return words.replace(";", ",")


def sort_steps(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
) -> None:
    """Put what stands below an entry in order: step 9 before step 10."""
    del templatename, doctree
    if pagename == "genindex":
        for _letter, entries in context.get("genindexentries", ()):
            for _name, (_links, below, _key) in entries:
                below.sort(key=lambda each: in_order(each[0], app.config.language))
