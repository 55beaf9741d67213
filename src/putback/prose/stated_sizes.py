"""Sizes of tools that a text of a step names."""

from __future__ import annotations

import re
from collections.abc import Iterator

from putback.model.job import Step
from putback.model.library import Library
from putback.model.machine import AnyThing, Fastener, Machine
from putback.prose.contexts import Context, Contradiction
from putback.source.grammar import listed
from putback.source.late import Late
from putback.source.quoting import quote

_SIZE = r"(?P<size>[0-9]{1,2}(?:[.][0-9])? ?mm|[0-9]{1,2}/[0-9]{1,2} ?in(?:ch)?)"
_TOOL = Late(
    rf"\b{_SIZE} (?:(?:ring|open-end(?:ed)?|box-end|combination|crowfoot|deep|long|thin|short) )?"
    r"(?:spanner|wrench|socket|hex(?:agon)? (?:key|bit)|allen key)(?:e?s)?\b",
    re.IGNORECASE,
)
_DRIVE = Late(r"[0-9]+(?:[.][0-9]+)? ?mm|[0-9]+/[0-9]+ ?in")


class Sizes:
    """The drives of a machine's fasteners, and the tools that turn them."""

    def __init__(self, machine: Machine, library: Library) -> None:
        self.machine = machine
        self.library = library

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield a size that fits nothing that the step turns or holds."""
        text = context.text
        found = _TOOL.search(text) if context.field in ("text", "note") else None
        step = context.step if found else None
        if found is None or step is None:
            return
        things = self._turned(step)
        drives = [thing.drive for thing in things if thing.drive]
        if drives:
            known = {_even(size) for words in (*drives, *self._tools(step)) for size in _DRIVE.ready.findall(words)}
            named = {_even(size) for thing in self._named(text) for size in _DRIVE.ready.findall(thing.drive or "")}
            if known and _even(found["size"]) not in known | named:
                message = f"{quote(found[0])} here, but the {things[0].name} has {listed(sorted(set(drives)))}"
                yield Contradiction(context, *found.span("size"), message, None, things[0])

    def _turned(self, step: Step) -> list[Fastener]:
        """Return the fasteners that a step turns, and those that it holds meanwhile."""
        own = [thing for ref in step.things if isinstance(thing := self.machine.things.get(ref.name), Fastener)]
        refs = [ref for thing in own for ref in (thing.counterhold, thing.held_for, *thing.locks) if ref]
        held = [thing for ref in refs if isinstance(thing := self.machine.things.get(ref.name), Fastener)]
        return [*own, *held]

    def _tools(self, step: Step) -> Iterator[str]:
        for ref in step.tools:
            tool = self.library.tools.get(ref.name)
            yield from (tool.name, *tool.drives) if tool else (ref.name.replace("-", " "),)

    def _named(self, text: str) -> Iterator[Fastener]:
        lower = text.lower()
        for thing in self.machine.things.values():
            if isinstance(thing, Fastener) and _is_named(thing, lower):
                yield thing


def _is_named(thing: AnyThing, lower: str) -> bool:
    return thing.name.lower() in lower


def _even(size: str) -> str:
    return size.lower().replace(" ", "").replace("inch", "in")
