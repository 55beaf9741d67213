"""The page of a job as a sheet for the bench: with its torques, controls and steps of each piece, and a tray."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes
from sphinx import addnodes

from putback.model.job import Job
from putback.sheet.setup import SetUp
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.masthead import masthead
from putback.sphinxext.bench.tables import control_table, pieces_table, torque_table
from putback.sphinxext.bench.tray import by_size, fields_at, places_of, tray
from putback.sphinxext.building import paragraph, section
from putback.sphinxext.countback import count_back
from putback.sphinxext.jobpage import JobPage
from putback.sphinxext.machinepage import narrowed
from putback.sphinxext.optionstable import telling_apart

FEW = 6
"""So many steps of follow-ups stand after those of the job."""
FEW_ROWS = 18
"""So many rows of tables find room in columns."""


class BenchPage(JobPage):
    """Makes the doctree of the sheet of one job."""

    def doctree(self) -> nodes.section:
        """Return the sheet as one section."""
        page = section(self.job.title, nodes.make_id(f"{self.job.key}-job"), classes=["job"])
        sheet = self.sheet
        page += masthead(self.job, self.opened, self.words)
        page += self.set_up(sheet.set_up)
        for index, part in enumerate(sheet.sections):
            page += self.section(part, index)
        follow = self.follow_up()
        later = [follow] if follow is not None else []
        records = self.records()
        rows = sum(1 for part in records for _ in part.findall(nodes.row))
        if sum(1 for each in later for _ in each.findall(own.step)) <= FEW:
            # A few are not worth a page, nor a column before wide tables; what is long comes after what is signed.
            if rows > FEW_ROWS:
                records[-1:-1] = later
            else:
                page += later
            later = []
        last: list[nodes.Element] = [own.note_lines("", paragraph(self.words.labels.bench.notes))]
        laid: list[nodes.Element] = [*tray(sheet, self.opened, self.words, self.ident("tray"))]
        if laid:
            # Where the tray stands, and so where room for notes is left, is known when the page is laid out.
            laid[0] += last
        if rows > FEW_ROWS:
            page += [own.wide("", *records, *(laid or last)), *later]
        else:
            page += [*records, *later, *(laid or last)]
        self.pointers.put_in(page)
        self.keep_to_sheet(page)
        return page

    def lists(self, layout: SetUp) -> Iterator[tuple[str, str, nodes.Node]]:
        """Yield the lists of the set-up block; before them, how to tell which machine it is, where that matters."""
        machine = self.guide.machine
        told = telling_apart(narrowed(machine, self.opened), self.words, self.told_apart()) if machine else None
        if told is not None:
            yield "which-machine", self.words.labels.bench.which_machine, told
        yield from super().lists(layout)

    def told_apart(self) -> set[str]:
        """Return the options on which a step of the job hangs."""
        sheet = self.sheet
        limits = [sheet.only, *(part.when for part in sheet.sections), *(line.when for line in sheet.walk())]
        return {clause.option.name for when in limits if when for case in when.cases for clause in case}

    def records(self) -> list[nodes.section]:
        """Return what is looked up and written down beside the steps: torques, controls, count-back, sign-off."""
        labels, sheet, found = self.words.labels.bench, self.sheet, list[nodes.section]()
        torques = torque_table(sheet, self.words, self.wrenches)
        if torques is not None:
            found.append(section(labels.torques, self.ident("torques"), torques))
        if sheet.controls:
            found.append(section(labels.controls, self.ident("controls"), control_table(sheet, self.words)))
        places = places_of(sheet, self.opened, self.words)
        counted = count_back(sheet, self.words, lambda rows, words: pieces_table(rows, places, words))
        left_over = by_size(sheet, self.words)
        found.append(section(self.labels.count_back, self.ident("count-back"), *counted, *left_over))
        # The job is signed off on the day; what follows is due later.
        return [*found, self.sign_off()]

    def leave_to_tray(self, page: nodes.section) -> None:
        """Say where pieces are drawn at true size: on the tray, and not in a column that is too narrow for them."""
        lines = {line.number: line for line in self.sheet.walk() if line.number}
        for node in [node for node in page.findall(own.drawing) if node.get("true_size")]:
            step = node.parent
            number = step["number"] if isinstance(step, own.step) else ""
            fields = fields_at(self.sheet, lines[number], self.words) if number in lines else []
            told = self.words.labels.bench.on_tray.format(fields=self.words.names(fields))
            node.replace_self([paragraph(told, "see")] if fields else [])

    def keep_to_sheet(self, page: nodes.section) -> None:
        """Say of other jobs that they are in the book: no page number leads there."""
        self.leave_to_tray(page)
        own_steps = f"{self.job.key}."
        for node in list(page.findall(addnodes.pending_xref)):
            kind, target, words = node["reftype"], node["reftarget"], node.astext()
            if kind not in ("job", "step") or target == self.job.key:
                continue
            if kind == "step" and isinstance(self.job, Job) and target.startswith(own_steps):
                continue
            told = self.words.labels.bench.in_the_book.format(what=words)
            node.replace_self(nodes.inline(told, told))
