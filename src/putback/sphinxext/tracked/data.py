"""All that the script of a job's page knows, as one plain object: steps, variants, and the ledger to look up in.

`docs/why/bench-page.md` says what its numbers mean.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from typing import Any

from putback.guide.hours import counts_hours
from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.model.terms import When
from putback.sheet import JobSheet, SheetStep, sheet_of
from putback.sheet.tracked import Diagram, Followed, Question, Stands, Touch, Tracked, tracked
from putback.sphinxext.later import afterwards
from putback.sphinxext.tracked.content import digest, keys_of, without_words
from putback.sphinxext.tracked.limits import Plain, Units
from putback.sphinxext.tracked.stepdata import StepData, with_above
from putback.sphinxext.upkeep import to_sign
from putback.units import Kind, System, parse
from putback.variants import VariantSet
from putback.words import Language

FORMAT = 1
"""Raised when what a script reads here is no longer what it was."""


def data_of(job: Job | Block, sheet: JobSheet, opened: Opened, words: Language) -> Plain | None:
    """Return the data of a job whose sheet is printed; None when its ledger cannot be looked up."""
    ledger = tracked(job, sheet, opened)
    return None if ledger is None or opened.graph is None else _JobData(job, sheet, opened, words, ledger).data()


class _JobData:
    def __init__(self, job: Job | Block, sheet: JobSheet, opened: Opened, words: Language, ledger: Tracked) -> None:
        assert opened.graph is not None
        self.job, self.sheet, self.opened, self.words, self.ledger = job, sheet, opened, words, ledger
        self.graph = opened.graph
        self.space = opened.graph.space
        later = job.later if isinstance(job, Job) else None
        self.later = sheet_of(later, opened) if later else None
        self.only = self.meaning(sheet.only)
        self.diagram = Diagram(self.space, dict(opened.only))
        self.values: dict[Stands, int] = {}

    def meaning(self, when: When | None) -> VariantSet:
        """Return the variants that meet a condition as it is printed."""
        return self.space.built if when is None else self.space.both(self.graph.meaning(when), self.space.built)

    def data(self) -> Plain:
        """Return the whole."""
        guide, cover = self.opened.guide, self.opened.guide.cover
        found: Plain = {"format": FORMAT, "guide": guide.root.name, "edition": str((cover and cover.edition) or "")}
        # A block may have the name of a job, and has sheets of its own all the same.
        name = f"blocks/{self.job.key}" if isinstance(self.job, Block) else self.job.key
        found |= {"job": name, "title": str(self.job.title)}
        found |= {
            "language": cover.language if cover else "en",
            "decimal": decimal_sign(self.words),
            "fixed": dict(self.opened.only),
        }
        found |= self.page()
        found |= self.ledger_data()
        found["counts"] = list(self.counts())
        found["settings"] = [
            {"thing": self.thing(row.setting.key), "step": self.number.get(row.step or "")}
            for row in self.sheet.settings
        ]
        found["blanks"] = [f"sign-off-{number + 1}" for number in range(self.to_sign())]
        found["built"] = self.diagram.folded(self.space.built)
        found |= self.variants()
        found["digest"] = digest(json.dumps(without_words(found), sort_keys=True), length=16)
        return found

    def to_sign(self) -> int:
        """Return how many lines to write on the sign-off has."""
        interval = self.job.interval if isinstance(self.job, Job) else None
        follows = bool(afterwards(self.job, self.sheet, self.opened, self.words))
        return len(list(to_sign(interval, self.words, hours=counts_hours(self.opened.guide), follows=follows)))

    # The page.

    def page(self) -> Plain:
        """Return lines, sections, rows of lists, and steps."""
        parts = [(part, False) for part in self.sheet.sections]
        parts += [(part, True) for part in (self.later.sections if self.later else ())]
        self.lines = [(*each, later) for part, later in parts for each in with_above(part.steps)]
        steps = [(line, above, branch, later) for line, above, branch, later in self.lines if line.number]
        self.number = {line.number: place for place, (line, *_) in enumerate(steps)}
        keys = keys_of([(line, _told(above, branch)) for line, above, branch, _ in steps], self.words.things)
        return {
            "lines": [[self.only_for(line.variants), self.number.get(line.number, -1)] for line, *_ in self.lines],
            "sections": [self.only_for(self.meaning(part.when)) for part in self.sheet.sections],
            "follow": [self.only_for(self.meaning(part.when)) for part in (self.later.sections if self.later else ())],
            "listed": self.listed(),
            "steps": list(self.steps(steps, keys)),
        }

    def only_for(self, variants: VariantSet) -> int:
        return self.diagram.set(self.space.both(variants, self.only))

    def steps(self, steps: list[tuple[SheetStep, SheetStep | None, int, bool]], keys: list[str]) -> Iterator[Plain]:
        """Yield each step."""
        cover = self.opened.guide.cover
        systems = [System(unit) for unit in cover.units] if cover else [System.METRIC, System.US]
        units: Units = (systems[0], systems[1] if len(systems) > 1 else None)
        writer = StepData(self.job, self.words, units)
        for (line, above, branch, later), key in zip(steps, keys, strict=True):
            up = (self.number[above.number], branch) if above and above.number in self.number else None
            found = writer.written(line, key, up, self.only_for(line.variants))
            if line.goes_to in self.number:
                found["to"] = self.number[line.goes_to]
            if later:
                found["later"] = True
            yield found | self.box_sets(line)

    def box_sets(self, line: SheetStep) -> Plain:
        """Return who has each box of a step, when not all have them who read it."""
        boxes = range(sum(len(grid.names) for grid in line.grids))
        has = [self.space.both(self.ledger.has(line.number, box, line.variants), line.variants) for box in boxes]
        if all(here == line.variants for here in has):
            return {}
        return {"boxSets": [self.only_for(here) for here in has]}

    def listed(self) -> Plain:
        """Return for which variants the rows of each list are, in the order of the page."""
        layout = self.sheet.set_up
        kits = list(dict.fromkeys(new.kit for new in layout.parts))
        rows: dict[str, Iterable[Any]] = {
            "safety-messages-in-this-job": layout.cautions,
            "protective-equipment": layout.wear,
            "new-parts": sorted(layout.parts, key=lambda new: kits.index(new.kit)),
            "tools": layout.tools,
            "consumables": [*layout.consumables, *layout.fluids],
            "equipment": layout.equipment,
            "count-back": self.sheet.count_back,
            "settings": self.sheet.settings,
            "controls": self.sheet.controls,
            "follow-ups": self.sheet.follow_ups,
        }
        return {name: [self.only_for(self.meaning(row.when)) for row in each] for name, each in rows.items()}

    # The ledger.

    def ledger_data(self) -> Plain:
        """Return moments, questions, things, and where laps go on."""
        ledger, folded = self.ledger, self.diagram.set
        things = [self.followed(thing) for thing in ledger.things]
        return {
            "moments": [[self.number[moment.number], *moment.boxes] for moment in ledger.moments],
            "questions": [self.question(asked) for asked in ledger.questions],
            "things": things,
            "values": [self.value(stands) for stands in self.values],
            "back": [
                [turn.lap, turn.moment, folded(turn.variants), turn.into, folded(turn.going), turn.to]
                for turn in ledger.back
            ],
            "joins": [
                [turn.lap, turn.moment, folded(turn.variants), turn.into, folded(turn.going)] for turn in ledger.joins
            ],
        }

    def question(self, asked: Question) -> Plain:
        """Return what an inspection asks; `also` are the steps that ask it of other machines."""
        step, *also = [self.number[number] for number in asked.numbers]
        found: Plain = {"step": step, "branch": asked.branch, "box": asked.box}
        return found | ({"also": also} if also else {})

    def followed(self, thing: Followed) -> Plain:
        """Return a thing with all that happens to it."""
        found: Plain = {"key": thing.key, "name": self.name_of(thing), "kind": thing.kind, "count": thing.count}
        found["rows"] = [self.row(row) for row in thing.laps.get(0, ())]
        others = {str(lap): [self.row(row) for row in rows] for lap, rows in thing.laps.items() if lap}
        if others:
            found["laps"] = others
        if thing.opens:
            found["opens"] = [[self.diagram.set(held), self.stands(how)] for held, how in thing.opens]
        return found

    def name_of(self, thing: Followed) -> str:
        """Return what a thing is called on the page; one that is there at each place, with its place."""
        if thing.kind == "equipment":
            return str(self.opened.guide.library.equipment[thing.key].name)
        known = self.graph.machine.things[thing.key]
        written = self.opened.written
        printed = written.printed.get(written.printed_name(thing.key), known) if written else known
        name = self.words.title_of(printed)
        if printed is not known and known.place:
            where = f"{self.words.option(known.each.name)} " if known.each else ""
            return f"{name}, {where}{self.words.position_name(known.place)}"
        return name

    def row(self, row: Touch) -> list[Any]:
        """Return what a moment does to a thing."""
        changes: list[list[Any]] = []
        for change in row.changes:
            more = [change.out, change.new, sorted(change.places)]
            while more and not more[-1]:
                more.pop()
            changes.append([self.diagram.set(change.variants), self.stands(change.stands), *more])
        return [row.moment, changes]

    def stands(self, stands: Stands) -> int:
        return self.values.setdefault(stands, len(self.values))

    def value(self, stands: Stands) -> Plain:
        """Return how a thing stands."""
        found: Plain = {"is": stands.how.value, "closed": stands.closed, "n": stands.pieces, "of": stands.of}
        found |= {"loose": stands.loose, "at": self.words.position_name(stands.at) if stands.at else ""}
        found["places"] = [self.words.position_name(place) for place in stands.places]
        return {name: value for name, value in found.items() if value or name == "closed"}

    def thing(self, key: str) -> int | None:
        """Return the number of a thing; None for one that nothing happens to."""
        return next((at for at, thing in enumerate(self.ledger.things) if thing.key == key), None)

    def counts(self) -> Iterator[Plain]:
        """Yield the rows of the count-back, each with the things that it counts."""
        written, known = self.opened.written, dict[str, list[int]]()
        for at, thing in enumerate(self.ledger.things):
            if thing.kind in ("part", "fastener", "line"):
                for name in {thing.key, written.printed_name(thing.key) if written else thing.key}:
                    known.setdefault(name, []).append(at)
        for row in self.sheet.count_back:
            found: Plain = {
                "things": known.get(row.thing.key, []),
                "set": self.only_for(self.meaning(row.when)),
                "branch": bool(row.only_if),
            }
            yield found | {"out": row.out, "back": row.back, "new": row.new, "varies": row.varies}

    # Variants.

    def variants(self) -> Plain:
        """Return the options that anything depends on, and the table of all sets."""
        places = sorted({place for place, _ in self.diagram.rows}, key=self.space.height)
        asked = {place: (at, lap) for at, each in enumerate(self.ledger.questions) for lap, place in each.by_lap}
        ways = {place: lap for lap, place in self.ledger.ways}
        names = [name for name in self.space.declared if any(self.space.names[place] == name for place in places)]
        questions: list[list[Any]] = []
        for place in places:
            if place in asked:
                questions.append(["q", *asked[place]])
            elif place in ways:
                questions.append(["w", ways[place]])
            else:
                questions.append(["o", names.index(self.space.names[place])])
        at = {place: number for number, place in enumerate(places)}
        return {
            "options": [self.option(name) for name in names],
            "vars": questions,
            "rows": [[at[place], *children] for place, children in self.diagram.rows],
        }

    def option(self, name: str) -> Plain:
        """Return an option with its choices, and how to tell what a machine has."""
        machine, words = self.graph.machine, self.words
        told = {
            clause.choices[0].name: str(text)
            for when, text in machine.told_by
            for clause in when.cases[0]
            if clause.option.name == name
        }
        choices = [
            {"key": choice, "words": words.choices([choice]), "tell": told.get(choice, "")}
            for choice in machine.options[name]
        ]
        return {"key": name, "title": words.option(name), "choices": choices}


def decimal_sign(words: Language) -> str:
    """Return what stands between whole numbers and parts in the language of a page."""
    found = re.search(r"\d(\D)\d", words.quantity(parse("0.5 mm", Kind.LENGTH)))
    return found[1] if found else "."


def _told(above: SheetStep | None, branch: int) -> str:
    """Return what a step hangs on, as far as it makes it another step."""
    if above is None:
        return ""
    return f"{above.step.verb.name} {' '.join(ref.name for ref in above.step.things)} {branch}"
