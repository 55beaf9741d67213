"""The catalogues: gettext files, one for each language, read once.

What is not translated, or marked as fuzzy, is not there; nor is a translation whose fields are not those of the
English text, because it would leave out a fact. The English text is printed instead.
"""

from __future__ import annotations

import io
from functools import cache
from gettext import GNUTranslations
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from putback.telling.message import fields_of

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog, Message

FOLDER = Path(__file__).parent / "catalogues"
"""Where the catalogues are: `de.po`, `pt_BR.po`."""


class Catalogue(Protocol):
    """The texts of one language."""

    def one(self, context: str, text: str) -> str:
        """Return a text; the English one when there is no other."""
        ...

    def counted(self, context: str, one: str, many: str, count: int) -> str:
        """Return the text for a number of pieces."""
        ...


class Untranslated:
    """The English texts, as they are in the code."""

    def one(self, context: str, text: str) -> str:
        """Return the text."""
        return text

    def counted(self, context: str, one: str, many: str, count: int) -> str:
        """Return one of the two texts."""
        return one if count == 1 else many


class Read:
    """Texts that were read from a file."""

    def __init__(self, catalog: Catalog) -> None:
        """Take what can be used of a catalogue."""
        unusable = [message for message in catalog if message.id and not usable(message)]
        for message in unusable:
            catalog.delete(message.id, message.context)
        self._found = GNUTranslations(io.BytesIO(_compiled(catalog)))

    def one(self, context: str, text: str) -> str:
        """Return a text; the English one when there is no other."""
        return self._found.pgettext(context, text)

    def counted(self, context: str, one: str, many: str, count: int) -> str:
        """Return the text for a number of pieces, by the rule of the language."""
        return self._found.npgettext(context, one, many, count)


def usable(message: Message) -> bool:
    """Tell whether a message is translated, and whether that has the fields of the English text."""
    if message.fuzzy:
        return False
    english, told = _both(message)
    return all(text and any(fields_of(text) == fields_of(each) for each in english) for text in told)


def _both(message: Message) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the English texts of a message, and those of the other language."""
    english = message.id if isinstance(message.id, tuple | list) else (message.id,)
    told = message.string if isinstance(message.string, tuple | list) else (message.string or "",)
    return tuple(english), tuple(told)


def _compiled(catalog: Catalog) -> bytes:
    from babel.messages.mofile import write_mo

    file = io.BytesIO()
    write_mo(file, catalog)
    return file.getvalue()


def tags() -> tuple[str, ...]:
    """Return the tags of all languages that have a catalogue: `de`, `pt-BR`."""
    return tuple(sorted(path.stem.replace("_", "-") for path in FOLDER.glob("*.po")))


def catalogue_for(tag: str) -> Catalogue:
    """Return the catalogue of a language tag: that of its region, else of its language; else the English texts."""
    known = {each.lower(): each for each in tags()}
    parts = tag.replace("_", "-").lower().split("-")
    for count in range(len(parts), 0, -1):
        if found := known.get("-".join(parts[:count])):
            return _read(found)
    return _NONE


_NONE = Untranslated()


@cache
def _read(tag: str) -> Catalogue:
    from babel.messages.pofile import read_po

    with (FOLDER / f"{tag.replace('-', '_')}.po").open("rb") as file:
        return Read(read_po(file))
