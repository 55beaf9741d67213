"""How hard several lifting tasks are together: the composite lifting index.

    CLI = STLI₁ + FILI₂·(1/FM₁₂ − 1/FM₁) + FILI₃·(1/FM₁₂₃ − 1/FM₁₂) + …

The tasks are numbered from the hardest one, by STLI. FM₁₂ is that of the frequencies of tasks 1 and 2 together. Source:
DHHS (NIOSH) 94-110, revised 9/2021, section 2.4, pp. 26-28; read in a reproduction that cites the pages.

What the manual leaves open, and what this does: FM of several tasks takes the lower column of table 5 as soon as one
of them starts below the knuckles. With control at the destination, the lower limit of both ends counts, as for a single
task. Tasks that are equally hard and equally frequent stay in the order given.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from putback.lifting import LiftError
from putback.lifting.equation import LiftTask, index, recommended
from putback.lifting.tables import frequency_multiplier


@dataclass(frozen=True, slots=True)
class Task:
    """One of several tasks, looked at alone."""

    number: int
    """Its place in the order given, from 1."""
    lift: LiftTask
    firwl: float
    """The frequency-independent recommended weight limit, kg or lb: with an FM of 1."""
    strwl: float
    """The single-task recommended weight limit, kg or lb: FIRWL · FM."""
    fili: float
    """The frequency-independent lifting index: the greatest load / FIRWL. Above 1, the task asks for too much strength
    (p. 27). Infinite where nothing should be lifted so."""
    stli: float
    """The single-task lifting index: the average load / STRWL. Above 1, the task is too hard, even alone (p. 27)."""


@dataclass(frozen=True, slots=True)
class Composite:
    """How hard several tasks are together."""

    cli: float
    """The composite lifting index; infinite where something should not be lifted so, or so often."""
    tasks: tuple[Task, ...]
    """The hardest first: by STLI, then the more frequent (p. 57)."""
    increments: tuple[float, ...]
    """What each of these tasks adds; the first is its STLI."""


def composite(tasks: Sequence[LiftTask]) -> Composite:
    """Return the composite lifting index of any number of tasks, each with its own frequency.

    They share one duration and one unit system. Raises LiftError if they do not, or if there are none.
    """
    if not tasks:
        raise LiftError("no lifting tasks, expected one or more", "name the lifts of the job")
    for what, words in (
        ("duration", [lift.duration.value for lift in tasks]),
        ("unit system", [lift.system.value for lift in tasks]),
    ):
        odd = next((k for k, word in enumerate(words) if word != words[0]), None)
        if odd is not None:
            raise LiftError(
                f"the {what} of task {odd + 1} is {words[odd]}, of task 1 {words[0]}, expected one for all",
                "take the duration of the whole job" if what == "duration" else "measure all in the same units",
            )
    alone = [_alone(number, lift) for number, lift in enumerate(tasks, 1)]
    # Rounded, as the last digits of a float decide nothing between equals.
    order = sorted(alone, key=lambda task: (-round(task.stli, 9), -task.lift.frequency, task.number))
    increments = [order[0].stli]
    before = _slowness(order[:1])
    for count, task in enumerate(order[1:], 2):
        after = _slowness(order[:count])
        endless = math.isinf(task.fili) or math.isinf(after)
        increments.append(math.inf if endless else task.fili * (after - before))
        before = after
    return Composite(sum(increments), tuple(order), tuple(increments))


def _alone(number: int, lift: LiftTask) -> Task:
    limit = recommended(lift)
    heaviest = lift.load if lift.heaviest is None else lift.heaviest
    return Task(number, lift, limit.firwl, limit.rwl, index(heaviest, limit.firwl), limit.li)


def _slowness(tasks: Sequence[Task]) -> float:
    """Return 1/FM of the frequencies of tasks together; infinite for an FM of 0."""
    first = tasks[0].lift
    fm = frequency_multiplier(
        sum(task.lift.frequency for task in tasks),
        first.duration,
        min(task.lift.origin.height for task in tasks),
        first.system,
    )
    return index(1.0, fm)
