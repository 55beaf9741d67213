"""Far more of a fluid is filled in than the machine holds, or all of it a second time.

A lost decimal point makes 16 L of 1.6 L. Too much oil foams, is thrown out through the breather, and forces out seals.

Correct the volume, here or in the machine file. Topping up needs no volume, or a small one.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.machine import Fluid
from putback.model.states import FluidState
from putback.model.verbs.fluids import Fill
from putback.source.finding import Also, Level
from putback.units import si

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
          ^^^^^^^ 45 l of coolant is far more than the 4.5 l that the machine file gives
    volume: 45 l
  - install: header-cap
  - check: coolant
    limit: at the mark, and no drop below the pump
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
    volume: 4.5 l
  - install: header-cap
  - check: coolant
    limit: at the mark, and no drop below the pump
    otherwise:
      - stop: Do the job again.
"""

_FAR = 1.5
"""How much more than the machine file says is a slip: with a new filter, or into a dry gearbox, some more goes in."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fills of far more than the machine holds, at once or together with the one before."""
    for book in opened.books:
        for entry in book.of(Fill):
            action, target = entry.step.action, entry.target
            fluid = book.graph.machine.things.get(target.name) if target else None
            if not isinstance(action, Fill) or not action.volume or not isinstance(fluid, Fluid) or not fluid.volume:
                continue
            (filled, _), (_, holds) = si(action.volume), si(fluid.volume)
            if not filled or not holds or target is None:
                continue
            if filled > _FAR * holds:
                message = f"{action.volume.text} of {fluid.name} is far more than the {fluid.volume.text}"
                also = (Also(fluid.span, "said here"), *entry.ways)
                yield Fault(target.span, f"{message} that the machine file gives", also, variants=entry.variants)
                continue
            for held, state in book.before(fluid.key, entry):
                first = book.by(state.on_by) if isinstance(state, FluidState) and state.full else None
                before = first.step.action if first else None
                filled_in = si(before.volume)[0] if isinstance(before, Fill) and before.volume else None
                if filled_in and filled_in + filled > _FAR * holds and first and not entry.again:
                    also = (Also(first.step.key, "filled in here"), *entry.ways)
                    message = f"{fluid.name} is already in: this is {action.volume.text} more"
                    yield Fault(target.span, message, also, None, held, book.reached(entry))
