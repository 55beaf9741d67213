"""From the tree of a machine file to what does not come off: controls, fluids, settings."""

from __future__ import annotations

from typing import Any

from putback.model.control import Control
from putback.model.fluid import Fluid, FluidLevel
from putback.model.reading import Reader, entries
from putback.model.setting import Disturber, Setting
from putback.model.terms import Ref
from putback.source.tree import Mapping, Node
from putback.units import Kind


def build_control(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Control:
    """Return a control."""
    normal = reader.ref(facts.get("normal"))
    assert normal is not None
    positions = facts.get("positions")
    own: dict[str, Any] = {
        **shared,
        "normal": normal,
        "any_at_end": reader.flag(facts.get("any-at-end")),
        "guard": reader.flag(facts.get("guard")),
        "looks": reader.text(facts.get("looks")),
    }
    if not isinstance(positions, Mapping):
        return Control(**own, positions=reader.refs(positions))
    refs = tuple(Ref(key.value, key.span) for key, _ in entries(positions))
    phrases = tuple((key.value, reader.text(value) or "") for key, value in entries(positions))
    return Control(**own, positions=refs, phrases=phrases)


def build_fluid(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Fluid:
    """Return a fluid."""
    return Fluid(
        **shared,
        grade=reader.text(facts.get("grade")),
        volume=reader.quantity(facts.get("volume"), Kind.VOLUME),
        drains=reader.refs(facts.get("drains")),
        fills=reader.refs(facts.get("fills")),
        vents=reader.refs(facts.get("vents")),
        level=_level(reader, facts.get("level")),
        settles=reader.positive(facts.get("settles"), Kind.TIME, of="fluid"),
    )


def _level(reader: Reader, node: Node | None) -> FluidLevel | None:
    if not isinstance(node, Mapping):
        return None
    seen_at = reader.text(node.get("at"))
    return FluidLevel(str(seen_at), reader.refs(node.get("marks")), reader.ref(node.get("to")))


def build_setting(reader: Reader, facts: Mapping, shared: dict[str, Any]) -> Setting:
    """Return a setting."""
    limit = reader.limit(facts.get("limit"), shared["name"], shared["name"])
    return Setting(
        **{**shared, "check_in_run": None},
        watched=reader.flag(facts.get("check-in-run")),
        limit=limit,
        measured=reader.text(facts.get("measured")),
        disturbed_by=_disturbers(reader, facts.get("disturbed-by")),
        adjusted_by=_disturbers(reader, facts.get("adjusted-by")),
    )


def _disturbers(reader: Reader, node: Node | None) -> tuple[Disturber, ...]:
    if isinstance(node, Mapping):
        return tuple(Disturber(Ref(key.value, key.span), reader.refs(value)) for key, value in entries(node))
    return tuple(Disturber(ref) for ref in reader.refs(node))
