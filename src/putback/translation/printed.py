"""Which words a guide is printed in."""

from __future__ import annotations

from dataclasses import replace

from putback.guide.record import Guide
from putback.trade.words import is_english
from putback.translation.guide import translated
from putback.translation.state import translation_into


def printed_in(guide: Guide, tag: str | None = None) -> Guide:
    """Return a guide as it is printed: in a language, or without one in its own.

    A guide that is written in another language than English has the library in that language.
    """
    own = guide.cover.language if guide.cover else "en"
    wanted = tag or own
    same = wanted.casefold() == own.casefold()
    return guide if same and is_english(own) else translated(guide, wanted)


def as_checked(guide: Guide, printed: Guide) -> Guide:
    """Return a guide as it is checked before it is printed so.

    It has the catalogue alone from which it is printed: what is wrong with others keeps nobody from printing.
    """
    told = printed.cover.language if printed.cover and printed.source is not None else None
    found = translation_into(guide, told) if told is not None else None
    path = found.file.path if found is not None else None
    return replace(guide, catalogues={name: text for name, text in guide.catalogues.items() if name == path})


def untranslated(guide: Guide) -> bool:
    """Tell whether a guide is printed in another language, and there is no catalogue of its own texts."""
    if guide.source is None or guide.cover is None:
        return False
    own, told = guide.source.cover.language if guide.source.cover else "en", guide.cover.language
    # The two sides of English need none.
    return not (is_english(own) and is_english(told)) and translation_into(guide.source, told) is None
