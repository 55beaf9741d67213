"""What the script of a job's page looks up, line by line, in its data alone: the reference that it is held against."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

Data = dict[str, Any]
YES, NO, PERHAPS = "yes", "no", "perhaps"


@dataclass
class Round:
    """Once through a job, or from the step that a `back-to` leads to."""

    lap: int
    first: int
    """The first moment of it."""
    ticked: set[int] = field(default_factory=set)
    answers: dict[int, bool] = field(default_factory=dict)
    """By question."""
    kept: dict[int, bool] = field(default_factory=dict)
    """Answers that hold for look-ups only."""


class Reader:
    """A page with what was chosen, ticked and answered."""

    def __init__(self, data: Data, chosen: dict[str, str]) -> None:
        self.data = data
        self.chosen = chosen
        self.rounds = [Round(0, 0)]

    # Sets.

    def child(self, var: list[Any], lap: int, answers: dict[int, bool]) -> int | None:
        """Return which child of a row to follow; None when nobody knows."""
        match var:
            case ["o", option]:
                known = self.data["options"][option]
                choice = self.chosen.get(known["key"])
                return next((n for n, each in enumerate(known["choices"]) if each["key"] == choice), None)
            case ["q", question, of_lap]:
                return 0 if of_lap == lap and answers.get(question) else 1
            case ["w", of_lap]:
                return 0 if of_lap == lap else 1
        raise AssertionError(var)

    def holds(self, variants: int, lap: int = 0, answers: dict[int, bool] | None = None) -> str:
        """Tell whether a machine is in a set: of machines that exist, as far as its options are known."""
        ends = self.ends((variants, self.data["built"]), lap, answers or {}, {})
        return PERHAPS if len(ends) == 2 else YES if ends == {True} else NO

    def ends(
        self, pair: tuple[int, int], lap: int, answers: dict[int, bool], known: dict[tuple[int, int], set[bool]]
    ) -> set[bool]:
        """Return how a set can end, beside another: whether in it, wherever that one ends in all."""
        one, beside = pair
        if beside == 0:
            return set()
        if one < 2 and beside == 1:
            return {one == 1}
        if pair not in known:
            # What is asked higher up has the greater number.
            var = max(self.data["rows"][each - 2][0] for each in pair if each > 1)
            to = self.child(self.data["vars"][var], lap, answers)
            sides = [self.answers_of(each, var) for each in pair]
            known[pair] = set()
            for n in range(max(map(len, sides))) if to is None else [to]:
                first, second = (side[n] if len(side) > 1 else side[0] for side in sides)
                known[pair] |= self.ends((first, second), lap, answers, known)
        return known[pair]

    def answers_of(self, variants: int, var: int) -> list[int]:
        """Return what is left of a set for each answer to a question; only itself where it does not depend on it."""
        if variants > 1:
            asked, *children = self.data["rows"][variants - 2]
            if asked == var:
                return list(children)
        return [variants]

    # Rounds.

    def place(self, turn: Round, moment: int) -> tuple[int, dict[int, bool]]:
        """Return the lap that a moment of a round is looked up in, and the answers for it."""
        lap, answers = turn.lap, {**turn.answers, **turn.kept}
        for of_lap, at, variants, into, going in sorted(self.data["joins"], key=lambda join: join[1]):
            if of_lap == lap and turn.first < at <= moment and self.holds(variants, lap, answers) != NO:
                lap, answers = into, {**answers, **self.asked_for(going, into, answers)}
        return lap, answers

    def asked_for(self, going: int, lap: int, answers: dict[int, bool]) -> dict[int, bool]:
        """Return answers that lead into a set: those there are, where these lead into it."""
        found: dict[int, bool] = {}
        while going > 1:
            var, *children = self.data["rows"][going - 2]
            asked = self.data["vars"][var]
            to = self.child(asked, lap, answers)
            if to is None or (not self.leads(children[to], lap) and asked[0] == "q"):
                to = next(n for n, child in enumerate(children) if self.leads(child, lap))
            if asked[0] == "q":
                found[asked[1]] = to == 0
            going = children[to]
        return found

    def leads(self, variants: int, lap: int) -> bool:
        """Tell whether some answers lead into a set, on the machines that there can be."""
        if variants < 2:
            return variants == 1
        var, *children = self.data["rows"][variants - 2]
        asked = self.data["vars"][var]
        to = None if asked[0] == "q" and asked[2] == lap else self.child(asked, lap, {})
        return any(self.leads(child, lap) for child in (children if to is None else [children[to]]))

    def tick(self, moment: int) -> None:
        self.rounds[-1].ticked.add(moment)

    def answer(self, question: int, *, yes: bool) -> None:
        self.rounds[-1].answers[question] = yes

    def go_back(self, moment: int) -> None:
        """Tick a `back-to`."""
        turn = self.rounds[-1]
        lap, answers = self.place(turn, moment)
        rows = [row for row in self.data["back"] if row[0] == lap and row[1] == moment]
        row = next((row for row in rows if self.holds(row[2], lap, answers) != NO), None)
        assert row is not None, "a way that the ledger does not know"
        *_, into, going, first = row
        kept = {
            question: yes for question, yes in turn.answers.items() if self.first_of(question) < first
        }  # asked anew from there on
        self.rounds.append(Round(into, first, answers=kept, kept=self.asked_for(going, into, kept)))

    def first_of(self, question: int) -> int:
        """Return the first moment of the step that asks a question."""
        asked = self.data["questions"][question]
        steps = [asked["step"], *asked.get("also", [])]
        return min(n for n, moment in enumerate(self.data["moments"]) if moment[0] in steps)

    # The ledger.

    def touches(self, thing: Data) -> Iterator[tuple[int, list[Any]]]:
        """Yield what ticked moments made of a thing, the newest first, with how sure that is."""
        for turn in reversed(self.rounds):
            yield from reversed(list(self.touches_in(turn, thing)))

    def touches_in(self, turn: Round, thing: Data) -> Iterator[tuple[int, list[Any]]]:
        laps = {0: thing["rows"]} | {int(lap): rows for lap, rows in thing.get("laps", {}).items()}
        rows = sorted((at, lap, changes) for lap, rows in laps.items() for at, changes in rows if at in turn.ticked)
        for at, of_lap, changes in rows:
            lap, answers = self.place(turn, at)
            if of_lap == lap and at >= turn.first:
                hits = [change for change in changes if self.holds(change[0], lap, answers) != NO]
                if hits:
                    yield at, hits

    def stands(self, thing: Data) -> list[Data]:
        """Return how a thing stands; more than one where that depends on what nobody has chosen yet."""
        found: list[Data] = []
        for turn in reversed(self.rounds):
            for moment, hits in reversed(list(self.touches_in(turn, thing))):
                lap, answers = self.place(turn, moment)
                found += [self.data["values"][change[1]] for change in hits]
                if any(self.holds(change[0], lap, answers) == YES for change in hits):
                    return found
        opens = [value for held, value in thing.get("opens", []) if self.holds(held) != NO]
        return [*found, *([self.data["values"][value] for value in opens] or [{"is": "in", "closed": True}])]

    def counted(self, thing: Data) -> tuple[int, int, int]:
        """Return pieces out, back and new of a thing, by what was ticked; every option must be chosen."""
        values, [stands] = self.data["values"], self.stands(thing)
        found = [values[value] for held, value in thing.get("opens", []) if self.holds(held) != NO]
        empty, new, places = max(map(missing, found), default=0), 0, set[int]()
        for _, [change] in self.touches(thing):
            more: list[Any] = change[2:]
            empty = max(empty, more[0] if more else 0)
            new += more[1] if len(more) > 1 else 0
            places.update(more[2] if len(more) > 2 else ())
        out = max(empty, len(places), new)
        return out, max(0, out - missing(stands)), new


def missing(stands: Data) -> int:
    """Return how many pieces of a thing are not in place; a line is one, however many of its ends are open."""
    count: int = stands.get("n", 0) if stands["is"] in ("off", "out", "open") else 0
    return min(1, count) if stands["is"] == "open" else count
