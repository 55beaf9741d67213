"""From the tree of a machine file to a `Machine`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from putback.joints.members import MATERIALS, knows_material
from putback.model.alike import AlikePlaces
from putback.model.build_fastener import build_fastener
from putback.model.build_form import read_form
from putback.model.build_standing import build_control, build_fluid, build_setting
from putback.model.called import noun
from putback.model.circular import straightened
from putback.model.counts import completed
from putback.model.details import Stack, Wear
from putback.model.kits import in_their_kits, read_kit
from putback.model.machine import AnyThing, Fastener, Line, Machine, Part
from putback.model.reading import Reader, entries
from putback.model.screwed import AlikeParts, PlainPart, ScrewedPart
from putback.model.terms import Clause, Need, Ref, When
from putback.model.together import faults_of_joints, joined
from putback.model.viewpoint import read_viewpoint
from putback.source.finding import Also, Finding, Level
from putback.source.nearest import nearest
from putback.source.quoting import quote
from putback.source.tree import Listing, Mapping, Node, Text
from putback.units import Kind


def build_machine(root: Mapping, path: str) -> tuple[Machine, list[Finding]]:
    """Return the machine that a file describes, and what is wrong with its values.

    `root` must have been accepted by the machine schema.
    """
    reader = Reader()
    kits = {key.value: read_kit(reader, key, value) for key, value in entries(root.get("kits"))}
    things = in_their_kits(_things(reader, root), kits)
    heading = root.entries["machine"]
    machine = Machine(
        path=path,
        span=heading.key.span,
        name=reader.text(heading.value) or "",
        kind=reader.text(root.get("kind")),
        note=reader.text(root.get("note")),
        **_differing(reader, root),
        things=things,
        places={key.value: _places(key, value) for key, value in entries(root.get("places"))},
        kits=kits,
        stacks=tuple(_stack(reader, item) for item in _list(root.get("stacks"))),
        together=tuple(reader.refs(item) for item in _list(root.get("renew-together"))),
        access_after=tuple(
            (Ref(key.value, key.span), reader.refs(value)) for key, value in entries(root.get("access-after"))
        ),
        verb_needs={key.value: reader.needs(value) for key, value in entries(root.get("needs"))},
        verb_results={key.value: reader.needs(value) for key, value in entries(root.get("results-in"))},
        can_start=_ways_to_start(reader, root.get("can-start")),
        tag_refs=tuple(tag for thing in things.values() for tag in thing.tags),
    )
    reader.faults += faults_of_joints(machine)
    machine, circular = straightened(machine)
    machine, uncounted = completed(machine)
    return joined(machine), [*reader.faults, *circular, *uncounted]


def _things(reader: Reader, root: Mapping) -> dict[str, AnyThing]:
    builders: dict[str, Callable[[Reader, Mapping, dict[str, Any]], AnyThing]] = {
        "controls": build_control,
        "parts": _part,
        "fasteners": _fastener,
        "lines": _line,
        "fluids": build_fluid,
        "settings": build_setting,
    }
    things: dict[str, AnyThing] = {}
    for group, build in builders.items():
        for key, value in entries(root.get(group)):
            facts = value if isinstance(value, Mapping) else Mapping({}, value.span)
            thing = build(reader, facts, _shared_facts(reader, key, facts))
            if key.value in things:
                other = things[key.value]
                reader.faults.append(
                    Finding(
                        "same-name",
                        Level.ERROR,
                        key.span,
                        f"'{key.value}' names a {noun(thing)}, but is already the name of a {noun(other)}",
                        also=(Also(other.span, f"the {noun(other)} '{key.value}'"),),
                        hint="give one of them another name",
                    )
                )
            else:
                things[key.value] = thing
    return things


def _list(node: Node | None) -> list[Node]:
    return node.items if isinstance(node, Listing) else []


def _ways_to_start(reader: Reader, node: Node | None) -> tuple[tuple[Need, ...], ...]:
    return tuple(reader.needs(way) for way in ([node] if isinstance(node, Mapping) else _list(node)))


def _differing(reader: Reader, root: Mapping) -> dict[str, Any]:
    """Return how machines of this model differ."""
    spans = {name: root.entries[name].key.span for name in ("options", "exclude") if name in root.entries}
    given = list(entries(root.get("options")))
    return {
        "options": {key.value: reader.names(value) for key, value in given},
        "options_given": tuple((Ref(key.value, key.span), reader.refs(value)) for key, value in given),
        "options_span": spans.get("options"),
        "told_by": tuple(_told_by(reader, root)),
        "exclude": tuple(filter(None, (reader.when(item) for item in _list(root.get("exclude"))))),
        "exclude_span": spans.get("exclude"),
    }


def _told_by(reader: Reader, root: Mapping) -> Iterator[tuple[When, str]]:
    for option, told in entries(root.get("how-to-tell")):
        for choice, said in entries(told):
            clause = Clause(Ref(option.value, option.span), (Ref(choice.value, choice.span),))
            yield When(((clause,),), choice.span), reader.text(said) or ""


def _stack(reader: Reader, node: Node) -> Stack:
    if isinstance(node, Mapping):
        return Stack(reader.refs(node.get("order")), reader.when(node.get("when")))
    return Stack(reader.refs(node))


def _shared_facts(reader: Reader, key: Text, facts: Mapping) -> dict[str, Any]:
    return {
        "key": key.value,
        "span": key.span,
        "name": reader.text(facts.get("name")) or key.value.replace("-", " "),
        "plural": reader.text(facts.get("plural")),
        "when": reader.when(facts.get("when")),
        "instead_of": reader.refs(facts.get("instead-of")),
        "note": reader.text(facts.get("note")),
        "tags": reader.refs(facts.get("tags")),
        "needs": reader.needs(facts.get("needs")),
        "each": reader.ref(facts.get("each")),
        "inspect_when_off": reader.texts(facts.get("inspect-when-off")),
        "clean_before": reader.refs(facts.get("clean-before")),
        **{
            field.replace("-", "_"): reader.limit_or_words(facts.get(field), (Ref(key.value, key.span),), strict=False)
            for field in ("check-when-back", "check-before-run", "check-in-run")
        },
    }


def _bought(reader: Reader, facts: Mapping) -> dict[str, Any]:
    return {
        "single_use": reader.text(facts.get("replace")) == "always",
        "number": reader.text(facts.get("number")),
        "kit": reader.text(facts.get("kit")),
    }


def _used(reader: Reader, facts: Mapping) -> dict[str, Any]:
    uses = facts.get("uses")
    return {**_bought(reader, facts), "uses": reader.whole(uses) or reader.texts(uses)}


def _places(key: Text, node: Node) -> AlikePlaces:
    if isinstance(node, Listing):
        return AlikePlaces(key.value, key.span, tuple(item.value for item in node.items if isinstance(item, Text)))
    number = node.plain() if isinstance(node, Text) else None
    return AlikePlaces(key.value, key.span, tuple(str(n + 1) for n in range(number if isinstance(number, int) else 0)))


_SCREWED = ("thread", "drive", "torque", "stages", "past-hand-tight", "by-hand", "no-torque")
"""With one of these, a part is screwed on by its own thread."""
_OF_SCREWED = frozenset({
    "bore", "class", "compound", "condition", "count", "counterhold", "engagement", "hole", "insert", "kind", "length",
    "locks", "passes", "positions", "releases-when", "retighten-after", "reuse", "running-torque", "secures", "shank",
    "slacken", "to", "tool", "torque-confirmed", "wrench-angle",
})  # fmt: skip
"""What is said of such a part only."""
_OF_ALIKE = {"count", "positions"}
"""What is said of several alike parts as well."""


def _part(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Part:
    wear = facts.get("wear")
    own = {
        **shared,
        **_used(reader, facts),
        "mass": reader.quantity(facts.get("mass"), Kind.MASS),
        "adjustable": reader.flag(facts.get("adjustable")),
        "turns_with": reader.refs(facts.get("turns-with")),
        "guard": reader.flag(facts.get("guard")),
        "rotation": way.name if (way := _way(reader, facts.get("rotation"))) else None,
        "rotations": tuple(_ways(reader, facts.get("rotation"))),
        "seen_from": read_viewpoint(reader, facts.get("seen-from")),
        "hangs": reader.flag(facts.get("hangs")),
        "material": _material(reader, facts.get("material")),
        "assembly": reader.refs(facts.get("assembly")),
        "lubricant": reader.ref(facts.get("lubricant")),
        "loosen_evenly": reader.flag(facts.get("loosen-evenly")),
        "own_places": reader.flag(facts.get("own-places")),
        "wear": _wear(reader, wear, shared["name"]) if isinstance(wear, Mapping) else None,
        **read_form(reader, facts),
    }
    if any(key in facts.entries for key in _SCREWED):
        screwed = build_fastener(reader, facts, own, ScrewedPart)
        assert isinstance(screwed, ScrewedPart)
        return screwed
    alike = "count" in facts.entries or "positions" in facts.entries
    for key in [key for key in facts.entries if key in _OF_SCREWED - (_OF_ALIKE if alike else set())][:1]:
        message = f"'{key}' is for a part that is screwed on, but nothing says how this one is"
        hint = f"add its 'torque', or 'by-hand: how', or leave '{key}' out"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, facts.entries[key].key.span, message, hint=hint))
    if not alike:
        return PlainPart(**own)
    several = build_fastener(reader, facts, own, AlikeParts)
    assert isinstance(several, AlikeParts)
    return several


def _wear(reader: Reader, facts: Mapping, name: str) -> Wear:
    measure = reader.text(facts.get("measure"))
    limit, new = (reader.limit(facts.get(key), measure or name, name) for key in ("limit", "new"))
    return Wear(measure=measure, limit=limit, new=new)


def _way(reader: Reader, node: Node | None) -> Ref | None:
    """Return a way of turning that hangs on nothing."""
    return None if isinstance(node, Mapping) else reader.direction(node)


def _ways(reader: Reader, node: Node | None) -> Iterator[tuple[Need, Ref]]:
    """Yield the ways of turning that hang on a control, each with its position."""
    for control, positions in entries(node):
        for position, value in entries(positions):
            way = reader.direction(value)
            if way:
                yield Need(Ref(control.value, control.span), Ref(position.value, position.span)), way


def _material(reader: Reader, node: Node | None) -> Ref | None:
    """Return a material; one that is a slip of the pen is a finding, and one that is not known is not judged."""
    ref = reader.ref(node)
    if ref is None or knows_material(ref.name):
        return ref
    near = nearest(ref.name, [material.name for material in MATERIALS])
    if near:
        message = f"{quote(ref.name)} is not a known material"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, ref.span, message, hint=f"did you mean '{near}'?"))
    return ref


def _fastener(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Fastener:
    return build_fastener(
        reader,
        facts,
        {**shared, **_used(reader, facts), "own_places": reader.flag(facts.get("own-places"))},
        Fastener,
    )


def _line(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Line:
    return Line(
        **shared,
        **_bought(reader, facts),
        kind=reader.text(facts.get("kind")),
        joins=reader.refs(facts.get("joins")),
        adjustable=reader.flag(facts.get("adjustable")),
    )
