"""Which rules of an assembly's insides count for the whole, and what is out of the way."""

from __future__ import annotations

import pytest

from putback.ledger.obstacles import crossed, is_cleared, is_missing, of_insides
from putback.model.machine import Fastener
from putback.model.states import LineState, PartState, opening
from putback.variants.graph import Graph, Why
from tests.ledger.trial import machine_of

MACHINE = """
machine: Trial pump
parts:
  bed: {}
  cap: {}
  pump: {assembly: [rotor, seal]}
  rotor: {}
  seal: {}
  shim: {}
  plate: {}
  tank: {}
fasteners:
  pump-bolts: {secures: pump, to: bed}
  rotor-nut: {secures: rotor, to: seal}
  seal-screw: {secures: seal, to: bed}
  clamp: {secures: hose, at: tank}
  clip: {secures: hose}
lines:
  hose: {joins: [rotor, tank]}
stacks:
  - [cap, rotor, seal, shim]
access-after:
  seal: [plate]
  tank: [rotor]
"""


@pytest.mark.parametrize(
    ("goes_on", "expected"),
    [
        (
            False,
            {("rotor", "cap", "rotor"), ("rotor", "hose", "rotor"), ("seal", "seal-screw", "seal")},
        ),
        (True, {("rotor", "cap", "rotor"), ("seal", "seal-screw", "seal"), ("seal", "seal", "shim")}),
    ],
)
def test_what_holds_an_inside_holds_the_whole(goes_on: bool, expected: set[tuple[str, str, str]]) -> None:
    graph = Graph(machine_of(MACHINE))
    found = {(name, edge.outer, edge.inner) for name, edge in of_insides(graph, "pump", goes_on=goes_on)}
    assert found == expected
    assert list(of_insides(graph, "tank", goes_on=goes_on)) == []


def test_a_rule_that_crosses_an_assembly() -> None:
    graph = Graph(machine_of(MACHINE))
    edges = {(edge.outer, edge.inner): edge for edge in graph.edges()}
    assert list(crossed(graph, edges["cap", "rotor"])) == ["pump"]
    assert list(crossed(graph, edges["cap", "rotor"], along="pump")) == []
    assert list(crossed(graph, edges["rotor", "seal"])) == []
    assert list(crossed(graph, edges["pump-bolts", "pump"])) == []
    assert list(crossed(graph, edges["hose", "tank"])) == []


@pytest.mark.parametrize(
    ("inner", "why", "open_", "cleared"),
    [
        ("rotor", Why.JOINS, {"rotor"}, True),
        ("rotor", Why.JOINS, {"tank"}, True),
        ("rotor", Why.JOINS, set(), False),
        ("rotor", Why.JOINS, {"rotor", "tank"}, True),
        ("rotor", Why.BEHIND, {"tank"}, True),
        ("rotor", Why.STACK, {"tank"}, True),
        ("rotor", Why.STACK, set(), False),
        ("rotor", Why.SECURES, {"tank"}, False),
        ("rotor", Why.SECURES, {"rotor", "tank"}, True),
    ],
)
def test_a_line_is_out_of_the_way(inner: str, why: Why, open_: set[str], cleared: bool) -> None:
    """Off at this end, or on at this end only; what it covers or lies on, once it is off at one end."""
    graph = Graph(machine_of(MACHINE))
    [edge] = [edge for edge in graph.inside("hose") if edge.inner == inner]
    line = graph.machine.things["hose"]
    assert is_cleared(edge._replace(why=why), line, LineState(frozenset(open_))) is cleared


def test_a_tee_is_out_of_the_way_with_the_end_that_is_asked_for() -> None:
    machine = machine_of("machine: Trial\nparts: {a: {}, b: {}, c: {}}\nlines: {tee: {joins: [a, b, c]}}\n")
    graph = Graph(machine)
    [edge] = [edge for edge in graph.inside("tee") if edge.inner == "a"]
    for open_, cleared in (({"a"}, True), ({"b"}, False), ({"b", "c"}, True)):
        assert is_cleared(edge, machine.things["tee"], LineState(frozenset(open_))) is cleared


def test_a_clamp_goes_on_the_end_that_it_holds() -> None:
    things = machine_of(MACHINE).things
    for name, open_, missing in (
        ("clamp", {"tank"}, True),
        ("clamp", {"rotor"}, False),
        ("clip", {"rotor"}, True),
        ("clip", set[str](), False),
    ):
        fastener = things[name]
        assert isinstance(fastener, Fastener)
        assert is_missing(fastener, LineState(frozenset(open_))) is missing
    assert is_missing(things["pump-bolts"], PartState(on=False))
    assert not is_missing(things["pump-bolts"], opening(things["pump"]))
