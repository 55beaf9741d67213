"""A note contains work that needs a step of its own.

A note has no number and no box: it is skipped, nobody ticks it off, and the hazards of what it touches are not checked.

Write `act` instead of `note`, and list what it touches under `on`; or use the verb that says it. What is due hours
later goes under `follow-ups`. A note may say how a step is done, what to look out for, or why.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Job, Sequence, Step, walk
from putback.model.verbs.telling import Note
from putback.prose.deeds import Deed, Objects, deeds, is_later, is_on_a_thing, verb_for, worked_on
from putback.source.finding import Level
from putback.source.quoting import SENTENCE, quote
from putback.source.span import Span

LEVEL = Level.ADVICE
GROUP = Group.WORDS

FAILS = """
steps:
  - clean: belt-guard
  - note: Then shake it by hand. A loose guard rattles.
          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ a note contains work, with no box to tick: 'shake it by hand'
"""

PASSES = """
steps:
  - clean: belt-guard
  - act: Shake it by hand. A guard that is loose rattles.
    on: belt-guard
  - note: A guard that was painted hides its cracks.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield notes between steps that begin a sentence with what somebody must do."""
    machine = opened.guide.machine
    if machine is None or not opened.guide.is_english:
        return
    known = Objects(machine)
    for sequence in opened.nesting.sequences():
        for section in sequence.sections:
            top = {id(step) for step in section.steps} if isinstance(sequence, Job) else set()
            for step in walk(section.steps):
                ordered = list(deeds(step.action.words)) if isinstance(step.action, Note) else []
                later = next((deed for deed in ordered if is_later(deed)), None)
                if later and id(step) in top:
                    yield _later(step, later)
                elif ordered and not later and not _told(ordered, opened, sequence, known):
                    yield _fault(step, ordered[0], known)


def _told(ordered: list[Deed], opened: Opened, sequence: Sequence, known: Objects) -> bool:
    """Tell whether `hidden-action` tells it: work on a thing that no step works on."""
    done = worked_on([sequence] if isinstance(sequence, Job) else opened.nesting.sequences())
    return any(is_on_a_thing(deed, known, done) for deed in ordered)


def _later(step: Step, deed: Deed) -> Fault:
    message = f"a note contains work that is due later, with no box to tick: {quote(deed.words, SENTENCE)}"
    return Fault(_span(step), message, hint="put it under 'follow-ups', with 'after'")


def _fault(step: Step, deed: Deed, known: Objects) -> Fault:
    about = known.object_of(deed)
    on = f", with 'on: {about}'" if about else ""
    verb = verb_for(deed, known)
    message = f"a note contains work, with no box to tick: {quote(deed.words, SENTENCE)}"
    return Fault(_span(step), message, hint=f"write {verb}" if verb else f"write 'act' instead of 'note'{on}")


def _span(step: Step) -> Span:
    return getattr(step.action.words, "span", step.key) if isinstance(step.action, Note) else step.key
