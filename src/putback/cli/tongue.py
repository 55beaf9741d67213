"""`--language TAG`: which language to print in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from putback.guide.record import Guide


LONGEST = 35
"""Characters of a tag: as many as any program must keep of one (RFC 5646, 4.4.1)."""


def parse_language(tag: str | None) -> str | None:
    """Return a tag as it is written: `de`, `en-US`. Raises `click.UsageError` for one that we have no words of."""
    if tag is None:
        return None
    from putback.source.grammar import listed
    from putback.source.plainly import printable
    from putback.words import languages, spoken

    first, *rest = tag.strip().replace("_", "-").split("-")
    wanted = "-".join([first.lower(), *(part.upper() if len(part) == 2 else part for part in rest)])
    if (
        len(tag) > LONGEST
        or not all(part.isascii() and part.isalnum() for part in (first, *rest))
        or not spoken(wanted)
    ):
        raise click.UsageError(f"Putback cannot print in '{printable(tag)}'; it can in {listed(languages())}")
    return wanted


def tell_unspoken(tag: str) -> None:
    """Say when a guide is translated into a language that we have no words of: it cannot be printed yet."""
    from putback.source.grammar import listed
    from putback.words import languages, spoken

    if not spoken(tag):
        click.echo(f"Putback has no words of its own in {tag} yet; it can print in {listed(languages())}", err=True)


def tell_untranslated(printed: Guide) -> None:
    """Say when a guide is printed in another language and its own texts stay as they are."""
    from putback.source.plainly import printable
    from putback.translation.printed import untranslated

    if untranslated(printed) and printed.cover is not None:
        tag = printed.cover.language
        how = f"`putback translate {printed.shown} --to {tag}` makes a file for a translator"
        what = f"{printed.shown} is not translated into {tag}: its own texts stay as they are; {how}"
        click.echo(printable(what), err=True)
