"""How a machine stands between two jobs, in English sentences and in flat ones."""

from __future__ import annotations

import pytest

from putback.ledger.opened import Opened
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    SettingState,
    State,
)
from putback.sheet.between import Away
from putback.sheet.wanted import LaidOut
from putback.words.english import English
from putback.words.plain import Plain
from putback.words.telling import telling_for
from tests.trial_pump import trial_pump


@pytest.fixture(scope="module")
def pump(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return trial_pump(tmp_path_factory.mktemp("standing"))


@pytest.mark.parametrize(
    ("key", "state", "english", "flat"),
    [
        ("lid", PartState(on=False), "Off: lid.", "Ausgebaut: lid."),
        ("lid-screws", GroupState(1, 0, 3), "Out: three lid screws.", "Herausgenommen: 3 × lid screw."),
        ("lid-screws", GroupState(1, 3), "Loose: three lid screws.", "Lose: 3 × lid screw."),
        (
            "hubs",
            GroupState(1, 0, 1, places=("tight", "out")),
            "Off: one hub nut at right.",
            "Ausgebaut: 1 × hub nut (right).",
        ),
        ("hose", LineState(frozenset({"tank"})), "Not connected: hose at the tank.", "Getrennt: hose (tank)."),
        ("hose", LineState(frozenset({"tank", "pump"})), "Not connected: hose.", "Getrennt: hose."),
        ("oil", FluidState(full=False), "Drained: oil.", "Abgelassen: oil."),
        ("fuel-cock", ControlState("shut"), "Set: fuel cock shut.", "Stellung: fuel cock – shut."),
        ("play", SettingState(), "To be adjusted or measured: play.", "Einzustellen oder zu messen: play."),
        ("lid", MarkState(), "To be aligned: lid.", "Auszurichten: lid."),
        ("", EquipmentState(), "In place: trestle.", "Angebracht: trestle."),
    ],
)
def test_each_state_is_told(pump: Opened, key: str, state: State, english: str, flat: str) -> None:
    assert pump.guide.machine is not None
    thing = pump.guide.machine.things.get(key)
    rows = [LaidOut(Away(thing.name if thing else "trestle", thing, state), None)]
    assert English(pump).standing(rows) == [english]
    [said] = Plain(pump, telling_for("de")).standing(rows)
    assert said.replace("\N{NO-BREAK SPACE}", " ") == flat


def test_states_of_a_kind_stand_in_one_line(pump: Opened) -> None:
    assert pump.guide.machine is not None
    things = pump.guide.machine.things
    off = [LaidOut(Away(things[key].name, things[key], PartState(on=False)), None) for key in ("pump", "lid")]
    both = [*off, LaidOut(Away("lid screw", things["lid-screws"], GroupState(0, 1, 3)), None)]
    assert English(pump).standing(both) == ["Off: pump and lid.", "Out: three lid screws.", "Loose: one lid screw."]
