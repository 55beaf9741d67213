"""The sentence of each verb, in each language."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.model.verb import AnyVerb
from putback.model.verbs import VERBS
from putback.words import LANGUAGES, as_text, catalogue
from tests.conftest import Write


def unsaid(language: object, verbs: Iterable[AnyVerb]) -> list[str]:
    """Return the verbs that a language has no sentence for."""
    return [verb.name for verb in verbs if not callable(getattr(language, f"say_{verb.key}", None))]


@pytest.mark.parametrize("language", list(LANGUAGES))
def test_every_verb_has_its_sentence(language: str) -> None:
    assert unsaid(LANGUAGES[language].maker, VERBS.values()) == []
    said = {name for name in dir(LANGUAGES[language].maker) if name.startswith("say_")}
    assert said == {f"say_{verb.key}" for verb in VERBS.values()}, "and no other"


def test_a_verb_without_a_sentence_is_named() -> None:
    class Few:
        def say_remove(self) -> None: ...

    assert unsaid(Few, [VERBS["remove"], VERBS["turn"]]) == ["turn"]


TURNS = [
    ("turn: crankshaft, way: clockwise, by: 2 turns", "Turn the crankshaft two turns clockwise by hand."),
    ("turn: crankshaft, by: 1 turn", "Turn the crankshaft one turn by hand."),
    ("turn: crankshaft, by: 0.5 turns", "Turn the crankshaft half a turn by hand."),
    ("turn: crankshaft, by: 1/4 turn", "Turn the crankshaft a quarter of a turn by hand."),
    ("turn: crankshaft, by: 1.5 turns", "Turn the crankshaft 1.5 turns by hand."),
    ("turn: crankshaft, by: 20 turns", "Turn the crankshaft 20 turns by hand."),
    ("turn: crankshaft, by: 90°", "Turn the crankshaft 90° by hand."),
    ("turn: crankshaft, until: it clicks", "Turn the crankshaft by hand until it clicks."),
    ("turn: crankshaft, by: 2 turns, until: it clicks", "Turn the crankshaft two turns by hand, until it clicks."),
    (
        "turn: crankshaft, way: anticlockwise, seen-from: the rear, until: it clicks",
        "Turn the crankshaft anticlockwise, seen from the rear, by hand until it clicks.",
    ),
    (
        "turn: crankshaft, tool: [socket-24, rod], by: 1 turn",
        "Turn the crankshaft one turn with the 24 mm socket and the rod.",
    ),
    ("turn: [crankshaft, fan], by: 1 turn", "Turn the crankshaft and the fan one turn by hand."),
    ("adjust: idle", "Adjust the idle to 850–950 rpm, with a warm engine."),
    ("adjust: idle, limit: 880 rpm .. 920 rpm", "Adjust the idle to 880–920 rpm, with a warm engine."),
    ("measure: idle", "Measure the idle, with a warm engine: it must be 850–950 rpm."),
    ("check: idle", "Check that the idle, with a warm engine, is 850–950 rpm."),
    ("adjust: full-speed", "Adjust the full speed to ≤ 4800 rpm."),
    ("place: stand, at: under it", "Put the stand under it."),
    ("take-away: stand, at: behind the door", "Take the stand away, behind the door."),
]


@pytest.mark.parametrize(("step", "sentence"), TURNS)
def test_a_sentence_says_all_of_the_step(step: str, sentence: str, write_guide: Write) -> None:
    folder = write_guide(
        {
            "pump/machine.yaml": "machine: Bench pump\nparts: {crankshaft: {}, fan: {}}\n"
            "settings:\n  idle: {limit: 850 rpm .. 950 rpm, measured: with a warm engine}\n"
            "  full-speed: {limit: <= 4800 rpm}\n",
            "pump/tools.yaml": "socket-24: {name: 24 mm socket}\nrod: {name: rod}\n",
            "pump/equipment.yaml": "stand: {name: stand}\n",
            "pump/jobs/look.yaml": f"job: Look\nsteps:\n  - {{{step}}}\n",
        }
    )
    guide = read_guide(folder)
    assert list(guide.faults) == []
    [written] = guide.jobs["look"].steps()
    words = as_text(catalogue(open_guide(guide)).step(written))
    assert words.replace("\N{NO-BREAK SPACE}", " ") == sentence
