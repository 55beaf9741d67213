"""How the page at the bench says that a thing stands, from what the ledger holds."""

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
    ProofState,
    SettingState,
    State,
)
from putback.sheet.tracked.record import How, Stands
from putback.sheet.tracked.standing import WHOLE, stands
from tests.trial_pump import trial_pump


@pytest.fixture(scope="module")
def pump(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return trial_pump(tmp_path_factory.mktemp("standing"))


@pytest.mark.parametrize(
    ("key", "state", "expected"),
    [
        ("lid", PartState(), WHOLE),
        ("lid", PartState(on=False), Stands(How.OFF, False, 1, 1)),
        ("lid-screws", GroupState(4), WHOLE),
        ("lid-screws", GroupState(1, 3), Stands(How.LOOSE, False, 3, 4)),
        ("lid-screws", GroupState(1, 1, 2), Stands(How.OUT, False, 2, 4, 1)),
        ("hubs", GroupState(1, 0, 1, places=("tight", "out")), Stands(How.OUT, False, 1, 2, places=("right",))),
        ("hose", LineState(), WHOLE),
        ("hose", LineState(frozenset({"tank"})), Stands(How.OPEN, False, 1, 2)),
        ("oil", FluidState(full=False), Stands(How.EMPTY, False, 1, 1)),
        ("fuel-cock", ControlState("open"), Stands(How.AT, True, 0, 1, at="open")),
        ("fuel-cock", ControlState("shut"), Stands(How.AT, False, 1, 1, at="shut")),
        ("play", SettingState(known=False), Stands(How.DISTURBED, False, 1, 1)),
        ("", EquipmentState(there=True), Stands(How.THERE, False, 1, 1)),
        ("", EquipmentState(), Stands(How.AWAY, True)),
        ("lid", MarkState(astray=True), Stands(How.ASTRAY, False, 1, 1)),
        ("lid", ProofState(), WHOLE),
    ],
)
def test_a_state_is_told_as_a_mechanic_sees_it(pump: Opened, key: str, state: State, expected: Stands) -> None:
    assert pump.guide.machine is not None
    assert stands(pump.guide.machine.things.get(key), state) == expected
