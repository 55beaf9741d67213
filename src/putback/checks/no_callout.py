"""A step speaks of a number in its picture, and the picture has no callout of that number.

"Press the tab (3)" sends the mechanic to the picture, and there is no 3.

Add the callout to the figure, or correct the number.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.figure import Figure
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.model.said import Said
from putback.pictures import BadPictureError, examine
from putback.prose.pages import passage_of
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.late import Late
from putback.source.span import Span

LEVEL = Level.WARNING
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks round the bolts (2).
                                          ^^^ the picture has no callout 2, only 1
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %}
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks round the bolts (2).
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %}
        - {thing: guard-bolts, at: [20 % 20 %, 80 % 20 %]}
"""

_NUMBER = Late(r"\(([1-9][0-9]?)\)")


def find(opened: Opened) -> Iterator[Fault]:
    """Yield numbers in brackets, in what a step says, that its picture does not have."""
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is not None:
                yield from _in(step, step.figure, opened)


def _in(step: Step, figure: Figure, opened: Opened) -> Iterator[Fault]:
    known = {number for number, _ in figure.numbered}
    texts = (step.text, step.note, step.because, figure.caption, figure.alt)
    for said in texts:
        for found in _NUMBER.finditer(said or ""):
            number = int(found[1])
            if number in known or said is None or (not known and _is_otherwise_known(number, step, figure, opened)):
                continue
            has = f"only {listed([str(each) for each in sorted(known)])}" if known else "nor any other"
            yield Fault(_place(said, found), f"the picture has no callout {number}, {has}")


def _place(said: Said, found: re.Match[str]) -> Span:
    return passage_of(said).span(*found.span())


def _is_otherwise_known(number: int, step: Step, figure: Figure, opened: Opened) -> bool:
    """Tell whether it says how many there are, or is in the drawing itself."""
    machine = opened.guide.machine
    things = [machine.things.get(ref.name) for ref in step.things] if machine else []
    if any(isinstance(thing, Fastener) and thing.count == number for thing in things):
        return True
    guide = opened.guide
    try:
        letters = examine(guide.images / figure.image.name, guide.root, guide.store).letters
    except BadPictureError:
        return True  # told already, or there is no telling
    return set(str(number)) <= set(letters)
