"""The sentences that are printed for steps, by language.

A step without a text of its own is printed as a sentence made of its verb and the machine's facts. `catalogue` returns
the maker of sentences for a language; each language is one module.
"""

from __future__ import annotations

from putback.guide import Guide
from putback.sentences.english import English
from putback.sentences.pieces import Phrase, Piece, as_text

__all__ = ["English", "Phrase", "Piece", "as_text", "catalogue"]

_LANGUAGES = {"en": English}


def catalogue(guide: Guide) -> English:
    """Return the maker of sentences for a guide's language; English where the catalogue has no other."""
    language = guide.cover.language if guide.cover else "en"
    return _LANGUAGES.get(language.split("-")[0], English)(guide)
