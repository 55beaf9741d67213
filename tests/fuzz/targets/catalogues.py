"""A file of translations: read, judged, printed from, and written again."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.source.intake import Memory
from putback.translation.catalogue import read_catalogue
from putback.translation.guide import translated
from putback.translation.made import updated
from putback.translation.state import judged
from tests.fuzz.guides import TINY
from tests.fuzz.targets.promises import as_text, hold, hold_place, hold_words

NAME = "guide/translations/de.po"


@cache
def guide() -> Guide:
    """Return a small guide that is translated."""
    root = Path("/guide")
    return replace(read_guide(root, store=Memory({root / name: text for name, text in TINY.items()})), shown="guide")


def attempt(data: bytes) -> str:
    """Read a catalogue, print from it, and bring it up to date."""
    text = as_text(data)
    file = read_catalogue(NAME, text)
    for fault in file.faults:
        hold_place("a fault", fault.span, text)
        hold_words("a catalogue", fault.message, text)
    for entry in (*file.entries.values(), *file.unused):
        hold_place("an entry", entry.span, text)
        hold_place("a translation", entry.told_span, text)
    told = [f"{one.span} {one.message}" for one in file.faults] + [repr(one) for one in file.entries.values()]
    if file.faults or not file.entries:
        return "\n".join(told)
    ours = replace(guide(), catalogues={NAME: text})
    found = judged(guide(), file)
    told += [f"{each.span} {each.message}" for each in (*found.conflicts, *found.silent)]
    for each in found.conflicts:
        hold_place("a conflict", each.span, text)
        hold_words("a conflict", each.message, f"{text} {each.wording}")
    translated(ours, "de")
    told += [*_written_again(ours)]
    return "\n".join(told)


def _written_again(ours: Guide) -> list[str]:
    once = updated(ours, "de").text
    again = read_catalogue(NAME, once)
    hold(not again.faults, "what was written cannot be read", f"{again.faults} {once!r}")
    twice = updated(replace(ours, catalogues={NAME: once}), "de").text
    hold(once == twice, "written again, it is another", f"{once!r} {twice!r}")
    return [once]
