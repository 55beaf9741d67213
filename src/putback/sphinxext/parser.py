"""A job or machine file as a source file of Sphinx."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

from docutils import nodes
from sphinx import addnodes
from sphinx.parsers import Parser
from sphinx.util import logging

from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.model.called import title_of
from putback.model.job import Sequence
from putback.model.verbs.blocks import Do, Undo
from putback.source.finding import Finding, Level
from putback.sphinxext.beforehand import beforehand, is_beforehand
from putback.sphinxext.domain import PutbackDomain
from putback.sphinxext.jobpage import JobPage
from putback.sphinxext.machinepage import machine_page, thing_id
from putback.sphinxext.sources import depend_on, findings_for, opened_for

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
        if is_beforehand(path, env):
            document += beforehand(env)
            return
        opened = opened_for(env, env.docname)
        if opened is None:
            document += [_sorry(path.stem, "This file lies in no guide.")]
            return
        guide = opened.guide
        shown = shown_path(path)
        if env.config.putback_lint:
            for finding in findings_for(opened):
                if finding.span.path == shown and finding.level is not Level.ADVICE:
                    logger.warning(
                        "%s",
                        finding.message,
                        location=(env.docname, finding.span.line),
                        type="putback",
                        subtype=finding.check,
                    )
        if path.name == "machine.yaml":
            depend_on(env, _cover_and_library(guide))
            document += [_machine(env, opened) or _sorry("Machine", _faults(guide, shown))]
        else:
            job = guide.jobs.get(path.stem)
            depend_on(env, _files_of(guide, job))
            if job is None or guide.machine is None:
                document += [_sorry(path.stem, _faults(guide, shown))]
                return
            if not opened.nesting.can_be_written_out(job):
                document += [_sorry(path.stem, "This page cannot be shown: a block in it leads into itself.")]
                return
            page = JobPage(job, opened, env).doctree()
            _domain(env).note("job", job.key, page["ids"][0], job.title)
            document += [_index([("single", job.title, page["ids"][0])]), page]
            document["title"] = job.title


def _machine(env: BuildEnvironment, opened: Opened) -> nodes.Node | None:
    machine = opened.guide.machine
    if machine is None:
        return None
    page = machine_page(opened, machine)
    domain = _domain(env)
    entries = []
    for node in page.findall(nodes.paragraph):
        key = node.attributes.pop("putback_thing", None)
        if key is not None:
            title = title_of(machine.things[key])
            domain.note("thing", key, thing_id(key), title)
            entries.append(("single", title, thing_id(key)))
    page.insert(1, _index(entries))
    return page


def _index(entries: list[tuple[str, str, str]]) -> addnodes.index:
    return addnodes.index(entries=[(kind, title, anchor, "", None) for kind, title, anchor in entries])


def _domain(env: BuildEnvironment) -> PutbackDomain:
    return cast("PutbackDomain", env.get_domain("putback"))


def _cover_and_library(guide: Guide) -> list[str]:
    """Return the files that every page depends on: guide.yaml, machine.yaml and the library."""
    return [name for name in guide.files if not ("/jobs/" in f"/{name}" or "/blocks/" in f"/{name}")]


def _files_of(guide: Guide, job: Sequence | None) -> list[str]:
    """Return the files that a job's page depends on: those of every page, and the blocks that it does."""
    files = _cover_and_library(guide)
    if job is None:
        return [*guide.files]
    waiting: list[Sequence] = [job]
    seen: set[str] = set()
    while waiting:
        for step in waiting.pop().steps():
            if isinstance(step.action, Do | Undo):
                for ref in step.things:
                    block = guide.library.blocks.get(ref.name)
                    if block is not None and block.path not in seen:
                        seen.add(block.path)
                        waiting.append(block)
    return [*files, *sorted(seen)]


def _faults(guide: Guide, shown: str) -> str:
    """Return why there is no page: the faults of the file, or else of the machine file."""
    faults: list[Finding] = [fault for fault in guide.faults if fault.span.path == shown]
    faults = faults or [fault for fault in guide.faults if fault.span.path.endswith("machine.yaml")]
    told = "; ".join(f"{fault.span.path} line {fault.span.line}: {fault.message}" for fault in faults[:5])
    return f"This page cannot be shown. {told}"


def _sorry(title: str, words: str) -> nodes.section:
    page = nodes.section(ids=[nodes.make_id(title) or "page"], names=[])
    page += nodes.title(title, title)
    page += nodes.error("", nodes.paragraph("", words))
    return page
