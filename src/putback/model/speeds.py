"""Speeds of a machine, and the controls that set them."""

from __future__ import annotations

from collections.abc import Iterable

from putback.model.machine import AnyThing, Control, Machine
from putback.model.said import source_of
from putback.model.setting import Setting
from putback.units import Kind, Quantity, QuantityError, parse_any, si


def speed_of(text: str) -> Quantity | None:
    """Return the speed of turning that a text says: `1500 rpm`; None for another quantity, and for words."""
    if not any(sign in text for sign in ("rpm", "/min", "min⁻¹", "r.p.m", "RPM")):
        return None
    try:
        quantity = parse_any(text)
    except QuantityError:
        return None
    return quantity if quantity.kind is Kind.SPEED and quantity.unit == "rpm" else None


def idle_of(control: Control) -> str | None:
    """Return the position of a throttle in which the engine idles; None when it has none."""
    return next((each.name for each in control.positions if "idle" in each.name.lower()), None)


def throttles(things: Iterable[AnyThing]) -> list[Control]:
    """Return the controls that have speeds among their positions."""
    controls = (thing for thing in things if isinstance(thing, Control))
    return [each for each in controls if any(speed_of(position.name) for position in each.positions)]


def position_for(control: Control, at: str) -> str | None:
    """Return the position that a throttle must have for a run at something: `1500 rpm`, `idle`."""
    at = source_of(at)
    speed = speed_of(at)
    for position in control.positions:
        if position.name.lower() == at.lower() or (speed is not None and speed_of(position.name) == speed):
            return position.name
    return idle_of(control) if "idle" in at.lower() else None


_ENGINES = frozenset(
    {"engine", "outboard", "petrol", "gasoline", "diesel", "carburettor", "carburetor", "injector", "governor"}
)


def has_engine(machine: Machine, what: str) -> bool:
    """Tell whether a machine that runs has an engine, of which something sets the speed: no motor on the mains."""
    named = (what, machine.name, machine.kind or "", *(thing.name for thing in machine.things.values()))
    return any(not _ENGINES.isdisjoint(source_of(words).lower().replace("-", " ").split()) for words in named)


def governed(things: Iterable[AnyThing], speed: Quantity) -> bool:
    """Tell whether a setting of the machine has a speed within its limit: what a governor holds."""
    low, high = si(speed)
    for thing in things:
        quantity = thing.limit.quantity if isinstance(thing, Setting) and thing.limit else None
        if quantity is not None and quantity.kind is Kind.SPEED:
            least, most = si(quantity)
            above = least is None or (high is not None and high >= least)
            below = most is None or (low is not None and low <= most)
            if above and below:
                return True
    return False
