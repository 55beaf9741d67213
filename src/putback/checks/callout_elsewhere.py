"""A callout names something that its step has nothing to do with.

It is most likely a slip: the picture was copied from another step, or the name is that of the part beside it. The
mechanic takes hold of the wrong thing.

Correct the name. A callout may name what the step works on, what that is joined to, what comes off before it or after
it, and what other steps work on that send the reader to the same picture. What the picture shows beside it, so that
readers find their way, is `text`.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from putback.checks import Fault, Group
from putback.guide.names import uses_of
from putback.guide.spread import MARK
from putback.ledger.opened import Opened, wider
from putback.model.job import Sequence, Step
from putback.model.terms import Ref
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.WARNING
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %}
        - {thing: drain-plug, at: 80 % 90 %}
                  ^^^^^^^^^^ this step has nothing to do with 'drain-plug'
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks round the bolts.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %}
        - {thing: guard-bolts, at: [20 % 20 %, 80 % 20 %]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield callouts of things that are neither worked on nor near to what is."""
    # What other variants have is near to a step as well: in this one, it may not be there at all.
    opened = wider(opened)
    if opened.graph is None:
        return
    near: _Near | None = None
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is None or not any(callout.thing for callout in step.figure.callouts):
                continue
            near = near or _Near(opened)
            known = near.around(_touched_with(step, step.figure.image.name, sequence, opened))
            for callout in step.figure.callouts if known else ():
                if callout.thing and callout.thing.name in near.names - known:
                    name = quote(callout.thing.name)
                    yield Fault(callout.thing.span, f"this step has nothing to do with {name}")


def _touched_with(step: Step, image: str, sequence: Sequence, opened: Opened) -> set[str]:
    """Return what a step touches, with the others that show its picture or send the reader to it."""
    sent = f"{{figure {image}"
    found = set(_touched(step, opened))
    for other in sequence.steps():
        shows = other.figure is not None and other.figure.image.name == image
        if shows or any(sent in (said or "") for said in (other.text, other.note, other.because)):
            found.update(_touched(other, opened))
    return found


def _touched(step: Step, opened: Opened, deeper: int = 8) -> Iterator[str]:
    """Yield the names that a step works on or with, and those of the steps below it and of its blocks."""
    for ref in _refs(step.action):
        yield ref.name
        block = opened.guide.library.blocks.get(ref.name) if deeper else None
        for inner in block.steps() if block else ():
            yield from _touched(inner, opened, deeper - 1)
    yield from (tool.name for tool in step.tools)
    for inner in step.inner:
        yield from _touched(inner, opened, deeper)


def _refs(value: Any) -> Iterator[Ref]:
    if isinstance(value, Ref):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _refs(item)


class _Near:
    """What is near to what: what names it in the machine file, and what comes off before or after it."""

    def __init__(self, opened: Opened) -> None:
        self.names = set(opened.guide.machine.things) if opened.guide.machine else set()
        self.named: dict[str, set[str]] = {}
        for use in uses_of(opened.guide):
            if use.owner and use.owner in self.names and use.ref.name in self.names:
                self._join(self.named, use.owner, use.ref.name)
                self._join(self.named, use.ref.name, use.owner)
        self.outer: dict[str, set[str]] = {}
        self.inner: dict[str, set[str]] = {}
        for edge in opened.graph.edges() if opened.graph else ():
            outer, inner = (name.partition(MARK)[0] for name in (edge.outer, edge.inner))
            self._join(self.outer, inner, outer)
            self._join(self.inner, outer, inner)

    @staticmethod
    def _join(table: dict[str, set[str]], one: str, other: str) -> None:
        table.setdefault(one, set()).add(other)

    def around(self, touched: Iterable[str]) -> set[str]:
        """Return what is near to some things, with these; nothing when none of them is a thing of the machine."""
        known = {name for name in touched if name in self.names}
        found = known | _reached(known, self.outer) | _reached(known, self.inner)
        # What holds it, and what that is screwed into.
        return found | self._joined(found)

    def _joined(self, names: Iterable[str]) -> set[str]:
        return {other for name in names for other in self.named.get(name, ())}


def _reached(start: Iterable[str], table: Mapping[str, set[str]]) -> set[str]:
    found, waiting = set(start), deque(start)
    while waiting:
        for other in table.get(waiting.popleft(), ()):
            if other not in found:
                found.add(other)
                waiting.append(other)
    return found
