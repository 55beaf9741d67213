"""The page of a job: set-up block, steps, count-back, follow-up, sign-off."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.called import title_of
from putback.model.job import Figure, Interval, Job, Step
from putback.model.machine import Fastener, Fluid, Part
from putback.model.verbs.asking import Measure
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.model.verbs.telling import Caution, Note
from putback.sheet import CountBack, JobSheet, LaidOut, SetUp, SheetSection, SheetStep
from putback.source.grammar import counted_word
from putback.sphinxext import nodes as own
from putback.sphinxext.building import bullets, drawing, fact, inlines, paragraph, section, table
from putback.sphinxext.safety import hazards, panel, short_form, to_follow
from putback.words import as_text, catalogue
from putback.words.pieces import Phrase

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


class JobPage:
    """Makes the doctree of one job."""

    def __init__(self, job: Job, sheet: JobSheet, opened: Opened, env: BuildEnvironment) -> None:
        self.job = job
        self.sheet = sheet
        self.guide = opened.guide
        self.opened = opened
        self.env = env
        self.words = catalogue(opened)

    def doctree(self) -> nodes.section:
        """Return the page as one section."""
        page = section(self.job.title, nodes.make_id(f"{self.job.key}-job"), classes=["job"])
        page += self.set_up(self.sheet.set_up)
        for index, part in enumerate(self.sheet.sections):
            page += self.section(part, index)
        page += self.counted(self.sheet.count_back)
        follow = to_follow(self.sheet.follow_ups, self.words, self.ident("follow-up"))
        if follow is not None:
            page += follow
        page += self.sign_off()
        return page

    # The block that opens the job.

    def set_up(self, layout: SetUp) -> own.setup:
        """Return purpose, interval, people, and all to lay out; "none" is said where nothing is needed."""
        block = own.setup()
        facts = own.facts()
        job = self.job
        if job.purpose:
            facts += fact("Purpose", job.purpose)
        if job.interval:
            facts += fact("Due", due(job.interval))
        if job.time:
            facts += fact("Time", self.words.quantity(job.time))
        facts += fact("People", str(job.people))
        facts += list(short_form(job, layout, self.words))
        if layout.positions:
            facts += fact(
                "Set first",
                bullets(
                    self.words.row(f"{title_of(row.what[0])}: {row.what[1].replace('-', ' ')}", row.when)
                    for row in layout.positions
                ),
            )
        block += facts
        for title, content in self.lists(layout):
            block += section(
                title, self.ident(f"set-up-{title}"), content, classes=["set-up-list", nodes.make_id(title)]
            )
        return block

    def lists(self, layout: SetUp) -> Iterator[tuple[str, nodes.Node]]:
        """Yield the lists of the set-up block."""
        yield "Safety messages in this job", hazards(layout.cautions)
        if layout.wear:
            yield "Protective equipment", bullets(layout.wear)
        if layout.parts:
            rows = [
                (
                    self.words.row(title_of(new.thing), new.when, new.only_if),
                    new.thing.number or "–",
                    self.words.kit(new.kit),
                    self.words.count(new.count, varies=new.varies),
                )
                for new in layout.parts
            ]
            yield "New parts", table(["Part", "Number", "Kit", "Count"], rows, (46, 22, 22, 10), "parts")
        else:
            yield "New parts", paragraph("None.")
        yield "Tools", _or_none(self.rows(layout.tools))
        fluids = [self.words.row(self.fluid(row.what), row.when, row.only_if) for row in layout.fluids]
        yield "Consumables", _or_none([*self.rows(layout.consumables), *fluids])
        yield "Aids", _or_none(self.rows(layout.aids))

    def rows(self, laid_out: Sequence[LaidOut[str]]) -> list[str]:
        """Return names to lay out, each with the variants and branches that need it when not all do."""
        return [self.words.row(row.what, row.when, row.only_if) for row in laid_out]

    def fluid(self, fluid: Fluid) -> str:
        """Return a fluid to lay out: `gear oil: SAE 90 GL-4, 370 ml`."""
        volume = self.words.quantity(fluid.volume) if fluid.volume else None
        facts = ", ".join(value for value in (fluid.grade, volume) if value)
        return f"{fluid.name}: {facts}" if facts else fluid.name

    # The steps.

    def section(self, part: SheetSection, index: int) -> nodes.Node:
        """Return one section of steps."""
        run = own.steps()
        limit = self.words.only_when(part.when)
        if limit:
            line = nodes.paragraph(classes=["section-limit"])
            line += own.only_when(f"{limit}.", f"{limit}.", label=limit)
            run += line
        for step in part.steps:
            run += list(self.line(step))
        title = part.title or "Steps"
        return section(title, self.ident(f"section-{index + 1}"), run)

    def line(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield the nodes of one step, caution or note."""
        step = line.step
        if isinstance(step.action, Caution):
            for shown in line.messages:
                yield panel(shown.message, self.words.wear(shown.wear), list(self.limited(line)))
            return
        if isinstance(step.action, Note):
            note = paragraph("", "remark")
            note += list(self.limited(line))
            note += inlines(self.words.step(step))
            yield note
            if step.figure:
                yield self.figure(step.figure, as_text(self.words.step(step)))
            return
        node = own.step(number=line.number, box=True, classes=[f"verb-{step.verb.name}"])
        text = own.step_text()
        text += list(self.limited(line))
        text += inlines(self.sentence(line))
        node += text
        for words in (step.note, step.because):
            if words:
                node += paragraph(words, "note" if words is step.note else "because")
        if step.tools:
            tools = self.guide.library.tools
            names = [tools[tool.name].name if tool.name in tools else tool.name for tool in step.tools]
            node += paragraph(f"Tool: {', '.join(names)}.", "tool")
        node += [paragraph(self.words.waste(words), "waste") for words in line.waste]
        if isinstance(step.action, Measure):
            node += own.blank(label="Measured", unit=self.unit(step.action))
        node += list(self.drawings(step))
        if step.figure:
            node += self.figure(step.figure, as_text(self.words.step(step)))
        if line.otherwise:
            branch = own.otherwise(label=self.words.otherwise(step))
            for inner in line.otherwise:
                branch += list(self.line(inner))
            node += branch
        yield node

    def drawings(self, step: Step) -> Iterator[nodes.Node]:
        """Yield the tightening orders of a step, or the loosening orders where a part may warp."""
        match step.action:
            case Tighten(count=None, at=()):
                loosening = False
            case Loosen(count=None, at=()) | Remove(count=None, at=()) if self.words.gently(step.things):
                loosening = True
            case _:
                return
        for ref in step.things:
            thing = self.guide.machine.things.get(ref.name) if self.guide.machine else None
            drawn = drawing(thing, loosening=loosening) if isinstance(thing, Fastener) else None
            if drawn is not None:
                yield drawn

    def sentence(self, line: SheetStep) -> Phrase:
        """Return the sentence of a step; one that goes back names the step by its number."""
        if line.goes_to and line.step.text is None:
            return self.words.go_back(line.goes_to)
        return self.words.step(line.step, line.stays_in)

    def limited(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield the variants that a step is limited to, when it is."""
        limit = self.words.only_when(line.when)
        if limit:
            yield own.only_when(f"{limit}: ", f"{limit}: ", label=limit)

    def unit(self, action: Measure) -> str:
        """Return the unit of what is measured, for the line to write on."""
        first = self.guide.machine.things.get(action.things[0].name) if self.guide.machine and action.things else None
        limit = action.limit or (first.wear.limit if isinstance(first, Part) and first.wear else None)
        return limit.quantity.unit if limit and limit.quantity else ""

    def figure(self, figure: Figure, sentence: str) -> nodes.figure:
        """Return a picture; without a text of its own it is described by the step's sentence."""
        file = self.guide.images / figure.image.name
        source = os.path.relpath(file, self.env.srcdir).replace(os.sep, "/")
        node = nodes.figure()
        image = nodes.image(uri=f"/{source}", alt=figure.alt or sentence)
        image.source, image.line = str(Path(figure.span.path).resolve()), figure.image.span.line
        if figure.width:
            image["width"] = f"{float(figure.width.to('mm').nominal or 0):g}mm"
        node += image
        if figure.caption:
            node += nodes.caption(figure.caption, figure.caption)
        return node

    # The end.

    def counted(self, rows: Sequence[CountBack]) -> nodes.section:
        """Return the count-back table."""
        page = section("Count back", self.ident("count-back"))
        if not rows:
            page += paragraph("Nothing comes off in this job.")
            return page
        lead = "Before the job is signed off, count what came off, what went back, and what of it is new."
        page += paragraph(lead, "leads-in")
        body = [
            (
                self.words.row(title_of(row.thing), row.when, row.only_if),
                *(self.words.count(pieces, varies=row.varies) for pieces in (row.out, row.back, row.new)),
                "☐",
            )
            for row in rows
        ]
        page += table(["Piece", "Out", "Back", "New", "Counted"], body, (56, 10, 10, 10, 14), "count-back")
        return page

    def sign_off(self) -> nodes.section:
        """Return the block to sign."""
        block = own.signoff()
        for label in ("Machine and serial number", "Running hours", "Date", "Name", "Signature"):
            block += own.blank(label=label, unit="")
        return section("Sign-off", self.ident("sign-off"), block)

    def ident(self, name: str) -> str:
        """Return an id that no other job has."""
        return nodes.make_id(f"{self.job.key}-{name}")


def due(interval: Interval) -> str:
    """Return an interval as words: `every 300 running hours or 24 months, whichever comes first`."""
    parts = [
        counted_word(value, word)
        for value, word in (
            (interval.hours, "running hour"),
            (interval.months, "month"),
            (interval.years, "year"),
        )
        if value
    ]
    if interval.km:
        parts.append(f"{interval.km} km")
    first = ", whichever comes first" if len(parts) > 1 else ""
    return f"every {' or '.join(parts)}{first}" if parts else "when needed"


def _or_none(items: list[str]) -> nodes.Node:
    """Say that none are needed, rather than leave the reader to wonder."""
    return bullets(items) if items else paragraph("None.")
