"""A law of reaching: a step is told as never reached when no variant, walked alone, gets to it, and only then."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from hypothesis import given, note, settings
from hypothesis import strategies as st

from putback.checks import all_checks
from putback.ledger.opened import open_guide
from tests.laws.alone import Plain, meets
from tests.laws.drawing import conditions, machines, read

Place = tuple[int, ...]
"""Where a step stands: its number, then its number under an `otherwise`."""


@st.composite
def jobs_with_ends(draw: st.DrawFn) -> tuple[Plain, list[Plain], dict[str, list[Plain]]]:
    """Draw a machine, and a job and blocks that look at things, and stop here and there."""
    machine = draw(machines())
    things = sorted(machine.get("parts", {}))
    options = machine.get("options", {})

    def steps(blocks: list[str], depth: int = 0) -> list[Plain]:
        found: list[Plain] = []
        for _ in range(draw(st.integers(1, 4))):
            kind = draw(st.sampled_from(["look", "look", "stop", "stop", "check", "do"]))
            step: Plain = {"inspect": draw(st.sampled_from(things))} if things else {"wait": "5 min"}
            if kind == "stop":
                step = {"stop": "Call the workshop."}
            elif kind == "check" and depth < 2:
                step = {"check": "all of it", "limit": "dry", "otherwise": steps(blocks, depth + 1)}
            elif kind == "do" and blocks:
                step = {"do": draw(st.sampled_from(blocks))}
            when = draw(conditions(options, 1))
            found.append(step if when is None else {**step, "when": when})
        return found

    blocks = {"b1": steps([]), "b2": steps(["b1"])}
    return machine, steps(["b1", "b2"]), blocks


def walk(
    steps: list[Plain], variant: dict[str, str], machine: Plain, blocks: dict[str, list[Plain]], at: Place = ()
) -> tuple[set[Place], set[Place], bool]:
    """Go through a list of steps as one variant; return what is for it, what it reaches, and whether it goes on."""
    wanted, reached, alive = set[Place](), set[Place](), True
    for number, step in enumerate(steps):
        place = (*at, number)
        thing = machine.get("parts", {}).get(step.get("inspect"), {})
        if not (meets(step.get("when"), variant) and meets(thing.get("when"), variant)):
            continue
        wanted.add(place)
        reached |= {place} if alive else set()
        if "otherwise" in step:
            inner = walk(step["otherwise"], variant, machine, blocks, place)
            wanted |= inner[0] if alive else set()
            reached |= inner[1] if alive else set()
        if "stop" in step or ("do" in step and not walk(blocks[step["do"]], variant, machine, blocks)[2]):
            alive = False
    return wanted, reached, alive


def variants_of(machine: Plain) -> Iterator[dict[str, str]]:
    options = machine.get("options", {})
    for chosen in product(*options.values()):
        variant = dict(zip(options, chosen, strict=True))
        if not any(meets(never, variant) for never in machine.get("exclude", [])):
            yield variant


def lists_of(steps: list[Plain], at: Place = ()) -> Iterator[Place]:
    yield at
    for number, step in enumerate(steps):
        if "otherwise" in step:
            yield from lists_of(step["otherwise"], (*at, number))


def places_of(sequence: Any) -> dict[object, Place]:
    """Return the place of every step of a job by the place of its verb."""
    found: dict[object, Place] = {}

    def note_all(steps: Any, at: Place) -> None:
        for number, step in enumerate(steps):
            found[step.key] = (*at, number)
            note_all(step.otherwise, (*at, number))

    for section in sequence.sections:
        note_all(section.steps, ())
    return found


@settings(max_examples=150)
@given(jobs_with_ends())
def test_what_is_never_reached(drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]]) -> None:
    machine, steps, blocks = drawn
    guide, _ = read(machine, steps, blocks)
    case = open_guide(guide)
    faults = list(all_checks()["never-reached"].faults(case))
    note(f"machine: {machine}\nsteps: {steps}\nblocks: {blocks}\nfaults: {faults}")
    for sequence, plain in ((guide.jobs["j"], steps), *((guide.blocks[name], blocks[name]) for name in blocks)):
        places = places_of(sequence)
        told = {places[fault.span] for fault in faults if fault.span in places}
        wanted, reached = set[Place](), set[Place]()
        for variant in variants_of(machine):
            one = walk(plain, variant, machine, blocks)
            wanted, reached = wanted | one[0], reached | one[1]
        lost = wanted - reached
        assert told <= lost
        for at in lists_of(plain):
            here = {place for place in lost if place[:-1] == at}
            # Of what follows from one end, the first is told.
            assert (min(here) in told) if here else not {place for place in told if place[:-1] == at}
        # The ledger says the same: what is never reached has no entry.
        posted = {entry.step.key for book in case.books if book.sequence is sequence for entry in book.entries}
        singles = {place: key for key, place in places.items() if "do" not in _at(plain, place)}
        assert {place for place, key in singles.items() if key in posted} == reached & set(singles)


def _at(steps: list[Plain], place: Place) -> Plain:
    step = steps[place[0]]
    return _at(step["otherwise"], place[1:]) if len(place) > 1 else step
