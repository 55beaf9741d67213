"""`putback build`: Sphinx with a ready configuration, run so that there is a whole manual or the old one."""

from __future__ import annotations

import errno
import io
import os
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from sphinx.application import Sphinx
from sphinx.errors import SphinxError
from sphinx.locale import translators
from sphinx.util.docutils import docutils_namespace, patch_docutils

from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.placing.lock import BusyError, claim
from putback.placing.scratch import leftovers, open_scratch, remove
from putback.placing.switch import NEW, KeptError, finish, is_open, switch
from putback.sphinxext.beforehand import has_index, put_around
from putback.sphinxext.bench.alone import ONE_JOB, of_one_job
from putback.sphinxext.closed.told import PageError
from putback.sphinxext.marks import mark_html, remember
from putback.sphinxext.naming import HTML, folder_name, pdf_name, to_open
from putback.sphinxext.settled import settings
from putback.sphinxext.sources import pages_of, pages_proved
from putback.sphinxext.targets import TargetError, check_targets, kept, resolved, target_for
from putback.sphinxext.unchanged import Basis
from putback.sphinxext.walking import walking_fast
from putback.sphinxext.wholeness import no_file_lost

FORMS = ("html", "pdf")
"""What a manual can be made as."""

_BUILDERS = {"html": "html", "pdf": "typstpdf"}


class BuildError(Exception):
    """The manual could not be made; the message says why."""


class PagesError(BuildError):
    """Prose pages do what they may not; as a draft, the manual can be made without that."""


@dataclass(slots=True)
class Built:
    """A manual that was made."""

    files: list[Path] = field(default_factory=list)
    """What to open: the HTML's first page, the PDF."""
    warnings: list[str] = field(default_factory=list)
    """What Sphinx had to say, a line each."""


def check_place(opened: Opened, out: Path, forms: Sequence[str], paper: str, jobs: Sequence[str] = ()) -> None:
    """Raise `BuildError` when the manual of a guide cannot be put into a folder; nothing is made or changed."""
    try:
        check_targets([target_for(opened.guide, opened.only, forms, out, paper, jobs)])
    except TargetError as error:
        raise BuildError(str(error)) from None


def build_manual(
    opened: Opened,
    forms: Sequence[str],
    out: Path,
    *,
    paper: str = "a4",
    draft: bool = False,
    jobs: Sequence[str] = (),
    basis: Basis | None = None,
    waiting: Callable[[], None] = lambda: None,
) -> Built:
    """Make the manual of an opened guide in `out`: `html/index.html`, and `NAME-PAPER.pdf`.

    With `jobs`, the PDF is a sheet for each of them alone: `NAME-JOB-PAPER.pdf`. With a `basis`, each has a note of it.
    All forms are made in a folder beside, and take their places together when all are whole. What a killed build left
    after is finished or cleared away first. `waiting` is called when another build is at work there. Raises
    `BuildError`; then all is as it was.
    """
    guide = opened.guide
    if not jobs and not (guide.root / "index.md").is_file():
        raise BuildError(f"{guide.shown} has no index.md; it is the first page, and lists the others in a toctree")
    names = target_for(guide, opened.only, forms, out, paper, jobs).names
    check_place(opened, out, forms, paper, jobs)
    place, what, scratch = resolved(out), _Paper(paper, draft, jobs, basis), None
    try:
        with claim(place, waiting) as alone:
            if alone:
                _clear(place)
            check_place(opened, out, forms, paper, jobs)
            scratch = open_scratch(place)
            warnings = _make_and_place(opened, forms, scratch, what, names, place)
    except BusyError:
        raise BuildError(f"another build is running in '{shown_path(out)}'; try again when it is done") from None
    except KeptError as error:
        raise BuildError(str(error)) from None
    except OSError as error:
        raise BuildError(_disk_fault(error, guide, out, scratch)) from error
    return Built([to_open(out, name) for name in names], list(dict.fromkeys(warnings)))


def _clear(place: Path) -> None:
    """Finish what killed builds had begun to put in place, and remove what they left."""
    for scratch in leftovers(place):
        if is_open(scratch):
            finish(scratch, place, lambda path: kept(path, None))
        remove(scratch)


class _Paper(NamedTuple):
    """What is printed, and on what."""

    size: str
    draft: bool
    jobs: Sequence[str]
    basis: Basis | None = None

    def note(self, made: Path, warnings: Sequence[str], pictures: Collection[str]) -> None:
        """Note of something from what it was made; but what there is a warning of is made again, to warn again."""
        if self.basis is not None and not self.draft and not warnings and self.basis.is_steady(pictures):
            self.basis.note(made)


def _make_and_place(
    opened: Opened, forms: Sequence[str], scratch: Path, paper: _Paper, names: Sequence[str], place: Path
) -> list[str]:
    """Make all forms and put them in place, when all are whole; return the warnings."""
    try:
        warnings = _make(opened, forms, scratch, paper)
        switch(scratch, names, place, lambda path: kept(path, opened.guide, place / path.name))
    finally:
        if not is_open(scratch):
            remove(scratch)
    return warnings


def _make(opened: Opened, forms: Sequence[str], scratch: Path, paper: _Paper) -> list[str]:
    """Make all forms in `scratch/new`, under the names that they will have; return the warnings."""
    guide, new, work = opened.guide, scratch / NEW, scratch / "work"
    new.mkdir()
    warnings: list[str] = []
    for form, job in ((form, job) for form in dict.fromkeys(forms) for job in (paper.jobs or [""])):
        made = new / HTML if form == "html" else work / form
        alone = ((work / job) if job else work) / "doctrees"
        settled = settings(opened, paper.size, draft=paper.draft)
        # Sphinx's own index has only the names of things and jobs.
        settled |= {"html_use_index": not has_index(opened)} | (of_one_job(opened, job, paper.size) if job else {})
        told, pictures = _run_sphinx(opened, _BUILDERS[form], made, alone, settled)
        warnings += told
        if form == "html":
            mark_html(made, guide, scratch.parent)
            paper.note(made, told, pictures)
        else:
            name = f"{pdf_name(folder_name(guide), opened.only, paper.size, job)}.pdf"
            if not (made / name).is_file():
                raise BuildError("\n".join(["the PDF could not be made", *warnings[-5:]]))
            (made / name).rename(new / name)
            remember(new / name, guide, scratch.parent)
            paper.note(new / name, told, pictures)
    return warnings


def _disk_fault(error: OSError, guide: Guide, out: Path, scratch: Path | None) -> str:
    reason = (error.strerror or type(error).__name__).lower()
    name = Path(error.filename) if isinstance(error.filename, str) else None
    if name and scratch and name.is_relative_to(scratch / NEW):
        out = out / name.relative_to(scratch / NEW)
    elif name and name.is_relative_to(guide.root) and not (scratch and name.is_relative_to(scratch)):
        return f"'{shown_path(name)}' cannot be read: {reason}"
    if error.errno == errno.EXDEV:
        # A folder of a lower layer of a layered disk, as in a container.
        return f"this disk cannot rename what is in '{shown_path(out)}'; remove the old manual there, and build again"
    return f"'{shown_path(out)}' cannot be written: {reason}"


def _run_sphinx(
    opened: Opened, builder: str, out: Path, doctrees: Path, settled: dict[str, Any]
) -> tuple[list[str], set[str]]:
    """Make one form; return the warnings, and the pictures that are in it, by their paths in the guide."""
    guide, warnings = opened.guide, io.StringIO()
    meanwhile = f"the manual could not be made: {guide.shown} was changed meanwhile; build it again"
    proved = set() if settled.get(ONE_JOB) else pages_proved(guide)
    # Sphinx keeps the words of the language before, and an English guide after a German one would have an "Abb. 1".
    translators.clear()
    try:
        with patch_docutils(), docutils_namespace(), walking_fast(), _own_environment(), pages_of(opened):
            app = Sphinx(
                srcdir=guide.root,
                confdir=None,
                outdir=out,
                doctreedir=doctrees,
                buildername=builder,
                confoverrides=settled,
                status=None,
                warning=warnings,
                freshenv=False,
                parallel=1,
            )
            if not settled.get(ONE_JOB):
                put_around(app, opened)
            with no_file_lost(out):
                app.build(force_all=True)
    except PageError as error:
        raise PagesError(f"the manual could not be made:{error}") from error
    except SphinxError as error:
        raise BuildError(f"the manual could not be made: {error}") from error
    except UnicodeDecodeError:
        # All pages were text when they were looked at.
        raise BuildError(meanwhile) from None
    except RecursionError:
        raise BuildError(f"the manual could not be made: a page of {guide.shown} is nested too deeply") from None
    if not proved <= app.env.found_docs:
        raise BuildError(meanwhile)
    return [_mapped(line) for line in warnings.getvalue().splitlines() if line.strip()], {*app.env.images}


@contextmanager
def _own_environment() -> Iterator[None]:
    """Without colour, and without a date for reproducible builds that is none: Sphinx would fall over it."""
    before = {name: os.environ.get(name) for name in ("NO_COLOR", _DATE)}
    os.environ["NO_COLOR"] = "1"
    given = before[_DATE]
    if given is not None and not (given.isascii() and given.isdigit() and int(given[:20]) <= _LAST):
        del os.environ[_DATE]
    try:
        yield
    finally:
        for name, value in before.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value


_DATE = "SOURCE_DATE_EPOCH"
_LAST = 253_402_300_799
"""The end of the year 9999, in seconds."""

_ESCAPES = re.compile(r"\x1b\[[0-9;]*m")


def _mapped(line: str) -> str:
    """Return a warning with the path as the user would write it, and no colour."""
    words = _ESCAPES.sub("", line)
    try:
        return words.removeprefix(f"{Path.cwd()}{os.sep}")
    except OSError:  # the current folder is gone
        return words
