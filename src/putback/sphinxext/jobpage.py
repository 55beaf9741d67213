"""The page of a job: set-up block, steps, count-back, follow-up, sign-off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import prod
from typing import TYPE_CHECKING

from docutils import nodes

from putback.guide.hours import counts_hours
from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.model.machine import Fastener
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Measure
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.pieces import Remove
from putback.model.verbs.telling import Caution, Note
from putback.sheet import Grid, JobSheet, SetUp, SheetSection, SheetStep, sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import bullets, bullets_or, fact, inlines, paragraph, section
from putback.sphinxext.chained import about, chained, first_done
from putback.sphinxext.countback import count_back, new_parts
from putback.sphinxext.drawn import drawings_above, drawings_at
from putback.sphinxext.drawn.placed import OnPage
from putback.sphinxext.drawn.stacks import stacks_by_step
from putback.sphinxext.entries import entries
from putback.sphinxext.figures import Pictures
from putback.sphinxext.later import afterwards, follow_ups, laid_out, to_follow
from putback.sphinxext.live import in_turn
from putback.sphinxext.machinepage import narrowed
from putback.sphinxext.pointers import Pointers
from putback.sphinxext.safety import hazards, panel, short_form
from putback.sphinxext.searching import numbered
from putback.sphinxext.stepfacts import blanks, step_facts
from putback.sphinxext.upkeep import to_sign
from putback.words import as_text, catalogue
from putback.words.pieces import Phrase

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


class JobPage:
    """Makes the doctree of one job, or of a block that is printed alone."""

    def __init__(self, job: Job | Block, sheet: JobSheet, opened: Opened, env: BuildEnvironment) -> None:
        self.job = job
        self.sheet = sheet
        self.guide = opened.guide
        self.opened = opened
        self.env = env
        self.words = catalogue(opened)
        self.labels = self.words.labels.job
        self.lines = 0
        """How many lines of steps were made."""
        self.found: list[tuple[str, str, str]] = []
        """The number of each step, its id, and the words that the search finds it by."""
        machine = opened.guide.machine
        stacks = stacks_by_step(sheet, machine and narrowed(machine, opened), self.words)
        self.on_page = OnPage(job, sheet, opened, self.words, stacks=stacks)
        self.above = drawings_above(self.on_page)
        """What stands above the first step of a section, by its number."""
        self.pictures = Pictures(self.on_page, env)
        self.afterwards = afterwards(job, sheet, opened, self.words)
        self.pointers = Pointers(opened, self.words, job, sheet)
        names = [row.what for row in sheet.set_up.tools]
        self.wrenches = [tool for tool in self.guide.library.tools.values() if tool.range and tool.name in names]
        """The torque wrenches that are laid out."""

    def doctree(self) -> nodes.section:
        """Return the page as one section."""
        page = section(self.job.title, nodes.make_id(f"{self.job.key}-job"), classes=["job"])
        page += self.set_up(self.sheet.set_up)
        for index, part in enumerate(self.sheet.sections):
            page += self.section(part, index)
        page += section(self.labels.count_back, self.ident("count-back"), *count_back(self.sheet, self.words))
        follow = self.follow_up()
        if follow is not None:
            page += follow
        page += self.sign_off()
        self.pointers.put_in(page)
        return page

    # The block that opens the job.

    def set_up(self, layout: SetUp) -> own.setup:
        """Return purpose, interval, people, and all to lay out; "none" is said where nothing is needed."""
        block = own.setup()
        facts = own.facts()
        facts += list(about(self.job, self.sheet, self.words, self.afterwards))
        facts += list(short_form(self.job, layout, self.words))
        facts += list(chained(self.job, self.sheet, self.opened, self.words))
        if layout.positions:
            facts += fact(self.labels.set_first, first_done(self.sheet, self.words))
        block += facts
        for name, title, content in self.lists(layout):
            block += section(title, self.ident(f"set-up-{name}"), content, classes=["set-up-list", name])
        return block

    def lists(self, layout: SetUp) -> Iterator[tuple[str, str, nodes.Node]]:
        """Yield the lists of the set-up block: the name of each for style sheets, its title, and itself."""
        labels = self.labels
        yield "safety-messages-in-this-job", labels.safety_messages, hazards(layout.cautions, self.words)
        if layout.wear:
            yield (
                "protective-equipment",
                labels.wear,
                bullets(self.words.row(row.what, row.when) for row in layout.wear),
            )
        if layout.parts:
            yield "new-parts", labels.new_parts, new_parts(layout.parts, self.words)
        else:
            yield "new-parts", labels.new_parts, paragraph(labels.none)
        tools = self.tools(layout)
        yield "tools", labels.tools, bullets_or(labels.none, tools)
        fluids = [self.words.row(self.words.fluid(*row.what), row.when, row.only_if) for row in layout.fluids]
        consumables = [self.words.row(row.what, row.when, row.only_if) for row in layout.consumables]
        yield "consumables", labels.consumables, bullets_or(labels.none, [*consumables, *fluids])
        equipment = self.equipment(layout)
        yield "equipment", labels.equipment, bullets_or(labels.none, equipment)

    def tools(self, layout: SetUp) -> list[str]:
        """Return the tools, with what is known of each."""
        return entries(layout.tools, self.guide.library.tools, self.words.tool, self.words)

    def equipment(self, layout: SetUp) -> list[str]:
        """Return the equipment, with what is known of each."""
        return entries(layout.equipment, self.guide.library.equipment, self.words.equipment, self.words)

    # The steps.

    def section(self, part: SheetSection, index: int) -> nodes.Node:
        """Return one section of steps."""
        run = own.steps()
        limit = self.words.only_when(part.when)
        if limit:
            line = nodes.paragraph(classes=["section-limit"])
            line += own.only_when(limit, limit, label=limit)
            run += line
        for step in part.steps:
            run += list(self.line(step))
        title = part.title or self.labels.steps
        above = self.above.get(index)
        return section(title, self.ident(f"section-{index + 1}"), *([above] if above else []), run)

    @in_turn
    def line(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield the nodes of one step, caution or note."""
        step = line.step
        if isinstance(step.action, Caution):
            for shown in line.messages:
                yield panel(shown.message, self.words.wear(shown.wear), list(self.limited(line)))
            yield from self.remarks(line)
            return
        if isinstance(step.action, Do | Reverse):
            said = list(self.remarks(line))
            if isinstance(said[0], nodes.paragraph):
                said[0][:0] = list(self.limited(line))
            yield from said
            return
        if isinstance(step.action, Note):
            note = paragraph("", "remark")
            note += list(self.limited(line))
            note += inlines(self.words.step(step))
            yield note
            yield from self.remarks(line)
            return
        node = own.step(number=line.number, box=not line.grids, classes=[f"verb-{step.verb.name}"])
        node["ids"] = [self.findable(line)]
        text = own.step_text()
        text += list(self.limited(line))
        text += inlines(self.sentence(line))
        node += text
        node += [paragraph(self.words.new_if(step, line.new_if), "new-one")] if line.new_if else []
        node += list(step_facts(step, self.words, self.wrenches))
        node += [paragraph(self.words.waste(words), "waste") for words in line.waste]
        node += list(self.to_fill(line))
        node += list(drawings_at(self.on_page, line))
        if step.figure:
            sentence = self.pointers.in_words(as_text(self.words.step(step)), line.number)
            node += self.pictures.picture(line, sentence, line.number)
        node += list(self.below(line))
        yield node

    def to_fill(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield what a step leaves to tick for each place, and to write."""
        action = line.step.action
        for grid in line.grids:
            yield own.grid(label=self.words.option(grid.places), places=self.names(grid))
        things = [self.words.things.get(ref.name) for ref in action.things]
        if isinstance(action, Remove) and any(isinstance(thing, Fastener) and thing.uncounted for thing in things):
            yield own.blank(label=self.labels.counted, unit="")
        for label in self.words.uses(line.step):
            # Each of several places has a piece with a use of its own.
            at = [f"{self.words.option(grid.places)} {name}" for grid in line.grids for name in self.names(grid)]
            yield from [paragraph(label, "note")] if at else []
            yield from (own.blank(label=where, unit="") for where in at or [label])
        if isinstance(action, Measure | Adjust):
            for grid in line.grids:
                yield from self.blanks_at(action, grid)
            if not line.grids:
                yield from blanks(action, self.words)

    def below(self, line: SheetStep) -> Iterator[own.otherwise]:
        """Yield the steps that hang on the answer of a step, or are done for each place."""
        places = prod(len(grid.names) for grid in line.grids)
        if line.otherwise:
            yield self.branch(self.words.otherwise(line.step, places), line.otherwise)
        for each in line.outcomes:
            yield self.branch(self.words.outcome(line.step, each.found, places), each.steps)
        if line.each:
            grid = next((grid for inner in line.each for grid in inner.grids), None)
            yield self.branch(self.words.each_of(grid.places, self.names(grid)) if grid else "", line.each)

    def names(self, grid: Grid) -> list[str]:
        """Return the names of places, as they are printed."""
        return [self.words.position_name(name) for name in grid.names]

    def blanks_at(self, action: Measure | Adjust, grid: Grid) -> Iterator[own.blank]:
        """Yield a place to write on for each reading at each place."""
        for name in self.names(grid):
            for blank in blanks(action, self.words):
                label = f"{self.words.option(grid.places)} {name}"
                measured = blank["label"] == self.labels.measured
                blank["label"] = label if measured else f"{label}, {blank['label']}"
                yield blank

    def branch(self, label: str, steps: Sequence[SheetStep]) -> own.otherwise:
        """Return what is done when the answer of a step is not as it should be."""
        branch = own.otherwise(label=label)
        for inner in steps:
            branch += list(self.line(inner))
        return branch

    def remarks(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield what stands below a safety message or a note, which have no number."""
        step = line.step
        if step.text and isinstance(step.action, Caution | Do | Reverse):
            yield paragraph(step.text, "remark")
        if step.text and isinstance(step.action, Note):
            yield paragraph(step.action.words, "remark")
        for node in step_facts(step, self.words, self.wrenches):
            if isinstance(node, nodes.paragraph):
                node["classes"] = ["remark", *node["classes"]]
            yield node
        if step.figure:
            yield self.pictures.picture(line, self.pointers.in_words(as_text(self.words.step(step))))

    def findable(self, line: SheetStep) -> str:
        """Note by which words the search leads to a step, and return its id."""
        ident = self.ident(f"step-{line.number}")
        things = self.words.things
        sentence = self.pointers.in_words(as_text(self.sentence(line)), line.number)
        words = f"{line.number} {sentence}".rstrip(".")
        named = [things[ref.name] for ref in line.step.things if ref.name in things]
        self.found.append((line.number, ident, numbered(words, named)))
        return ident

    def sentence(self, line: SheetStep) -> Phrase:
        """Return the sentence of a step; one that goes back names the step by its number."""
        if line.goes_to and line.step.text is None:
            return self.words.go_back(line.goes_to)
        return self.words.step(line.step, line.stays_in)

    def limited(self, line: SheetStep) -> Iterator[nodes.Node]:
        """Yield the variants that a step is limited to, when it is."""
        limit = self.words.only_when(line.when)
        if limit:
            yield own.only_when(f"{limit} ", f"{limit} ", label=limit)

    # The end.

    def follow_up(self) -> nodes.section | None:
        """Return what is due later; None when nothing is."""
        return to_follow(self.sheet.follow_ups, self.words, self.ident("follow-up"), list(self.later()))

    def later(self) -> Iterator[nodes.Node]:
        """Yield the follow-ups that the author wrote, with what they need."""
        follows = self.job.later if isinstance(self.job, Job) else None
        sheet = sheet_of(follows, self.opened) if follows else None
        if sheet:
            tools = self.tools(sheet.set_up)
            equipment = self.equipment(sheet.set_up)
            yield from laid_out(sheet.set_up, tools, equipment, self.words)
            yield from follow_ups(sheet, self.line, self.words, hours=counts_hours(self.guide))

    def sign_off(self) -> nodes.section:
        """Return the block to sign."""
        block = own.signoff()
        interval = self.job.interval if isinstance(self.job, Job) else None
        for label in to_sign(interval, self.words, hours=counts_hours(self.guide), follows=bool(self.afterwards)):
            block += own.blank(label=label, unit="")
        return section(self.labels.sign_off, self.ident("sign-off"), block)

    def ident(self, name: str) -> str:
        """Return an id that no other job has."""
        return nodes.make_id(f"{self.job.key}-{name}")
