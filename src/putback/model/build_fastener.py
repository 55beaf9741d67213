"""From the tree of a fastener to a `Fastener`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from putback.joints import stages as tightening
from putback.joints.drives import read_drive
from putback.joints.friction import NOT_STATED, read_condition
from putback.joints.stages import Stage, StageKind, read_stage
from putback.joints.strength import ClassError, StrengthClass, read_class, read_nut_class
from putback.joints.threads import Thread, ThreadError, is_other, read_thread
from putback.model.build_order import ordered
from putback.model.counts import read_pieces
from putback.model.fastened import meant_kind
from putback.model.machine import Fastener
from putback.model.reading import Reader
from putback.model.single import one_value
from putback.model.sizes import shape_facts
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import is_plural
from putback.source.quoting import quote
from putback.source.span import Span
from putback.source.tree import Listing, Mapping, Node, Text
from putback.units import Kind, Quantity


def build_fastener(reader: Reader, facts: Mapping, shared: dict[str, Any], make: type[Fastener]) -> Fastener:
    """Return the fastener, or screwed part, that a mapping describes; `shared` are the facts that others have too."""
    _without_another(reader, facts)
    kind = _kind(reader, facts.get("kind"))
    how_many, pieces = read_pieces(reader, facts)
    count = pieces["count"]
    screw = _screw(reader, facts.get("thread"))
    named = shared["name"]
    several = (count > 1 or how_many.uncounted) and shared["plural"] is None
    if several and (facts.get("name") is None or is_plural(named)):
        # The key of a group is mostly a plural, `guard-bolts`, and so may its name be.
        head, of, rest = named.partition(" of ")
        if (single := _singular(head)) != head:
            shared["plural"], shared["name"] = named, f"{single}{of}{rest}"
    return make(
        **shared,
        kind=kind,
        **pieces,
        thread=reader.text(facts.get("thread")),
        screw=screw,
        grade=reader.text(facts.get("class")),
        strength=reader.meant(facts.get("class"), _class_reader(kind, (shared["key"], shared["name"]))),
        length=one_value(reader, facts.get("length"), Kind.LENGTH),
        drive=_driven(reader, facts.get("drive")),
        secures=reader.refs(facts.get("secures")),
        at=reader.ref(facts.get("at")),
        releases_when_loose=reader.text(facts.get("releases-when")) == "loose",
        to=reader.ref(facts.get("to")),
        counterhold=reader.ref(facts.get("counterhold")),
        locks=reader.refs(facts.get("locks")),
        torque_confirmed=reader.text(facts.get("torque-confirmed")),
        **_tightening(reader, facts),
        **shape_facts(reader, facts, screw),
        by_hand=reader.text(facts.get("by-hand")),
        no_torque=reader.text(facts.get("no-torque")),
        **ordered(reader, facts, count),
        compound=reader.ref(facts.get("compound")),
    )


def _class_reader(kind: str | None, names: tuple[str, str]) -> Callable[[str], StrengthClass]:
    """Return what reads the class of a fastener: nuts have classes of their own."""
    if kind is not None or not any(re.search(r"nuts?$", name) for name in names):
        return read_nut_class if (kind or "").endswith("nut") else read_class

    def read(said: str) -> StrengthClass:
        try:
            return read_class(said)
        except ClassError as error:
            try:
                read_nut_class(said)
            except ClassError:
                raise error from None
            raise ClassError(str(error), "add 'kind: nut'") from None

    return read


def _kind(reader: Reader, node: Node | None) -> str | None:
    """Return the kind of a fastener; a word with a slip in it is a finding, and stands for what was meant."""
    kind = reader.text(node)
    meant = meant_kind(kind) if kind else None
    if node is None or meant is None:
        return kind
    message, hint = f"{quote(kind or '')} is not a kind of fastener", f"did you mean '{meant}'?"
    reader.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint=hint))
    return meant


def _driven(reader: Reader, node: Node | None) -> str | None:
    """Return what turns a fastener; a hexagon wants its unit."""
    text = reader.text(node)
    drive = read_drive(text) if text else None
    if node and text and drive and drive.unit is None:
        message, hint = f"{quote(text)} has no unit", f"write '{text} {'in' if '/' in text else 'mm'}'"
        reader.faults.append(Finding("bare-number", Level.ERROR, node.span, message, hint=hint))
    return text


def _tightening(reader: Reader, facts: Mapping) -> dict[str, Any]:
    """Return how a fastener is tightened: its torque and stages, its thread condition, with what tool."""
    node, condition = facts.get("torque"), facts.get("condition")
    torque = reader.positive(node, Kind.TORQUE)
    stages, span = _stages(reader, facts.get("stages"), torque, node)
    return {
        "torque": torque,
        "torque_span": node.span if node else span,
        "stages": stages,
        "passes": reader.whole(facts.get("passes")) or 1,
        "retighten_after": reader.quantity(facts.get("retighten-after"), Kind.TIME),
        "slacken": reader.positive(facts.get("slacken"), Kind.ANGLE),
        "past_hand_tight": reader.positive(facts.get("past-hand-tight"), Kind.ANGLE),
        "past_hand_tight_span": past.span if (past := facts.get("past-hand-tight")) else None,
        "reuse": reader.text(facts.get("reuse")),
        "engagement": reader.positive(facts.get("engagement"), Kind.LENGTH),
        "engagement_span": engaged.span if (engaged := facts.get("engagement")) else None,
        "insert": reader.text(facts.get("insert")),
        "hole": reader.text(facts.get("hole")),
        "running_torque": reader.positive(facts.get("running-torque"), Kind.TORQUE),
        "condition": reader.meant(condition, read_condition) or NOT_STATED,
        "condition_text": reader.text(condition),
        "condition_span": condition.span if condition else None,
        "tool": reader.ref(facts.get("tool")),
        "wrench_angle": one_value(reader, facts.get("wrench-angle"), Kind.ANGLE, nought=True),
    }


def _stages(
    reader: Reader, node: Node | None, torque: Quantity | None, stated: Node | None
) -> tuple[tuple[Stage, ...], Span | None]:
    """Return the stages, and the place of the last that gives a torque; `stated` is the node of the torque."""
    items = node.items if isinstance(node, Listing) else []
    stages = [stage for item in items if (stage := _stage(reader, item))]
    if len(stages) < len(items):
        return (), None
    for fault in tightening.faults(stages, torque) if stated is None or torque is not None else ():
        also = (Also(stated.span, "the torque"),) if fault.between and stated else ()
        reader.faults.append(
            Finding("bad-fastener", Level.ERROR, items[fault.place].span, fault.message, also, fault.hint)
        )
    given = [item.span for item, stage in zip(items, stages, strict=True) if stage.kind is StageKind.TORQUE]
    return tuple(stages), given[-1] if given else None


def _stage(reader: Reader, node: Node) -> Stage | None:
    stage, text = reader.meant(node, read_stage), reader.text(node)
    if stage is None or stage.quantity is None or text is None:
        return stage
    return replace(stage, quantity=replace(stage.quantity, text=text))


def _screw(reader: Reader, node: Node | None) -> Thread | None:
    """Return a thread; None for one that is known by name only."""
    if not isinstance(node, Text):
        return None
    try:
        return read_thread(node.value)
    except ThreadError:
        return None if is_other(node.value) else reader.meant(node, read_thread)


def _singular(name: str) -> str:
    """Return the singular of a regular English plural: `guard bolt`; a name that is no plural stays as it is."""
    for ending, instead in (("ches", "ch"), ("shes", "sh"), ("xes", "x"), ("sses", "ss"), ("ies", "y")):
        if name.endswith(ending):
            return name.removesuffix(ending) + instead
    return name[:-1] if name.endswith("s") and not name.endswith("ss") else name


_HANG_ON = (
    ("front", "layout", "says which way round the layout is, but there is no layout"),
    ("top", "layout", "says which way round the layout is, but there is no layout"),
    ("seen-from", "layout", "says from where the layout is seen, but there is no layout"),
    ("wrench-angle", "tool", "gives the angle of a tool to the wrench, but no tool is named"),
    ("slacken", "retighten-after", "says how far to loosen it once it has settled, but nothing says when that is"),
)
"""Facts that say nothing without another: key, the other key, what is wrong."""


def _without_another(reader: Reader, facts: Mapping) -> None:
    for key, other, why in _HANG_ON:
        if key in facts.entries and other not in facts.entries:
            span, hint = facts.entries[key].key.span, f"add '{other}: …', or delete it"
            reader.faults.append(Finding("bad-fastener", Level.ERROR, span, f"'{key}' {why}", hint=hint))
    if "retighten-after" in facts.entries and "past-hand-tight" in facts.entries:
        span, hint = facts.entries["retighten-after"].key.span, "delete it, or give a torque instead of the turns"
        message = "'retighten-after' would turn it past hand-tight again, and too far"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, span, message, hint=hint))
