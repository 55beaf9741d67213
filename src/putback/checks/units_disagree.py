"""A value is given in two units that do not agree.

The mechanic reads the unit on their tool, and gets a value that nobody meant: a slipped decimal point gives a tenth of
the gap, or ten times the pressure. Values in the files are checked, and so are those in notes, cautions and pages.

Look the value up, and correct the unit that is wrong; or leave one of them out, and it is worked out for the page.
Rounded numbers are accepted: up to 3.5 %, and more for a number with a single digit.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Step
from putback.model.said import Said, said_in
from putback.model.thing import Thing
from putback.prose.columns import may_have_columns, wrong_cells
from putback.prose.markdown import read_page
from putback.prose.pages import Passage, passage_of
from putback.prose.pairs import WrongPair, wrong_pairs
from putback.prose.statements import may_state, torques
from putback.source.finding import Level
from putback.units import QuantityError, disagreement, parse_any

LEVEL = Level.ERROR
GROUP = Group.NUMBERS

FAILS = """
steps:
  - loosen: guard-bolts
    note: Leave 0.011 in (0.028 mm).
                ^^^^^^^^^^^^^^^^^^^ the two stated units disagree: 0.011 in is 0.28 mm, but 0.028 mm is stated (−90.0 %)
  - tighten: guard-bolts
  - check: pressure
    limit: ">= 2.1 bar (3 psi)"
            ^^^^^^^^^^^^^^^^^^ the two stated units disagree: ≥ 2.1 bar is ≥ 31 psi, but ≥ 3 psi is stated (−90.2 %)
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
    note: Leave 0.011 in (0.28 mm).
  - tighten: guard-bolts
  - check: pressure
    limit: ">= 28 psi (2.0 kgf/cm², 193 kPa)"
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what the files and pages of a guide state in units that disagree."""
    for said in _texts(opened):
        if "(" in said or "/" in said or "[" in said or "=" in said:
            yield from _in_value(said)
    for path, page in opened.guide.pages.items():
        columns = may_have_columns(page)
        if columns or any(_wrong(" ".join(part.split())) for part in page.split("\n\n")):
            prose = read_page(path, page)
            for passage in (*prose.passages, *(cell for row in prose.rows for cell in row.cells)):
                yield from in_words(passage)
            for row in prose.rows if columns else ():
                for cell, pair in wrong_cells(row):
                    yield Fault(cell.span(pair.start, pair.end), pair.message)


def _texts(opened: Opened) -> Iterator[Said]:
    """Yield all that an author said in the YAML files of a guide."""
    guide, machine = opened.guide, opened.guide.machine
    records: list[object] = [guide.library, *guide.symptoms.values(), *([guide.cover] if guide.cover else [])]
    if machine is not None:
        records += [machine, *machine.things.values()]
    for sequence in opened.nesting.sequences():
        records += [sequence, *sequence.steps()]
    for record in records:
        for _, said in said_in(record, but=(Thing, Step)):
            yield said


def _in_value(said: Said) -> Iterator[Fault]:
    """Yield what is wrong with a text that is a quantity, or with those that stand in it."""
    try:
        quantity = parse_any(said)
    except QuantityError:
        yield from in_words(passage_of(said))
        return
    wrong = disagreement(quantity)
    if wrong:
        yield Fault(passage_of(said).span(0, len(said)), wrong)


def in_words(passage: Passage) -> Iterator[Fault]:
    """Yield what a passage states in units that disagree."""
    for pair in _wrong(passage.text):
        yield Fault(passage.span(pair.start, pair.end), pair.message, hint=pair.hint)


def _wrong(text: str) -> list[WrongPair]:
    """Return what a text states in units that disagree. Torques are known in more words."""
    found: list[WrongPair] = []
    if may_state(text):
        for said in torques(text):
            wrong = disagreement(said.quantity)
            if wrong:
                found.append(WrongPair(said.start, said.end, wrong))
    others = [pair for pair in wrong_pairs(text) if not any(_overlap(pair, one) for one in found)]
    return sorted([*found, *others])


def _overlap(one: WrongPair, other: WrongPair) -> bool:
    return one.start < other.end and other.start < one.end
