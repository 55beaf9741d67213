"""Levels of fluids, and controls with their positions, beside the first step of a job that has to do with one."""

from __future__ import annotations

from collections.abc import Iterator

from putback.drawings.controls import MOST, DrawnPosition, control_drawing
from putback.drawings.levels import DrawnLevel, level_drawing
from putback.model.control import OPEN
from putback.model.machine import Control, Fluid
from putback.model.verbs.asking import Inspect, Verify
from putback.model.verbs.controls import Set
from putback.model.verbs.fluids import Fill
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language


def levels_at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield where the level of each fluid should be that a step fills or looks at."""
    for ref in line.step.things if isinstance(line.step.action, Fill | Verify | Inspect) else ():
        fluid = page.words.things.get(ref.name)
        if isinstance(fluid, Fluid) and (drawn := _level(fluid, page.words)):
            yield Placed(f"level {ref.name}", drawn)


def controls_at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield each control that a step sets, whatever was found before."""
    action = line.step.action
    for ref in action.things if isinstance(action, Set) and not line.conditional else ():
        control = page.words.things.get(ref.name)
        if isinstance(action, Set) and isinstance(control, Control):
            drawn = _control(control, action.to.name, page.words)
            if drawn is not None:
                yield Placed(f"control {ref.name}", drawn)


def _level(fluid: Fluid, words: Language) -> own.drawing | None:
    if fluid.level is None:
        return None
    said, marks = words.level(fluid), tuple(ref.name for ref in fluid.level.marks)
    if not marks and fluid.level.at in ("dipstick", "tank"):
        marks = ("", "")
    good = marks.index(fluid.level.to.name) if fluid.level.to and fluid.level.to.name in marks else None
    if len(marks) == 1:
        good = 0
    svg = level_drawing(DrawnLevel(fluid.level.at, marks, good), said)
    return own.drawing("", svg=svg, alt=said.alt, beside="step")


def _control(control: Control, position: str, words: Language) -> own.drawing | None:
    places = [ref.name for ref in control.positions]
    if control.looks is None or position not in places or not 2 <= len(places) <= MOST:
        return None
    said = words.control(control, position)
    names = [DrawnPosition(words.position_name(place), place in OPEN) for place in places]
    svg = control_drawing(control.looks, names, places.index(position), said)
    return own.drawing("", svg=svg, alt=said.alt, beside="step")
