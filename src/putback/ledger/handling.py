"""How a part is lifted, where nobody said it.

Defaults, common practice, no source: the hands 40 cm from the ankles (a part 40 cm deep held against the body, by the
estimate of p. 8 of the manual) and 75 cm high, at the height of the knuckles; put down 25 cm higher or lower on a bench
beside it, the body turned by 45°; a fair grip; now and then, for less than an hour.
"""

from __future__ import annotations

from putback.lifting.equation import Hands, LiftTask
from putback.lifting.tables import Coupling, read_word
from putback.model.verbs.lifting import Lift
from putback.units import Quantity

REACH, HEIGHT, DISTANCE, TWIST = 40.0, 75.0, 25.0, 45.0
"""cm, cm, cm and degrees."""


def way_of(lifting: Lift | None, mass: float) -> LiftTask:
    """Return how a mass, kg, is lifted: as a step says it, and the defaults for what it leaves open.

    Raises LiftError for what cannot be.
    """
    given = lifting or Lift(())
    reach, height = _cm(given.reach, REACH), _cm(given.height, HEIGHT)
    to_height = _cm(given.to_height, height + DISTANCE)
    twist = float(given.twist.to("°").high or 0) if given.twist else TWIST
    return LiftTask(
        mass,
        Hands(reach, height, twist),
        Hands(_cm(given.to_reach, reach), to_height, 0.0 if given.twist is None else twist),
        read_word(Coupling, given.grip or "fair"),
        control=bool(given.to_reach or given.to_height),
    )


def _cm(length: Quantity | None, otherwise: float) -> float:
    """Return the greatest value of a length, cm: the farther, the harder."""
    value = length.to("cm").high if length else None
    return otherwise if value is None else float(value)
