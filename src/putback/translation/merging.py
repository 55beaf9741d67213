"""A catalogue brought up to date: what is translated stays, what changed is marked, and what is gone is kept aside."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher

from putback.translation.catalogue import PoEntry, PoFile
from putback.translation.wording import PAGES, WORDS, GuideText, TextKey

_ALIKE = 0.6
"""How much of a text must be left for it to be the old one changed, where many texts belong to one place."""
_MOST, _LETTERS = 200, 300
"""Of so many texts of one place, and so many letters of each, it is looked at which was changed to a new one."""


@dataclass(slots=True)
class Merged:
    """A catalogue, and how it differs from the one before."""

    entries: list[tuple[GuideText, PoEntry]] = field(default_factory=list)
    """Every text of the guide with its entry, in the order of the guide."""
    unused: list[PoEntry] = field(default_factory=list)
    """Translations of texts that the guide no longer has."""
    added: list[TextKey] = field(default_factory=list)
    """Texts that the catalogue did not have."""
    changed: list[tuple[TextKey, str]] = field(default_factory=list)
    """Texts that were another when they were translated, each with what they were."""
    gone: list[TextKey] = field(default_factory=list)
    """Texts that the catalogue had, and the guide no longer has."""

    @property
    def missing(self) -> int:
        """How many texts have no translation."""
        return sum(not entry.told for _, entry in self.entries)

    @property
    def to_look_at(self) -> int:
        """How many translations somebody must look at, because the text has changed."""
        return sum(bool(entry.fuzzy and entry.told) for _, entry in self.entries)


def merged(wordings: Mapping[TextKey, GuideText], old: PoFile | None) -> Merged:
    """Return the catalogue of some texts, with the translations that an old one has."""
    found = Merged()
    entries = dict(old.entries) if old else {}
    left = [entry for key, entry in entries.items() if key not in wordings]
    waiting = [*left, *(old.unused if old else [])]
    for key, wording in wordings.items():
        entry = entries.get(key)
        if entry is None:
            entry = _from_another(key, waiting, found)
        found.entries.append((wording, entry))
    kept = {id(entry) for entry in waiting}
    found.gone = [entry.key for entry in left if id(entry) in kept]
    found.unused = [entry for entry in waiting if entry.told]
    return found


def _from_another(key: TextKey, waiting: list[PoEntry], found: Merged) -> PoEntry:
    """Return the entry of a new text: with the translation of one that was moved here, or was changed to it."""
    for other in waiting:
        if other.text == key.text and _file(other.context) == _file(key.context):
            waiting.remove(other)
            return replace(other, context=key.context)
    before = _changed_from(key, waiting)
    if before is None:
        found.added.append(key)
        return PoEntry(key.context, key.text)
    waiting.remove(before)
    was = before.previous if before.fuzzy and before.previous else before.text
    if not before.told:
        found.added.append(key)
        return PoEntry(key.context, key.text, remarks=before.remarks)
    found.changed.append((key, was))
    return replace(before, text=key.text, context=key.context, fuzzy=True, previous=was)


def _changed_from(key: TextKey, waiting: Iterable[PoEntry]) -> PoEntry | None:
    """Return the entry whose text was changed to this one; None for a new text."""
    alike = [entry for entry in waiting if entry.context == key.context][:_MOST]
    many = key.context == WORDS or key.context.startswith(f"{PAGES}.") or len(alike) > 1
    best: tuple[float, PoEntry | None] = (_ALIKE if many else 0.0, None)
    matcher = SequenceMatcher(None, "", key.text[:_LETTERS], autojunk=False)  # it learns its second text once
    for entry in alike:
        matcher.set_seq1(entry.text[:_LETTERS])
        if min(matcher.real_quick_ratio(), matcher.quick_ratio()) > best[0] and (ratio := matcher.ratio()) > best[0]:
            best = ratio, entry
    return best[1]


def _file(context: str) -> str:
    """Return the part of a context that tells the file."""
    return ".".join(context.split(".")[:2])


def taken_in(mine: PoFile, theirs: PoFile) -> PoFile:
    """Return a catalogue with the translations of another one of the same texts, as far as it has any.

    One that somebody must look at takes the place of none that was looked at.
    """
    entries = dict(mine.entries)
    for key, entry in theirs.entries.items():
        before = entries.get(key)
        if entry.told and not (entry.fuzzy and before and before.told and not before.fuzzy):
            entries[key] = entry
    return PoFile(mine.path, entries, mine.unused)
