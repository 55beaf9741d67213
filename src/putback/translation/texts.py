"""Every text of a guide that is printed, as a list for a translator."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from putback.guide.library import FILES
from putback.guide.record import Guide
from putback.model.called import named
from putback.model.job import Step
from putback.model.kits import kits_of
from putback.model.library import LibraryEntry, SafetyMessage
from putback.model.machine import Machine
from putback.model.said import place_of
from putback.model.terms import Signal
from putback.model.thing import Thing
from putback.prose.blocks import blocks_of
from putback.telling import Message
from putback.trade.words import Side, side_of
from putback.translation.keys import keys_of
from putback.translation.library import known_texts, message_of, texts_of_entry
from putback.translation.spoken import SaidAt, is_several, said_at
from putback.translation.wording import NOTES, PAGES, WORDS, GuideText, TextKey

_SAFETY = ("hazard", "consequence", "avoid", "ppe")


def texts_of(guide: Guide) -> dict[TextKey, GuideText]:
    """Return all texts of a guide that are printed, in the order of its files, each once."""
    found: dict[TextKey, GuideText] = {}
    for wording in _all(guide):
        before = found.setdefault(wording.told, wording)
        if before is not wording and wording.spans[0] not in before.spans:
            found[wording.told] = GuideText(
                before.context, before.text, (*before.spans, *wording.spans), before.note, before.signal
            )
    return found


def _all(guide: Guide) -> Iterator[GuideText]:
    for place, record in _records(guide):
        yield from map(_wording, said_at(record, place))
    if guide.machine is not None:
        yield from _of_machine(guide.machine)
    for kind in FILES:
        yield from _of_library(getattr(guide.library, kind), kind, known_texts(_side(guide)))
    for key, span, note in keys_of(guide):
        yield GuideText(WORDS, key.replace("-", " "), (span,), note)
    for path, page in guide.pages.items():
        for block in blocks_of(path, page):
            yield GuideText(page_context(path, guide), block.text, (block.span,), block.note)


def _records(guide: Guide) -> Iterator[tuple[tuple[str, ...], Any]]:
    yield ("guide",), guide.cover
    if guide.machine is not None:
        yield ("machine",), guide.machine
    yield ("jobs",), guide.jobs
    yield ("blocks",), guide.library.blocks
    yield ("symptoms",), guide.symptoms


def _of_machine(machine: Machine) -> Iterator[GuideText]:
    """Yield what has no place of its own in the file: the names of several, and of kits that are only named."""
    for key, thing in machine.things.items():
        if is_several(thing) and not thing.plural:
            span = place_of(thing.name, thing.span)
            yield GuideText(f"machine.things.{key}.plural", named(thing, 2), (span,), NOTES["plural"])
    for key, kit in kits_of(machine).items():
        if kit.span is None:
            users = (each for each in machine.things.values() if getattr(each, "kit", None) == key)
            yield GuideText(f"machine.kits.{key}.name", kit.name, (next(users).span,), NOTES["name"])


def _side(guide: Guide) -> Side | None:
    return side_of(guide.cover.language) if guide.cover else None


def _of_library(entries: Mapping[str, LibraryEntry], kind: str, known: Collection[Message]) -> Iterator[GuideText]:
    """Yield the texts of a library's entries that do not come with Putback."""
    for key, entry in entries.items():
        for name, text in texts_of_entry(entry):
            if message_of(kind, key, name, text) not in known:
                signal = entry.signal if isinstance(entry, SafetyMessage) and name in _SAFETY else None
                yield GuideText(
                    f"{kind}.{key}.{name}", str(text), (place_of(text, entry.span),), _note(name, signal), signal
                )


def _note(name: str, signal: Signal | None = None) -> str:
    return f"{NOTES.get(name, name)}; the signal word is {signal.value}" if signal else NOTES.get(name, name)


def _wording(said: SaidAt) -> GuideText:
    names = (".".join(said.place[-2:]), *reversed(said.place[-3:]))
    note = next((NOTES[name] for name in names if name in NOTES), "")
    of = said.within
    if isinstance(of, Thing) and said.place[-1] == "name" and said.text != of.key.replace("-", " "):
        note = f"{note}; its key is {of.key}"
    if isinstance(of, Step) and said.place[-1] in ("note", "because") and of.text:
        note = f"{note}; the step says: {of.text}"
    return GuideText(".".join(said.place), said.text, (said.span,), note)


def page_context(path: str, guide: Guide) -> str:
    """Return the context of the texts of a page."""
    name = path.removeprefix(f"{guide.shown}/").removesuffix(".md").replace("/", ".")
    return f"{PAGES}.{name}"
