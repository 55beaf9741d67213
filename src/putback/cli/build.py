"""`putback build`: make the manual."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from putback.source.grammar import listed

if TYPE_CHECKING:
    from putback.guide.record import Guide
    from putback.ledger.opened import Opened
    from putback.lint.cache import Cache
    from putback.lint.run import Asked
    from putback.sphinxext.manual import Built
    from putback.sphinxext.unchanged import Basis


@click.command("build")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path))
@click.option("--to", "forms", metavar="html,pdf", help="Forms to make.  [default: html,pdf; with --job: pdf]")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="Paper size of the PDF.",
)
@click.option("--sided", is_flag=True, help="PDF for printing on both sides: each job begins on a right-hand page.")
@click.option(
    "--large-print", "large", is_flag=True, help="PDF in large print: no word of the text smaller than 16 point."
)
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the manual.  [default: build/GUIDE]"
)
@click.option(
    "--language", metavar="TAG", help="Language to print in, such as de or en-US.  [default: that of the guide]"
)
@click.option(
    "--strict", is_flag=True, help="Exit with 1 after any finding or warning, such as a job that no page lists."
)
@click.option("--draft", is_flag=True, help="Print in spite of errors; every page is marked as not checked.")
@click.option(
    "--job", "jobs", metavar="NAME", multiple=True, help="Print only the sheet of this job, for the bench, as a PDF."
)
@click.option(
    "--variant", "choices", metavar="OPTION=VALUE", multiple=True, help="Print only variants with this choice."
)
@click.option("--no-cache", is_flag=True, help="Check and make everything anew, and keep no results.")
def command(
    paths: tuple[Path, ...],
    forms: str | None,
    paper: str,
    sided: bool,
    large: bool,
    out: Path | None,
    draft: bool,
    jobs: tuple[str, ...],
    choices: tuple[str, ...],
    language: str | None,
    strict: bool,
    no_cache: bool,
) -> None:
    """Make the manual of every guide in PATH, or in the current folder.

    With --job, make a PDF of one job instead: all that the bench needs of it, and a sheet to lay its parts on.

    A guide with errors is not printed, because somebody would work from it. Only files that Putback made for the same
    guide are replaced.
    """
    wanted = _forms(forms, jobs)

    from putback.cli.tongue import parse_language
    from putback.lint.cache import Cache
    from putback.lint.place import place_of_results
    from putback.sphinxext.naming import paper_name

    kept = Cache(None if no_cache else place_of_results())
    size = paper_name(paper.lower(), sided=sided, large=large)
    wish = _Wish(wanted, size, draft, kept, parse_language(language), jobs)
    worst = _all(_asked(paths, choices, jobs), out, wish, strict=strict)
    if kept.trouble:
        click.echo(f"note: {kept.trouble}", err=True)
    if worst:
        raise click.exceptions.Exit(worst)


def _all(guides: Sequence[Asked], out: Path | None, wish: _Wish, *, strict: bool) -> int:
    """Make the manuals of some guides; return the exit code."""
    from putback.translation.printed import printed_in

    printed = [asked._replace(guide=printed_in(asked.guide, wish.language)) for asked in guides]
    places = _places(printed, out, wish)
    return max(
        _one(asked, told, places[asked.guide.root], wish, strict=strict)
        for asked, told in zip(guides, printed, strict=True)
    )


def _asked(paths: Sequence[Path], choices: tuple[str, ...], jobs: Sequence[str]) -> list[Asked]:
    """Return the guides that were asked for. Raises `click.UsageError` for paths, variants and jobs that are none."""
    from putback.cli.choice import parse_choice
    from putback.lint.opening import open_witnessed
    from putback.lint.run import NoGuideError, NoVariantError

    try:
        return _with_jobs(open_witnessed(paths or (Path(),), parse_choice(choices)), jobs)
    except (NoGuideError, NoVariantError) as error:
        raise click.UsageError(str(error)) from None
    except PermissionError as error:
        raise click.UsageError(f"'{error.filename}' cannot be read: permission denied") from None


def _forms(asked: str | None, jobs: Sequence[str]) -> list[str]:
    """Return the forms to make. Raises `click.UsageError` for others, and for HTML of the sheet of a job."""
    if asked is None:
        return ["pdf"] if jobs else ["html", "pdf"]
    wanted = [form.strip().lower() for form in asked.split(",") if form.strip()]
    if not wanted or any(form not in ("html", "pdf") for form in wanted):
        raise click.UsageError(f"--to takes html, pdf, or both with a comma, not '{asked}'")
    if jobs and "html" in wanted:
        raise click.UsageError("--job makes a PDF: in HTML, each job has a page of its own; leave html out of --to")
    return wanted


def _with_jobs(guides: list[Asked], jobs: Sequence[str]) -> list[Asked]:
    """Return the guides that have one of some jobs; all of them when none is named.

    Raises `click.UsageError` for a job that none of them has.
    """
    from putback.source.nearest import nearest
    from putback.source.plainly import printable

    known = {name for asked in guides for name in _named_in(asked.guide)}
    for job in jobs:
        if job not in known:
            where = guides[0].guide.shown if len(guides) == 1 else "these guides"
            near = nearest(job, sorted(known))
            hint = f"; did you mean '{near}'?" if near else f"; there are {listed(sorted(known))}" if known else ""
            raise click.UsageError(printable(f"there is no job '{job}' in {where}{hint}"))
    return [asked for asked in guides if not jobs or any(job in _named_in(asked.guide) for job in jobs)]


def _named_in(guide: Guide) -> tuple[str, ...]:
    """Return the names of the jobs of a guide, with those whose file cannot be read: its faults are then told."""
    return (*guide.jobs, *guide.lost_jobs)


class _Wish(NamedTuple):
    """How manuals are to be made."""

    forms: list[str]
    paper: str
    draft: bool
    cache: Cache
    language: str | None = None
    jobs: Sequence[str] = ()

    def jobs_of(self, guide: Guide) -> list[str]:
        """Return the jobs of a guide whose sheets are wanted, each once."""
        return [job for job in dict.fromkeys(self.jobs) if job in _named_in(guide)]

    def names_of(self, printed: Asked, place: Path, form: str) -> tuple[str, ...]:
        """Return what is put into the folder of a guide's manual in a form."""
        from putback.sphinxext.targets import target_for

        return target_for(printed.guide, printed.only, [form], place, self.paper, self.jobs_of(printed.guide)).names

    def basis_of(self, asked: Asked, place: Path) -> Basis | None:
        """Return what the manual of a guide is made from; None when nothing is kept, or there is no telling."""
        if not self.cache.is_on:
            return None
        from putback.sphinxext.unchanged import basis_of

        jobs = self.jobs_of(asked.guide)
        return basis_of(asked.guide, asked.only, place, self.paper, self.language, jobs)

    def changed(self, printed: Asked, place: Path, basis: Basis | None) -> list[str]:
        """Return the forms that would not be made again as they stand."""
        if basis is None:
            return self.forms
        return [form for form in self.forms if not basis.stands(place, self.names_of(printed, place, form))]


def _places(guides: Sequence[Asked], out: Path | None, wish: _Wish) -> dict[Path, Path]:
    """Return the folder of each guide's manual; a usable one, or the command ends."""
    from putback.sphinxext.naming import folder_name
    from putback.sphinxext.targets import TargetError, check_targets, target_for

    alone = out if len(guides) == 1 else None
    places = {guide.root: alone or (out or Path("build")) / (folder_name(guide) or "guide") for guide, _, _ in guides}
    try:
        # Before anything is made: a fault of the last guide must not come when the others have been printed.
        check_targets(
            [
                target_for(guide, only, wish.forms, places[guide.root], wish.paper, wish.jobs_of(guide))
                for guide, only, _ in guides
            ]
        )
    except TargetError as error:
        raise click.ClickException(str(error)) from None
    return places


def _one(asked: Asked, printed: Asked, place: Path, wish: _Wish, *, strict: bool) -> int:
    """Check one guide, and print it as it is in a language; return the exit code."""
    from putback.cli.paint import painter
    from putback.cli.tongue import tell_untranslated
    from putback.ledger.opened import open_guide
    from putback.lint.opening import result_for
    from putback.lint.report import text
    from putback.source.plainly import printable
    from putback.translation.printed import as_checked

    # Before anything else is looked up in the files: what was read until here is the same each time.
    basis = wish.basis_of(asked, place)
    guide = as_checked(asked.guide, printed.guide)
    opened = cache(partial(open_guide, guide, asked.only))
    looked_at = None if guide.catalogues == asked.guide.catalogues else guide.catalogues
    result = result_for(guide, asked.only, opened, wish.cache, looked_at)
    if result.findings or result.exit_code:
        click.echo(text.write(result, painter()), err=True)
    # What cannot be read at all would hold Sphinx up: a pipe that nobody writes to.
    stuck = any(fault.check == "unread-file" and fault.span.path in guide.unread for fault in guide.faults)
    stuck = stuck or result.boundless or guide.machine is None or guide.cover is None
    stuck = stuck or any(job in guide.lost_jobs for job in wish.jobs)
    if result.exit_code and (not wish.draft or stuck):
        how = ", not even as a draft: fix these first" if wish.draft else ": fix the errors first, or see `--draft`"
        click.echo(f"\n{printable(guide.shown)} is not printed{how}", err=True)
        return result.exit_code
    tell_untranslated(printed.guide)
    wanted = wish.forms if result.exit_code else wish.changed(printed, place, basis)
    warnings: list[str] = []
    if wanted:
        again = printed.guide is not asked.guide
        told = _as_proved(opened(), open_guide(printed.guide, asked.only)) if again else opened()
        warnings = _built(told, place, wish._replace(forms=wanted), basis, faulty=bool(result.exit_code)).warnings
    for warning in warnings:
        click.echo(printable(warning), err=True)
    _tell_made(printed, place, wish, wanted)
    return int(strict and bool(warnings or result.findings))


def _tell_made(printed: Asked, place: Path, wish: _Wish, made: Sequence[str]) -> None:
    """Say where the manual is, and what of it was made."""
    from putback.guide.paths import shown_path
    from putback.source.plainly import printable
    from putback.sphinxext.naming import to_open

    for form in dict.fromkeys(wish.forms):
        for name in wish.names_of(printed, place, form):
            click.echo(f"{'made' if form in made else 'unchanged:'} {printable(shown_path(to_open(place, name)))}")


def _as_proved(proved: Opened, printed: Opened) -> Opened:
    """Return a guide in another language. Raises `RuntimeError` when it does not have the ledger that was proved."""
    from putback.ledger.retold import changed_by_words

    if path := changed_by_words(proved, printed):
        raise RuntimeError(f"{path} is not the same in every language")
    return printed


def _built(opened: Opened, place: Path, wish: _Wish, basis: Basis | None, *, faulty: bool) -> Built:
    """Make the manual, as a draft where it was asked for and something is wrong."""
    from putback.cli.paint import progress
    from putback.guide.paths import shown_path
    from putback.sphinxext.manual import BuildError, PagesError, build_manual

    busy = f"another build is running in '{shown_path(place)}'; waiting for it"
    waiting = partial(click.echo, busy, err=True)
    jobs = wish.jobs_of(opened.guide)
    make = partial(build_manual, opened, wish.forms, place, paper=wish.paper, jobs=jobs, basis=basis, waiting=waiting)
    what = f"the sheet of {listed(jobs)}" if jobs else "the manual"
    try:
        with progress(f"making {what} of {opened.guide.shown}"):
            try:
                return make(draft=wish.draft and faulty)
            except PagesError:
                # What is wrong with prose pages is known only when they are read.
                if not wish.draft:
                    raise
                return make(draft=True)
    except BuildError as error:
        raise click.ClickException(str(error)) from None
