"""The order of a machine: edges of the four kinds, stacks through absent things, loops, and what it costs."""

from __future__ import annotations

import sys

import pytest

from putback.model.build_machine import build_machine
from putback.source.load import Mapping, load_text
from putback.variants import NONE
from putback.variants.graph import Edge, Graph, Why


def graph_of(text: str) -> Graph:
    loaded = load_text(f"machine: Trial\n{text}", "machine.yaml")
    assert isinstance(loaded.root, Mapping), loaded.faults
    machine, faults = build_machine(loaded.root, "machine.yaml")
    assert faults == []
    return Graph(machine)


def pairs(graph: Graph) -> set[tuple[str, str, Why]]:
    return {(edge.outer, edge.inner, edge.why) for edge in graph.edges()}


def loops(graph: Graph) -> list[list[str]]:
    return [[edge.outer for edge in loop] for loop in graph.cycles()]


FOUR = """
parts: {cover: {}, gasket: {}, pump: {}, guard: {}, block: {}}
fasteners: {screws: {secures: cover, to: pump}}
lines: {hose: {joins: [pump, block]}}
stacks:
  - [cover, gasket]
access-after:
  screws: [guard]
"""


def test_the_four_kinds_of_edges() -> None:
    assert pairs(graph_of(FOUR)) == {
        ("screws", "cover", Why.SECURES),
        ("hose", "pump", Why.JOINS),
        ("hose", "block", Why.JOINS),
        ("cover", "gasket", Why.STACK),
        ("guard", "screws", Why.BEHIND),
    }


def test_outside_and_inside_of_a_thing() -> None:
    graph = graph_of(FOUR)
    assert [edge.outer for edge in graph.outside("cover")] == ["screws"]
    assert [edge.inner for edge in graph.inside("cover")] == ["gasket"]
    assert graph.outside("block") == [edge for edge in graph.edges() if edge.inner == "block"]
    assert graph.outside("nothing") == graph.inside("nothing") == []


def test_an_edge_points_at_the_name_that_says_so() -> None:
    text = f"machine: Trial\n{FOUR}"
    for edge in graph_of(FOUR).edges():
        named = edge.outer if edge.why is Why.BEHIND else edge.inner
        assert edge.span.cut(text) == named


def test_names_that_stand_for_nothing_make_no_edge() -> None:
    graph = graph_of("parts: {a: {}}\nfasteners: {f: {secures: b}}\nstacks: [[a, c]]\naccess-after: {a: [d], e: [a]}")
    assert pairs(graph) == set()


STACK = """
options: {seal: [soft, metal], drive: [belt, gear]}
parts:
  cover: {}
  gasket: {when: {seal: soft}}
  shim: {when: {drive: gear}}
  body: {}
stacks:
  - [cover, gasket, shim, body]
"""


def worlds_of(graph: Graph, outer: str, inner: str) -> list[Edge]:
    return [edge for edge in graph.edges() if (edge.outer, edge.inner) == (outer, inner)]


def test_a_stack_passes_through_things_that_a_variant_lacks() -> None:
    graph = graph_of(STACK)
    space = graph.space
    soft, gear = space.chosen("seal", ["soft"]), space.chosen("drive", ["gear"])
    metal, belt = space.chosen("seal", ["metal"]), space.chosen("drive", ["belt"])
    expected = {
        ("cover", "gasket"): soft,
        ("cover", "shim"): space.both(metal, gear),
        ("gasket", "shim"): space.both(soft, gear),
        ("cover", "body"): space.both(metal, belt),
        ("gasket", "body"): space.both(soft, belt),
        ("shim", "body"): gear,
    }
    assert {(edge.outer, edge.inner): edge.variants for edge in graph.edges()} == expected


def test_a_stack_can_be_limited_to_variants() -> None:
    text = "options: {drive: [belt, gear]}\nparts: {a: {}, b: {}}\nstacks: [{when: {drive: belt}, order: [a, b]}]"
    graph = graph_of(text)
    [edge] = graph.edges()
    assert edge.variants == graph.space.chosen("drive", ["belt"])


def test_an_edge_between_things_that_never_meet_is_none() -> None:
    text = """
options: {drive: [belt, gear]}
parts: {a: {when: {drive: belt}}, b: {when: {drive: gear}}}
stacks: [[a, b]]
"""
    assert pairs(graph_of(text)) == set()


def test_excluded_combinations_carry_no_edge() -> None:
    text = """
options: {drive: [belt, gear], seal: [soft, metal]}
exclude: [{drive: gear, seal: soft}]
parts: {a: {when: {drive: gear}}, b: {when: {seal: soft}}}
stacks: [[a, b]]
"""
    assert pairs(graph_of(text)) == set()


def test_what_a_condition_means() -> None:
    graph = graph_of(
        STACK + "  - {when: [{seal: soft, drive: belt}, {seal: [soft, metal], drive: gear}], order: [cover]}"
    )
    space = graph.space
    [_, stack] = graph.machine.stacks
    belt_soft = space.both(space.chosen("seal", ["soft"]), space.chosen("drive", ["belt"]))
    assert graph.meaning(stack.when) == space.either(belt_soft, space.chosen("drive", ["gear"]))


def test_a_name_that_the_machine_does_not_know_is_in_all_built_variants() -> None:
    graph = graph_of(STACK)
    assert graph.present("engine") == graph.space.built
    assert graph.present("gasket") == graph.space.chosen("seal", ["soft"])


def test_a_sound_machine_has_no_loop() -> None:
    assert loops(graph_of(FOUR)) == []
    assert loops(graph_of(STACK)) == []


def test_a_loop_is_listed_whole() -> None:
    graph = graph_of("parts: {a: {}, b: {}, c: {}, d: {}}\naccess-after: {b: [a], c: [b], a: [c], d: [c]}")
    [loop] = graph.cycles()
    assert [(edge.outer, edge.inner) for edge in loop] in (
        [("a", "b"), ("b", "c"), ("c", "a")],
        [("b", "c"), ("c", "a"), ("a", "b")],
        [("c", "a"), ("a", "b"), ("b", "c")],
    )


def test_a_thing_before_itself_is_a_loop() -> None:
    assert loops(graph_of("parts: {a: {}}\naccess-after: {a: [a]}")) == [["a"]]


def test_two_loops_are_both_listed() -> None:
    graph = graph_of("parts: {a: {}, b: {}, c: {}, d: {}}\naccess-after: {a: [b], b: [a], c: [d], d: [c]}")
    assert sorted(sorted(loop) for loop in loops(graph)) == [["a", "b"], ["c", "d"]]


OPTIONAL_LOOP = """
options: {drive: [belt, gear]}
parts: {a: {}, b: {}, c: {}}
stacks:
  - {when: {drive: belt}, order: [a, b]}
  - {when: {drive: OTHER}, order: [b, a]}
"""


def test_a_loop_counts_only_where_one_variant_has_all_of_it() -> None:
    assert loops(graph_of(OPTIONAL_LOOP.replace("OTHER", "gear"))) == []
    graph = graph_of(OPTIONAL_LOOP.replace("OTHER", "[belt, gear]"))
    [loop] = graph.cycles()
    assert sorted(edge.outer for edge in loop) == ["a", "b"]
    variants = graph.space.built
    for edge in loop:
        variants = graph.space.both(variants, edge.variants)
    assert variants == graph.space.chosen("drive", ["belt"]) != NONE


def edges_in_stack(length: int) -> int:
    parts = ", ".join(f"p{n}: {{}}" for n in range(length))
    return len(list(graph_of(f"parts: {{{parts}}}\nstacks: [[{', '.join(f'p{n}' for n in range(length))}]]").edges()))


def test_a_stack_costs_one_edge_a_thing() -> None:
    assert edges_in_stack(50) == 49
    assert edges_in_stack(400) == 399


def rows_with(options: int) -> int:
    names = [f"o{n}" for n in range(options)]
    parts = "".join(
        f"  a{n}: {{}}\n  b{n}: {{when: {{{name}: yes-one}}}}\n  c{n}: {{}}\n" for n, name in enumerate(names)
    )
    stacks = "".join(f"  - [a{n}, b{n}, c{n}]\n" for n in range(options))
    choices = "".join(f"  {name}: [yes-one, no-one]\n" for name in names)
    return len(graph_of(f"options:\n{choices}parts:\n{parts}stacks:\n{stacks}").space._rows)


def test_stacks_that_share_no_option_do_not_multiply() -> None:
    assert rows_with(60) - rows_with(50) == rows_with(20) - rows_with(10)


def test_a_sound_machine_needs_no_search_for_loops(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library that finds loops is slow to import: only a machine that may have one waits for it."""
    monkeypatch.setitem(sys.modules, "networkx", None)
    assert loops(graph_of(FOUR)) == loops(graph_of(STACK)) == []
    with pytest.raises(ImportError):
        loops(graph_of("parts: {a: {}, b: {}}\naccess-after: {a: [b], b: [a]}"))


def test_what_holds_an_assembly_together_and_nothing_else_belongs_to_it() -> None:
    graph = graph_of("""
parts: {unit: {assembly: [drum]}, drum: {}, bed: {}}
fasteners:
  through-bolt: {secures: [unit, drum]}
  drum-nut: {secures: drum, to: unit}
  foot: {secures: unit}
  bed-bolt: {secures: drum, to: bed}
  strap: {secures: [drum, bed]}
lines:
  wire: {joins: [unit, drum]}
  cable: {joins: [drum, bed]}
""")
    assert graph.assemblies == {"unit": {"drum", "through-bolt", "drum-nut", "wire"}}


def test_one_bolt_through_all_of_an_assembly_belongs_to_it() -> None:
    graph = graph_of("parts: {unit: {assembly: [drum]}, drum: {}}\nfasteners: {through-bolt: {secures: [unit, drum]}}")
    assert graph.assemblies == {"unit": {"drum", "through-bolt"}}
