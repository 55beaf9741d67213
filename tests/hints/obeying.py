"""Edits done to a file, at the place of a finding; it is written anew, since only its sense counts."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from putback.model.verbs import VERBS
from putback.source.load import Listing, Mapping, Node, Text, load_text
from putback.source.span import Span
from tests.hints.words import Add, Delete, Edit, Enlist, Fact, Insert, Move, Place, WayOut, Write

Trail = list[tuple["Item", "str | int"]]
"""The way from the top of a file to a place: containers, each with what is taken in it."""


class NoPlaceError(Exception):
    """A hint that cannot be obeyed where the finding points; the message says why."""


@dataclass(eq=False)
class Item:
    """A value of the file, which knows where it stood."""

    value: str | list[Item] | dict[str, Item]
    """As written, or what is in it."""
    span: Span | None = None
    """Where it stood; None for what was added."""
    keys: dict[str, Span] = field(default_factory=dict)
    """Of a mapping, where its keys stood."""

    @property
    def verb(self) -> str | None:
        """Its verb, when it is a step."""
        return next((key for key in self.value if key in VERBS), None) if isinstance(self.value, dict) else None

    @property
    def listed(self) -> list[Item]:
        """What is in a list."""
        assert isinstance(self.value, list)
        return self.value

    @property
    def mapped(self) -> dict[str, Item]:
        """What is in a mapping."""
        assert isinstance(self.value, dict)
        return self.value

    def steps(self) -> Iterator[tuple[list[Item], Item]]:
        """Yield every step in it, with its list."""
        if isinstance(self.value, list):
            for one in self.value:
                if one.verb:
                    yield self.value, one
                yield from one.steps()
        elif isinstance(self.value, dict):
            for one in self.value.values():
                yield from one.steps()


class Files:
    """The files of a guide, as far as they were opened, to be changed."""

    def __init__(self, text_of: Callable[[str], str]) -> None:
        self.text_of = text_of
        self.roots: dict[str, Item] = {}

    def root(self, path: str) -> Item:
        """Return a file; raises `NoPlaceError` when it cannot be read."""
        if path not in self.roots:
            loaded = load_text(self.text_of(path), path)
            if loaded.root is None:
                raise NoPlaceError("the file cannot be read")
            self.roots[path] = _item(loaded.root)
        return self.roots[path]

    def texts(self) -> dict[str, str]:
        """Return the files as they are now."""
        return {path: "\n".join(_block(root)) + "\n" for path, root in self.roots.items()}


def obey(text_of: Callable[[str], str], span: Span, edits: tuple[Edit, ...]) -> dict[str, str]:
    """Return the files that are otherwise when a hint was obeyed; raises `NoPlaceError`."""
    match edits:
        case (Write(text=text),) if text.partition(": ")[0] not in VERBS:
            return {span.path: _written(text_of(span.path), span, text)}
    files = Files(text_of)
    trail = _trail(files.root(span.path), span)
    own = next((key for holder, key in reversed(trail) if isinstance(key, int) and holder.listed[key].verb), None)
    holder = next((one for one, key in reversed(trail) if isinstance(key, int) and one.listed[key].verb), None)
    at = _At(files, span, trail, (holder.listed, holder.listed[own]) if holder and isinstance(own, int) else None)
    for edit in edits:
        at.do(edit)
    return files.texts()


@dataclass
class _At:
    """The place of a finding."""

    files: Files
    span: Span
    trail: Trail
    own: tuple[list[Item], Item] | None
    """The innermost step there, with its list."""

    def do(self, edit: Edit) -> None:
        match edit:
            case Insert():
                step = {edit.verb: _value(edit.value), **{key: _value(value) for key, value in edit.keys}}
                if edit.otherwise:
                    step["otherwise"] = _way_out()
                self.put(Item(step), edit.place)
            case Move():
                steps, step_ = self.step_at(edit.step or Place())
                goal = self.step_at(edit.place)
                steps.remove(step_)
                self.put(step_, edit.place, goal)
            case Delete():
                self.delete()
            case Write():
                self.rewrite(edit.text, edit.without)
            case Fact():
                path = self.span.path[: max(self.span.path.rfind("jobs/"), self.span.path.rfind("blocks/"), 0)]
                groups = self.files.root(f"{path}machine.yaml").mapped.values()
                thing = next(
                    group.mapped[edit.thing]
                    for group in groups
                    if isinstance(group.value, dict) and edit.thing in group.value
                )
                thing.mapped[edit.key] = _value(edit.value)
            case WayOut():
                self.around()["otherwise"] = _way_out()
            case Enlist():
                top = self.files.root(self.span.path).mapped
                if not isinstance(top.setdefault(edit.key, Item([])).value, list):
                    top[edit.key] = Item([top[edit.key]])
                top[edit.key].listed.append(Item(edit.name))
            case Add():
                self.around()[edit.key] = _value(edit.value)

    def put(self, new: Item, place: Place, goal: tuple[list[Item], Item] | None = None) -> None:
        """Put a step in; one that comes behind the same step as another one comes behind that one."""
        steps, step = goal or self.step_at(place)
        index = steps.index(step) + place.behind
        while place.behind and index < len(steps) and steps[index].span is None:
            index += 1
        steps.insert(index, new)

    def step_at(self, place: Place) -> tuple[list[Item], Item]:
        """Return the step that is meant: by its line, or the next one of these words, or else the last before."""
        if place.step is None and place.line is None:
            if self.own is None:
                raise NoPlaceError("the finding is at no step")
            return self.own
        path = self.span.path
        if place.file and not path.endswith(place.file):
            path = self.span.path[: max(self.span.path.rfind("jobs/"), self.span.path.rfind("blocks/"))] + place.file
        found = [
            (steps, step)
            for steps, step in self.files.root(path).steps()
            if step.verb and step.span and place.line in (None, step.keys[step.verb].line)
            and place.step in (None, (step.verb, _words(step.mapped[step.verb])))
        ]  # fmt: skip
        if not found:
            raise NoPlaceError(f"there is no such step: {place}")
        here = self.span.line, self.span.column
        return next(
            (one for one in found if one[1].span and (one[1].span.end_line, one[1].span.end_column) > here), found[-1]
        )

    def delete(self) -> None:
        trail = self.trail
        holder, key = trail[-1]
        if isinstance(key, int):
            if len(holder.listed) > 1 or holder.listed[key].verb:
                del holder.listed[key]
                return
            holder, key = trail[-2]
        if holder.verb == key:
            assert self.own
            self.own[0].remove(self.own[1])
            return
        assert isinstance(key, str)
        del holder.mapped[key]

    def rewrite(self, text: str, without: str | None) -> None:
        """Write the step with another verb, or other things."""
        verb, _, value = text.partition(": ")
        if self.own is None:
            raise NoPlaceError("the finding is at no step")
        step = self.own[1].mapped
        verbs = {self.own[1].verb: verb}
        kept = [(key, one) for key, one in step.items() if key != without]
        pairs = [(verbs.get(key, key), _value(value) if key in verbs else one) for key, one in kept]
        step.clear()
        step.update(pairs)

    def around(self) -> dict[str, Item]:
        """Return the mapping that a key is added to: a step's, or a thing's."""
        holder, key = self.trail[-1]
        if isinstance(key, str) and not holder.verb and isinstance(holder.mapped[key].value, dict):
            return holder.mapped[key].mapped
        return next(one for one, _ in reversed(self.trail) if isinstance(one.value, dict)).mapped


def _way_out() -> Item:
    return Item([Item({"stop": Item("Ask who can help.")})])


def _written(text: str, span: Span, new: str) -> str:
    """Return a text with something else in a place."""
    lines = text.split("\n")
    head, tail = lines[span.line - 1][: span.column - 1], lines[span.end_line - 1][span.end_column - 1 :]
    old = span.cut(text)
    if old[:1] in ('"', "'") and old[-1:] == old[:1] and len(old) > 1:
        new = f"{old[0]}{new}{old[0]}"
    elif new[:1] in (">", "%", "*", "&") and not head.rstrip().endswith(('"', "'")):
        new = f'"{new}"'
    return "\n".join([*lines[: span.line - 1], f"{head}{new}{tail}", *lines[span.end_line :]])


def _item(node: Node) -> Item:
    match node:
        case Text(value=value, quoted=quoted, written=written):
            plain = written or (json.dumps(value, ensure_ascii=False) if quoted else value)
            return Item(json.dumps(value, ensure_ascii=False) if "\n" in plain else plain, node.span)
        case Listing(items=items):
            return Item([_item(one) for one in items], node.span)
        case Mapping(entries=entries):
            keys = {key: pair.key.span for key, pair in entries.items()}
            return Item({key: _item(pair.value) for key, pair in entries.items()}, node.span, keys)


def _holds(outer: Span | None, span: Span) -> bool:
    here = (span.line, span.column)
    return outer is not None and (outer.line, outer.column) <= here < (outer.end_line, outer.end_column)


def _trail(item: Item, span: Span) -> Trail:
    if isinstance(item.value, dict):
        for key, one in item.value.items():
            if _holds(item.keys.get(key), span):
                return [(item, key)]
            if _holds(one.span, span):
                return [(item, key), *_trail(one, span)]
    if isinstance(item.value, list):
        for n, one in enumerate(item.value):
            if _holds(one.span, span):
                return [(item, n), *_trail(one, span)]
    return []


def _value(words: str) -> Item:
    return Item(words if words[:1] in "[{" or ": " not in words else json.dumps(words, ensure_ascii=False))


def _words(item: Item) -> str:
    return ", ".join(map(_words, item.value)) if isinstance(item.value, list) else str(item.value)


def _block(item: Item) -> list[str]:
    """Return a value in lines, without indentation."""
    if isinstance(item.value, str):
        return [item.value]
    if not item.value:
        return ["[]" if isinstance(item.value, list) else "{}"]
    lines: list[str] = []
    if isinstance(item.value, dict):
        for key, one in item.value.items():
            head = f"{key if key.replace('-', '').replace('_', '').isalnum() else json.dumps(key, ensure_ascii=False)}:"
            inner = _block(one)
            plain = isinstance(one.value, str) or not one.value
            lines += [f"{head} {inner[0]}".rstrip()] if plain else [head, *(f"  {line}" for line in inner)]
    else:
        for one in item.value:
            inner = _block(one)
            lines += [f"- {inner[0]}", *(f"  {line}" for line in inner[1:])]
    return lines
