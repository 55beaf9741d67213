"""A guide's catalogue brought up to date: what `putback translate` does, without files."""

from __future__ import annotations

from typing import NamedTuple

from putback.guide.record import Guide
from putback.guide.texts import CATALOGUES
from putback.translation.catalogue import PoFile, read_catalogue, tag_of
from putback.translation.merging import Merged, merged, taken_in
from putback.translation.state import Mistold, judged, wordings_of
from putback.translation.wording import TextKey
from putback.translation.writing import written


class Updated(NamedTuple):
    """A catalogue that was brought up to date."""

    path: str
    """The file, as shown."""
    text: str
    """What is to be in it."""
    found: Merged
    """How it differs from the one before."""
    wrong: tuple[Mistold, ...]
    """What of it says something else than the guide, and is not printed."""
    strange: tuple[TextKey, ...] = ()
    """Of a file that was taken in: texts that the guide does not have."""


def catalogue_path(guide: Guide, tag: str) -> str:
    """Return the file of a guide's catalogue in a language, as shown: the one that is there, or a new one."""
    known = {tag_of(path).casefold(): path for path in guide.catalogues}
    folder = CATALOGUES if guide.shown == "." else f"{guide.shown}/{CATALOGUES}"
    return known.get(tag.replace("_", "-").casefold(), f"{folder}/{tag}.po")


def updated(guide: Guide, tag: str, theirs: PoFile | None = None) -> Updated:
    """Return a guide's catalogue in a language with all texts of the guide, and with what another file says of them."""
    path, wordings = catalogue_path(guide, tag), wordings_of(guide)
    text = guide.catalogues.get(path)
    old = read_catalogue(path, text) if text is not None else None
    wrong: tuple[Mistold, ...] = ()
    strange: tuple[TextKey, ...] = ()
    if theirs is not None:
        wrong = _wrong_in(guide, theirs)
        refused = {each.wording.told for each in wrong}
        strange = tuple(key for key in theirs.entries if key not in wordings)
        good = {key: entry for key, entry in theirs.entries.items() if key in wordings and key not in refused}
        old = taken_in(old or PoFile(path), PoFile(theirs.path, good))
    found = merged(wordings, old)
    text = written(found, guide, tag)
    if theirs is None:
        wrong = _wrong_in(guide, read_catalogue(path, text))
    return Updated(path, text, found, wrong, strange)


def _wrong_in(guide: Guide, file: PoFile) -> tuple[Mistold, ...]:
    """Return the translations that must not be printed: a safety message that is only copied is none."""
    found = judged(guide, file)
    copied = (each for each in found.silent if each.entry and each.entry.told.strip() and not each.entry.fuzzy)
    return tuple(sorted((*found.conflicts, *copied), key=lambda each: each.span.line))
