"""A guide of which every text is translated: into itself, with marks around each word. Numbers and code stay."""

from __future__ import annotations

import io
import re

from babel.messages.pofile import read_po, write_po

from putback.guide.record import Guide
from putback.translation.made import updated
from putback.units.table import find
from tests.words.pseudo import CLOSE, OPEN, TAG

_KEPT = re.compile(r"`[^`]*`|\]\([^)]*\)|\{[^}]*\}|<[^>]*>|!\[|\S*[0-9]\S*(?:[ \u00a0\u202f]\S+)?")
"""What a translation keeps: code, links, roles, and what has a number, with the word after it where that is a unit."""
_WORD = re.compile(r"(?:[^\W_]|['’])+")


def in_marks(text: str) -> str:
    """Return a text with marks around each word that a translator would change."""
    found, at = "", 0
    for kept in _KEPT.finditer(text):
        found += _marked(text[at : kept.start()])
        number, blank, word = re.match(r"(\S*)(\s?)(.*)", kept[0], re.DOTALL).groups()  # type: ignore[union-attr]
        unit = word.rstrip(".,;:)")
        stays = kept[0][0] in "`]{<!" or not word or (len(unit) < 5 and find(unit) is not None)
        found += kept[0] if stays else f"{number}{blank}{_marked(word)}"
        at = kept.end()
    return found + _marked(text[at:])


def _marked(words: str) -> str:
    return _WORD.sub(lambda word: f"{OPEN}{word[0]}{CLOSE}", words)


def catalogue_of(guide: Guide) -> str:
    """Return a whole catalogue of a guide, in marks."""
    catalog = read_po(io.BytesIO(updated(guide, TAG).text.encode()))
    for message in catalog:
        if message.id:
            told = [in_marks(text) for text in ([message.id] if isinstance(message.id, str) else message.id)]
            message.string = told[0] if isinstance(message.id, str) else tuple(told)
            message.flags.discard("fuzzy")
    file = io.BytesIO()
    write_po(file, catalog)
    return file.getvalue().decode("utf-8")
