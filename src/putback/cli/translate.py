"""`putback translate`: a catalogue of a guide's texts for a translator, kept up to date."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from putback.cli.tongue import tell_unspoken
from putback.source.plainly import printable

if TYPE_CHECKING:
    from collections.abc import Iterator

    from putback.guide.record import Guide
    from putback.source.span import Span
    from putback.translation.catalogue import PoFile
    from putback.translation.made import Updated

_MOST_TOLD = 40
"""Texts of each kind that are told by name."""


@click.command("translate")
@click.argument("guide", metavar="GUIDE", type=click.Path(path_type=Path, readable=False))
@click.option("--to", "tag", metavar="LANGUAGE", required=True, help="Tag of the language, such as de or pt-BR.")
@click.option("--check", is_flag=True, help="Write nothing; only tell what is missing or has changed.")
@click.option(
    "--from",
    "taken",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False, readable=False),
    help="Take in the translations of a catalogue that somebody sent.",
)
def command(guide: Path, tag: str, check: bool, taken: Path | None) -> None:
    """Write GUIDE/translations/LANGUAGE.po: every text of the guide, to be translated.

    What is translated in it stays. A text that has changed keeps its translation, marked as fuzzy, until somebody has
    looked at it. The exit code is 0 if all is well; 1 if GUIDE has errors or, with --check, something is missing,
    has changed or is wrong; and 2 if something could not be read or written.
    """
    if not re.fullmatch(r"[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8}){0,4}", tag):
        raise click.UsageError(f"'{printable(tag)}' is no tag of a language; write one such as de or pt-BR")
    if check and taken is not None:
        raise click.UsageError("--check writes nothing, so there is nothing to do with --from")
    from putback.translation.made import updated

    read = _read(guide, tag.replace("_", "-"))
    theirs = _taken(taken, tag) if taken is not None else None
    made = updated(read, tag.replace("_", "-"), theirs)
    before = read.catalogues.get(made.path)
    if check:
        raise click.exceptions.Exit(_told(made, there=before is not None, check=True))
    if made.text != before:
        _put(read, made)
    click.echo(f"{printable(made.path)} is {'up to date' if made.text == before else 'written'}: {_counted(made)}")
    _told(made, there=True, check=False)
    tell_unspoken(tag)
    if theirs is not None and (made.wrong or made.strange):
        raise click.exceptions.Exit(1)


def _read(folder: Path, tag: str) -> Guide:
    """Return the guide; the command ends when its texts cannot all be known, or its catalogue cannot be read."""
    from putback.cli.paint import painter
    from putback.lint.report import text
    from putback.lint.result import Result
    from putback.lint.run import NoGuideError, open_guides
    from putback.source.finding import Level
    from putback.translation.catalogue import read_catalogue
    from putback.translation.made import catalogue_path

    try:
        asked, *others = open_guides([folder])
    except NoGuideError as error:
        raise click.UsageError(str(error)) from None
    if others:
        raise click.UsageError(f"'{folder}' has {len(others) + 1} guides; name one of them")
    guide = asked.guide
    faults = tuple(fault for fault in guide.faults if fault.level is Level.ERROR)
    if faults:
        # What cannot be read would count as gone, and its translations as unused.
        click.echo(text.write(Result(faults, len(guide.files), 0, 0, unreadable=guide.unreadable), painter()), err=True)
        click.echo(f"\n{printable(guide.shown)} is not translated: fix the errors first", err=True)
        raise click.exceptions.Exit(2 if guide.unreadable else 1)
    path = catalogue_path(guide, tag)
    if path in guide.catalogues:
        _refuse_faults(read_catalogue(path, guide.catalogues[path]))
    return guide


def _refuse_faults(file: PoFile) -> None:
    if file.faults:
        told = [_placed(fault.span, fault.message, fault.hint) for fault in file.faults]
        raise click.ClickException("\n".join(["the catalogue cannot be read", *told]))


def _placed(span: Span, message: str, hint: str | None = None) -> str:
    """Return a message with its place, and what to do."""
    told = f"{span.path}:{span.line}:{span.column}: {message}"
    return printable(f"{told}; fix: {hint}" if hint else told)


def _taken(path: Path, tag: str) -> PoFile:
    """Return what a catalogue says that somebody sent."""
    from putback.guide.paths import shown_path
    from putback.source.decoding import decode
    from putback.source.finding import Finding
    from putback.source.intake import Disk, NotReadError
    from putback.translation.catalogue import read_catalogue

    shown = shown_path(path)
    try:
        text = decode(Disk().read(path), shown)
    except NotReadError as error:
        raise click.ClickException(f"'{shown}' cannot be read: {error}") from None
    if isinstance(text, Finding):
        raise click.ClickException(f"{shown}:{text.span.line}:{text.span.column}: {text.message}")
    file = read_catalogue(shown, text)
    _refuse_faults(file)
    if not file.is_of(tag):
        raise click.ClickException(f"'{shown}' says that its language is {printable(file.language)}, not {tag}")
    return file


def _counted(made: Updated) -> str:
    found = made.found
    facts = [f"{len(found.entries):,} texts"]
    facts += [
        f"{count:,} {words}"
        for count, words in (
            (len(found.added), "new"),
            (len(found.changed), "changed"),
            (len(found.gone), "gone"),
            (found.missing, "not translated"),
            (found.to_look_at, "to look at"),
        )
        if count
    ]
    return ", ".join(facts)


def _told(made: Updated, *, there: bool, check: bool) -> int:
    """Tell what a translator should know; return the exit code of a check."""
    for line in _lines(made, there=there, check=check):
        click.echo(printable(line))
    found = made.found
    wrong = not there or found.missing or found.to_look_at or found.added or found.gone or made.wrong
    if check and not wrong:
        click.echo(f"{printable(made.path)} has everything: {_counted(made)}")
    return int(bool(wrong))


def _lines(made: Updated, *, there: bool, check: bool) -> Iterator[str]:
    from putback.source.quoting import SENTENCE, quote

    found = made.found
    if not there:
        yield f"{made.path} is not there"
    for key, was in found.changed[:_MOST_TOLD]:
        yield f"changed: {key.context}: {quote(key.text, SENTENCE)}, was {quote(was, SENTENCE)}"
    for gone in found.gone[:_MOST_TOLD]:
        yield f"gone: {gone.context}: {quote(gone.text)}"
    silent = [wording for wording, entry in found.entries if not entry.told or entry.fuzzy] if check and there else []
    for wording in silent[:_MOST_TOLD]:
        span = wording.spans[0]
        yield f"not translated: {span.path}:{span.line}: {quote(wording.text, SENTENCE)}"
    if len(silent) > _MOST_TOLD:
        yield f"not translated: {len(silent) - _MOST_TOLD:,} more"
    for wrong in made.wrong:
        yield f"wrong: {_placed(wrong.span, wrong.message)}"
    for key in made.strange[:_MOST_TOLD]:
        yield f"not in this guide: {key.context}: {quote(key.text)}"


def _put(guide: Guide, made: Updated) -> None:
    """Write the catalogue as a whole, or leave the old one."""
    from putback.placing.file import write_whole

    place = guide.root / Path(made.path).parent.name / Path(made.path).name
    try:
        write_whole(place, made.text.encode())
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise click.ClickException(f"'{printable(made.path)}' cannot be written: {reason}") from None
