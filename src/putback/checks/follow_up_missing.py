"""Fasteners are due to be tightened again, but are under covers that no follow-up takes off.

`retighten-after` alone prints one line: tighten them again. Whoever reads it faces a closed cover, without a new gasket
for it, and does not think of the clearances that the bolts disturb. The same applies where nothing covers them but a
setting changes with them.

Write it under `follow-ups` of the job: steps that say how the machine must be, take the covers off, tighten, adjust,
and close up. The line from the machine file is then not printed as well.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, met_at
from putback.ledger import Book, Entry
from putback.ledger.disturbing import disturbers_of
from putback.ledger.following import tightened_in
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.job import Job
from putback.model.machine import Fastener
from putback.model.setting import Setting
from putback.model.states import GroupState, State
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE
from putback.variants.graph import Why

LEVEL = Level.WARNING
GROUP = Group.CLOSING

FAILS = """
# machine.yaml
machine: Bench engine
parts:
  block: {}
  head: {name: head}
  cover: {name: rocker cover}
fasteners:
  head-bolts: {count: 2, thread: M8, torque: 22 N·m, secures: head, to: block, class: "8.8", retighten-after: 10 h}
stacks: [[cover, head, block]]
access-after: {head-bolts: [cover]}
# jobs/example.yaml
steps:
  - remove: cover
  - remove: head-bolts
  - install: head-bolts
  - tighten: head-bolts
             ^^^^^^^^^^ head bolts are due again after 10 h, but no follow-up takes off what covers them: rocker cover
  - install: cover
  - check: the joint of the head
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench engine
parts:
  block: {}
  head: {name: head}
  cover: {name: rocker cover}
fasteners:
  head-bolts: {count: 2, thread: M8, torque: 22 N·m, secures: head, to: block, class: "8.8", retighten-after: 10 h}
stacks: [[cover, head, block]]
access-after: {head-bolts: [cover]}
# jobs/example.yaml
steps:
  - remove: cover
  - remove: head-bolts
  - install: head-bolts
  - tighten: head-bolts
  - install: cover
  - check: the joint of the head
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
follow-ups:
  - after: 10 h
    steps:
      - remove: cover
      - loosen: head-bolts
      - tighten: head-bolts
      - install: cover
      - check: the joint of the head
        limit: no drop in 1 min
        otherwise:
          - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last step that tightens what is due again and lies under something."""
    things = opened.graph.machine.things if opened.graph else {}
    due = [thing for thing in things.values() if isinstance(thing, Fastener) and thing.retighten_after]
    for book in opened.books if due else ():
        job = book.sequence
        if isinstance(job, Job) and book.is_last:
            done = tightened_in(job.later, book.library.blocks) if job.later else frozenset[str]()
            for thing in due:
                turned = _tightened_anew(book, thing) if thing.key not in done else []
                covers = _covers(book, thing) if turned else []
                moved = _moved(book, thing) if turned and not covers else []
                if covers or moved:
                    yield _fault(turned[0], turned[-1], thing, covers, moved)


def _tightened_anew(book: Book, thing: Fastener) -> list[Entry]:
    """Return the steps that turn a joint which was open in this job and is tight after it; else none."""
    about = [each for each in book.of(Remove, Loosen, Tighten) if each.target and each.target.name == thing.key]
    if not about or (isinstance(about[0].step.action, Tighten) and thing.key not in book.found):
        return []
    opened = any(book.where(thing.key, each, _is_open) != NONE for each in about)
    return about if opened and isinstance(about[-1].step.action, Tighten) else []


def _is_open(state: State) -> bool:
    """Tell whether nothing of a group is tight; done in place, one after the other, a joint stays as it was."""
    return isinstance(state, GroupState) and not state.tight


def _covers(book: Book, thing: Fastener) -> list[str]:
    outer = (each.outer for each in book.graph.outside(thing.key) if each.why in (Why.BEHIND, Why.STACK))
    return list(dict.fromkeys(named(book.graph.machine.things[name]) for name in outer))


def _moved(book: Book, thing: Fastener) -> list[str]:
    """Return the settings that change with it."""
    settings = (each for each in book.graph.machine.things.values() if isinstance(each, Setting))
    return [each.name for each in settings if thing.key in {one.ref.name for one in disturbers_of(book.graph, each)}]


def _fault(first: Entry, last: Entry, thing: Fastener, covers: list[str], moved: list[str]) -> Fault:
    hours = thing.retighten_after.text if thing.retighten_after else ""
    due = f"{named(thing)} {verb_s(thing, 'is', 'are')} due again after {hours}"
    them = verb_s(thing, "it", "them")
    what = f"takes off what covers {them}" if covers else f"sets what changes with {them}"
    message = f"{due}, but no follow-up {what}: {listed(covers or moved)}"
    also = (Also(thing.span, "the machine file has it under 'retighten-after'"), *last.ways)
    more = f"takes it off, tightens {them}, and closes up" if covers else f"tightens {them}, and then adjusts it"
    return Fault(met_at(last, first), message, also, f"write a follow-up that {more}")
