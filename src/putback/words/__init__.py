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


LANGUAGES: dict[str, Spoken] = {"en": Spoken(LABELS, English)}
"""Every language, by its tag (BCP 47), the first part of it."""


def spoken(tag: str | None) -> bool:
    """Tell whether there are words of ours in a language: `en`, `en-GB`, `en_GB`."""
    return _primary(tag) in LANGUAGES


def labels_for(tag: str | None) -> Labels:
    """Return the labels of a language; English ones where there are none."""
    return LANGUAGES.get(_primary(tag), LANGUAGES["en"]).labels


def catalogue(opened: Opened) -> Language:
    """Return the maker of sentences for a guide's language; English where there is no other."""
    cover = opened.guide.cover
    return LANGUAGES.get(_primary(cover.language if cover else None), LANGUAGES["en"]).maker(opened)


def _primary(tag: str | None) -> str:
    return (tag or "en").replace("_", "-").split("-")[0].lower()
