"""How many pieces a text says there are, and by which numbers it calls them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from putback.model.called import named
from putback.model.machine import Fastener, Machine
from putback.prose.contexts import NUMBERS, Context, Contradiction
from putback.source.grammar import number, plural
from putback.source.late import Late
from putback.source.quoting import quote

_COUNT = Late(rf"\b(?P<count>{'|'.join(NUMBERS[1:])}|both|[2-9]|[1-9][0-9]) (?=[a-z])", re.IGNORECASE)
_ALL = Late(r"\b(?:the|all|its|these|those|their|both)(?: of the| the)? $", re.IGNORECASE)
_SOME = Late(
    r" ?(?:,? (?:that|which|who|at|on|in|of|beside|next|nearest|under|over|above|below|behind|opposite|near|by|from|for"
    r"|with|between|left|here|there|farthest|only|more)\b|-)"
)
"""Behind a name: not all of them are meant."""
_NUMBERS = Late(r" (?P<all>[0-9]{1,2}(?:(?:, | and | to |–|-|, and )[0-9]{1,2})*)(?![\w.,/:-]*[0-9])(?! ?[^\s\w.,;:)])")
_UNIT = Late(r" ?(?:N|mm|cm|m|in|ft|l|ml|kg|g|h|min|s|times|turns?|hours?|rounds?|steps?|lbf|x|×|°|%|of)\b")


class Counts:
    """The names of a machine's groups of pieces, and how many each has."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self.groups: dict[str, list[Fastener]] = {}
        others: set[str] = set()
        for thing in machine.things.values():
            name = _even(thing.plural or plural(thing.name))
            if isinstance(thing, Fastener) and not thing.uncounted:
                self.groups.setdefault(name, []).append(thing)
            else:
                others.add(name)
        for name in others & self.groups.keys():
            del self.groups[name]
        words = sorted((re.escape(name).replace(r"\ ", "[ -]") for name in self.groups), key=len, reverse=True)
        self.named = re.compile(rf"({'|'.join(words)})\b", re.IGNORECASE) if words else None

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield what a text says of the number of pieces, and what the machine file contradicts."""
        text = context.text
        if self.named is None:
            return
        for found in _COUNT.finditer(text):
            name = self.named.match(text, found.end())
            if name is not None and not _SOME.match(text, name.end()):
                yield from self._of_group(context, found, self.groups[_even(name[1])], name[1])
        for name in self.named.finditer(text) if any(sign.isdigit() for sign in text) else ():
            numbers = _NUMBERS.match(text, name.end())
            if numbers and not _UNIT.match(text, numbers.end()):
                yield from self._of_numbers(context, numbers, self.groups[_even(name[1])])

    def _of_group(
        self, context: Context, found: re.Match[str], groups: list[Fastener], name: str
    ) -> Iterator[Contradiction]:
        said, count = found["count"], _value(found["count"])
        known = self.counts_of(groups)
        if count in known:
            return
        step = context.step
        own = step is not None and any(ref.name == group.key for ref in step.things for group in groups)
        if own and step is not None and (step.counted or step.at or step.rounds):
            return
        # A picture shows some of them, and a kit holds more.
        shown = context.field in ("alt", "caption") and count > max(known)
        all_of_them = said.lower() == "both" or _ALL.search(context.text, 0, found.start())
        if not (all_of_them or shown or (own and context.field == "text")):
            return
        right = max(groups[0].count, 1)
        message = f"{quote(f'{said} {name}')} here, but the machine file says {number(right)}"
        yield Contradiction(context, *found.span("count"), message, _hint(said, right), groups[0])

    def _of_numbers(self, context: Context, numbers: re.Match[str], groups: list[Fastener]) -> Iterator[Contradiction]:
        last = max(int(each) for each in re.findall("[0-9]+", numbers["all"]))
        most = max(self.counts_of(groups))
        called = {word for group in groups for position in group.positions for word in re.findall("[0-9]+", position)}
        if last > max(most, self._beside(groups)) and not called:
            message = f"there is no {last} among the {named(groups[0])}: the machine file says {number(most)}"
            yield Contradiction(context, numbers.start("all"), numbers.end("all"), message, other=groups[0])

    def _beside(self, groups: list[Fastener]) -> int:
        """Return how many pieces secure the same parts, in all groups: their numbers may go on from group to group."""
        held = {ref.name for group in groups for ref in group.secures}
        things = self.machine.things.values()
        beside = [each for each in things if isinstance(each, Fastener) and held & {ref.name for ref in each.secures}]
        return sum(each.count for each in beside)

    def counts_of(self, groups: list[Fastener]) -> set[int]:
        """Return how many there may be of what is called so: in a variant, at a place, at all places, of all groups."""
        each = [{group.count, *(count for _, count in group.counts)} for group in groups]
        found = set().union(*each)
        found |= {
            count * len(self.machine.places_of(group)) for group, own in zip(groups, each, strict=True) for count in own
        }
        return found | {sum(group.count for group in groups)}


def _hint(said: str, right: int) -> str:
    word = number(right) if said.isalpha() else str(right)
    return f"write {quote(word.capitalize() if said[0].isupper() else word)}"


def _value(said: str) -> int:
    if said.isdigit():
        return int(said)
    return 2 if said.lower() == "both" else NUMBERS.index(said.lower()) + 1


def _even(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
