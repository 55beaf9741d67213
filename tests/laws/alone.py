"""One variant of a job, walked alone: the rules of the ledger once more, plain and slow.

This is the oracle that the ledger is held against. It knows no sets of variants: a variant and a way through the
inspections are given, everything that they lack is left out first, and one machine is worked on, step by step.
Machines and jobs are the plain values that stand in the files.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from tests.laws.proof import Done, Near, untested

Plain = dict[str, Any]
Told = set[tuple[str, str]]
"""Names of checks, each with the name that its finding is about."""

GROUPS = ("controls", "parts", "fasteners", "lines", "fluids", "settings")
ASSEMBLING = {"install", "replace", "tighten", "connect", "fill"}
SHIFTING = {"adjust", "turn", "align", "loosen", "tighten", "remove", "replace"}
OUT, LOOSE, DONE = -2.0, -1.0, float("inf")
PROVING = {"run", "check", "measure"}
TESTED = {"part", "fastener", "line", "fluid"}
HANDLING = {"remove", "install", "replace", "loosen", "tighten", "disconnect", "connect", "drain", "fill"}
VERBS = (
    HANDLING
    | PROVING
    | {
        "set",
        "adjust",
        "place",
        "take-away",
        "mark",
        "align",
        "clean",
        "inspect",
        "turn",
        "stop",
        "do",
        "reverse",
        "note",
    }
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
    via: tuple[int, ...] = ()
    """The blocks through which it is done, each time by a number of its own."""

    def among(self, answers: Mapping[int, bool]) -> bool:
        """Tell whether the answers lead to it."""
        return all(answers.get(n) for n in self.answers) and not any(answers.get(n) for n in self.refused)


def verb_of(step: Plain) -> str:
    [verb] = [key for key in step if key in VERBS]
    return verb


def written_out(steps: Sequence[Plain], blocks: Mapping[str, list[Plain]]) -> list[Happening]:
    """Put blocks in place of `do`, and the steps of every `otherwise` and outcome behind their inspection."""
    found: list[Happening] = []
    inspections, blocks_done = [0], [0]

    def write(
        steps: Sequence[Plain], whens: list[Any], answers: list[int], refused: list[int], via: tuple[int, ...] = ()
    ) -> None:
        for step in steps:
            here = [*whens, step["when"]] if "when" in step else whens
            if "do" in step or "reverse" in step:
                blocks_done[0] += 1
                inner = blocks[step["do"] if "do" in step else f"reverse {step['reverse']}"]
                write(inner, here, answers, refused, (*via, blocks_done[0]))
                continue
            if "otherwise" in step:
                number = inspections[0]
                inspections[0] += 1
                found.append(Happening(step, here, answers, number, refused, via))
                write(step["otherwise"], here, [*answers, number], refused, via)
                continue
            found.append(Happening(step, here, answers, refused=refused, via=via))
            before: list[int] = []
            for outcome in step.get("outcomes", []):
                number = inspections[0]
                inspections[0] += 1
                found.append(Happening({"note": outcome["found"]}, here, answers, number, [*refused, *before], via))
                write(outcome["steps"], here, [*answers, number], [*refused, *before], via)
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
    pieces: dict[str, list[float]] = field(default_factory=dict)
    """How tight each piece is: `OUT`, `LOOSE`, or the torque that was reached, N·m; `DONE` when it is what is due."""
    held: dict[str, str] = field(default_factory=dict)
    """What is held, in any variant, each with what is turned meanwhile."""
    due: dict[str, float] = field(default_factory=dict)
    """The torque that each fastener is due, N·m; none where nothing says it."""
    most: dict[str, int] = field(default_factory=dict)
    open: dict[str, set[str]] = field(default_factory=dict)
    full: dict[str, bool] = field(default_factory=dict)
    at: dict[str, str] = field(default_factory=dict)
    there: set[str] = field(default_factory=set)
    marked: set[str] = field(default_factory=set)
    astray: set[str] = field(default_factory=set)
    early: set[tuple[str, str]] = field(default_factory=set)
    """What went on over something that was off, with that."""
    unset: set[str] = field(default_factory=set)
    """Settings that were disturbed, and not adjusted or measured since."""
    assemblies: dict[str, set[str]] = field(default_factory=dict)
    """What comes off with each assembly as one."""
    renew: dict[str, int] = field(default_factory=dict)
    """How many pieces that are off come back new: they were condemned on the bench."""

    def out(self, name: str) -> int:
        return self.pieces[name].count(OUT)

    def tight(self, name: str) -> int:
        return self.pieces[name].count(DONE)

    def loose(self, name: str) -> int:
        return len(self.pieces[name]) - self.out(name) - self.tight(name)

    def pressing(self, name: str) -> int:
        return sum(level > LOOSE for level in self.pieces[name])

    def is_nut(self, name: str) -> bool:
        return bool(self.facts[name].get("kind") == "nut")

    def off(self, name: str) -> bool:
        match self.kind[name]:
            case "part":
                return not self.on[name]
            case "fastener":
                if self.facts[name].get("releases-when") == "loose":
                    return self.pressing(name) == 0
                return self.out(name) == len(self.pieces[name])
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
        if self.facts[name].get("releases-when") == "loose":
            return self.pressing(name) < len(self.pieces[name])
        return not self.whole(name)

    def shut(self, name: str) -> bool:
        return not self.leaks(name) and not (self.kind[name] == "fastener" and self.loose(name))

    def disturbers(self, setting: str, *keys: str) -> list[str]:
        """Return what disturbs a setting, of what this machine has."""
        facts = self.facts[setting]
        keys = keys or ("disturbed-by", "adjusted-by")
        named = [name for key in keys for name in facts.get(key, [])]
        if "adjusted-by" in keys:
            by = {setting, *facts.get("adjusted-by", [])}
            named += [name for name in self.kind if not by.isdisjoint(self.facts[name].get("locks", []))]
        return [name for name in dict.fromkeys(named) if name in self.kind]

    def back(self, name: str, *, loose: bool = False) -> bool:
        """Tell whether a thing is back, and tight."""
        return self.whole(name) and not (self.kind[name] == "fastener" and self.loose(name) and not loose)

    def away(self, name: str) -> bool:
        """Tell whether a thing is in an assembly that is off."""
        return any(name in inner and self.off(whole) for whole, inner in self.assemblies.items())

    def apart(self, outer: str, inner: str, along: str = "") -> bool:
        """Tell whether one of two things is off along with an assembly, and the other does not belong to it."""
        return any(
            whole not in (outer, inner, along) and (outer in parts) != (inner in parts) and self.off(whole)
            for whole, parts in self.assemblies.items()
        )

    def drains(self, fluid: str) -> list[str]:
        return [name for name in self.facts[fluid].get("drains", []) if name in self.kind]


def dues(machine: Plain, steps: Sequence[Plain]) -> dict[str, float]:
    """Return the torque of each fastener: the machine's, or else the greatest that a step brings all pieces to."""
    found: dict[str, float] = {}
    for step in every(steps):
        torque = str(step.get("torque", "snug"))
        if "tighten" in step and torque.endswith(" N·m") and "count" not in step:
            found[step["tighten"]] = max(found.get(step["tighten"], 0.0), float(torque.split()[0]))
    for name, facts in machine.get("fasteners", {}).items():
        if "torque" in facts:
            found[name] = float(facts["torque"].split()[0])
    return found


def every(steps: Sequence[Plain]) -> Iterator[Plain]:
    """Yield steps, and all under their `otherwise`."""
    for step in steps:
        yield step
        yield from every(step.get("otherwise", []))


def is_turned(facts: Plain) -> bool:
    """Tell whether a fastener is left hand-tight where it goes in."""
    return "by-hand" not in facts and bool({"thread", "torque", "drive", "no-torque", "kind"} & set(facts))


def assemblies_of(machine: Plain) -> dict[str, set[str]]:
    """Return what belongs to each assembly: what it lists, and what holds or joins only that."""
    found, fasteners = {}, machine.get("fasteners", {})
    pairs = {name: facts.get("counterhold", "") for name, facts in fasteners.items()}
    pairs |= {held: name for name, held in pairs.items() if held}
    for name, facts in machine.get("parts", {}).items():
        if "assembly" in facts:
            inner, whole = set(facts["assembly"]), {name, *facts["assembly"]}
            for _ in range(4):  # bolts, their nuts, the pins of these; hoses, and what joins or holds only these
                for other, held in fasteners.items():
                    holds = set(held.get("secures", [])) or (set() if "to" in held else {pairs[other]})
                    if holds <= whole | inner and not inner.isdisjoint(holds):
                        inner = inner | {other}
                for other, line in machine.get("lines", {}).items():
                    inner = inner | ({other} if set(line["joins"]) <= whole | inner else set())
            found[name] = inner
    return found


def bench_for(machine: Plain, chosen: Mapping[str, str], steps: Sequence[Plain]) -> Bench:
    """Build the one machine that a variant is."""
    kind, facts = {}, {}
    for group in GROUPS:
        for name, thing in machine.get(group, {}).items():
            if meets(thing.get("when"), chosen):
                kind[name], facts[name] = group[:-1], thing
    before = [(name, inner, "secures") for name in kind for inner in facts[name].get("secures", [])]
    before += [
        (name, other, "secures")
        for name in kind
        if (other := facts[name].get("counterhold")) in kind and facts[name]["kind"] == "nut"
    ]
    before += [(name, inner, "joins") for name in kind for inner in facts[name].get("joins", []) if inner[0] != "l"]
    before += [
        (outer, inner, "access-after") for inner, outers in machine.get("access-after", {}).items() for outer in outers
    ]
    for stack in machine.get("stacks", []):
        plain = stack if isinstance(stack, list) else stack["order"]
        if isinstance(stack, list) or meets(stack.get("when"), chosen):
            here = [name for name in plain if name in kind]
            before += [(outer, inner, "stack") for outer, inner in pairwise(here)]
    wholes = {name: inner for name, inner in assemblies_of(machine).items() if name in kind}
    before = [(outer, inner, why) for outer, inner, why in before if outer not in wholes.get(inner, ())]
    bench = Bench(kind, facts, [edge for edge in before if edge[0] in kind and edge[1] in kind])
    bench.assemblies = {name: {each for each in inner if each in kind} for name, inner in wholes.items()}
    for name, thing in machine.get("fasteners", {}).items():
        if "counterhold" in thing:
            bench.held[thing["counterhold"]] = name
    bench.due = dues(machine, steps)
    for name, what in kind.items():
        match what:
            case "part":
                bench.on[name] = True
            case "fastener":
                bench.pieces[name] = [DONE] * facts[name].get("count", 1)
                bench.most[name] = 0
            case "line":
                bench.open[name] = set()
            case "fluid":
                bench.full[name] = True
            case "control":
                bench.at[name] = facts[name]["normal"]
    return bench


def walk_alone(
    machine: Plain, happenings: Sequence[Happening], chosen: Mapping[str, str], answers: Mapping[int, bool], near: Near
) -> tuple[Told, Told]:
    """Return what the checks of the ledger must tell of one variant, on one way through its inspections, and may.

    An answer that leads to a `stop` leaves no trace on what comes after: there, all is as if it had been within limit.
    """
    told, at_end, may, given_up = _walk(machine, happenings, chosen, answers, near)
    if given_up is None:
        return told | at_end, may
    while given_up is not None:
        answers = {**answers, given_up: False}
        more, at_end, perhaps, given_up = _walk(machine, happenings, chosen, answers, near)
        told, may = told | more, may | perhaps
    return told, may | {pair for pair in at_end if pair[0] == "blocked"}


def _walk(
    machine: Plain, happenings: Sequence[Happening], chosen: Mapping[str, str], answers: Mapping[int, bool], near: Near
) -> tuple[Told, Told, Told, int | None]:
    """Return what must be told of one way at its steps, at its end, and may be; and the inspection that ended it."""
    at_end: Told = set()
    given_up: int | None = None
    bench = bench_for(machine, chosen, [happening.step for happening in happenings])
    told: Told = set()
    may: Told = set()
    waiting: list[tuple[str, str]] = []
    early: list[tuple[str, str]] = []
    soon: list[tuple[str, str]] = []
    along: list[Done] = []
    whole_end = True
    known = {name for group in GROUPS for name in machine.get(group, {})}
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
            kind = bench.kind.get(name)
            full = verb == "fill" and bench.full.get(name, False)
            along.append(Done(verb, name, happening.via, verb in ASSEMBLING, full, kind in TESTED))
            told |= isolation(machine, bench, verb, name)
            if verb in ("place", "take-away"):
                if (name in bench.there) == (verb == "place"):
                    told.add(("not-there", name))
                bench.there = bench.there | {name} if verb == "place" else bench.there - {name}
            elif name in bench.kind:
                told |= not_there(bench, verb, step, name) | locked(bench, verb, step, name)
                soon += too_soon(bench, verb, name)
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
    # Set before something was back: told if that comes back later, else as left off.
    told |= {("adjusted-early", name) for name, other in soon if bench.back(other)}
    if whole_end:
        at_end = left | closing(bench)
        if last := untested(along, near):
            at_end.add(("no-final-test", last))
    else:
        # Given up on before it came back: whether it would have is told by the other ways.
        # Nor does it matter at which of the two it is told that one was put on over the other.
        may = left | {("blocked", name) for pair in waiting for name in pair}
        may |= {("adjusted-early", name) for name, _ in soon}
    return told, at_end, may, given_up


def isolation(machine: Plain, bench: Bench, verb: str, name: str) -> Told:
    told: Told = set()
    if verb == "note":
        return told
    needs = list(machine.get("needs", {}).get(verb, {}).items())
    if name in bench.kind and (verb in HANDLING or bench.whole(name)) and not bench.away(name):
        needs += bench.facts[name].get("needs", {}).items()
    known = {other for group in GROUPS for other in machine.get(group, {})}
    for needed, word in needs:
        if (needed in bench.kind or needed not in known) and not is_so(bench, needed, word):
            told.add(("not-isolated", name))
    return told


def is_so(bench: Bench, name: str, word: str) -> bool:
    """Tell whether a thing or equipment is as something needs it."""
    match bench.kind.get(name), word:
        case None, _:
            return (name in bench.there) == (word == "placed")
        case "control", _:
            return bench.at[name] == word
        case "fastener", "loose":
            return bench.pressing(name) == 0
        case "fastener", "tight":
            return bench.tight(name) == len(bench.pieces[name])
        case _, "off":
            return bench.off(name)
        case "fluid", _:
            return bench.full[name] == (word == "full")
        case _:
            return bench.whole(name)


def not_there(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    count, wrong = step.get("count"), False
    match bench.kind[name], verb:
        case "part", "remove":
            wrong = not bench.on[name]
        case "part", "install":
            wrong = bench.on[name]
        case "fastener", "install":
            wrong = bench.out(name) == 0 or (count or 0) > bench.out(name)
        case "fastener", "remove" | "replace" | "loosen" | "tighten":
            inside = len(bench.pieces[name]) - bench.out(name)
            wrong = (count or 0) > inside if inside else verb != "replace"
            held = bench.facts[name].get("counterhold")
            if verb == "tighten" and held in bench.pieces and bench.is_nut(held) and not bench.is_nut(name):
                wrong |= len(bench.pieces[held]) - bench.out(held) < (count or len(bench.pieces[held]))
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
            through = [filler for filler in bench.facts[name].get("fills", []) if filler in bench.kind]
            wrong |= not bench.full[name] and bool(through) and not any(map(bench.leaks, through))
            waiting += [(name, drain) for drain in drains if drain not in through and not bench.shut(drain)]
    else:
        hindering = set()
        for outer, why in outside:
            if why == "secures" and verb in ("loosen", "tighten") and name in bench.facts[outer].get("locks", []):
                continue
            if still_on(bench, outer, name, why) and why in hinders(bench, verb, name):
                hindering.add(outer)
        hindering |= held_by_insides(bench, verb, name)
        for outer in hindering:
            carried = {whole for whole, inner in bench.assemblies.items() if outer in inner}
            if any((each, name) in bench.early for each in (outer, *carried)):
                # Told where the outer one went on, if this one is in place at the end.
                early.append((name, name))
            else:
                wrong = True
        if verb == "install" and not bench.whole(name):
            for outer, inner, why in bench.before:
                if outer == name and why != "joins" and not bench.whole(inner) and not bench.apart(outer, inner):
                    waiting.append((name, inner))
            waiting += [(name, inner) for inner in under_insides(bench, name)]
    return {("blocked", name)} if wrong else set()


def still_on(bench: Bench, outer: str, name: str, why: str, along: str = "") -> bool:
    """Tell whether what comes off before a thing is in its way."""
    on = set(bench.facts[outer].get("joins", [])) - bench.open.get(outer, set())
    if bench.apart(outer, name, along):
        return False
    if why == "joins":
        return name in on and len(on) > 1
    if bench.kind[outer] == "line" and why in ("access-after", "stack"):
        return not bench.open[outer]
    return not bench.off(outer)


def held_by_insides(bench: Bench, verb: str, name: str) -> set[str]:
    """Return what holds the insides of an assembly that comes off or goes on as one."""
    inner, why_not = bench.assemblies.get(name, set()), {"access-after"} | ({"joins"} if verb == "install" else set())
    rules = hinders(bench, verb, name) if verb in ("remove", "replace", "install") else set()
    return {
        outer
        for outer, part, why in bench.before
        if part in inner
        and not bench.off(part)
        and outer not in inner
        and outer != name
        and why in rules - why_not
        and still_on(bench, outer, part, why, along=name)
    }


def under_insides(bench: Bench, name: str) -> list[str]:
    """Return what is off, and lies under the insides of an assembly that goes on."""
    inner = bench.assemblies.get(name, set())
    return [
        under
        for part, under, why in bench.before
        if part in inner and not bench.off(part) and under not in inner and under != name and why == "stack"
        and not bench.whole(under) and not bench.apart(part, under, along=name)
    ]  # fmt: skip


def hinders(bench: Bench, verb: str, name: str) -> set[str]:
    """Return the rules that count for a verb, with the thing as it is."""
    match verb:
        case "remove" | "replace" | "disconnect":
            return set() if bench.off(name) else {"secures", "joins", "stack", "access-after"}
        case "install" | "connect":
            return set() if bench.whole(name) else {"secures", "stack", "access-after"}
        case "loosen" | "tighten":
            inside = bench.out(name) < len(bench.pieces[name])
            return {"secures", "stack", "access-after"} if inside and name not in bench.held else set()
        case "set" | "run":
            return set()
        case "turn" | "mark" | "align":
            return {"access-after"} if bench.whole(name) else set()
        case _:
            return {"stack", "access-after"} if bench.whole(name) or bench.kind[name] == "fastener" else set()


def too_soon(bench: Bench, verb: str, name: str) -> list[tuple[str, str]]:
    """Return what is not back when a setting is adjusted or measured, each with the setting."""
    if bench.kind[name] != "setting" or verb not in ("adjust", "measure", "check"):
        return []
    may_be_loose = bench.disturbers(name, "adjusted-by") if verb == "adjust" else []
    must_be_tight = bench.disturbers(name, "disturbed-by")
    return [
        (name, other)
        for other in bench.disturbers(name)
        if bench.kind[other] != "setting"
        and not bench.back(other, loose=other in may_be_loose and other not in must_be_tight)
    ]


def work(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    """Do the step, with what it disturbs; tell of old parts and positions that get lost."""
    before = standing(bench, name)
    told = done(bench, verb, step, name)
    moved = verb in ("replace", "adjust") or any(
        now < then for now, then in zip(standing(bench, name), before, strict=True)
    )
    if bench.kind[name] == "setting" and verb in ("adjust", "measure", "check"):
        bench.unset.discard(name)
    if verb in ("adjust", "remove", "replace", "loosen", "disconnect") and moved:
        bench.unset |= {
            other
            for other, kind in bench.kind.items()
            if kind == "setting" and other != name and name in bench.disturbers(other)
        }
    return told


def standing(bench: Bench, name: str) -> tuple[int, ...]:
    """Return how much of a thing is in place: pieces that are tight, pieces that are in, ends that are connected."""
    match bench.kind[name]:
        case "part":
            return (int(bench.on[name]),)
        case "fastener":
            return bench.tight(name), bench.tight(name) + bench.loose(name)
        case "line":
            return (-len(bench.open[name]),)
    return ()


def done(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    """Do the step."""
    told: Told = set()
    facts, count = bench.facts[name], step.get("count")
    match bench.kind[name], verb:
        case "fastener", "replace" if bench.out(name) == len(bench.pieces[name]):
            more = bench.out(name) if count is None else count
            bench.renew[name] = min(bench.out(name), bench.renew.get(name, 0) + more)
        case "part", "remove" | "replace" | "install":
            if verb == "install" and not bench.on[name] and facts.get("replace") and not step.get("new"):
                told |= set() if bench.renew.get(name) else {("single-use-reused", name)}
            if verb != "install" and facts.get("adjustable"):
                if name not in bench.marked and name not in bench.astray:
                    told.add(("unmarked", name))
                bench.astray.add(name)
            if verb == "replace" and not bench.on[name]:
                bench.renew[name] = 1
                return told
            bench.on[name] = verb != "remove"
            bench.renew[name] = 0 if bench.on[name] else bench.renew.get(name, 0)
        case "part", "mark" | "measure":
            if name not in bench.astray:
                bench.marked.add(name)
        case "part", "align":
            if not bench.on[name]:
                told.add(("unmarked", name))
            bench.marked.discard(name)
            bench.astray.discard(name)
        case "fastener", "remove" | "install" | "replace":
            if verb == "install" and bench.out(name) > bench.renew.get(name, 0):
                told |= {("single-use-reused", name)} if facts.get("replace") and not step.get("new") else set()
            if verb != "install":
                take_out(bench, name, count)
            if verb != "remove":
                number = bench.out(name) if count is None else min(count, bench.out(name))
                bench.renew[name] = max(0, bench.renew.get(name, 0) - number)
                bring(bench, name, number, [OUT], LOOSE if is_turned(facts) and name not in bench.held else DONE)
            if verb != "install":
                set_free(bench, name, count)
        case "fastener", "loosen" if name not in bench.held:
            loosen(bench, name, count)
        case "fastener", "tighten" if name not in bench.held:
            aim = aimed(bench, name, step)
            less = sorted({level for level in bench.pieces[name] if LOOSE <= level < aim})
            bring(bench, name, count, less, aim)
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
        opened = verb == "replace" or (verb in ("remove", "disconnect", "set", "loosen") and bench.leaks(name))
        if opened and name in bench.drains(fluid):
            bench.full[fluid] = False
    return told


def take_out(bench: Bench, name: str, count: int | None) -> None:
    if bench.out(name) == 0:
        bench.most[name] = 0
    bring(bench, name, count, sorted({level for level in bench.pieces[name] if level > OUT}), OUT)
    bench.most[name] = max(bench.most[name], bench.out(name))


def loosen(bench: Bench, name: str, count: int | None) -> None:
    bring(bench, name, count, sorted({level for level in bench.pieces[name] if level > LOOSE}, reverse=True), LOOSE)


def bring(bench: Bench, name: str, count: int | None, levels: Sequence[float], to: float) -> None:
    """Bring so many pieces, or all, from one of some levels to another: first those of the first level."""
    pieces = bench.pieces[name]
    chosen = [number for level in levels for number, now in enumerate(pieces) if now == level]
    for number in chosen if count is None else chosen[:count]:
        pieces[number] = to


def aimed(bench: Bench, name: str, step: Plain) -> float:
    """Return how tight a step makes a piece."""
    due = bench.due.get(name)
    said = step.get("torque")
    if said is None or due is None:
        return DONE
    torque = {"snug": 0.0, "50 %": due / 2}.get(said)
    torque = float(said.split()[0]) if torque is None else torque
    return DONE if torque >= due else torque


def set_free(bench: Bench, name: str, count: int | None) -> None:
    """A bolt is loose once the nut that is held comes off."""
    turned = bench.held.get(name)
    if turned in bench.pieces and bench.is_nut(name) and not bench.is_nut(turned):
        loosen(bench, turned, count)


def is_locked_by(bench: Bench, name: str, lock: str) -> bool:
    """Tell whether something keeps a thing from moving, or what a setting is adjusted by."""
    locks = bench.facts[lock].get("locks", [])
    by = bench.facts[name].get("adjusted-by", [])
    return name in locks or not set(by).isdisjoint(locks) or (lock in by and bool(locks))


def locked(bench: Bench, verb: str, step: Plain, name: str) -> Told:
    """Tell of what is moved while its lock nut is tight."""
    if verb not in SHIFTING or (
        bench.out(name) == len(bench.pieces[name]) if name in bench.pieces else not bench.whole(name)
    ):
        return set()
    for lock, facts in bench.facts.items():
        if not is_locked_by(bench, name, lock) or (verb in ("remove", "replace") and name in facts.get("secures", [])):
            continue
        alike = name in bench.pieces and len(bench.pieces[name]) == len(bench.pieces[lock])
        wanted = min(step.get("count", 99) if alike else 99, len(bench.pieces[lock]))
        if len(bench.pieces[lock]) - bench.pressing(lock) < wanted:
            return {("still-locked", name)}
    return set()


def closing(bench: Bench) -> Told:
    """Tell of what is not as it was at the start."""
    told: Told = set()
    told |= {("left-off", name) for name, on in bench.on.items() if not on}
    for name in bench.pieces:
        out = bench.out(name)
        if out:
            told.add(("left-off" if out >= bench.most[name] else "pieces-missing", name))
        if bench.loose(name):
            told.add(("left-loose", name))
    told |= {("left-open", name) for name, ends in bench.open.items() if ends}
    told |= {("left-dry", name) for name, full in bench.full.items() if not full}
    told |= {("control-not-returned", name) for name, at in bench.at.items() if at != bench.facts[name]["normal"]}
    told |= {("equipment-left", name) for name in bench.there}
    told |= {("unmarked", name) for name in bench.astray if bench.on[name]}
    told |= {("left-unadjusted", name) for name in bench.unset if all(map(bench.back, bench.disturbers(name)))}
    return told
