"""What a page must print of one variant on one way: counted once more, plain and slow, on the machine of `alone`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from tests.laws.alone import (
    DONE,
    GROUPS,
    Bench,
    Happening,
    Plain,
    aimed,
    bench_for,
    is_turned,
    meets,
    names_in,
    verb_of,
    work,
)  # fmt: skip

WORK = {
    "remove", "install", "replace", "loosen", "tighten", "disconnect", "connect", "drain", "fill", "run", "lift",
    "adjust", "turn", "act",
}  # fmt: skip
COUNTED = {"part", "fastener", "line"}


@dataclass
class Counted:
    """What came of one thing."""

    empty: int = 0
    missing: int = 0
    new: int = 0

    def more_than(self, other: Counted) -> tuple[int, int, int]:
        """Return pieces out, back and new, more than on another way."""
        out = max(0, max(self.empty, self.new) - max(other.empty, other.new))
        return out, max(0, out - self.missing + other.missing), max(0, self.new - other.new)


@dataclass
class Page:
    """What is printed of one way."""

    counts: dict[str, Counted] = field(default_factory=dict)
    first: dict[str, str] = field(default_factory=dict)
    """Positions of controls before the work begins."""
    tightened: dict[str, int] = field(default_factory=dict)
    """Pieces of joints that were open, and were tightened."""
    disturbed: set[str] = field(default_factory=set)
    """Settings that were disturbed at some time."""
    tools: set[str] = field(default_factory=set)
    stopped: bool = False
    """Whether a branch gave up."""
    within: dict[int, set[str]] = field(default_factory=dict)
    """By inspection: the tools of its branch."""


def page_of(
    machine: Plain, happenings: Sequence[Happening], chosen: Mapping[str, str], answers: Mapping[int, bool]
) -> Page:
    """Return what a variant counts on one way through its inspections."""
    bench, page = bench_for(machine, chosen, [happening.step for happening in happenings]), Page()
    opened: set[str] = set()
    opening = untouched = True
    for happening in happenings:
        step, verb = happening.step, verb_of(happening.step)
        if not all(meets(when, chosen) for when in happening.whens) or not happening.among(answers):
            continue
        if verb == "stop":
            page.stopped = bool(happening.answers)
            break
        there = [name for name in names_in(step[verb]) if name in bench.kind or not known(machine, name)]
        if "tool" in step and there:
            page.tools.add(step["tool"])
            page.within.setdefault(happening.answers[-1] if happening.answers else -1, set()).add(step["tool"])
        if verb == "set" and opening and not happening.answers and there:
            page.first[there[0]] = step["to"]
        if verb == "run" and untouched and not happening.answers:
            page.first.clear()  # what is set for a run stands with the run
        for name in there:
            if name in bench.kind and verb not in ("place", "take-away"):
                count(page, bench, verb, step, name, opened)
                page.disturbed |= bench.unset
        if verb in WORK and there and not happening.answers:
            opening, untouched = False, untouched and verb in ("act", "place")
    rest = machine.get("controls", {})
    page.first = {name: to for name, to in page.first.items() if to != rest[name]["normal"]}
    return page


def known(machine: Plain, name: str) -> bool:
    """Tell whether some variant has a thing of this name."""
    return any(name in machine.get(group, {}) for group in GROUPS)


def out_of(bench: Bench, name: str) -> int:
    """Return how many pieces are out; of a line, one as soon as an end is open."""
    match bench.kind[name]:
        case "part":
            return int(not bench.on[name])
        case "fastener":
            return bench.out(name)
        case _:
            return int(bool(bench.open[name]))


def count(page: Page, bench: Bench, verb: str, step: Plain, name: str, opened: set[str]) -> None:
    """Do one step on one thing, and count."""
    if bench.kind[name] not in COUNTED:
        work(bench, verb, step, name)
        return
    counted = page.counts.setdefault(name, Counted())
    fastener = bench.kind[name] == "fastener"
    whole = int(bench.facts[name].get("count", 1)) if fastener else 1
    before = out_of(bench, name)
    inside = whole - before
    wanted, due = step.get("count", whole), bench.renew.get(name, 0)
    later = verb == "replace" and not inside

    def look() -> None:
        if fastener and (bench.out(name) or not bench.tight(name)):
            opened.add(name)

    look()
    work(bench, verb, step, name)
    look()
    after = out_of(bench, name)
    counted.missing = after
    if verb == "replace" and not later:
        taken = min(step.get("count", inside), inside)
        counted.empty = max(counted.empty, before + taken if taken else 0)
        counted.new += min(wanted, before + taken)
    elif after > before:
        counted.empty = max(counted.empty, after)
    elif verb == "install":
        # What was condemned while it was off goes back new, whatever the step says.
        counted.new += before - after if step.get("new") else max(0, due - bench.renew.get(name, 0))
    turned = fastener and is_turned(bench.facts[name]) and name not in bench.held
    if fastener and verb == "tighten":
        stage = name not in bench.held and aimed(bench, name, step) < DONE
        tightened = 0 if stage else min(step.get("count", inside), inside)
    else:
        tightened = wanted if fastener and verb == "replace" and not turned and not later else 0
    if tightened and name in opened:
        page.tightened[name] = min(whole, page.tightened.get(name, 0) + tightened)
