"""How a mass is lifted: what a step says of it, and what is taken for what it leaves open."""

from __future__ import annotations

import pytest

from putback.ledger.handling import DISTANCE, HEIGHT, REACH, TWIST, way_of
from putback.lifting.equation import Hands, LiftTask
from putback.lifting.tables import Coupling
from putback.model.verbs.lifting import Lift
from tests.ledger.trial import book_of

USUAL = Hands(REACH, HEIGHT, TWIST)
FAIR, PUT = Coupling.FAIR, HEIGHT + DISTANCE


@pytest.mark.parametrize(
    ("said", "task"),
    [
        ("", LiftTask(10.0, USUAL, Hands(REACH, PUT), FAIR)),
        ("    reach: 50 cm\n", LiftTask(10.0, Hands(50.0, HEIGHT, TWIST), Hands(50.0, PUT), FAIR)),
        ("    height: 10 cm\n", LiftTask(10.0, Hands(REACH, 10.0, TWIST), Hands(REACH, 10.0 + DISTANCE), FAIR)),
        ("    twist: 30°\n", LiftTask(10.0, Hands(REACH, HEIGHT, 30.0), Hands(REACH, PUT, 30.0), FAIR)),
        ("    twist: 0°\n", LiftTask(10.0, Hands(REACH, HEIGHT, 0.0), Hands(REACH, PUT, 0.0), FAIR)),
        ("    grip: poor\n", LiftTask(10.0, USUAL, Hands(REACH, PUT), Coupling.POOR)),
        ("    to-reach: 600 mm\n", LiftTask(10.0, USUAL, Hands(60.0, PUT), FAIR, control=True)),
        ("    to-height: 90 cm\n", LiftTask(10.0, USUAL, Hands(REACH, 90.0), FAIR, control=True)),
    ],
)  # fmt: skip
def test_what_a_step_leaves_open_is_as_usual(said: str, task: LiftTask) -> None:
    [entry] = book_of(f"  - lift: cover\n{said}").entries
    assert isinstance(entry.step.action, Lift)
    assert way_of(entry.step.action, 10.0) == task


def test_a_part_that_no_step_lifts_is_lifted_as_usual() -> None:
    assert way_of(None, 10.0) == LiftTask(10.0, USUAL, Hands(REACH, PUT), FAIR)
