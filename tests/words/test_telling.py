"""Phrases and labels in a language: roles stay, and every label has a context of its own."""

from __future__ import annotations

from putback.model.terms import Signal
from putback.words.english import LABELS
from putback.words.pieces import Piece, Role
from putback.words.telling import Message, relabelled, telling_for
from tests.words.pseudo import TELLING, told


def test_what_is_filled_in_keeps_its_role() -> None:
    torque = Piece("8 N·m", Role.TORQUE)
    said = TELLING.say_phrase("verb.tighten", "{thing}: tighten to {torque}", thing="Nut", torque=torque)
    assert said == (Piece("Nut"), Piece(": «tighten» «to» "), torque)


def test_a_number_of_pieces_is_filled_in() -> None:
    said = TELLING.say_count_phrase("pieces", "{count} piece of {thing}", "{count} pieces of {thing}", 3, thing="Nut")
    assert "".join(piece.text for piece in said) == "3 «pieces» «of» Nut"
    assert TELLING.told_phrase(Message("film", "oiled")) == (Piece("«oiled»"),)


def test_labels_are_told_one_by_one() -> None:
    assert TELLING.labels() == told(LABELS)
    assert TELLING.labels() is TELLING.labels()
    assert telling_for("qaa").labels() == LABELS


def test_each_label_has_a_context_of_its_own() -> None:
    found: dict[str, str] = {}

    def note(context: str, text: str) -> str:
        assert context not in found
        found[context] = text
        return text

    assert relabelled(LABELS, "label", note) == LABELS
    assert found["label.job.count_back"] == "Count back"
    assert found["label.job.to_sign.2"] == "Date"
    assert found[f"label.safety.signals.{Signal.DANGER.value}"] == "Danger"
    assert found["label.reference.index.off"] == "off"
