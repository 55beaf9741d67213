"""Laws and cases of the list of what to get for several jobs together."""

from __future__ import annotations

import random
from collections import Counter
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.spread import base_of
from putback.ledger.opened import Opened, open_guide
from putback.model.details import Kit
from putback.model.kits import contents_of
from putback.sheet import sheet_of
from putback.sheet.shopping import shopping_list
from putback.sheet.supply import ShoppingList, Supply, SupplyKind
from putback.source.intake import Memory
from putback.variants import NONE, VariantSet
from putback.words import catalogue
from putback.words.shopping import as_text

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = ["ambry-g5", "hollin-20", "sessel-w15", "tarrick-d2"]


@cache
def opened_of(name: str) -> Opened:
    return open_guide(read_guide(PROCEDURES / name))


def variants_of(opened: Opened, most: int = 12) -> list[VariantSet]:
    """Return some machines, each as the set of this one alone."""
    assert opened.guide.machine is not None
    assert opened.graph is not None
    options = opened.guide.machine.options
    every = list(product(*([(name, choice) for choice in choices] for name, choices in options.items())))
    chosen = random.Random(7).sample(every, min(most, len(every)))
    space = opened.graph.space
    sets = [space.both(space.cube(choice), space.built) for choice in chosen]
    return [each for each in sets if each != NONE]


def pieces(wanted: ShoppingList, variant: VariantSet, opened: Opened) -> Counter[str]:
    """Return how many pieces of each part one machine gets, those in kits included."""
    assert opened.graph is not None
    assert opened.guide.machine is not None
    found: Counter[str] = Counter()
    for each in wanted.needed:
        if opened.graph.space.both(opened.graph.meaning(each.when), variant) == NONE:
            continue
        if each.kind is SupplyKind.PART:
            found[each.key] += each.count
        elif isinstance(each.what, Kit):
            for thing, held in contents_of(each.what, opened.guide.machine):
                found[thing.key] += each.count * held
    return found


def in_kits(opened: Opened) -> set[str]:
    assert opened.guide.machine is not None
    return {thing.key for thing in opened.guide.machine.things.values() if getattr(thing, "kit", None)}


@pytest.mark.parametrize("name", GUIDES)
def test_the_list_of_all_jobs_is_the_sum_of_their_lists_kits_apart(name: str) -> None:
    opened = opened_of(name)
    whole, single = (
        shopping_list(opened, opened.guide.jobs),
        [shopping_list(opened, [job]) for job in opened.guide.jobs],
    )
    for variant in variants_of(opened):
        sums: Counter[str] = Counter()
        for each in single:
            sums += pieces(each, variant, opened)
        together = pieces(whole, variant, opened)
        apart = in_kits(opened)
        assert {key: count for key, count in together.items() if key not in apart} == {
            key: count for key, count in sums.items() if key not in apart
        }
        assert all(together[key] <= count for key, count in sums.items())
    tools = {(each.kind, each.key) for one in single for each in one.needed if each.kind is SupplyKind.TOOL}
    assert {(each.kind, each.key) for each in whole.needed if each.kind is SupplyKind.TOOL} == tools


@pytest.mark.parametrize("name", GUIDES)
def test_the_order_in_which_jobs_are_named_changes_nothing(name: str) -> None:
    opened = opened_of(name)
    jobs = list(opened.guide.jobs)
    assert shopping_list(opened, jobs[:5]) == shopping_list(opened, list(reversed(jobs[:5])))
    words = catalogue(opened)
    assert as_text(shopping_list(opened, jobs), opened, words) == as_text(
        shopping_list(opened, set(jobs)), opened, words
    )


@pytest.mark.parametrize("name", GUIDES)
def test_what_a_page_of_a_job_says_is_covered(name: str) -> None:
    opened = opened_of(name)
    assert opened.graph is not None
    for key, job in opened.guide.jobs.items():
        sheet = sheet_of(job, opened)
        assert sheet is not None
        for variant in variants_of(opened, 4):
            got = pieces(shopping_list(opened, [key]), variant, opened)
            for row in sheet.set_up.parts:
                here = opened.graph.space.both(opened.graph.meaning(row.when), variant) != NONE
                assert not here or row.only_if or got[base_of(row.thing.key)] >= row.count


MACHINE = """\
machine: Trial
options: {deck: [narrow, wide]}
places: {cylinder: 3}
parts:
  lid: {}
  felt: {number: T-1}
  ring: {number: T-2, kit: lid-kit}
  seal: {kit: lid-kit}
  cap: {each: cylinder}
fasteners:
  screws: {kind: screw, count: {deck: {narrow: 4, wide: 6}}, number: T-3, by-hand: until they stop, secures: lid}
  plug: {kind: plug, by-hand: until it stops}
  nails: {kind: nail, count: not counted, no-torque: driven in}
fluids: {oil: {volume: 1 l, drains: [plug], fills: [lid]}}
stacks: [[lid, ring, seal, felt], [lid, cap]]
kits:
  lid-kit: {name: lid kit, number: T-9, contents: {ring: 1, seal: 1, screws: 4}}
"""


def listed(jobs: dict[str, str], *names: str) -> list[tuple[object, ...]]:
    files = {"guide.yaml": "title: T", "machine.yaml": MACHINE}
    files |= {f"jobs/{name}.yaml": f"job: {name}\n{text}" for name, text in jobs.items()}
    guide = read_guide(Path("/g"), store=Memory({Path("/g") / name: text.encode() for name, text in files.items()}))
    assert guide.faults == ()
    opened = open_guide(guide)
    wanted = shopping_list(opened, names or list(jobs))
    return [_row(each, catalogue(opened).only_for(each.when)) for each in (*wanted.needed, *wanted.perhaps)]


def _row(each: Supply, when: str) -> tuple[object, ...]:
    amount = each.volume.text if each.volume else each.count
    over = [(over.thing.key, over.pieces) for over in each.over]
    return (each.kind.value, each.key, amount, when, [tuple(each) for each in each.only_if], over)


def new(*things: str) -> str:
    return "steps:\n" + "".join(f"- {{replace: {thing}}}\n" for thing in things)


def test_a_kit_is_bought_once_for_all_that_it_covers_and_says_what_is_left() -> None:
    assert listed({"a": new("ring"), "b": new("seal")}) == [
        ("kit", "lid-kit", 1, "", [], [("screws", 4)]),
    ]


def test_what_comes_in_a_kit_alone_is_bought_alone_where_it_has_a_number() -> None:
    assert listed({"a": new("ring")}) == [("part", "ring", 1, "", [], [])]
    assert listed({"a": new("seal")}) == [("kit", "lid-kit", 1, "", [], [("ring", 1), ("screws", 4)])]


def test_what_jobs_take_beyond_the_kit_is_bought_alone() -> None:
    assert listed({"a": new("ring", "seal"), "b": new("ring")}) == [
        ("kit", "lid-kit", 1, "", [], [("screws", 4)]),
        ("part", "ring", 1, "", [], []),
    ]
    assert listed({"a": new("ring", "seal"), "b": new("seal")})[0][:3] == ("kit", "lid-kit", 2)


def test_each_variant_gets_what_it_needs() -> None:
    assert listed({"a": new("screws", "ring", "cap")}) == [
        ("kit", "lid-kit", 1, "", [], [("seal", 1)]),
        ("part", "screws", 2, "only with a wide deck", [], []),
        ("part", "cap", 3, "", [], []),
    ]


def test_what_only_a_branch_needs_stands_apart_with_its_steps() -> None:
    job = "steps:\n- {inspect: felt, for: cracks, otherwise: [{replace: felt}]}\n"
    assert listed({"a": job, "b": job}) == [("part", "felt", 1, "", [("a", ("1",)), ("b", ("1",))], [])]


def test_what_one_job_drains_and_the_next_fills_is_bought_once() -> None:
    drain, fill = "- {remove: plug}\n- {drain: oil}\n- {install: plug}\n", "- {fill: oil}\n"
    apart = {"a": f"before: b\nends-with: [oil]\nsteps:\n{drain}", "b": f"after: a\nsteps:\n{fill}"}
    assert [row[:3] for row in listed(apart)] == [("fluid", "oil", "1 l")]
    whole = {"a": f"steps:\n{drain}{fill}", "b": f"steps:\n{drain}{fill}"}
    assert [row[:3] for row in listed(whole)] == [("fluid", "oil", "2 l")]


def test_follow_ups_count_and_what_nobody_counts_has_no_number() -> None:
    job = "follow-ups:\n- {after: 2 h, steps: [{replace: felt}]}\n" + new("nails")
    assert [row[:2] for row in listed({"a": job})] == [("part", "nails"), ("part", "felt")]
