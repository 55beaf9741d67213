"""Two places give one fastener different torques.

The mechanic reads one of them, and the bolt breaks or comes loose. A number that is written twice is corrected once: a
step, a note or a table keeps the old one. Numbers in words are read as well.

Look the torque up, and keep it in the machine file only; steps print it from there. If a step needs more, say
`because: why` at the step. Less is a stage: a later step must tighten it fully.
"""

import re
from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.fastened import tears
from putback.model.machine import Fastener
from putback.model.reach import is_stage
from putback.model.verbs.pieces import Tighten
from putback.prose.aims import is_aim, is_limit, sentences
from putback.prose.settled import Called, Settled, belongs, nearest_before, same
from putback.prose.statements import Statement, number_with, torques, unit_in
from putback.prose.wordings import Wording, wordings
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.units import Quantity, rounded_to
from putback.units.symbols import core

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
steps:
  - loosen: guard-bolts
  - tighten: guard-bolts
    note: Twelve newton metres, in two rounds.
          ^^^^^^^^^^^^^^^^^^^^ 'Twelve newton metres' here, but the machine file says 9 N·m for guard bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
  - tighten: guard-bolts
    note: Nine newton metres (80 lbf·in), and never more than 12 N·m.
  - check: belt guard
    limit: does not rattle
    otherwise: [{stop: Do the job again.}]
"""

_STAGE = re.compile(r"\b(?:first|stages?|snug|seat|initial\w*|half)\b", re.IGNORECASE)
"""Words of a text that tells of a stage, which the machine file need not have."""

_HINT = "if it is intended, say why: 'because: why'"


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of steps, texts and tables that differ from the machine's."""
    guide, machine = opened.guide, opened.guide.machine
    if machine is None:
        return
    settled = Settled(machine, sequences := opened.nesting.sequences())
    for sequence in sequences:
        for step in sequence.steps():
            if isinstance(step.action, Tighten) and not step.because:
                found = [machine.things.get(ref.name) for ref in step.things]
                groups = [each for each in found if isinstance(each, Fastener)]
                yield from _of_step(step.action, groups, settled, opened)
    for wording in wordings(guide, machine, sequences, settled):
        yield from _of(wording, settled)


def _of_step(action: Tighten, things: list[Fastener], settled: Settled, opened: Opened) -> Iterator[Fault]:
    """Yield a torque that is more than is due: what is less is a stage, and `left-loose` asks for the rest."""
    if (torque := action.torque) is None or (span := action.torque_span) is None:
        return
    for thing in things:
        told = tears(thing, torque, opened.guide.machine, opened.guide.library)  # by torque-unlikely
        if not told and thing.last_torque and not (action.is_stage(thing) or same(torque, thing.last_torque)):
            words = _shown(torque.text, torque, [thing])
            yield Fault(span, _message(words, [thing], settled), _also([thing]), _HINT)


def _of(wording: Wording, settled: Settled) -> Iterator[Fault]:
    text, head = wording.passage.text, wording.head
    statements = torques(text)
    unit = unit_in(head) if head and not statements else None
    quantity = number_with(text, unit) if unit else None
    if quantity is not None:
        statements = [Statement(0, len(text), quantity, f"{text} {unit}")]
    if not wording.compared or is_limit(head):
        return
    index = 0
    for start, end in sentences(text):
        first = index
        while index < len(statements) and statements[index].start < end:
            index += 1
        sentence = text[start:end]
        names = settled.named(sentence) if index > first and not head else []
        for said in statements[first:index]:
            here = (said.start - start, said.end - start)
            meant = [called for called in names if belongs(sentence, *here, called.start)]
            if wording.lone and len(names) > 1:
                meant = nearest_before(sentence, here[0], names)
            if is_aim(text, said.start, said.end) and not (wording.lone and not meant):
                yield from _compared(said, wording, meant, f"{head} {sentence}", settled)


def _compared(
    said: Statement, wording: Wording, names: list[Called], sentence: str, settled: Settled
) -> Iterator[Fault]:
    """Yield a torque that none of the fasteners has of which the sentence speaks."""
    called = [*wording.own, *(thing for name in names for thing in name.fasteners)]
    about = {thing.key: thing for thing in called if settled.torques(thing)}
    known = [*wording.torques, *(torque for thing in about.values() for torque in settled.torques(thing))]
    if not about or any(same(said.quantity, torque.quantity) for torque in known):
        return
    things = list(about.values())
    if _STAGE.search(sentence) and all(is_stage(said.quantity, thing) for thing in things):
        return
    message = _message(_shown(said.words, said.quantity, things), things, settled)
    yield Fault(wording.passage.span(said.start, said.end), message, _also(things))


def _shown(words: str, said: Quantity, things: list[Fastener]) -> str:
    """Return the words of a torque, in the machine's unit as well."""
    quoted = f"'{words}'" if words[0].isalpha() else words
    last = things[0].last_torque
    units = [said.unit, *(other.unit for other in said.also)]
    return f"{quoted} is {_plain(rounded_to(said, last.unit))}" if last and last.unit not in units else f"{quoted} here"


def _message(words: str, things: list[Fastener], settled: Settled) -> str:
    parts = []
    for thing in things:
        known = [torque.quantity for torque in settled.torques(thing) if not torque.in_step or not thing.last_torque]
        parts.append(f"{listed(list(dict.fromkeys(map(_plain, known))))} for {named(thing)}")
    where = "the machine file says" if any(thing.last_torque for thing in things) else "a step says"
    return f"{words}, but {where} {listed(parts)}"


def _also(things: Iterable[Fastener]) -> tuple[Also, ...]:
    return tuple(Also(thing.torque_span, f"the torque of {named(thing)}") for thing in things if thing.torque_span)


def _plain(quantity: Quantity) -> str:
    return core(quantity).replace("\N{NO-BREAK SPACE}", " ")
