"""A note says that the machine must not run, and the job then runs it.

Milky gear oil, a bearing that knocks: "do not start it before this is repaired", says the note, and twenty steps later
comes the test run. Anyone who works down the page does both.

Let that way out end in a `stop`. What must be done in any case, such as filling up, closing and hanging a tag, goes
before the `stop`, with `do` and `reverse` for what blocks do.
"""

import re
from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.model.job import Sequence, Step
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.controls import Run
from putback.model.verbs.telling import Note, Stop
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.source.span import Span
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True

FAILS = """
steps:
  - inspect: belt
    for: cracks
    otherwise:
      - note: Have a new belt fitted before the pump is used again.
        ^^^^ the pump must not run here, but the job goes on to run it (only when belt is out of limit)
  - caution: running-engine
  - run: pump
    for: 5 min
"""

PASSES = """
steps:
  - inspect: belt
    for: cracks
    otherwise:
      - stop: Have a new belt fitted before the pump is used again.
  - caution: running-engine
  - run: pump
    for: 5 min
"""

_MACHINES = (
    "machine engine motor set generator boat outboard pump mower saw winch grinder compressor unit vehicle tractor"
)
"""What runs, by its last word; beside these, whatever some step runs. An old gasket is not to be used again, either."""

_MAY = Late(r"(?:not|n't|never|before)\b.*\b(?:run|start|use|operat|driv)", re.IGNORECASE)
"""What all of these words have; the rest is made ready only where some text has this."""


def _forbids(machines: Iterable[str]) -> re.Pattern[str]:
    """Return what words look like that forbid to run until something is done: not how fast, or without what."""
    it = rf"(?:the|this|your) (?:[\w-]+ )?(?:{'|'.join(map(re.escape, machines))})"
    end = r"(?: (?:again|any ?more|further|now|yet))?(?:[.,;:!]|$| (?:until|before|like this|in this state|so)\b)"
    never = r"\b(?:do not|don't|never)"
    may_not = r"(?:must not|may not|should not|cannot|can't|shall not)"
    return re.compile(
        rf"{never} (?:run|start)(?: up)?(?: it| them)?{end}"
        rf"|{never} (?:run|start|use|operate|drive)(?: up)? {it}{end}"
        rf"|\b(?:{it}|it) {may_not} (?:be )?(?:run|started|driven|operated){end}"
        rf"|\b{it} {may_not} be used{end}"
        rf"|\bbefore {it} (?:is|may be|can be) (?:used|run|started|driven)\b"
        rf"|\bbefore it (?:is|may be|can be) (?:run|started|driven)\b"
        rf"|\bbefore you (?:use|run|start|drive) {it}\b",
        re.IGNORECASE,
    )


def find(opened: Opened) -> Iterator[Fault]:
    """Yield notes of ways out that forbid a run, after which the job runs."""
    if not opened.guide.is_english:
        return
    sequences = list(opened.nesting.sequences())
    steps = [step for sequence in sequences for step in sequence.steps()]
    run = {ref.name.lower().split()[-1] for step in steps if isinstance(step.action, Run) for ref in step.things}
    if not run or not any(_MAY.search(words) for step in steps for words in _said(step)):
        return
    pattern = _forbids([*_MACHINES.split(), *sorted(run)])
    forbid = {key for sequence in sequences for key in _forbidding(sequence, pattern)}
    for book in opened.books if forbid else ():
        for entry in book.entries:
            if entry.step.key in forbid:
                yield from _then_runs(book, entry)


def _forbidding(sequence: Sequence, pattern: re.Pattern[str]) -> Iterator[Span]:
    """Yield the steps of ways out that forbid a run, and lead neither to an end nor back to a question."""
    for step in sequence.steps():
        for way in (step.otherwise, *(outcome.steps for outcome in step.outcomes)):
            for number, each in enumerate(way):
                if any(pattern.search(words) for words in _said(each)) and not _asks_again(way[number + 1 :]):
                    yield each.key


def _said(step: Step) -> list[str]:
    """Return what a step tells, beside what it does."""
    said = (step.note, step.action.words if isinstance(step.action, Note) else None)
    return [words for words in said if words]


def _asks_again(steps: Iterable[Step]) -> bool:
    return any(isinstance(step.action, Stop | BackTo) or step.verb.asks for step in steps)


def _then_runs(book: Book, entry: Entry) -> Iterator[Fault]:
    """Yield that a run follows on the same way."""
    for run in book.of(Run):
        here = book.graph.space.both(run.variants, entry.variants)
        if run.index > entry.index and here != NONE:
            message = f"the {what_runs(book, run)} must not run here, but the job goes on to run it"
            also = Also((run.via[0] if run.via else run.step).key, "it runs from here")
            hint = "let this way out close up what is open, and end in a 'stop'"
            yield Fault(entry.step.key, message, (also, *entry.ways), hint, here, book.reached(entry))
            return
