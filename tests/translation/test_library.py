"""Tests of the texts of the library, which Putback's own catalogues translate."""

from __future__ import annotations

import re

from putback.guide.library import read_shelf
from putback.source.schema import shipped
from putback.telling import Message
from putback.translation.library import known_texts, library_texts


def test_every_text_of_a_safety_message_is_wanted() -> None:
    wanted = known_texts()
    for key, caution in read_shelf(shipped("shared"), "shared").cautions.items():
        for part, text in caution.sentences:
            assert Message(f"shared.cautions.{key}.{part}", str(text)) in wanted


def test_a_name_that_is_made_from_its_key_is_wanted_too() -> None:
    wanted = known_texts()
    shelf = read_shelf(shipped("shared"), "shared")
    for kind in ("hazards", "tools", "consumables", "equipment"):
        for key, entry in getattr(shelf, kind).items():
            assert Message(f"shared.{kind}.{key}.name", str(entry.name)) in wanted


def test_what_is_worn_is_one_message_wherever_it_is_said() -> None:
    found = [each for each in library_texts() if each.message == Message("shared.ppe", "eye protection")]
    assert len(found) > 10


def test_each_text_has_a_note_and_a_place_in_its_file() -> None:
    for wanted in library_texts():
        assert wanted.note
        assert re.fullmatch(r"shared/(cautions|hazards|tools|consumables|equipment)\.yaml:[1-9][0-9]*", wanted.place)
