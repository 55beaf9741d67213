"""A job or machine file as a source file of Sphinx."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, cast

from docutils import nodes
from sphinx import addnodes
from sphinx.parsers import Parser
from sphinx.util import logging

from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.sheet import JobSheet, sheet_of
from putback.sheet.scoped import scoped
from putback.source.finding import Finding, Level
from putback.sphinxext.beforehand import made_page
from putback.sphinxext.bench.alone import is_alone
from putback.sphinxext.bench.page import BenchPage
from putback.sphinxext.domain import PutbackDomain
from putback.sphinxext.jobpage import JobPage
from putback.sphinxext.machinepage import machine_page
from putback.sphinxext.matter.stepindex import step_entries
from putback.sphinxext.outdated import depend_on, files_of_every_page, files_of_job
from putback.sphinxext.passes import leave_out
from putback.sphinxext.pointers import step_target
from putback.sphinxext.sources import findings_at, opened_for
from putback.sphinxext.things import note_shown, note_things
from putback.words import catalogue, labels_for
from putback.words.around import NoPageLabels

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment

logger = logging.getLogger(__name__)


class PutbackParser(Parser):
    """Makes a page of a job or machine file. What the checks find in it are warnings at its lines."""

    supported = ("putback",)

    def parse(self, inputstring: str, document: nodes.document) -> None:
        """Fill the document. The text is read again from disk with the whole guide around it."""
        del inputstring
        env = cast("BuildEnvironment", document.settings.env)
        path = Path(env.doc2path(env.docname))
        leave_out(document)
        if (made := made_page(path, env)) is not None:
            document += made
            return
        opened, labels = opened_for(env, env.docname), labels_for(env.config.language).no_page
        if opened is None:
            document += [_sorry(path.stem, env, labels.in_no_guide)]
            return
        guide = opened.guide
        shown = shown_path(path)
        _tell(env, opened, shown)
        own: Mapping[str, Job | Block] = guide.blocks if path.parent.name == "blocks" else guide.jobs
        job = own.get(path.stem)
        files = files_of_every_page(guide) if path.name == "machine.yaml" else files_of_job(guide, job)
        depend_on(env, guide, files)
        guessed = next((name for name in (shown, *files) if name in guide.mended), None)
        if guessed is not None:
            # What was read as it was probably meant is good for finding more faults, and not for working by it.
            document += [_sorry(path.stem, env, _faults(guide, guessed))]
        elif path.name == "machine.yaml":
            document += [_machine(env, opened) or _sorry(path.stem, env, _faults(guide, shown))]
        elif job is None or guide.machine is None:
            document += [_sorry(path.stem, env, _faults(guide, shown))]
        elif (sheet := sheet_of(job, opened)) is None:
            document += [_sorry(path.stem, env, _unwalked(opened, job, labels))]
        else:
            document += _job(env, opened, job, scoped(sheet, catalogue(opened).only_when))
            document["title"] = job.title


def _tell(env: BuildEnvironment, opened: Opened, shown: str) -> None:
    """Tell what the checks found in a file, as warnings at its lines."""
    for finding in findings_at(env, opened.guide.root) if env.config.putback_lint else ():
        if finding.span.path == shown and finding.level is not Level.ADVICE:
            place = (env.docname, finding.span.line)
            logger.warning("%s", finding.message, location=place, type="putback", subtype=finding.check)


def _job(env: BuildEnvironment, opened: Opened, job: Job | Block, sheet: JobSheet) -> list[nodes.Node]:
    made = (BenchPage if is_alone(env.config) else JobPage)(job, sheet, opened, env)
    page = made.doctree()
    domain = _domain(env)
    domain.note("block" if isinstance(job, Block) else "job", job.key, page["ids"][0], job.title)
    for number, anchor, sought in made.found:
        domain.note("step", step_target(job, number), anchor, sought)
    entries = [("single", job.title, page["ids"][0])]
    if isinstance(job, Job) and env.config.html_use_index:
        entries += [
            ("single", *each)
            for each in step_entries(job, sheet, opened, {number: anchor for number, anchor, _ in made.found})
        ]
    return [_index(entries), page]


def _machine(env: BuildEnvironment, opened: Opened) -> nodes.Node | None:
    machine = opened.guide.machine
    if machine is None:
        return None
    page = machine_page(opened, machine)
    note_shown(env, opened.guide)
    noted = list(note_things(env, page, machine, catalogue(opened)))
    entries = [("single", title, anchor) for title, anchor in noted]
    page.insert(1, _index(entries))
    return page


def _index(entries: list[tuple[str, str, str]]) -> addnodes.index:
    return addnodes.index(entries=[(kind, title, anchor, "", None) for kind, title, anchor in entries])


def _domain(env: BuildEnvironment) -> PutbackDomain:
    return cast("PutbackDomain", env.get_domain("putback"))


def _faults(guide: Guide, shown: str) -> str:
    """Return why there is no page: the faults of the file, or else of the machine file."""
    faults: list[Finding] = [fault for fault in guide.faults if fault.span.path == shown]
    faults = faults or [fault for fault in guide.faults if fault.span.path.endswith("machine.yaml")]
    return "; ".join(f"{fault.span.path} line {fault.span.line}: {fault.message}" for fault in faults[:5])


def _unwalked(opened: Opened, job: Job | Block, labels: NoPageLabels) -> str:
    """Return why a job has no page, though its file is sound."""
    if not opened.nesting.can_be_written_out(job):
        return labels.endless
    if not opened.nesting.is_known(job):
        return labels.lost_block
    return labels.too_long if any(long.sequence.path == job.path for long in opened.too_long) else labels.unwalked


def _sorry(title: str, env: BuildEnvironment, fault: str) -> nodes.section:
    """Return a page that says why it is not there; the fault is told in the words of its finding."""
    page = nodes.section(ids=[nodes.make_id(title) or "page"], names=[])
    page += nodes.title(title, title)
    page += nodes.error("", nodes.paragraph("", f"{labels_for(env.config.language).no_page.lead} {fault}"))
    return page
