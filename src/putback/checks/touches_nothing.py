"""An action in words names what it works on, but does not list it.

Hazards, needs and what is in the way are checked for the things listed under `on`. Without them, a fuel pump is primed
with no word about the fuel.

Add the thing under `on`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.verbs.acting import Act
from putback.prose.deeds import Objects, deeds
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.WARNING
GROUP = Group.WORDS

FAILS = """
steps:
  - act: Shake the belt guard by hand.
         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ 'belt-guard' is touched here, but not named
"""

PASSES = """
steps:
  - act: Shake the belt guard by hand.
    on: belt-guard
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield actions in words that are about a thing of the machine, and have nothing under `on`."""
    machine = opened.guide.machine
    if machine is None or not opened.guide.is_english:
        return
    known = Objects(machine)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if not isinstance(step.action, Act) or step.action.on:
                continue
            about = dict.fromkeys(key for deed in deeds(step.action.words) if (key := known.object_of(deed)))
            if about:
                span = getattr(step.action.words, "span", step.key)
                on = next(iter(about)) if len(about) == 1 else f"[{', '.join(about)}]"
                names = ", ".join(quote(key) for key in about)
                be = "is" if len(about) == 1 else "are"
                yield Fault(span, f"{names} {be} touched here, but not named", hint=f"add 'on: {on}'")
