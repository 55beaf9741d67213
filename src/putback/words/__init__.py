"""All that is printed and that no author wrote, by language.

A step without a text of its own is printed as a sentence made of its verb and the machine's facts. `catalogue` returns
the maker of sentences for a guide, `labels_for` the words that stand on pages whatever the guide says.
`language.Language` is what a language must be able to say. English is a package of its own; every other language is
`plain`, in the words of its catalogue. The messages of findings are no part of this.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.telling import tags
from putback.words.english import LABELS, English
from putback.words.english.american import American
from putback.words.labels import Labels
from putback.words.language import Language
from putback.words.pieces import Phrase, Piece, as_text
from putback.words.plain import Plain
from putback.words.telling import Telling, telling_for

__all__ = [
    "LANGUAGES", "Language", "Phrase", "Piece", "Spoken", "as_text", "by_catalogue", "catalogue", "labels_for",
    "languages", "spoken",
]  # fmt: skip


class Spoken(NamedTuple):
    """A language that pages can be printed in."""

    labels: Labels
    """What stands on pages whatever the guide says."""
    maker: Callable[[Opened], Language]
    """Makes the sentences of a guide."""


LANGUAGES: dict[str, Spoken] = {"en": Spoken(LABELS, English), "en-us": Spoken(American.labels, American)}
"""Languages that have sentences of their own, by tag (BCP 47) in small letters: its first part, or with the region."""


def by_catalogue(telling: Telling) -> Spoken:
    """Return a language that has a catalogue."""
    return Spoken(telling.labels(), partial(Plain, telling=telling))


def languages() -> tuple[str, ...]:
    """Return the tags of all languages that a manual can be printed in: `de`, `en-GB`, `en-US`, `es`."""
    return tuple(sorted([*tags(), "en-GB", "en-US"]))


def spoken(tag: str | None) -> bool:
    """Tell whether there are words of ours in a language: `en`, `en-GB`, `en_GB`."""
    language = _parts(tag)[0]
    return language in LANGUAGES or any(language == _parts(each)[0] for each in tags())


def labels_for(tag: str | None) -> Labels:
    """Return the labels of a language; English ones where there are none."""
    return _spoken(tag).labels


def catalogue(opened: Opened) -> Language:
    """Return the maker of sentences for a guide's language; English where there is no other."""
    cover = opened.guide.cover
    return _spoken(cover.language if cover else None).maker(opened)


def _spoken(tag: str | None) -> Spoken:
    language, *rest = _parts(tag)
    regions = (f"{language}-{part}" for part in rest)
    found = next((LANGUAGES[each] for each in (*regions, language) if each in LANGUAGES), None)
    if found is not None:
        return found
    return by_catalogue(telling_for("-".join([language, *rest]))) if spoken(tag) else LANGUAGES["en"]


def _parts(tag: str | None) -> list[str]:
    return (tag or "en").replace("_", "-").lower().split("-")
