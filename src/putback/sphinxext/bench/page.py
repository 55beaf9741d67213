"""The page of a job as a sheet for the bench: with its torques, controls and steps of each piece, and a tray."""

from __future__ import annotations

from docutils import nodes
from sphinx import addnodes

from putback.model.job import Job
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.masthead import masthead
from putback.sphinxext.bench.tables import control_table, pieces_table, torque_table
from putback.sphinxext.bench.tray import by_size, places_of, tray
from putback.sphinxext.building import paragraph, section
from putback.sphinxext.countback import count_back
from putback.sphinxext.jobpage import JobPage


class BenchPage(JobPage):
    """Makes the doctree of the sheet of one job."""

    def doctree(self) -> nodes.section:
        """Return the sheet as one section."""
        page = section(self.job.title, nodes.make_id(f"{self.job.key}-job"), classes=["job"])
        labels, sheet = self.words.labels.bench, self.sheet
        page += masthead(self.job, self.opened, self.words)
        page += self.set_up(sheet.set_up)
        for index, part in enumerate(sheet.sections):
            page += self.section(part, index)
        torques = torque_table(sheet, self.words, self.wrenches)
        if torques is not None:
            page += section(labels.torques, self.ident("torques"), torques)
        if sheet.controls:
            page += section(labels.controls, self.ident("controls"), control_table(sheet, self.words))
        places = places_of(sheet, self.opened, self.words)
        counted = count_back(sheet, self.words, lambda rows, words: pieces_table(rows, places, words))
        left_over = by_size(sheet, self.words)
        page += section(self.labels.count_back, self.ident("count-back"), *counted, *left_over)
        # The job is signed off on the day; what follows is due later.
        page += self.sign_off()
        follow = self.follow_up()
        if follow is not None:
            page += follow
        page += own.note_lines("", paragraph(labels.notes))
        page += tray(sheet, self.opened, self.words, self.ident("tray"))
        self.pointers.put_in(page)
        self.keep_to_sheet(page)
        return page

    def keep_to_sheet(self, page: nodes.section) -> None:
        """Say of other jobs that they are in the book: no page number leads there."""
        own_steps = f"{self.job.key}."
        for node in list(page.findall(addnodes.pending_xref)):
            kind, target, words = node["reftype"], node["reftarget"], node.astext()
            if kind not in ("job", "step") or target == self.job.key:
                continue
            if kind == "step" and isinstance(self.job, Job) and target.startswith(own_steps):
                continue
            told = self.words.labels.bench.in_the_book.format(what=words)
            node.replace_self(nodes.inline(told, told))
