"""The page of a job: set-up block, steps, count-back, follow-up, sign-off."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, TypeVar

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.job import Job, Step
from putback.model.library import Aid, Tool
from putback.model.machine import Part
from putback.model.verbs.asking import Measure
from putback.model.verbs.blocks import Again, Do, Undo
from putback.model.verbs.telling import Caution, Note
from putback.sheet import CountBack, Layout, Line, Passage, count_back, follow_ups, lay_out, wear_of, write_lines
from putback.sphinxext import nodes as own
from putback.sphinxext.building import bullets, fact, inlines, paragraph, section, table
from putback.sphinxext.figures import Pictures
from putback.sphinxext.safety import hazards, panel, short_form, to_follow
from putback.sphinxext.searching import numbered
from putback.sphinxext.stepfacts import step_facts
from putback.words import as_text, catalogue
from putback.words.pieces import Phrase

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


_E = TypeVar("_E", Aid, Tool)


class JobPage:
    """Makes the doctree of one job."""

    def __init__(self, job: Job, opened: Opened, env: BuildEnvironment) -> None:
        self.job = job
        self.guide = opened.guide
        self.opened = opened
        self.env = env
        self.words = catalogue(opened)
        self.labels = self.words.labels.job
        self.passages = write_lines(job, opened)
        self.numbers = numbers_of(self.passages)
        self.found: list[tuple[str, str, str]] = []
        """The number of each step, its id, and the words that the search finds it by."""
        self.pictures = Pictures(opened, env, self.words)
        self.wrenches: list[Tool] = []
        """The torque wrenches that are laid out."""

    def doctree(self) -> nodes.section:
        """Return the page as one section."""
        page = section(self.job.title, nodes.make_id(f"{self.job.key}-job"), classes=["job"])
        layout = lay_out(self.passages, self.opened)
        self.wrenches = [tool for tool in self.guide.library.tools.values() if tool.range and tool.name in layout.tools]
        page += self.set_up(layout)
        for index, passage in enumerate(self.passages):
            page += self.passage(passage, index)
        page += self.counted(count_back(self.passages, self.guide))
        follow = to_follow(follow_ups(self.passages, self.guide), self.words, self.ident("follow-up"))
        if follow is not None:
            page += follow
        page += self.sign_off()
        return page

    # The block that opens the job.

    def set_up(self, layout: Layout) -> own.setup:
        """Return purpose, interval, people, and all to lay out; "none" is said where nothing is needed."""
        block = own.setup()
        facts = own.facts()
        job = self.job
        if job.purpose:
            facts += fact(self.labels.purpose, job.purpose)
        if job.interval:
            facts += fact(self.labels.due, self.words.due(job.interval))
        if job.time:
            facts += fact(self.labels.time, self.words.quantity(job.time))
        facts += fact(self.labels.people, str(job.people))
        facts += list(short_form(job, layout, self.words))
        if layout.positions:
            facts += fact(
                self.labels.set_first,
                bullets(self.words.set_first(*position) for position in layout.positions),
            )
        block += facts
        for name, title, content in self.lists(layout):
            block += section(title, self.ident(f"set-up-{name}"), content, classes=["set-up-list", name])
        return block

    def lists(self, layout: Layout) -> Iterator[tuple[str, str, nodes.Node]]:
        """Yield the lists of the set-up block: the name of each for style sheets, its title, and itself."""
        labels = self.labels
        yield "safety-messages-in-this-job", labels.safety_messages, hazards(layout.cautions, self.words)
        if layout.wear:
            yield "protective-equipment", labels.wear, bullets(layout.wear)
        if layout.parts:
            rows = [
                (
                    self.words.row(new.thing, new.when, conditional=new.conditional),
                    new.thing.number or "–",
                    new.thing.kit or "–",
                    str(new.count),
                )
                for new in layout.parts
            ]
            heads = [labels.part, labels.number, labels.kit, labels.count]
            yield "new-parts", labels.new_parts, table(heads, rows, (46, 22, 22, 10), "parts")
        else:
            yield "new-parts", labels.new_parts, paragraph(labels.none)
        tools = self.entries(layout.tools, self.guide.library.tools, self.words.tool)
        yield "tools", labels.tools, self.or_none([*tools, *map(self.words.tool_for, layout.drives)])
        fluids = [self.words.fluid(fluid) for fluid in layout.fluids]
        yield "consumables", labels.consumables, self.or_none([*layout.consumables, *fluids])
        aids = self.entries(layout.aids, self.guide.library.aids, self.words.aid)
        yield "aids", labels.aids, self.or_none(aids)

    def entries(self, names: list[str], known: Mapping[str, _E], told: Callable[[_E], str]) -> list[str]:
        """Return names of the library with what is known of each."""
        entries = {entry.name: entry for entry in known.values()}
        return [told(entries[name]) if name in entries else name for name in names]

    def or_none(self, items: list[str]) -> nodes.Node:
        """Say that none are needed, rather than leave the reader to wonder."""
        return bullets(items) if items else paragraph(self.labels.none)

    # The steps.

    def passage(self, passage: Passage, index: int) -> nodes.Node:
        """Return one section of steps."""
        run = own.steps()
        limit = self.words.only_when(passage.when)
        if limit:
            line = nodes.paragraph(classes=["section-limit"])
            line += own.only_when(limit, limit, label=limit)
            run += line
        for line_ in passage.lines:
            run += list(self.line(line_))
        title = passage.title or self.labels.steps
        return section(title, self.ident(f"section-{index + 1}"), run)

    def line(self, line: Line) -> Iterator[nodes.Node]:
        """Yield the nodes of one step, caution or note."""
        step = line.step
        if isinstance(step.action, Caution):
            for ref in step.things:
                message = self.guide.library.cautions.get(ref.name)
                if message is not None:
                    wear = self.words.wear(wear_of(message, self.guide.library))
                    yield panel(message, wear, list(self.limited(line)))
            yield from self.remarks(step)
            return
        if isinstance(step.action, Do | Undo):
            said = list(self.remarks(step))
            if isinstance(said[0], nodes.paragraph):
                said[0][:0] = list(self.limited(line))
            yield from said
            return
        if isinstance(step.action, Note):
            note = paragraph("", "remark")
            note += list(self.limited(line))
            note += inlines(self.words.step(step))
            yield note
            yield from self.remarks(step)
            return
        node = own.step(number=line.number, box=True, classes=[f"verb-{step.verb.name}"])
        node["ids"] = [self.findable(line)]
        text = own.step_text()
        text += list(self.limited(line))
        text += inlines(self.sentence(step))
        node += text
        node += list(step_facts(step, self.words, self.wrenches))
        node += [paragraph(self.words.waste(words), "waste") for words in line.waste]
        if isinstance(step.action, Measure):
            node += own.blank(label=self.labels.measured, unit=self.unit(step.action))
        node += list(self.pictures.drawings(step, line.number))
        if step.figure:
            node += self.pictures.picture(step.figure, as_text(self.words.step(step)), line.number)
        if line.otherwise:
            branch = own.otherwise(label=self.words.otherwise(step))
            for inner in line.otherwise:
                branch += list(self.line(inner))
            node += branch
        yield node

    def remarks(self, step: Step) -> Iterator[nodes.Node]:
        """Yield what stands below a safety message or a note, which have no number."""
        if step.text and isinstance(step.action, Caution | Do | Undo):
            yield paragraph(step.text, "remark")
        if step.text and isinstance(step.action, Note):
            yield paragraph(step.action.words, "remark")
        for node in step_facts(step, self.words, self.wrenches):
            if isinstance(node, nodes.paragraph):
                node["classes"] = ["remark", *node["classes"]]
            yield node
        if step.figure:
            yield self.pictures.picture(step.figure, as_text(self.words.step(step)))

    def findable(self, line: Line) -> str:
        """Note by which words the search leads to a step, and return its id."""
        ident = self.ident(f"step-{line.number}")
        things = self.guide.machine.things if self.guide.machine else {}
        words = f"{line.number} {as_text(self.sentence(line.step))}".rstrip(".")
        named = [things[ref.name] for ref in line.step.things if ref.name in things]
        self.found.append((line.number, ident, numbered(words, named)))
        return ident

    def sentence(self, step: Step) -> Phrase:
        """Return the sentence of a step; one that goes back names the step by its number."""
        if isinstance(step.action, Again) and step.text is None and step.things:
            number = self.numbers.get(step.things[0].name)
            if number:
                return self.words.go_back(number)
        return self.words.step(step)

    def limited(self, line: Line) -> Iterator[nodes.Node]:
        """Yield the variants that a step is limited to, when it is."""
        limit = self.words.only_when(line.when)
        if limit:
            yield own.only_when(f"{limit} ", f"{limit} ", label=limit)

    def unit(self, action: Measure) -> str:
        """Return the unit of what is measured, for the line to write on."""
        first = self.guide.machine.things.get(action.things[0].name) if self.guide.machine and action.things else None
        limit = action.limit or (first.wear.limit if isinstance(first, Part) and first.wear else None)
        return self.words.unit_of(limit.quantity) if limit and limit.quantity else ""

    # The end.

    def counted(self, rows: list[CountBack]) -> nodes.section:
        """Return the count-back table."""
        page = section(self.labels.count_back, self.ident("count-back"))
        if not rows:
            page += paragraph(self.labels.nothing_off)
            return page
        page += paragraph(self.labels.count_lead, "leads-in")
        body = [
            (
                self.words.row(row.thing, row.when, conditional=row.conditional),
                str(row.out),
                str(row.back),
                str(row.new) if row.new else "–",
                "☐",
            )
            for row in rows
        ]
        labels = self.labels
        heads = [labels.piece, labels.out, labels.back, labels.new, labels.counted]
        page += table(heads, body, (56, 10, 10, 10, 14), "count-back")
        return page

    def sign_off(self) -> nodes.section:
        """Return the block to sign."""
        block = own.signoff()
        for label in self.labels.to_sign:
            block += own.blank(label=label, unit="")
        return section(self.labels.sign_off, self.ident("sign-off"), block)

    def ident(self, name: str) -> str:
        """Return an id that no other job has."""
        return nodes.make_id(f"{self.job.key}-{name}")


def numbers_of(passages: Sequence[Passage]) -> dict[str, str]:
    """Return the numbers of named steps; a caution or note has that of the step below it."""
    numbers: dict[str, str] = {}
    waiting: list[str] = []
    for passage in passages:
        for line in passage.walk():
            if line.step.name:
                waiting.append(line.step.name.name)
            if line.number:
                numbers.update(dict.fromkeys(waiting, line.number))
                waiting.clear()
    return numbers
