"""What a guide means where a name in it is misspelt.

A name that stands for nothing is told once, at its place. Everything after reads the guide as it was most likely
meant: what follows from a slip of the pen would say nothing more, and would hide what else is wrong.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import PurePath
from typing import Any

from putback.guide.known_names import Names
from putback.guide.names import uses_of
from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.guide.use import NameUse
from putback.model.machine import Control
from putback.model.terms import Ref
from putback.model.verb import MEASURABLE
from putback.source.nearest import distance, is_slip, nearest
from putback.source.span import Span

MOST_ROUNDS = 4
"""How often names are looked up: one that was taken for a control shows which positions are known, and so on."""

MOST_KIN = 4
"""How many names a reader chooses from."""

_OF_MACHINE = frozenset({*MEASURABLE, "option", "choice", "position", "state", "end", "place", "mark"})
"""What only the machine file can tell the names of."""


@dataclass(frozen=True, slots=True)
class UnknownName:
    """A name that stands for nothing, or for nothing that fits there."""

    use: NameUse
    """Where it is used; the first place when there are several."""
    kind: str | None = None
    """What it stands for, when that does not fit; None when it stands for nothing."""
    near: str | None = None
    """The name that was most likely meant."""
    kin: tuple[str, ...] = ()
    """Where none is near: names that have all its words, and more: `silicone-grease` of `grease`."""
    others: tuple[Ref, ...] = ()
    """Its other uses, when they are one fault with this one."""
    given: Span | None = None
    """Where the near name is given, when the slip is there: nothing uses it, and several places say this one."""

    @property
    def is_clear(self) -> bool:
        """Whether there can be no doubt what was meant."""
        return self.kind is None and self.near is not None and is_slip(self.use.ref.name.casefold(), self.near)


def read_as_meant(guide: Guide) -> tuple[Guide, tuple[UnknownName, ...]]:
    """Return a guide with its misspelt names as they were meant, and all that is wrong with names.

    A name is taken for the nearest that could stand in its place. A guide without a slip comes back as it is.
    """
    told: list[UnknownName] = []
    seen: set[Span] = set()
    for _ in range(MOST_ROUNDS):
        names, right, wrong = Names(guide.machine, guide.library), set[str](), list[NameUse]()
        for use in uses_of(guide):
            if use.ref.span in seen or _is_unsure(use, guide):
                continue
            known = names.has(use.ref.name, use.kinds) if use.known is None else use.ref.name in use.known
            if known:
                right.add(use.ref.name)
            else:
                wrong.append(use)
        here = [unknown for use in wrong if (unknown := _unknown(use, names, right))]
        seen |= {use.ref.span for use in wrong}
        told += _together(here, right, guide)
        meant = {unknown.use.ref.span: unknown.near for unknown in here if unknown.near and unknown.is_clear}
        if not meant:
            break
        guide = _renamed(guide, meant)
    return guide, tuple(told)


def _is_unsure(use: NameUse, guide: Guide) -> bool:
    """Tell whether a name may be given in a file that could not be used."""
    if use.kinds == ("tag",) and "hazard" in guide.library.broken:
        return True
    if guide.library.unlisted & set(use.kinds) or (use.kinds == ("block",) and guide.library.is_lost(use.ref.name)):
        return True
    if use.kinds == ("job",) and guide.misses_jobs:
        return True
    return guide.machine is None and not _OF_MACHINE.isdisjoint(use.kinds)


def _unknown(use: NameUse, names: Names, right: Collection[str]) -> UnknownName | None:
    """Return what is wrong with a name that none of the known ones is; None when it is a plain word."""
    name = use.ref.name
    kind = names.kind_of(name) if use.known is None else None
    if use.free and (" " in name or (kind is not None and use.verb is not None)):
        return None
    known = [each for each in (names.of(use.kinds) if use.known is None else use.known) if each != use.owner]
    # What nothing else uses is most likely what was meant: of crowfoot-10 and crowfoot-13, the misspelt one.
    near = nearest(name, sorted(known, key=lambda each: each in right))
    if use.free and (near is None or not _is_misspelt(name, near)):
        return None
    if kind is not None and near is not None and near not in right and is_slip(name, near):
        kind = None  # a caution of that name is there, but the thing that nothing uses is meant
    kin = _kin(name, known) if near is None and kind is None and use.known is None else ()
    return UnknownName(use, kind, near, kin)


def _kin(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the names that have all the words of another, and more; none where they are too many to choose from."""
    words = set(name.casefold().split("-"))
    found = sorted(each for each in known if words < set(each.split("-")))
    return tuple(found) if len(found) <= MOST_KIN else ()


def _is_misspelt(word: str, name: str) -> bool:
    """Tell whether a plain word is so near to a name that it must be meant: one letter in four, at least one.

    `check: cover` need not be the part `cover-plate`: a word that only begins a name is a word of its own.
    """
    return distance(word.casefold(), name) <= max(1, len(name) // 4)


def _together(here: Iterable[UnknownName], right: Collection[str], guide: Guide) -> Iterator[UnknownName]:
    """Make one of all uses of a name that is not given, or is given with a slip.

    Where other places use the near name, each is a slip of its own.
    """
    groups: dict[object, list[UnknownName]] = {}
    for unknown in here:
        use = unknown.use
        alone = unknown.kind is not None or unknown.near in right or (unknown.near is None and use.known is not None)
        key = use.ref.span if alone else (use.ref.name, unknown.near, use.known and use.user)
        groups.setdefault(key, []).append(unknown)
    for first, *others in groups.values():
        more = {ref.span: ref for ref in (other.use.ref for other in others) if ref.span != first.use.ref.span}
        yield replace(first, others=tuple(more.values()), given=_given(first, guide) if more else None)


def _given(unknown: UnknownName, guide: Guide) -> Span | None:
    """Return where the name that is near to an unknown one is given, in a file of this guide."""
    machine, library, near = guide.machine, guide.library, unknown.near
    if near is None:
        return None
    spans: list[Span] = []
    if machine is not None and unknown.use.known is not None:
        controls = [thing for thing in machine.things.values() if isinstance(thing, Control)]
        spans += [ref.span for control in controls for ref in _positions(control, unknown) if ref.name == near]
        spans += _of_options(guide, near, choices=True) if unknown.use.kinds == ("choice",) else []
    elif machine is not None and near in machine.things:
        spans.append(machine.things[near].span)
    elif unknown.use.kinds == ("option",):
        spans += _of_options(guide, near, choices=False)
    else:
        shelves: tuple[MappingABC[str, Any], ...] = (
            library.equipment, library.consumables, library.cautions, library.hazards, library.tools, library.blocks
        )  # fmt: skip
        kinds = ("equipment", "consumable", "caution", "hazard", "tool", "block")
        spans += [
            shelf[near].span
            for kind, shelf in zip(kinds, shelves, strict=True)
            if kind in unknown.use.kinds and near in shelf
        ]
    return next((span for span in spans if _is_own(span, guide)), None)


def _positions(control: Control, unknown: UnknownName) -> tuple[Ref, ...]:
    known = tuple(ref.name for ref in control.positions)
    return control.positions if known == unknown.use.known else ()


def _of_options(guide: Guide, name: str, *, choices: bool) -> Iterator[Span]:
    """Yield where an option, or a choice of one, is given in the machine file."""
    for option, values in guide.machine.options_given if guide.machine else ():
        yield from (ref.span for ref in (values if choices else (option,)) if ref.name == name)


def _is_own(span: Span, guide: Guide) -> bool:
    """Tell whether a place is in a file of this guide: the library is used by others as well."""
    above = [shown_path(guide.root / folder / PurePath(span.path).name) for folder in ("", "blocks")]
    return span.path in above


def _renamed(guide: Guide, meant: MappingABC[Span, str]) -> Guide:
    """Return a guide in which the names at some places are others."""
    blocks = {key: _changed(block, meant) for key, block in guide.library.blocks.items()}
    own = {key: blocks[key] if guide.library.blocks.get(key) is block else block for key, block in guide.blocks.items()}
    cautions = {key: _changed(caution, meant) for key, caution in guide.library.cautions.items()}
    consumables = {key: _changed(entry, meant) for key, entry in guide.library.consumables.items()}
    hazards = {key: _changed(entry, meant) for key, entry in guide.library.hazards.items()}
    tools = {key: _changed(entry, meant) for key, entry in guide.library.tools.items()}
    equipment = {key: _changed(entry, meant) for key, entry in guide.library.equipment.items()}
    return replace(
        guide,
        machine=_changed(guide.machine, meant),
        jobs={key: _changed(job, meant) for key, job in guide.jobs.items()},
        blocks=own,
        symptoms=_changed(guide.symptoms, meant),
        library=replace(
            guide.library,
            cautions=cautions,
            consumables=consumables,
            hazards=hazards,
            tools=tools,
            equipment=equipment,
            blocks=blocks,
        ),
    )


def _changed(record: Any, meant: MappingABC[Span, str]) -> Any:
    """Return a record with other names in it; what has none of these stays the same object."""
    if isinstance(record, Ref):
        return Ref(meant[record.span], record.span) if record.span in meant else record
    if isinstance(record, tuple):
        items = [_changed(item, meant) for item in record]
        if all(one is other for one, other in zip(items, record, strict=True)):
            return record
        return type(record)(*items) if hasattr(record, "_fields") else tuple(items)
    if isinstance(record, MappingABC):
        changed = {key: _changed(value, meant) for key, value in record.items()}
        return changed if any(changed[key] is not record[key] for key in record) else record
    if is_dataclass(record) and not isinstance(record, type):
        new = {field.name: _changed(getattr(record, field.name), meant) for field in fields(record)}
        changes = {name: value for name, value in new.items() if value is not getattr(record, name)}
        return replace(record, **changes) if changes else record
    return record
