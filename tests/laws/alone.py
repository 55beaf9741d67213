"""One variant of a job, walked alone: the rules of the ledger once more, plain and slow.

This is the oracle that the ledger is held against. It knows no sets of variants: a variant and a way through the
inspections are given, everything that they lack is left out first, and one machine is worked on, step by step.
Machines and jobs are the plain values that stand in the files.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

Plain = dict[str, Any]
Told = set[tuple[str, str]]
"""Names of checks, each with the name that its finding is about."""

ASSEMBLING = {"install", "replace", "tighten", "connect", "fill"}
PROVING = {"run", "check", "measure"}
HANDLING = {"remove", "install", "replace", "loosen", "tighten", "disconnect", "connect", "drain", "fill"}
VERBS = (
    HANDLING
    | PROVING
    | {"set", "place", "take-away", "mark", "align", "clean", "inspect", "turn", "stop", "do", "reverse", "note"}
)


@dataclass
class Happening:
    """A step, with everything that must be so for it to happen."""

    step: Plain
    whens: list[Any]
    """Conditions on options, all of which must hold."""
    answers: list[int]
    """Numbers of the inspections that must be out of limit."""
    number: int | None = None
    """Its own number, when it is an inspection with an `otherwise`, or asks for one outcome of a measurement."""
    refused: list[int] = field(default_factory=list)
    """Numbers of the inspections that must not be out of limit: outcomes before this one."""

    def among(self, answers: Mapping[int, bool]) -> bool:
        """Tell whether the answers lead to it."""
        return all(answers.get(n) for n in self.answers) and not any(answers.get(n) for n in self.refused)


def verb_of(step: Plain) -> str:
    [verb] = [key for key in step if key in VERBS]
    return verb


def written_out(steps: Sequence[Plain], blocks: Mapping[str, list[Plain]]) -> list[Happening]:
    """Put blocks in place of `do`, and the steps of every `otherwise` and outcome behind their inspection."""
    found: list[Happening] = []
    inspections = [0]

    def write(steps: Sequence[Plain], whens: list[Any], answers: list[int], refused: list[int]) -> None:
        for step in steps:
            here = [*whens, step["when"]] if "when" in step else whens
            if "do" in step or "reverse" in step:
                write(blocks[step["do"] if "do" in step else f"undo {step['reverse']}"], here, answers, refused)
                continue
            if "otherwise" in step:
                number = inspections[0]
                inspections[0] += 1
                found.append(Happening(step, here, answers, number, refused))
                write(step["otherwise"], here, [*answers, number], refused)
                continue
            found.append(Happening(step, here, answers, refused=refused))
            before: list[int] = []
            for outcome in step.get("outcomes", []):
                number = inspections[0]
                inspections[0] += 1
                found.append(Happening({"note": outcome["found"]}, here, answers, number, [*refused, *before]))
                write(outcome["steps"], here, [*answers, number], [*refused, *before])
                # Two readings can have two outcomes at once, one cannot.
                before = before if "readings" in step else [*before, number]

    write(steps, [], [], [])
    return found


def meets(when: Any, chosen: Mapping[str, str]) -> bool:
    if when is None:
        return True
    cases: list[dict[str, Any]] = when if isinstance(when, list) else [when]
    return any(
        all(chosen[option] in (value if isinstance(value, list) else [value]) for option, value in case.items())
        for case in cases
    )


def asked(happenings: Sequence[Happening], variants: Sequence[Mapping[str, str]]) -> list[int]:
    """Return the numbers of the inspections that somebody gets to, in order."""
    found: set[int] = set()
    for chosen in variants:
        ways: list[dict[int, bool]] = [{}]
        for happening in happenings:
            if not all(meets(when, chosen) for when in happening.whens):
                continue
            here = [way for way in ways if happening.among(way)]
            ways = [way for way in ways if way not in here]
            if happening.number is not None:
                found |= {happening.number} if here else set()
                here = [{**way, happening.number: answer} for way in here for answer in (True, False)]
            if "stop" not in happening.step:
                ways += here
    return sorted(found)


def names_in(value: Any) -> list[str]:
    return value if isinstance(value, list) else [value]


@dataclass
class Bench:
    """One machine, as it stands at one moment."""

    kind: dict[str, str]
    facts: dict[str, Plain]
    before: list[tuple[str, str, str]]
    """Outer, inner and why."""
    on: dict[str, bool] = field(default_factory=dict)
    tight: dict[str, int] = field(default_factory=dict)
    loose: dict[str, int] = field(default_factory=dict)
    most: dict[str, int] = field(default_factory=dict)
    open: dict[str, set[str]] = field(default_factory=dict)
    full: dict[str, bool] = field(default_factory=dict)
    at: dict[str, str] = field(default_factory=dict)
    there: set[str] = field(default_factory=set)
    marked: set[str] = field(default_factory=set)
    astray: set[str] = field(default_factory=set)
    early: set[tuple[str, str]] = field(default_factory=set)
    """What went on over something that was off, with that."""

    def out(self, name: str) -> int:
        return int(self.facts[name].get("count", 1)) - self.tight[name] - self.loose[name]

    def off(self, name: str) -> bool:
        match self.kind[name]:
            case "part":
                return not self.on[name]
            case "fastener":
                if self.facts[name].get("releases-when") == "loose":
                    return self.tight[name] == 0
                return self.tight[name] + self.loose[name] == 0
            case "line":
                return self.open[name] == set(self.facts[name]["joins"])
        return True

    def whole(self, name: str) -> bool:
        match self.kind[name]:
            case "part":
                return self.on[name]
            case "fastener":
                return self.out(name) == 0
            case "line":
                return not self.open[name]
            case "fluid":
                return self.full[name]
        return True

    def leaks(self, name: str) -> bool:
        if self.kind[name] == "control":
            return bool(self.at[name] != self.facts[name]["normal"])
        return not self.whole(name)

    def shut(self, name: str) -> bool:
        return not self.leaks(name) and not (self.kind[name] == "fastener" and self.loose[name])

    def drains(self, fluid: str) -> list[str]:
        return [name for name in self.facts[fluid].get("drains", []) if name in self.kind]


def bench_for(machine: Plain, chosen: Mapping[str, str]) -> Bench:
    """Build the one machine that a variant is."""
    kind, facts = {}, {}
    for group in ("controls", "parts", "fasteners", "lines", "fluids"):
        for name, thing in machine.get(group, {}).items():
            if meets(thing.get("when"), chosen):
                kind[name], facts[name] = group[:-1], thing
    before = [(name, inner, "secures") for name in kind for inner in facts[name].get("secures", [])]
    before += [(name, inner, "joins") for name in kind for inner in facts[name].get("joins", [])]
    before += [
        (outer, inner, "access-after") for inner, outers in machine.get("access-after", {}).items() for outer in outers
    ]
    for stack in machine.get("stacks", []):
        plain = stack if isinstance(stack, list) else stack["order"]
        if isinstance(stack, list) or meets(stack.get("when"), chosen):
            here = [name for name in plain if name in kind]
            before += [(outer, inner, "stack") for outer, inner in pairwise(here)]
    bench = Bench(kind, facts, [edge for edge in before if edge[0] in kind and edge[1] in kind])
    for name, what in kind.items():
        match what:
            case "part":
                bench.on[name] = True
            case "fastener":
                bench.tight[name], bench.loose[name] = facts[name].get("count", 1), 0
                bench.most[name] = 0
            case "line":
                bench.open[name] = set()
            case "fluid":
                bench.full[name] = True
            case "control":
                bench.at[name] = facts[name]["normal"]
    return bench


def walk_alone(
    machine: Plain, happenings: Sequence[Happening], chosen: Mapping[str, str], answers: Mapping[int, bool]
) -> tuple[Told, Told]:
    """Return what the checks of the ledger must tell of one variant, on one way through its inspections, and may.

    An answer that leads to a `stop` leaves no trace on what comes after: there, all is as if it had been within limit.
    """
    told, at_end, may, given_up = _walk(machine, happenings, chosen, answers)
    if given_up is None:
        return told | at_end, may
    while given_up is not None:
        answers = {**answers, given_up: False}
        more, at_end, perhaps, given_up = _walk(machine, happenings, chosen, answers)
        told, may = told | more, may | perhaps
    return told, may | {pair for pair in at_end if pair[0] == "blocked"}


def _walk(
    machine: Plain, happenings: Sequence[Happening], chosen: Mapping[str, str], answers: Mapping[int, bool]
) -> tuple[Told, Told, Told, int | None]:
    """Return what must be told of one way at its steps, at its end, and may be; and the inspection that ended it."""
    at_end: Told = set()
    given_up: int | None = None
    bench = bench_for(machine, chosen)
    told: Told = set()
    may: Told = set()
    waiting: list[tuple[str, str]] = []
    early: list[tuple[str, str]] = []
    unproved: str | None = None
    whole_end = True
    known = {name for group in ("controls", "parts", "fasteners", "lines", "fluids") for name in machine.get(group, {})}
    for happening in happenings:
        if not all(meets(when, chosen) for when in happening.whens) or not happening.among(answers):
            continue
        step, verb = happening.step, verb_of(happening.step)
        if verb == "stop":
            # Given up on after an inspection: such a way need not leave a whole machine. Elsewhere it is an end.
            whole_end = not happening.answers
            given_up = happening.answers[-1] if happening.answers else None
            break
        for name in names_in(step[verb]):
            if name in known and name not in bench.kind:
                continue
            if verb in ASSEMBLING:
                unproved = name
            elif verb in PROVING:
                unproved = None
            told |= isolation(machine, bench, verb, name)
            if verb in ("place", "take-away"):
                if (name in bench.there) == (verb == "place"):
                    told.add(("not-there", name))
                bench.there = bench.there | {name} if verb == "place" else bench.there - {name}
            elif name in bench.kind:
                told |= not_there(bench, verb, step, name)
                told |= in_the_way(bench, verb, name, waiting, early)
                late = {pair for pair in waiting if pair[0] == name and not bench.whole(pair[1])}
                nothing_to_do = verb == "install" and bench.whole(name)
                told |= work(bench, verb, step, name)
                if verb in ("install", "replace", "loosen") and not nothing_to_do:
                    bench.early = {pair for pair in bench.early if pair[0] != name}
                if verb == "install":
                    bench.early |= late
    # Put on over something that is off: told there if that comes back later, else as left off.
    told |= {("blocked", name) for name, inner in waiting if bench.whole(inner)}
    left = {("blocked", name) for name, inner in early if not bench.whole(inner)}
    if whole_end:
        at_end = left | closing(bench)
        if unproved is not None:
            at_end.add(("no-final-test", unproved))
    else:
        # Given up on before it came back: whether it would have is told by the other ways.
        # Nor does it matter at which of the two it is told that one was put on over the other.
        may = left | {("blocked", name) for pair in waiting for name in pair}
    return told, at_end, may, given_up


def isolation(machine: Plain, bench: Bench, verb: str, name: str) -> Told:
    told: Told = set()
    if verb == "note":
        return told
    for control, position in machine.get("needs", {}).get(verb, {}).items():
        if control in bench.at and bench.at[control] != position:
            told.add(("not-isolated", name))
    if name in bench.kind and (verb in HANDLING or bench.whole(name)):
        for control, position in bench.facts[name].get("needs", {}).items():
            if control in bench.at and bench.at[control] != position:
                told.add(("not-isolated", name))
    return told


def not_there(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    count, wrong = step.get("count"), False
    match bench.kind[name], verb:
        case "part", "remove" | "replace":
            wrong = not bench.on[name]
        case "part", "install":
            wrong = bench.on[name]
        case "fastener", "install":
            wrong = bench.out(name) == 0 or (count or 0) > bench.out(name)
        case "fastener", "remove" | "replace" | "loosen" | "tighten":
            inside = bench.tight[name] + bench.loose[name]
            wrong = inside == 0 or (count or 0) > inside
        case "line", "disconnect":
            ends = {step["at"]} if "at" in step else set(bench.facts[name]["joins"])
            wrong = ends <= bench.open[name]
        case "line", "connect":
            ends = {step["at"]} if "at" in step else set(bench.facts[name]["joins"])
            wrong = not ends & bench.open[name]
    return {("not-there", name)} if wrong else set()


def in_the_way(
    bench: Bench, verb: str, name: str, waiting: list[tuple[str, str]], early: list[tuple[str, str]]
) -> Told:
    wrong = False
    outside = [(outer, why) for outer, inner, why in bench.before if inner == name]
    if bench.kind[name] == "fluid":
        drains = bench.drains(name)
        if verb == "drain":
            wrong = bench.full[name] and bool(drains)
        elif verb == "fill":
            for drain in drains:
                if drain in bench.facts[name].get("fills", []):
                    wrong |= not bench.leaks(drain)
                elif not bench.shut(drain):
                    waiting.append((name, drain))
    else:
        hindering = set()
        for outer, why in outside:
            on = set(bench.facts[outer].get("joins", [])) - bench.open.get(outer, set())
            if why == "joins":
                still = name in on and len(on) > 1
            elif bench.kind[outer] == "line" and why in ("access-after", "stack"):
                still = not bench.open[outer]
            else:
                still = not bench.off(outer)
            if still and why in hinders(bench, verb, name):
                hindering.add(outer)
        for outer in hindering:
            if (outer, name) in bench.early:
                # Told where the outer one went on, if this one is in place at the end.
                early.append((name, name))
            else:
                wrong = True
        if verb == "install" and not bench.whole(name):
            for outer, inner, why in bench.before:
                if outer == name and why != "joins" and not bench.whole(inner):
                    waiting.append((name, inner))
    return {("blocked", name)} if wrong else set()


def hinders(bench: Bench, verb: str, name: str) -> set[str]:
    """Return the rules that count for a verb, with the thing as it is."""
    match verb:
        case "remove" | "replace" | "disconnect":
            return set() if bench.off(name) else {"secures", "joins", "stack", "access-after"}
        case "install" | "connect":
            return set() if bench.whole(name) else {"secures", "stack", "access-after"}
        case "loosen" | "tighten":
            return {"secures", "stack", "access-after"} if bench.tight[name] + bench.loose[name] else set()
        case "set" | "run":
            return set()
        case "turn":
            return {"access-after"} if bench.whole(name) else set()
        case _:
            return {"stack", "access-after"} if bench.whole(name) or bench.kind[name] == "fastener" else set()


def work(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    """Do the step; tell of old parts and positions that get lost."""
    told: Told = set()
    facts, count = bench.facts[name], step.get("count")
    match bench.kind[name], verb:
        case "part", "remove" | "replace" | "install":
            if verb == "install" and not bench.on[name] and facts.get("replace") and not step.get("new"):
                told.add(("single-use-reused", name))
            if verb != "install" and facts.get("adjustable"):
                if name not in bench.marked and name not in bench.astray:
                    told.add(("unmarked", name))
                bench.astray.add(name)
            bench.on[name] = verb != "remove"
        case "part", "mark" | "measure":
            if name not in bench.astray:
                bench.marked.add(name)
        case "part", "align":
            if not bench.on[name]:
                told.add(("unmarked", name))
            bench.marked.discard(name)
            bench.astray.discard(name)
        case "fastener", "remove" | "install" | "replace":
            if verb == "install" and bench.out(name) and facts.get("replace") and not step.get("new"):
                told.add(("single-use-reused", name))
            if verb != "install":
                take_out(bench, name, count)
            if verb != "remove":
                number = bench.out(name) if count is None else min(count, bench.out(name))
                turned = "by-hand" not in facts and bool({"thread", "torque", "drive", "no-torque"} & set(facts))
                (bench.loose if turned else bench.tight)[name] += number
        case "fastener", "loosen":
            number = bench.tight[name] if count is None else min(count, bench.tight[name])
            bench.tight[name] -= number
            bench.loose[name] += number
        case "fastener", "tighten":
            number = bench.loose[name] if count is None else min(count, bench.loose[name])
            bench.loose[name] -= number
            bench.tight[name] += number
        case "line", "disconnect" | "connect":
            ends = {step["at"]} if "at" in step else set(facts["joins"])
            bench.open[name] = bench.open[name] | ends if verb == "disconnect" else bench.open[name] - ends
        case "fluid", "drain" | "fill":
            bench.full[name] = verb == "fill"
        case "control", "set":
            bench.at[name] = step["to"]
        case _:
            return told
    for fluid in bench.full:
        opened = verb == "replace" or (verb in ("remove", "disconnect", "set") and bench.leaks(name))
        if opened and name in bench.drains(fluid):
            bench.full[fluid] = False
    return told


def take_out(bench: Bench, name: str, count: int | None) -> None:
    inside = bench.tight[name] + bench.loose[name]
    if bench.out(name) == 0:
        bench.most[name] = 0
    for _ in range(inside if count is None else min(count, inside)):
        if bench.loose[name]:
            bench.loose[name] -= 1
        else:
            bench.tight[name] -= 1
    bench.most[name] = max(bench.most[name], bench.out(name))


def closing(bench: Bench) -> Told:
    """Tell of what is not as it was at the start."""
    told: Told = set()
    told |= {("left-off", name) for name, on in bench.on.items() if not on}
    for name in bench.tight:
        out = bench.out(name)
        if out:
            told.add(("left-off" if out >= bench.most[name] else "pieces-missing", name))
        if bench.loose[name]:
            told.add(("left-loose", name))
    told |= {("left-open", name) for name, ends in bench.open.items() if ends}
    told |= {("left-dry", name) for name, full in bench.full.items() if not full}
    told |= {("control-not-returned", name) for name, at in bench.at.items() if at != bench.facts[name]["normal"]}
    told |= {("equipment-left", name) for name in bench.there}
    told |= {("unmarked", name) for name in bench.astray if bench.on[name]}
    return told
