"""`putback supplies`: what to get for some jobs."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from putback.source.plainly import printable

if TYPE_CHECKING:
    from putback.ledger.opened import Opened
    from putback.lint.run import Asked
    from putback.sheet.supply import ShoppingList
    from putback.words import Language


@click.command("supplies")
@click.argument("guide", metavar="GUIDE", type=click.Path(path_type=Path, readable=False))
@click.argument("jobs", metavar="[JOB ...]", nargs=-1)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "csv", "pdf"]),
    default="text",
    show_default=True,
    help="Form of the list.",
)
@click.option("--variant", "only", metavar="OPTION=VALUE", multiple=True, help="List only variants with this choice.")
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="File for the values or the PDF.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="Paper size of the PDF.",
)
@click.option("--language", metavar="TAG", help="Language of the list, such as de.  [default: that of the guide]")
def command(
    guide: Path,
    jobs: tuple[str, ...],
    form: str,
    only: tuple[str, ...],
    out: Path | None,
    paper: str,
    language: str | None,
) -> None:
    """List what to get for some jobs of GUIDE together.

    JOB is the name of a job's file, such as water-pump; without one, all jobs count. New parts have their numbers and
    counts, and a kit is there once for all that it covers. Fluids are added up. Tools, consumables, equipment and
    protective equipment are there once. The exit code is 0 if there are no errors, 1 if there are, and 2 if something
    could not be read.
    """
    from putback.cli.choice import parse_choice
    from putback.cli.tongue import parse_language
    from putback.lint.run import NoGuideError, NoVariantError, open_guides

    if form == "text" and out is not None:
        raise click.UsageError("--out is for --format csv and pdf")
    if form == "pdf" and out is None:
        raise click.UsageError("--format pdf needs --out FILE")
    tag = parse_language(language)
    try:
        asked, *others = open_guides([guide], parse_choice(only))
    except (NoGuideError, NoVariantError) as error:
        raise click.UsageError(str(error)) from None
    if others:
        raise click.UsageError(f"'{guide}' has {len(others) + 1} guides; name one of them")
    opened, chosen = _checked(asked, _chosen(asked, jobs), tag)
    _put(_written(chosen, opened, form, paper), out, form)


def _chosen(asked: Asked, names: tuple[str, ...]) -> list[str]:
    """Return the jobs that were asked for, by name or by file; all of them when none was."""
    from putback.guide.paths import shown_path
    from putback.source.nearest import nearest

    guide = asked.guide
    known = [*guide.jobs, *guide.lost_jobs]
    for name in names:
        if name not in known:
            near = nearest(name, known)
            hint = f"; did you mean '{near}'?" if near else f"; it has {', '.join(known)}" if known else ""
            raise click.UsageError(f"{guide.shown} has no job '{name}'{hint}")
    files = {shown_path(file) for file in asked.files or ()}
    return list(names) or [key for key, job in guide.jobs.items() if job.path in files] or known


def _checked(asked: Asked, names: list[str], tag: str | None) -> tuple[Opened, ShoppingList]:
    """Return the opened guide and the list; the command ends where the files that matter for it have errors."""
    from putback.cli.paint import painter
    from putback.cli.tongue import tell_untranslated
    from putback.ledger.opened import open_guide
    from putback.lint.report import text
    from putback.lint.run import result_of
    from putback.sheet.shopping import shopping_list
    from putback.source.finding import Level
    from putback.translation.printed import printed_in
    from putback.variants import EntangledError

    guide = asked.guide
    opened = open_guide(guide, asked.only)
    others = {job.path for key, job in guide.jobs.items() if key not in names}
    others |= {file for file in guide.files for key in guide.lost_jobs if key not in names and Path(file).stem == key}
    result = result_of(opened, [Path(file) for file in guide.files if file not in others])
    told = tuple(each for each in result.findings if each.level is Level.ERROR or each.check in _ABOUT_SUPPLIES)
    if told or result.exit_code:
        click.echo(text.write(replace(result, findings=told), painter()), err=True)
    if result.exit_code or guide.machine is None:
        click.echo(f"\n{printable(guide.shown)} has no list: fix the errors first", err=True)
        raise click.exceptions.Exit(result.exit_code or 1)
    printed = printed_in(guide, tag)
    tell_untranslated(printed)
    if printed is not guide:
        opened = open_guide(printed, asked.only)
    try:
        return opened, shopping_list(opened, names)
    except EntangledError:
        raise click.ClickException("the options combine in too many ways; choose some with --variant") from None


_ABOUT_SUPPLIES = frozenset({"kit-short", "unlisted-supply"})
"""Checks that warn of a list that may be too short."""


def _written(wanted: ShoppingList, opened: Opened, form: str, paper: str) -> bytes:
    """Return the list in one of its forms."""
    from putback.words import catalogue
    from putback.words.shopping import as_text
    from putback.words.spreadsheet import as_csv

    words = catalogue(opened)
    if form == "pdf":
        return _printed(wanted, opened, words, paper)
    return (as_csv if form == "csv" else as_text)(wanted, opened, words).encode()


def _printed(wanted: ShoppingList, opened: Opened, words: Language, paper: str) -> bytes:
    """Return the list as a PDF."""
    from putback.typstpdf.press import ManualError
    from putback.typstpdf.ticklist import TickList, TickRow, print_ticks
    from putback.words.shopping import heads_of, shown_list

    labels, book = words.labels.supplies, words.labels.book
    title, lines = heads_of(wanted, opened, words)
    parts = tuple(
        (part.title, tuple(TickRow(row.amount, row.name, row.number, row.limits) for row in part.rows))
        for part in shown_list(wanted, opened, words)
    )
    cover = opened.guide.cover
    ticks = TickList(
        title=title,
        lines=(*lines, labels.lead if parts else labels.nothing),
        heads=(labels.got, labels.amount, labels.item, words.labels.job.number),
        parts=parts,
        page=(book.page, book.of),
        language=(cover.language if cover and cover.language else "en").lower(),
    )
    try:
        return print_ticks(ticks, paper)
    except ManualError as error:
        raise click.ClickException(f"the list cannot be printed: {error}") from None


def _put(made: bytes, out: Path | None, form: str) -> None:
    """Write the list to a file or the standard output: values byte by byte, words as the terminal can show them."""
    if out is None and form == "text":
        click.echo(made.decode(), nl=False)
    elif out is None:
        sys.stdout.flush()
        sys.stdout.buffer.write(made)
    else:
        _replace(out, made)
        from putback.guide.paths import shown_path

        click.echo(f"made {printable(shown_path(out))}")


def _replace(out: Path, made: bytes) -> None:
    """Write a file as a whole or not at all; one that is there and is no list of ours stays as it is."""
    from putback.placing.file import write_whole
    from putback.source.intake import NotReadError, take

    try:
        ours = not out.exists() or _is_list(take(out))
    except NotReadError:
        ours = False
    if not ours:
        raise click.UsageError(f"'{out}' is there and is no list of supplies; name another file")
    try:
        out.parent.resolve(strict=True)
        write_whole(out, made)
    except OSError as error:
        raise click.UsageError(f"'{out}' cannot be written: {(error.strerror or str(error)).lower()}") from None


def _is_list(old: bytes) -> bool:
    """Tell whether a file is a list of ours, by its first line or the keyword in its properties."""
    from putback.words.spreadsheet import COLUMNS

    return old.startswith(",".join(COLUMNS).encode()) or (old.startswith(b"%PDF") and b"putback-supplies" in old)
