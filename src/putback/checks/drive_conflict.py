"""A spanner size does not go with the thread.

An M8 bolt has a 13 mm head, rarely 10 or 15. If the machine file says 17, either the spanner or the thread is wrong,
and with the thread the torque.

Measure the head, or look up the thread.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.drives import Drive, flats, read_drive, suits, threads_of
from putback.joints.preload import judge
from putback.joints.thread_sizes import INCH
from putback.joints.usual import unusual
from putback.ledger.opened import Opened
from putback.model.fastened import BOLTS, joint_of, kind_of, other_thread
from putback.model.library import Library
from putback.model.machine import Fastener, Machine
from putback.model.said import place_of
from putback.source.finding import Also, Level
from putback.source.grammar import with_article
from putback.units import digits, si

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M8 x 1.25
    class: "8.8"
    torque: 24 N·m
    drive: hex 17 mm
           ^^^^^^^^^ a 17 mm hexagon does not go with M8 × 1.25, which takes 13 mm, or 10 to 15 mm
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {count: 4, thread: M8 x 1.25, class: "8.8", drive: hex 13 mm, torque: 24 N·m}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield bolts, screws and nuts with a hexagon that is on no list for their thread."""
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if not isinstance(thing, Fastener) or not thing.drive or thing.screw is None:
            continue
        drive = read_drive(thing.drive)
        if drive is None or drive.unit is None or (kind_of(thing) or "bolt") not in BOLTS:
            continue
        sizes = flats(thing.screw, inside=bool(drive.inside))
        if sizes and not suits(drive, thing.screw) and not _torque_tells(thing, machine, opened.guide.library):
            low, high, usual = sizes
            span, also = place_of(thing.drive, thing.span), (Also(thing.span, "the fastener"),)
            message = f"{_what(drive)} does not go with {thing.screw.designation}, which takes {_size(usual, drive)}"
            message += f", or {_size(low, drive, bare=True)} to {_size(high, drive)}"
            yield Fault(span, message, also, _hint(drive, usual))


def _torque_tells(thing: Fastener, machine: Machine | None, library: Library) -> bool:
    """Tell whether the torque does not fit either: then torque-unlikely or torque-unusual speaks of the thread."""
    joint = joint_of(thing, machine, library) if machine else None
    low, high = si(thing.last_torque) if thing.last_torque else (None, None)
    if joint is None or low is None or high is None or thing.torque_confirmed or other_thread(thing) is None:
        return False
    judged = judge((low, high), joint)
    return judged is not None and (judged.wrong is not None or unusual((low, high), joint) is not None)


def _what(drive: Drive) -> str:
    return with_article(f"{_size(drive.size, drive)} {'hexagon socket' if drive.inside else 'hexagon'}")


def _size(size: float, drive: Drive, *, bare: bool = False) -> str:
    if drive.unit == "in":
        return f"{digits(size / INCH, 3)}{'' if bare else ' in'}"
    return f"{digits(size)}{'' if bare else ' mm'}"


def _hint(drive: Drive, usual: float) -> str:
    threads = [f"M{digits(d)}" for d in threads_of(drive)] if drive.unit == "mm" else []
    return f"was {_size(usual, drive)} meant{f', or {threads[0]}' if threads else ''}?"
