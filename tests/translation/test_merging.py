"""Tests of a catalogue that is brought up to date."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

import pytest

from putback.source.span import Span
from putback.translation.catalogue import PoEntry, PoFile
from putback.translation.merging import Merged, merged, taken_in
from putback.translation.wording import GuideText, TextKey

NOTE = "jobs.brake.remove-crank.note"


def texts(*said: tuple[str, str]) -> dict[TextKey, GuideText]:
    return {TextKey(*each): GuideText(*each, (Span("jobs/brake.yaml", 1, 1, 1, 2),), "") for each in said}


def file(*entries: PoEntry) -> PoFile:
    return PoFile("de.po", {entry.key: entry for entry in entries})


def entry_of(found: Merged) -> PoEntry:
    ((_, entry),) = found.entries
    return entry


def test_a_translation_stays() -> None:
    found = merged(texts((NOTE, "Turn it.")), file(PoEntry(NOTE, "Turn it.", "Drehen.")))
    assert entry_of(found).told == "Drehen."
    assert [found.added, found.changed, found.gone, found.missing, found.to_look_at] == [[], [], [], 0, 0]


def test_a_changed_text_keeps_its_translation_to_be_looked_at() -> None:
    found = merged(texts((NOTE, "Turn it twice.")), file(PoEntry(NOTE, "Turn it.", "Drehen.")))
    entry = entry_of(found)
    assert (entry.text, entry.told, entry.fuzzy, entry.previous) == ("Turn it twice.", "Drehen.", True, "Turn it.")
    assert found.changed == [(TextKey(NOTE, "Turn it twice."), "Turn it.")]
    assert found.to_look_at == 1


def test_a_text_that_changes_again_keeps_what_was_translated() -> None:
    before = PoEntry(NOTE, "Turn it twice.", "Drehen.", fuzzy=True, previous="Turn it.")
    assert entry_of(merged(texts((NOTE, "Turn it thrice.")), file(before))).previous == "Turn it."


def test_a_text_that_moved_within_its_file_keeps_its_translation() -> None:
    other = "jobs.brake.remove-drum.note"
    entry = entry_of(merged(texts((other, "Turn it.")), file(PoEntry(NOTE, "Turn it.", "Drehen."))))
    assert (entry.context, entry.told, entry.fuzzy) == (other, "Drehen.", False)


def test_of_several_texts_of_one_place_the_changed_one_is_found() -> None:
    place = "cautions.fuel.avoid"
    old = file(PoEntry(place, "Keep flames and sparks away.", "A"), PoEntry(place, "Let the engine cool.", "B"))
    found = merged(texts((place, "Let the engine cool first."), (place, "Keep flames and sparks away.")), old)
    told = {entry.text: (entry.told, entry.fuzzy) for _, entry in found.entries}
    assert told == {"Keep flames and sparks away.": ("A", False), "Let the engine cool first.": ("B", True)}


def test_a_new_paragraph_of_a_page_takes_no_translation_of_another() -> None:
    found = merged(texts(("pages.safety", "Wear gloves.")), file(PoEntry("pages.safety", "The drum holds 8 m.", "A")))
    assert entry_of(found).told == ""
    assert found.gone == [TextKey("pages.safety", "The drum holds 8 m.")]
    assert [entry.told for entry in found.unused] == ["A"]


def test_what_came_back_has_its_translation_again() -> None:
    old = PoFile("de.po", {}, [PoEntry(NOTE, "Turn it.", "Drehen.")])
    found = merged(texts((NOTE, "Turn it.")), old)
    assert (entry_of(found).told, found.unused) == ("Drehen.", [])


def test_what_is_taken_in_unlooked_at_replaces_nothing_that_was_looked_at() -> None:
    sent = file(PoEntry(NOTE, "Turn it.", "Heben.", fuzzy=True, previous="Lift it."))
    for mine, told in ((PoEntry(NOTE, "Turn it.", "Drehen."), "Drehen."), (PoEntry(NOTE, "Turn it."), "Heben.")):
        assert entry_of(merged(texts((NOTE, "Turn it.")), taken_in(file(mine), sent))).told == told


def test_a_catalogue_with_very_many_texts_of_one_place_is_not_compared_letter_by_letter(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    compared = []

    class Counted(SequenceMatcher[str]):
        def set_seq1(self, a: Sequence[str]) -> None:
            compared.append(len(a))
            super().set_seq1(a)

    monkeypatch.setattr("putback.translation.merging.SequenceMatcher", Counted)
    old = file(*(PoEntry(NOTE, f"{number} Turn it. " * 500, "Drehen.") for number in range(1_000)))
    merged(texts((NOTE, "Turn it. " * 1_000)), old)
    assert 0 < len(compared) <= 201
    assert max(compared) <= 300
