"""What is chosen of a check: `--variant OPTION=VALUE`, as often as wanted, and `--part K/N`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

import click

from putback.lint.parts import MOST_PARTS, CheckPart

if TYPE_CHECKING:
    from putback.variants import Choice


def parse_choice(words: tuple[str, ...]) -> Choice:
    """Return the choices of a command line. Raises `click.UsageError` for one that is none."""
    choice: dict[str, str] = {}
    for word in words:
        option, equals, value = word.partition("=")
        if not (option and equals and value):
            raise click.UsageError(f"--variant takes OPTION=VALUE, such as shaft=long, not '{word}'")
        if choice.get(option, value) != value:
            raise click.UsageError(f"--variant has two values for '{option}': '{choice[option]}' and '{value}'")
        choice[option] = value
    return tuple(choice.items())


def parse_part(word: str | None, others: Mapping[str, object]) -> CheckPart | None:
    """Return the part of a command line. Raises `click.UsageError` for one that is none.

    `others` are options that it does not go with, each with what was given.
    """
    if word is None:
        return None
    given = next((option for option, value in others.items() if value), None)
    if given:
        raise click.UsageError(f"--part is for a check of everything, in all variants; leave out {given}")
    found = re.fullmatch(r"([0-9]{1,9})/([0-9]{1,9})", word)
    if found is None:
        raise click.UsageError(f"--part takes K/N, such as 2/3 for the second of three parts, not '{word}'")
    part = CheckPart(int(found[1]), int(found[2]))
    if not 1 <= part.number <= part.of:
        raise click.UsageError(f"--part has no part {part.number} of {part.of}; the parts of N are 1/N to N/N")
    if part.of > MOST_PARTS:
        raise click.UsageError(f"--part makes {MOST_PARTS:,} parts at most, not {part.of:,}")
    return part
