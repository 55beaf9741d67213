"""An `act` says in words what a verb says.

What a verb says is proved: what comes off goes back, what is loosened is tightened to its torque, what is checked has a
limit. An `act` is only printed.

Use the verb, and keep `act` for what no verb says.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Step
from putback.model.states import State, is_off, is_whole
from putback.model.verb import Way
from putback.model.verbs import VERBS
from putback.model.verbs.acting import Act
from putback.prose.deeds import Deed, Objects, deeds, is_some, verb_for
from putback.source.finding import Level
from putback.source.quoting import SENTENCE, quote

LEVEL = Level.ADVICE
GROUP = Group.WORDS

FAILS = """
steps:
  - act: Clean the belt guard.
         ^^^^^^^^^^^^^^^^^^^^^ there is a verb for this: 'clean the belt guard'
    on: belt-guard
"""

PASSES = """
steps:
  - clean: belt-guard
  - act: Shake the belt guard by hand.
    on: belt-guard
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield actions in words that a verb of the language would have said."""
    machine = opened.guide.machine
    if machine is None or not opened.guide.is_english:
        return
    known = Objects(machine)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if not isinstance(step.action, Act):
                continue
            for deed in deeds(step.action.words):
                hint = verb_for(deed, known)
                if hint and not is_some(deed, known) and not _is_so(opened, step, deed, known):
                    yield _fault(step, deed, f"write {hint}{_without(step.action)}")
                    break


def _is_so(opened: Opened, step: Step, deed: Deed, known: Objects) -> bool:
    """Tell whether the verb would take off what is off at that step already, or put on what is on."""
    key, way = known.object_of(deed), VERBS[deed.verb or ""].way
    if key is None or way not in (Way.OFF, Way.ON):
        return False
    books = opened.books
    entries = [(book, each) for book in books for each in book.of(Act) if each.step is step and key in book.history]
    thing = known.things[key]

    def done(state: State) -> bool:
        return is_off(thing, state) if way is Way.OFF else is_whole(state)

    return bool(entries) and all(
        book.graph.space.within(
            book.graph.space.both(each.variants, book.graph.present(key)), book.where(key, each, done)
        )
        for book, each in entries
    )


def _without(action: Act) -> str:
    """Return what a hint adds where the things are named twice: the verb names them itself."""
    return ", without 'on'" if action.on else ""


def _fault(step: Step, deed: Deed, hint: str) -> Fault:
    span = getattr(step.action.words, "span", step.key) if isinstance(step.action, Act) else step.key
    return Fault(span, f"there is a verb for this: {quote(deed.words, SENTENCE)}", hint=hint)
