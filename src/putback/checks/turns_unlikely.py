"""The turns past hand-tight do not fit the thread.

A taper pipe thread that is turned too little leaks; one that is turned too far splits what it is screwed into. A gasket
is crushed within little more than one turn. Often the turns were counted from the first thread, not from hand-tight.

Look the number up again, and whether it is counted from hand-tight. If it is right, say at the thing what confirms it:
`torque-confirmed: by what`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.turns import likely, likely_range
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.machine import Fastener
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  drain-plug:
    kind: plug
    thread: 1/4 NPT
    past-hand-tight: 6 .. 7 turns
                     ^^^^^^^^^^^^ 6 .. 7 turns past hand-tight is more than the taper thread of the drain plug takes
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  drain-plug: {kind: plug, thread: 1/4 NPT, past-hand-tight: 2 .. 3 turns}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield turns of the machine file that no thread of their kind takes."""
    for thing in opened.guide.machine.things.values() if opened.guide.machine else ():
        if (
            not isinstance(thing, Fastener)
            or thing.past_hand_tight is None
            or thing.past_hand_tight_span is None
            or thing.torque_confirmed
        ):
            continue
        taper = thing.screw is not None and thing.screw.taper
        wrong = likely(thing.past_hand_tight, taper=taper)
        if wrong is not None:
            what = f"the taper thread of the {named(thing)}" if taper else f"the {named(thing)}"
            goes = "takes" if wrong == "more" else "needs to be tight"
            message = f"{thing.past_hand_tight.text} past hand-tight is {wrong} than {what} {goes}"
            low, high = likely_range(taper=taper)
            hint = f"{low} to {high} is likely; if it is right, add 'torque-confirmed: by what'"
            yield Fault(thing.past_hand_tight_span, message, (), hint)
