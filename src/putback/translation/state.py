"""How far a guide is translated: what of its catalogues can be used, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import PurePath
from typing import NamedTuple

from putback.guide.folders import CATALOGUES
from putback.guide.record import Guide
from putback.prose.blocks import blocks_of, keeps_form
from putback.source.late import Late
from putback.source.quoting import SENTENCE, quote
from putback.source.span import Span
from putback.translation.catalogue import PoEntry, PoFault, PoFile, read_catalogue, tag_of
from putback.translation.judging import lost_in
from putback.translation.texts import page_context, texts_of
from putback.translation.wording import GuideText, TextKey


class Mistold(NamedTuple):
    """A translation that must not be printed."""

    wording: GuideText
    """The text."""
    entry: PoEntry | None
    """Its entry; None where the catalogue has none."""
    message: str
    """What is wrong with it."""
    span: Span
    """Where."""


@dataclass(slots=True)
class Translation:
    """What there is of a guide in one language."""

    tag: str
    """The tag of the language."""
    file: PoFile
    """Its catalogue."""
    wordings: Mapping[TextKey, GuideText]
    """The texts of the guide."""
    usable: dict[TextKey, str] = field(default_factory=dict)
    """What can be printed."""
    conflicts: list[Mistold] = field(default_factory=list)
    """Translations that say something else than their text."""
    silent: list[Mistold] = field(default_factory=list)
    """Parts of safety messages that nobody would read in this language."""

    @property
    def faults(self) -> list[PoFault]:
        """What is wrong with the file itself."""
        return self.file.faults


@lru_cache(maxsize=4)
def wordings_of(guide: Guide) -> dict[TextKey, GuideText]:
    """Return all texts of a guide; whoever asks must not change them."""
    return texts_of(guide)


@lru_cache(maxsize=4)
def translations_of(guide: Guide) -> tuple[Translation, ...]:
    """Return what there is of a guide in other languages, a catalogue after the other."""
    return tuple(judged(guide, read_catalogue(path, text)) for path, text in guide.catalogues.items())


def translation_into(guide: Guide, tag: str) -> Translation | None:
    """Return what there is of a guide in a language: that of its region, else of the language."""
    known = {tag_of(path).casefold(): path for path in guide.catalogues}
    parts = tag.replace("_", "-").casefold().split("-")
    for count in range(len(parts), 0, -1):
        path = known.get("-".join(parts[:count]))
        if path is not None:
            return next(each for each in translations_of(guide) if each.file.path == path)
    return None


def judged(guide: Guide, file: PoFile) -> Translation:
    """Return what a catalogue makes of a guide."""
    found = Translation(file.tag, file, wordings_of(guide))
    pages = _pages(guide)
    for key, wording in found.wordings.items():
        entry = file.entries.get(key)
        if entry is None or not entry.told.strip() or entry.fuzzy:
            _note_silence(found, wording, entry)
            continue
        told = " ".join(entry.told.split())
        lost = [*lost_in(wording, told, found.tag), *_bent(wording, told, pages)]
        found.conflicts += [Mistold(wording, entry, each, entry.told_span) for each in lost]
        if wording.is_safety and told == wording.text and " " in told and not _is_same(guide, found.tag):
            message = f"a safety message is not translated, only copied: {quote(wording.text, SENTENCE)}"
            found.silent.append(Mistold(wording, entry, message, entry.told_span))
        elif not lost:
            found.usable[key] = told
    return found


def _is_same(guide: Guide, tag: str) -> bool:
    """Tell whether a guide is written in the language of a catalogue, of another region perhaps."""
    own = guide.cover.language if guide.cover else "en"
    return own.partition("-")[0].casefold() == tag.partition("-")[0].casefold()


def _note_silence(found: Translation, wording: GuideText, entry: PoEntry | None) -> None:
    if not wording.is_safety:
        return
    if entry is None:
        name = f"{CATALOGUES}/{PurePath(found.file.path).name}"
        message, span = f"{name} does not have this safety message", wording.spans[0]
    elif entry.fuzzy and entry.told.strip():
        message = f"a safety message has changed since it was translated: {quote(wording.text, SENTENCE)}"
        span = entry.told_span
    else:
        message, span = f"a safety message is not translated: {quote(wording.text, SENTENCE)}", entry.told_span
    found.silent.append(Mistold(wording, entry, message, span))


def _pages(guide: Guide) -> dict[str, tuple[str, str]]:
    return {page_context(path, guide): (path, page) for path, page in guide.pages.items()}


_PLAIN = Late(r"[^\W\d_][^`|<>{}\[\]\\~]*")
"""What is one paragraph wherever it stands."""


def _bent(wording: GuideText, told: str, pages: Mapping[str, tuple[str, str]]) -> Iterator[str]:
    """Yield that a page would be built in another way with a translation."""
    found = pages.get(wording.context)
    if found is None or _PLAIN.fullmatch(told):
        return
    blocks = (block for block in blocks_of(*found) if block.text == wording.text)
    if not all(keeps_form(found[1], block, told) for block in blocks):
        yield "the translation is not one block of a page, as the text is"
