"""Gloves are called for next to something that can draw them in.

A message about acid, fuel or sharp edges calls for gloves, and in the same section a belt, a shaft or a propeller
turns: obeying the one message exposes the reader to the other danger. A hazard lists under `not-worn` what must not be
worn near it.

Let the message about what turns say to take them off, or move the work that needs them to a section of its own.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.hazards import Risk, caution_at, risks
from putback.ledger.opened import Opened
from putback.model.library import SafetyMessage
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.WARNING
GROUP = Group.DANGERS
NEEDS = frozenset({"caution"})

FAILS = """
# hazards.yaml
moving-belt: {name: moving belt, signal-at-least: warning, verbs: [run], not-worn: [gloves]}
rust: {name: rust, signal-at-least: caution, verbs: [clean]}
# cautions.yaml
rust:
  signal: caution
  hazard: Rust has sharp edges.
  consequence: It can cut hands.
  avoid: [Hold it with a folded cloth.]
  covers: [rust]
  ppe: [stiff gloves]
moving-belt:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [moving-belt, running-engine]
# jobs/example.yaml
steps:
  - caution: [moving-belt, rust]
                           ^^^^ 'rust' asks for stiff gloves, but no message says to take them off: moving belt
  - clean: belt-guard
  - run: engine
    for: 5 min
"""

PASSES = """
# hazards.yaml
moving-belt: {name: moving belt, signal-at-least: warning, verbs: [run], not-worn: [gloves]}
rust: {name: rust, signal-at-least: caution, verbs: [clean]}
# cautions.yaml
rust:
  signal: caution
  hazard: Rust has sharp edges.
  consequence: It can cut hands.
  avoid: [Hold it with a folded cloth.]
  covers: [rust]
  ppe: [stiff gloves]
moving-belt:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They tear off fingers.
  avoid: [Take gloves off before the engine is started.]
  covers: [moving-belt, running-engine]
# jobs/example.yaml
steps:
  - caution: [moving-belt, rust]
  - clean: belt-guard
  - run: engine
    for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield messages that ask for what a later step of their section draws in; each once."""
    for book in opened.in_place():
        hazards = book.library.hazards.values()
        if not any(hazard.not_worn for hazard in hazards):
            continue
        there: dict[int, list[Risk]] = {}
        for risk in risks(book):
            there.setdefault(risk.entry.section, []).append(risk)
        told = set[tuple[int, str]]()
        for section, here in there.items():
            shown = [
                (each, message)
                for each in book.entries
                if each.section == section and (message := caution_at(book, each))
            ]
            for risk in here:
                yield from _asked(book, risk, shown, here, told)


def _asked(
    book: Book, risk: Risk, shown: list[tuple[Entry, SafetyMessage]], there: list[Risk], told: set[tuple[int, str]]
) -> Iterator[Fault]:
    space = book.graph.space
    in_force = [(each, message) for each, message in shown if each.index < risk.entry.index]
    for item in risk.hazard.not_worn:
        if any(_says_off(message, item) for _, message in in_force):
            continue
        for entry, message in in_force:
            asked = _asks(book, message, item, {each.hazard.key for each in there if each.entry.index > entry.index})
            here = space.both(entry.variants, risk.variants)
            if asked and here != NONE and entry.target and (entry.section, message.key) not in told:
                told.add((entry.section, message.key))
                what = f"'{message.key}' asks for {asked}, but no message says to take them off"
                also = Also(
                    risk.entry.span,
                    "the step that causes it",
                )
                words = f"{what}: {risk.hazard.name}"
                yield Fault(entry.target.span, words, (also, *entry.ways), None, here, book.reached(entry))


def _asks(book: Book, message: SafetyMessage, item: str, there: set[str]) -> str | None:
    """Return what a message asks for of a kind: by itself, or by a hazard that is there after it."""
    covered = [book.library.hazards[ref.name] for ref in message.covers if ref.name in there]
    worn = [*message.ppe, *(each for hazard in covered for each in hazard.ppe)]
    return next((each for each in worn if each.split()[-1:] == [item]), None)


_OFF = frozenset({"off", "no", "not", "never", "without", "bare"})


def _says_off(message: SafetyMessage, item: str) -> bool:
    """Tell whether a message says that something is not worn: `Take gloves off.`, `with bare hands`."""
    for _, sentence in message.sentences:
        words = sentence.lower().replace(",", " ").replace(".", " ").split()
        if ("hands" in words and "bare" in words) or (item in words and not _OFF.isdisjoint(words)):
            return True
    return False
