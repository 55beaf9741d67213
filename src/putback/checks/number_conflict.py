"""A text gives a different number from the machine file or the job: of pieces, an amount, a mass, a tool, a time.

The page says four bolts, and the machine has six: two are forgotten, or looked for in vain. A number that is written
twice is corrected once: a note, a message or a page of prose keeps the old one. Torques have a check of their own,
`torque-conflict`.

Look it up, and correct the wrong one; or leave the number out of the text. Steps and the machine's page print counts,
limits and volumes from the machine file.
"""

from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group
from putback.checks.unknown_reference import texts_of
from putback.ledger.opened import Opened
from putback.prose.contexts import Context, Contradiction, in_files, on_page, roughly
from putback.prose.pages import passage_of
from putback.prose.stated_amounts import Amounts
from putback.prose.stated_counts import Counts
from putback.prose.stated_intervals import WrongInterval, may_say_when, wrong_intervals
from putback.prose.stated_outright import Outright
from putback.prose.stated_own import Own
from putback.prose.stated_rows import LimitRows
from putback.prose.stated_sizes import Sizes
from putback.prose.stated_times import Times
from putback.source.finding import Also, Level
from putback.source.quoting import quote
from putback.source.span import Span

LEVEL = Level.WARNING
GROUP = Group.NUMBERS

FAILS = """
steps:
  - loosen: guard-bolts
    note: All four guard bolts are alike.
              ^^^^ 'four guard bolts' here, but the machine file says two
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
    note: Both guard bolts are alike.
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield numbers of texts and pages that the machine file or a job contradicts."""
    guide, machine = opened.guide, opened.guide.machine
    if machine is None:
        return
    sequences = opened.nesting.sequences()
    times = Times(sequences, guide.library)
    amounts = Amounts(machine, sequences)
    judges = (Counts(machine), amounts, Outright(machine, amounts), Own(machine), Sizes(machine, guide.library), times)
    found = list(in_files(texts_of(opened)))
    pages = {path: list(roughly(page)) for path, page in guide.pages.items()}
    for context in (*found, *(context for page in pages.values() for context in page)):
        times.learn(context)
    for path, page in guide.pages.items():
        if any(_wrong(context, judges) for context in pages[path]):
            found += on_page(path, page)
    for context in found:
        yield from map(_fault, _wrong(context, judges))
    yield from _of_intervals(opened)
    rows = LimitRows(machine, sequences)
    for path, page in guide.pages.items():
        for row in rows.wrong(path, page):
            also = (Also(row.known.limit.span, "the limit"),)
            yield Fault(row.span, row.message, also)
    for limit, message in times.of_library(guide.shown):
        yield Fault(limit.span, f"{quote(limit)} here, but {message}")


def _of_intervals(opened: Opened) -> Iterator[Fault]:
    """Yield how often a text or a page says that a job is due, where the job says otherwise."""
    jobs = opened.guide.jobs
    for _, said, _ in texts_of(opened):
        for wrong in wrong_intervals(said, jobs) if may_say_when(said) else ():
            yield _of_interval(passage_of(said).span(wrong.start, wrong.end), wrong)
    for path, page in opened.guide.pages.items():
        for wrong in wrong_intervals(page, jobs) if may_say_when(page) else ():
            line, column = page.count("\n", 0, wrong.start) + 1, wrong.start - page.rfind("\n", 0, wrong.start)
            span = Span(path, line, column, line, column + wrong.end - wrong.start)
            yield _of_interval(span, wrong)


def _of_interval(span: Span, wrong: WrongInterval) -> Fault:
    message = f"the job {quote(wrong.job)} is due every {wrong.right}"
    return Fault(span, message, hint=f"write {quote(wrong.right)}")


def _wrong(
    context: Context, judges: Iterable[Counts | Amounts | Outright | Own | Sizes | Times]
) -> list[Contradiction]:
    return [wrong for judge in judges for wrong in judge.wrong(context)]


def _fault(wrong: Contradiction) -> Fault:
    also = (Also(wrong.other.span, "what the machine file says"),) if wrong.other else ()
    return Fault(wrong.context.passage.span(wrong.start, wrong.end), wrong.message, also, wrong.hint)
