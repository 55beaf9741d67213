"""A law of going back: what is told of a job with `back-to` is what a search through every state finds."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from itertools import product
from typing import Any

from hypothesis import assume, given, note
from hypothesis import strategies as st

from putback.ledger.opened import open_guide
from putback.variants import NONE
from tests.laws.alone import (
    ASSEMBLING,
    GROUPS,
    Bench,
    Plain,
    Told,
    bench_for,
    closing,
    isolation,
    locked,
    meets,
    names_in,
    not_there,
    verb_of,
    work,
)
from tests.laws.drawing import conditions, machines, read, single_steps
from tests.test_laws import LAWS, told_together

TOLD = {
    "left-off", "pieces-missing", "not-there", "left-loose", "left-open", "left-dry", "control-not-returned",
    "equipment-left", "single-use-reused", "unmarked", "not-isolated", "no-final-test", "still-locked",
    "left-unadjusted",
}  # fmt: skip
"""What does not depend on what comes later, and so can be told state by state."""

Unproved = tuple[str, bool] | None
"""The last assembly that is not proved, and whether the machine was run since, and nobody has looked at anything."""


@st.composite
def looping_jobs(draw: st.DrawFn) -> tuple[Plain, list[Plain]]:
    machine = draw(machines())
    plain = [step for step in draw(st.lists(single_steps(machine), min_size=2, max_size=7)) if "otherwise" not in step]
    assume(len(plain) >= 2)
    plain = [{key: value for key, value in step.items() if key != "name"} for step in plain]
    steps: list[Plain] = []
    label = draw(st.integers(0, len(plain) - 1))
    leaving = draw(st.sets(st.integers(label, len(plain) - 1), min_size=1, max_size=2))
    for index, step in enumerate(plain):
        steps.append({**step, "name": "l"} if index == label else step)
        if index in leaving:
            branch: list[Plain] = []
            for _ in range(draw(st.integers(1, 2))):
                branch += [
                    step for step in draw(st.lists(single_steps(machine), max_size=2)) if "otherwise" not in step
                ]
                if draw(st.integers(0, 2)) == 0:
                    inner: list[Plain] = [step for step in [draw(single_steps(machine))] if "otherwise" not in step]
                    last: list[Plain] = draw(st.sampled_from([[], [{"back-to": "l"}], [{"stop": "Enough."}]]))
                    branch.append({"check": "more", "limit": "dry", "otherwise": [*inner, *last]})
                    if not branch[-1]["otherwise"]:
                        branch.pop()
                end: Plain = {"back-to": "l"} if draw(st.integers(0, 3)) else {"stop": "Enough."}
                when = draw(conditions(machine.get("options", {}), 1))
                branch.append(end if when is None else {**end, "when": when})
                if when is None:
                    break
            steps.append({"check": "the joint", "limit": "dry", "otherwise": branch})
    return machine, steps


def search(machine: Plain, steps: list[Plain], chosen: dict[str, str]) -> Told:
    """Return what is told in one variant, over every state in which each step can be reached."""
    label = next(index for index, step in enumerate(steps) if step.get("name") == "l")
    told: Told = set()
    seen: set[tuple[int, str]] = set()
    start: tuple[int, Bench, Unproved] = (0, bench_for(machine, chosen, steps), None)
    waiting = [start]
    while waiting:
        index, bench, unproved = waiting.pop()
        state = (index, repr((sorted(vars(bench).items(), key=str), unproved)))
        if state in seen:
            continue
        seen.add(state)
        if index == len(steps):
            told |= closing(bench)
            if unproved is not None:
                told.add(("no-final-test", unproved[0]))
            continue
        step = steps[index]
        if not meets(step.get("when"), chosen):
            waiting.append((index + 1, bench, unproved))
            continue
        here = deepcopy(bench)
        unproved = do(machine, here, step, unproved, told)
        if "stop" in step:
            told |= closing(here)
            if unproved is not None:
                told.add(("no-final-test", unproved[0]))
            continue
        waiting.append((index + 1, here, unproved))
        if "otherwise" in step:
            for other, still, end in branched(machine, here, step["otherwise"], unproved, chosen, told):
                if end != "stop":
                    waiting.append((index + 1 if end is None else label, other, still))
    return told


Way = tuple[Bench, Unproved, str | None]
"""A machine, its last assembly that is not proved, and how the branch ended: `back-to`, `stop`, or None for neither."""


def branched(
    machine: Plain, bench: Bench, steps: list[Plain], unproved: Unproved, chosen: dict[str, str], told: Told
) -> list[Way]:
    """Do the steps of an `otherwise`, and return every way through them; tell what is told on the way."""
    ways: list[Way] = [(deepcopy(bench), unproved, None)]
    for step in steps:
        if not meets(step.get("when"), chosen):
            continue
        ended, ways = [way for way in ways if way[2]], [way for way in ways if not way[2]]
        for other, still, _ in ways:
            if "back-to" in step or "stop" in step:
                ended.append((other, still, "back-to" if "back-to" in step else "stop"))
                continue
            after = do(machine, other, step, still, told)
            if "otherwise" in step:
                ended += branched(machine, other, step["otherwise"], after, chosen, told)
            ended.append((other, after, None))
        ways = ended
    return ways


def do(machine: Plain, bench: Bench, step: Plain, unproved: Unproved, told: Told) -> Unproved:
    """Do one step, add what is told of it, and return the last assembly that is not proved."""
    verb = verb_of(step)
    known = {name for group in GROUPS for name in machine.get(group, {})}
    if verb == "stop":
        return unproved
    for name in names_in(step[verb]):
        if name in known and name not in bench.kind:
            continue
        unproved = still_unproved(bench, verb, name, unproved)
        told |= isolation(machine, bench, verb, name)
        if verb in ("place", "take-away"):
            if (name in bench.there) == (verb == "place"):
                told.add(("not-there", name))
            bench.there = bench.there | {name} if verb == "place" else bench.there - {name}
        elif name in bench.kind:
            told |= not_there(bench, verb, step, name) | locked(bench, verb, step, name)
            told |= work(bench, verb, step, name)
    return unproved


def still_unproved(bench: Bench, verb: str, name: str, unproved: Unproved) -> Unproved:
    if verb in ASSEMBLING and not (verb == "fill" and bench.full.get(name)):
        return name, False
    if verb == "run":
        return (unproved[0], True) if unproved else None
    asks = verb in ("check", "measure") or (verb == "inspect" and unproved and unproved[1])
    return None if asks else unproved


@LAWS
@given(looping_jobs())
def test_going_back_hides_nothing_and_invents_nothing(drawn: tuple[Plain, list[Plain]]) -> None:
    machine, steps = drawn
    guide, texts = read(machine, steps, {})
    case = open_guide(guide)
    case = replace(case, books=tuple(book for book in case.books if book.sequence.key == "j"))
    assert case.graph is not None
    assert not any(book.undecided for book in case.books)
    together = [(check, name, variants) for check, name, variants in told_together(case, texts) if check in TOLD]
    options: dict[str, list[str]] = machine.get("options", {})
    space = case.graph.space
    for values in product(*options.values()):
        variant: dict[str, Any] = dict(zip(options, values, strict=True))
        if any(meets(never, variant) for never in machine.get("exclude", [])):
            continue
        here = space.cube(tuple(variant.items()))
        found = {
            (check, name)
            for check, name, variants in together
            if variants is None or space.both(variants, here) != NONE
        }
        must = {(check, name) for check, name in search(machine, steps, variant) if check in TOLD}
        if found != must:
            note(f"machine: {machine}\nsteps: {steps}\nvariant: {variant}")
        # What is left off for good is told as that: who comes to it again by a way back finds nothing more.
    gone = {("not-there", name) for check, name in found if check in ("left-off", "left-open")}
    assert found - gone == must - gone
    assert found <= must
