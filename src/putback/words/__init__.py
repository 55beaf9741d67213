"""The sentences that are printed for steps, by language.

A step without a text of its own is printed as a sentence made of its verb and the machine's facts. `catalogue` returns
the maker of sentences for a language; each language is one module.
"""

from __future__ import annotations

from putback.ledger.opened import Opened
from putback.words.english import English
from putback.words.pieces import Phrase, Piece, as_text

__all__ = ["English", "Phrase", "Piece", "as_text", "catalogue"]

_LANGUAGES = {"en": English}


def catalogue(opened: Opened) -> English:
    """Return the maker of sentences for a guide's language; English where the catalogue has no other."""
    cover = opened.guide.cover
    language = cover.language if cover else "en"
    return _LANGUAGES.get(language.split("-")[0], English)(opened)
