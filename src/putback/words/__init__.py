"""All that is printed and that no author wrote, by language.

A step without a text of its own is printed as a sentence made of its verb and the machine's facts. `catalogue` returns
the maker of sentences for a guide, `labels_for` the words that stand on pages whatever the guide says. Each language is
one package; `language.Language` is what it must be able to say. The messages of findings are no part of this.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.words.english import LABELS, English
from putback.words.english.american import American
from putback.words.labels import Labels
from putback.words.language import Language
from putback.words.pieces import Phrase, Piece, as_text

__all__ = ["LANGUAGES", "Language", "Phrase", "Piece", "Spoken", "as_text", "catalogue", "labels_for", "spoken"]


class Spoken(NamedTuple):
    """A language that pages can be printed in."""

    labels: Labels
    """What stands on pages whatever the guide says."""
    maker: Callable[[Opened], Language]
    """Makes the sentences of a guide."""


LANGUAGES: dict[str, Spoken] = {"en": Spoken(LABELS, English), "en-us": Spoken(American.labels, American)}
"""Every language, by its tag (BCP 47) in small letters: the first part of it, or with the region."""


def spoken(tag: str | None) -> bool:
    """Tell whether there are words of ours in a language: `en`, `en-GB`, `en_GB`."""
    return _parts(tag)[0] in LANGUAGES


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
    return next((LANGUAGES[each] for each in (*regions, language) if each in LANGUAGES), LANGUAGES["en"])


def _parts(tag: str | None) -> list[str]:
    return (tag or "en").replace("_", "-").lower().split("-")
