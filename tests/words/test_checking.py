"""What is checked and its limit make one sentence, whatever an author wrote; what cannot be told apart stands alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.words.english.built import built, built_so
from putback.words.english.sizes import drive_said
from tests.words.test_wording import opened, sentence


@pytest.mark.parametrize(
    ("what", "limit", "said"),
    [
        # A verb.
        ("the bearing", "runs quietly", "Check that the bearing runs quietly."),
        ("the lever", "does not rattle", "Check that the lever does not rattle."),
        ("the brakes", "hold on a slope", "Check that the brakes hold on a slope."),
        ("the two lights", "both light up", "Check that the two lights both light up."),
        ("the valve", "neither leaks nor hisses", "Check that the valve neither leaks nor hisses."),
        ("every bolt", "came to its torque", "Check that every bolt came to its torque."),
        ("the door", "closes, and the catch snaps in", "Check that the door closes, and the catch snaps in."),
        # A state.
        ("oil level", "at the upper mark", "Check that the oil level is at the upper mark."),
        ("the hoses and the clamps", "dry and tight", "Check that the hoses and the clamps are dry and tight."),
        ("the joint between lid and tank", "dry", "Check that the joint between lid and tank is dry."),
        ("the chassis", "straight", "Check that the chassis is straight."),
        ("the hose", "clear of the pulley", "Check that the hose is clear of the pulley."),
        ("the teeth", "no wider than the gauge", "Check that the teeth are no wider than the gauge."),
        ("the lever", "not loose, and not bent", "Check that the lever is not loose, and not bent."),
        ("the pedal", "firm, and does not sink", "Check that the pedal is firm, and does not sink."),
        ("the exhaust", "dry, with no soot and no hiss", "Check that the exhaust is dry, with no soot and no hiss."),
        # What must be there, or must not.
        ("the gasket", "no leaks", "Check the gasket: there must be no leaks."),
        ("the weld", "a smooth bead", "Check the weld: there must be a smooth bead."),
        ("the cover", "no hiss, and no oil", "Check the cover: there must be no hiss, and no oil."),
        # A sentence, a value, or what nobody can tell.
        ("the screws", "none is loose", "Check the screws: none is loose."),
        ("the tap", "no drop falls within 1 min", "Check the tap: no drop falls within 1 min."),
        ("the anode", "more than half of it is left", "Check the anode: more than half of it is left."),
        ("the reel", "pulled slowly, it grips", "Check the reel: pulled slowly, it grips."),
        ("the oil", "it is clear", "Check the oil: it is clear."),
        ("the pedal", "firm, no sponginess", "Check the pedal: firm, no sponginess."),
        ("the hose", "clear water", "Check the hose: clear water."),
        ("the wheel", "turned evenly", "Check the wheel: turned evenly."),
        ("the blade", "a quarter turn at most", "Check the blade: a quarter turn at most."),
        ("the engine at idle", "850 rpm", "Check the engine at idle: 850 rpm."),
        ("the nut", "tight (no play)", "Check the nut: tight (no play)."),
        ("the fan", "turns. It does not rub", "Check the fan: turns. It does not rub."),
        ("whether it turns", "freely", "Check whether it turns: freely."),
        # What an author adds after a comma.
        ("the shaft, turned by hand", "turns freely", "Turn the shaft by hand. Check that it turns freely."),
        ("the tap and the bowl, wiped clean", "dry", "Wipe the tap and the bowl clean. Check that they are dry."),
        ("the rim, wiped and listened to", "no hiss", "Check the rim, wiped and listened to: there must be no hiss."),
        ("the joints, with the tap open", "dry", "With the tap open, check that the joints are dry."),
        ("the plug while the engine runs", "dry", "While the engine runs, check that the plug is dry."),
        ("the reel, with its lid beside it", "whole", "Check that the reel, with its lid beside it, is whole."),
        ("the tap, the hose and the bowl", "dry", "Check that the tap, the hose and the bowl are dry."),
    ],
)  # fmt: skip
def test_a_check_and_its_limit_make_a_sentence(tmp_path: Path, what: str, limit: str, said: str) -> None:
    assert sentence(opened(tmp_path, f'  - {{check: "{what}", limit: "{limit}"}}\n')) == said


@pytest.mark.parametrize(
    ("option", "choices", "said"),
    [
        ("shaft", ["long"], "with a long shaft"),
        ("alternator", ["small", "large"], "with a small or large alternator"),
        ("trim tab", ["fitted"], "with a trim tab"),
        ("oil alert", ["none"], "without an oil alert"),
        ("wheels", ["fitted"], "with wheels"),
        ("drive", ["belt"], "with belt drive"),
        ("cooling", ["raw water"], "with raw-water cooling"),
        ("pump drive", ["gear"], "with a gear-driven pump"),
        ("cylinders", ["one"], "with one cylinder"),
        ("line", ["rope"], "with line: rope"),
        ("voltage", ["12 V"], "with voltage: 12 V"),
        ("heater", ["none", "fitted"], "with heater: none or fitted"),
    ],
)
def test_an_option_and_its_choice_are_said_as_one(option: str, choices: list[str], said: str) -> None:
    assert built(option, choices) == said


def test_with_is_said_once() -> None:
    assert built_so([("shaft", ["long"]), ("drive", ["belt"])]) == "with a long shaft and belt drive"
    assert built_so([("heater", ["none"]), ("drive", ["belt"])]) == "without a heater and with belt drive"
    assert built_so([("drive", ["belt", "gear"]), ("mount", ["a"])]) == "with belt or gear drive, and mount: a"


@pytest.mark.parametrize(
    ("drive", "said"),
    [
        ("hex 13 mm", "13 mm hex"),
        ("inner hex 5 mm", "5 mm hex socket"),
        ("hex 9/16 in", "9/16 in hex"),
        ("12-point hex 14 mm", "14 mm 12-point hex"),
        ("hex 17", "hex 17"),
        ("T30", "T30"),
        ("front 30 mm", "front 30 mm"),
    ],
)
def test_a_drive_has_its_size_in_front(drive: str, said: str) -> None:
    assert drive_said(drive).replace("\N{NO-BREAK SPACE}", " ") == said
