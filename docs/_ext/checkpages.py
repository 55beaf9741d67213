"""The catalogue of checks, drawn from their modules while the documentation is built.

Each check gets a page of two lines in `docs/checks/`, which git ignores; what stands on it comes from the module.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from docutils import nodes
from indexed import entry
from sphinx import addnodes
from sphinx.util.docutils import SphinxDirective

from putback.checks import Group, KnownCheck, own_checks
from putback.checks.engine.related import related_to
from putback.sphinxext.building import Cell, paragraph, section, table

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment
    from sphinx.util.typing import ExtensionMetadata

FOUND_BY = {
    "load": "while a file is being read",
    "schema": "while a file is compared with its schema",
    "model": "while the values in a file are worked out",
    "guide": "while the files of a guide are put together",
    "lint": "after all other checks",
}
"""When a check without a generator of its own is found, by its `STAGE`."""

HOW_TO = ("tutorial", "tasks")
"""Folders whose pages answer how to do something: a check lists the answers that link to it."""


class Answer(NamedTuple):
    """A part of a how-to page."""

    docname: str
    """Its page."""
    label: str
    """The label above its heading; empty when it has none."""
    title: str
    """Its heading."""


def grouped(checks: Iterable[KnownCheck]) -> dict[Group, list[KnownCheck]]:
    """Return the checks by group, in the order of the groups; a group without checks is left out."""
    found: dict[Group, list[KnownCheck]] = {group: [] for group in Group}
    for check in checks:
        found[check.group].append(check)
    return {group: members for group, members in found.items() if members}


@cache
def answers(folder: Path) -> dict[str, list[Answer]]:
    """Return the parts of how-to pages that link to a check, by its name."""
    found: dict[str, list[Answer]] = {}
    for path in sorted(path for name in HOW_TO for path in (folder / name).rglob("*.md")):
        docname = path.relative_to(folder).with_suffix("").as_posix()
        for name, label, title in _links(path.read_text(encoding="utf-8")):
            answer = Answer(docname, label, title)
            if answer not in found.setdefault(name, []):
                found[name].append(answer)
    return found


def _links(text: str) -> Iterator[tuple[str, str, str]]:
    """Yield each check that a page links to or shows a finding of: its name, label and heading of the part."""
    above, label, title, fence = "", "", "", ""
    for line in re.sub(r"<!--.*?-->", "", text, flags=re.DOTALL).splitlines():
        if mark := re.match(r"`{3,}", line):
            fence = "" if fence and len(mark[0]) >= len(fence) else fence or mark[0]
        if not fence and (head := re.match(r"#+ (.*)", line)):
            label, title = above, head[1]
        elif line.strip():
            named = re.fullmatch(r"\(([a-z0-9-]+)\)=", line)
            above = named[1] if named else ""
        shown = re.match(r"[`:]{3,}\{finds\} (.*)", line)
        for name in [*re.findall(r"checks/([a-z0-9-]+)\.md", line), *(shown[1].split() if shown else ())]:
            yield name, label, title


class ShowCheck(SphinxDirective):
    """What a check means: what is wrong, why it matters, how to fix it, its examples, and where to read on."""

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return the page's nodes."""
        check = own_checks()[self.arguments[0]]
        self.env.note_dependency(check.file)
        lead = paragraph("", "lead")
        lead += self.parse_inline(check.summary)[0]
        return [
            *entry(self.env, "check", check.name, f"check-{check.name}"),
            lead,
            *self.parse_text_to_nodes(_facts(check)),
            *self._part("Why it matters", "why", check.why),
            *self._part("How to fix it", "fix", check.fix),
            section("This fails", "fails", _code(check.module.FAILS, "text")),
            section("This passes", "passes", _code(check.module.PASSES, _lexer(check.module.PASSES))),
            *self._waiving(check),
            *self._part("Source", "source", check.sources),
            *self._further(check),
        ]

    def _part(self, title: str, ident: str, text: str) -> Iterator[nodes.section]:
        if text:
            yield section(title, ident, *self.parse_text_to_nodes(text))

    def _waiving(self, check: KnownCheck) -> Iterator[nodes.section]:
        if check.can_be_waived and check.stage not in ("load", "schema"):
            words = "If the finding is wrong for your machine, say why, at the step, the job or the guide "
            more = self.parse_text_to_nodes(f"{words}([](../tasks/waive.md)):")
            yield section("How to waive it", "waive", *more, _code(f"waive:\n  {check.name}: the reason", "yaml"))

    def _further(self, check: KnownCheck) -> Iterator[nodes.section]:
        """Yield the last part: the checks beside this one, and how to do what it asks for."""
        others = ", ".join(f"[`{name}`]({name}.md)" for name in related_to(check, own_checks()))
        lines = [f"- Related checks: {others}"] if others else []
        lines += [f"- How to: {_to(answer)}" for answer in answers(Path(self.env.srcdir)).get(check.name, [])]
        lines.append(f"- In the same group: {{ref}}`{check.group.title} <{label_of(check.group)}>`")
        yield section("See also", "see-also", *self.parse_text_to_nodes("\n".join(lines)))


def _to(answer: Answer) -> str:
    plain = re.sub(r"[`*]", "", answer.title)
    return f"{{ref}}`{plain} <{answer.label}>`" if answer.label else f"[{plain}](/{answer.docname}.md)"


def _facts(check: KnownCheck) -> str:
    waived = (
        "can be waived, with a reason" if check.can_be_waived else "cannot be waived: missing it can injure somebody"
    )
    found = FOUND_BY.get(check.stage or "")
    return f"**{check.level.value.capitalize()}** · {waived}{f' · found {found}' if found else ''}"


def label_of(group: Group) -> str:
    """Return the label of a group's part of the catalogue."""
    return f"checks-{group.name.lower()}"


def _lexer(example: str) -> str:
    """Return what an example is written in: one with a page of prose in it is no YAML as a whole."""
    return "text" if ".md\n" in example else "yaml"


def _code(text: str, language: str) -> nodes.literal_block:
    text = text.strip("\n")
    return nodes.literal_block(text, text, language=language, classes=["example"])


class ShowChecks(SphinxDirective):
    """All checks: a table for each group, then every name by the alphabet."""

    def run(self) -> list[nodes.Node]:
        """Return the list of groups, a section for each with its table, and the names."""
        checks = own_checks()
        groups = grouped(checks.values())
        std = self.env.domains.standard_domain
        for group in groups:
            std.labels[label_of(group)] = (self.env.docname, label_of(group), group.title)
            std.anonlabels[label_of(group)] = (self.env.docname, label_of(group))
        overview = "\n".join(
            f"- {{ref}}`{group.title} <{label_of(group)}>` ({len(members)}): {group.about}"
            for group, members in groups.items()
        )
        return [
            *self.parse_text_to_nodes(overview),
            *(self._group(group, members) for group, members in groups.items()),
            section("By name", "checks-by-name", self._names(checks)),
            self._pages(checks),
        ]

    def _group(self, group: Group, members: Iterable[KnownCheck]) -> nodes.section:
        rows = [self._row(check) for check in members]
        heads = ["Check", "What is wrong", "Level", "Can be waived"]
        made = table(heads, rows, (22, 54, 12, 12), "checks")
        return section(group.title, label_of(group), paragraph(group.about), made)

    def _row(self, check: KnownCheck) -> list[Cell]:
        """Return one check's row; its name leads to its page."""
        name = nodes.paragraph("", "", _link(check.name))
        summary = nodes.paragraph("", "", *self.parse_inline(check.summary)[0])
        return [name, summary, check.level.value, "yes" if check.can_be_waived else "no"]

    def _names(self, checks: Iterable[str]) -> nodes.bullet_list:
        names = nodes.bullet_list(bullet="-", classes=["names"])
        for name in sorted(checks):
            names += nodes.list_item("", nodes.paragraph("", "", _link(name)))
        return names

    def _pages(self, checks: Iterable[str]) -> nodes.Node:
        pages = [f"checks/{name}" for name in checks]
        return addnodes.toctree(
            parent=self.env.docname, entries=[(None, page) for page in pages], hidden=True, glob=False,
            includefiles=pages, maxdepth=1, caption=None, titlesonly=True, numbered=0, includehidden=False,
            rawentries=[], rawcaption="",
        )  # fmt: skip


def _link(name: str) -> addnodes.pending_xref:
    link = addnodes.pending_xref(
        "", refdomain="std", reftype="doc", reftarget=f"/checks/{name}", refexplicit=True, refwarn=True
    )
    link += nodes.literal(name, name)
    return link


def write_pages(app: Sphinx, config: object) -> None:
    """Write a page for each check before Sphinx looks for pages, and take away those of checks that are gone."""
    del config
    folder = Path(app.srcdir) / "checks"
    for path in folder.glob("*.md"):
        if path.stem != "index" and path.stem not in own_checks():
            path.unlink()
    for name in own_checks():
        path = folder / f"{name}.md"
        text = f"# {name}\n\n```{{putback-check}} {name}\n```\n"
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")


def forget_answers(app: Sphinx, env: BuildEnvironment, docnames: list[str]) -> None:
    """Read the how-to pages again in each build."""
    del app, env, docnames
    answers.cache_clear()


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives."""
    app.connect("config-inited", write_pages)
    app.connect("env-before-read-docs", forget_answers)
    app.add_directive("putback-check", ShowCheck)
    app.add_directive("putback-checks", ShowChecks)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
