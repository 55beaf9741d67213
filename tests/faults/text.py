"""Edits of a YAML file by the places of what it says, so that it stays well formed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from putback.model.build_job import verb_in
from putback.source.load import Listing, Mapping, Node, Pair, Text, load_text


@dataclass
class Step:
    """A step in a file: the lines that it takes."""

    verb: str
    value: str
    """What stands behind the verb, as written."""
    names: list[str]
    keys: dict[str, Pair]
    first: int
    """Its first line, from 1."""
    last: int
    """Its last line."""
    siblings: list[Step] = field(default_factory=list, repr=False)
    """All steps of its list, itself among them, in order."""
    otherwise: bool = False
    """Whether it stands under `otherwise`, or an outcome."""

    @property
    def line(self) -> int:
        """The line of the verb's value, from 1."""
        return self.keys[self.verb].value.span.line

    @property
    def place(self) -> int:
        """Its number among its siblings."""
        return next(n for n, step in enumerate(self.siblings) if step is self)


@dataclass
class Script:
    """A job or block file."""

    text: str
    lines: list[str]
    steps: list[Step]
    """Every step, those under `otherwise` behind theirs."""

    def without(self, first: int, last: int) -> str:
        """Return the text without some lines, counted from 1."""
        return "\n".join([*self.lines[: first - 1], *self.lines[last:]])

    def without_step(self, step: Step) -> str:
        return self.without(step.first, step.last)

    def without_key(self, step: Step, key: str) -> str:
        """Return the text without one key of a step; the key must not be the first of the step."""
        entry = step.keys[key]
        return self.without(entry.key.span.line, entry.value.span.end_line)

    def swapped(self, one: Step, other: Step) -> str:
        """Return the text with two steps of one list in each other's place, `one` being the earlier."""
        return "\n".join(
            [
                *self.lines[: one.first - 1],
                *self.lines[other.first - 1 : other.last],
                *self.lines[one.last : other.first - 1],
                *self.lines[one.first - 1 : one.last],
                *self.lines[other.last :],
            ]
        )

    def with_line(self, step: Step, key: str, value: str) -> str:
        """Return the text with one more key behind the verb of a step."""
        indent = " " * (step.keys[step.verb].key.span.column - 1)
        after = step.keys[step.verb].value.span.end_line
        return "\n".join([*self.lines[:after], f"{indent}{key}: {value}", *self.lines[after:]])

    def with_value(self, entry: Pair, value: str) -> str:
        """Return the text with another value of a key; old and new stand on one line."""
        span = entry.value.span
        line = self.lines[span.line - 1]
        changed = line[: span.column - 1] + value + line[span.end_column - 1 :]
        return "\n".join([*self.lines[: span.line - 1], changed, *self.lines[span.line :]])


def script(text: str, path: str) -> Script:
    """Take a job or block file apart."""
    loaded = load_text(text, path)
    assert isinstance(loaded.root, Mapping), loaded.faults
    found = Script(text, text.split("\n"), [])
    lists = [loaded.root.get("steps")]
    sections = loaded.root.get("sections")
    if isinstance(sections, Listing):
        lists += [item.get("steps") for item in sections.items if isinstance(item, Mapping)]
    for node in lists:
        found.steps += _steps(node, otherwise=False)
    return found


def _steps(node: Node | None, *, otherwise: bool) -> Iterator[Step]:
    siblings: list[Step] = []
    for item in node.items if isinstance(node, Listing) else []:
        assert isinstance(item, Mapping)
        keys = item.entries
        verb = verb_in(item).name
        value = keys[verb].value
        names = [
            text.value for text in (value.items if isinstance(value, Listing) else [value]) if isinstance(text, Text)
        ]
        step = Step(verb, " ".join(names), names, keys, item.span.line, item.span.end_line, siblings, otherwise)
        siblings.append(step)
    for step in siblings:
        yield step
        if "otherwise" in step.keys:
            yield from _steps(step.keys["otherwise"].value, otherwise=True)
        outcomes = step.keys["outcomes"].value if "outcomes" in step.keys else None
        for item in outcomes.items if isinstance(outcomes, Listing) else ():
            assert isinstance(item, Mapping)
            yield from _steps(item.get("steps"), otherwise=True)
