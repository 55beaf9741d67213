"""A guide in another language: the same records, with the same places, and other words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

from putback.guide.library import FILES
from putback.guide.record import Guide
from putback.model.kits import kits_of
from putback.model.library import LibraryEntry
from putback.model.machine import Machine
from putback.model.said import Said
from putback.model.terms import Ref, Waiver, When
from putback.model.thing import Thing
from putback.prose.blocks import retold
from putback.source.span import Span
from putback.telling import Message, told_in
from putback.trade.words import is_english, said_by, side_of
from putback.translation.keys import keys_of
from putback.translation.library import SAID, known_texts, message_of
from putback.translation.state import Translation, translation_into
from putback.translation.texts import page_context
from putback.translation.wording import WORDS, TextKey
from putback.units import Quantity

_Spans = Mapping[Span, tuple[str, str]]
"""By the place of a text: how it reads, and its translation."""


def translated(guide: Guide, tag: str) -> Guide:
    """Return a guide in a language, as far as it is translated; what is not stays as its author wrote it.

    It is for printing. What is proved is the guide itself, which it has as its `source`, unless it was in that
    language already.
    """
    own = guide.cover.language if guide.cover else "en"
    found = translation_into(guide, tag)
    said = _by_library(guide, own, tag)
    if own.casefold() == tag.casefold():
        return said
    if found is not None:
        said = _by_catalogue(said, guide, found)
    cover = replace(said.cover, language=tag) if said.cover else None
    return replace(said, cover=cover, source=guide)


def _by_catalogue(guide: Guide, source: Guide, found: Translation) -> Guide:
    """Return a guide in the words of its own catalogue."""
    spans = _spans_of(found)
    words = {
        each.key: told
        for each in keys_of(source)
        if (told := found.usable.get(TextKey(WORDS, each.key.replace("-", " ")))) is not None
    }
    blocks = {key: _changed(block, spans) for key, block in guide.library.blocks.items()}
    own = {key: blocks.get(key, block) for key, block in guide.blocks.items()}
    shelves = {kind: _changed(getattr(guide.library, kind), spans) for kind in FILES}
    machine = _with_names(_changed(guide.machine, spans), found) if guide.machine else None
    return replace(
        guide,
        cover=_changed(guide.cover, spans),
        machine=machine,
        jobs=_changed(guide.jobs, spans),
        blocks=own,
        symptoms=_changed(guide.symptoms, spans),
        library=replace(guide.library, blocks=blocks, **shelves),
        pages={path: _page(path, page, guide, found) for path, page in guide.pages.items()},
        words=words,
    )


def _spans_of(found: Translation) -> dict[Span, tuple[str, str]]:
    """Return translations by where their texts stand, but of what stands there only as a key."""
    spans: dict[Span, tuple[str, str]] = {}
    for key, told in found.usable.items():
        wording = found.wordings[key]
        if key.context != WORDS and not wording.is_page and not key.context.endswith(".plural"):
            spans.update(dict.fromkeys(wording.spans, (key.text, told)))
    return spans


def _page(path: str, page: str, guide: Guide, found: Translation) -> str:
    context = page_context(path, guide)
    told = {key.text: words for key, words in found.usable.items() if key.context == context}
    return retold(path, page, told) if told else page


def _with_names(machine: Machine, found: Translation) -> Machine:
    """Return a machine with the names of several of a thing, and of kits that the file only names."""
    source = {key.context: (key.text, told) for key, told in found.usable.items() if key.context.startswith("machine.")}
    things = {}
    for key, thing in machine.things.items():
        several = source.get(f"machine.things.{key}.plural")
        plural = Said(several[1], thing.span, several[1], several[0]) if several else None
        things[key] = replace(thing, plural=plural) if plural else thing
    kits = dict(machine.kits)
    for key, kit in kits_of(machine).items():
        called = source.get(f"machine.kits.{key}.name")
        if called and kit.span is None:
            kits[key] = replace(kit, name=called[1])
    return replace(machine, things=things, kits=kits)


def _changed(record: Any, spans: _Spans) -> Any:
    """Return a record with other texts in it; what has none of these stays the same object."""
    match record:
        case Said():
            found = spans.get(record.span)
            if found is None or found[0] != record:
                return record
            return Said(found[1], record.span, record.written, str(record))
        case str() | int() | None | Ref() | When() | Waiver() | Quantity() | Span():
            return record
        case tuple():
            items = [_changed(item, spans) for item in record]
            if all(one is other for one, other in zip(items, record, strict=True)):
                return record
            return type(record)(*items) if hasattr(record, "_fields") else tuple(items)
        case Mapping():
            changed = {key: _changed(value, spans) for key, value in record.items()}
            return changed if any(changed[key] is not record[key] for key in record) else record
        case _ if is_dataclass(record) and type(record).__module__.startswith("putback.model."):
            return _changed_record(record, spans)
    return record


def _changed_record(record: Any, spans: _Spans) -> Any:
    changes: dict[str, Any] = {}
    kind: Any = type(record)
    for name in _names(kind):
        value = getattr(record, name)
        new = _changed(value, spans)
        if new is not value:
            changes[name] = new
    if isinstance(record, Thing | LibraryEntry) and not isinstance(record.name, Said):
        found = spans.get(record.span)
        if found is not None and found[0] == record.name:
            changes["name"] = Said(found[1], record.span, found[1], record.name)
    return replace(record, **changes) if changes else record


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind) if field.init and field.name not in ("verb", "span", "key"))


def _by_library(guide: Guide, own: str, tag: str) -> Guide:
    """Return a guide with the library's texts as Putback itself says them in a language."""
    known, say = known_texts(side_of(own)), _sayer(tag)
    shelves: dict[str, Any] = {
        kind: {key: _entry(entry, kind, known, say) for key, entry in getattr(guide.library, kind).items()}
        for kind in FILES
    }
    return replace(guide, library=replace(guide.library, **shelves))


def _sayer(tag: str) -> Callable[[Message], str]:
    """Return what says a text of the library in a language: English too has two sides."""
    if is_english(tag):
        side = side_of(tag)
        return lambda message: said_by(message.text, side) if side else message.text
    return told_in(tag).told


def _entry(entry: Any, kind: str, known: Mapping[Message, str], say: Callable[[Message], str]) -> Any:
    """Return an entry of the library in a language; one of the guide's own stays as it is."""

    def said(key: str, text: str) -> str:
        message = message_of(kind, entry.key, key, text)
        told = say(Message(message.context, known[message])) if message in known else text
        if told == text:
            return text
        if isinstance(text, Said):
            return Said(told, text.span, text.written, str(text))
        return Said(told, entry.span, told, text)

    changes: dict[str, Any] = {}
    for name, key in SAID.items():
        value = getattr(entry, name, None)
        new: Any = said(key, value) if isinstance(value, str) else tuple(said(key, each) for each in value or ())
        if value and new != value:
            changes[name] = new
    return replace(entry, **changes) if changes else entry
