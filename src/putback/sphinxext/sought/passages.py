"""What a page says, cut into passages that have an address of their own: sections, steps, messages, rows of tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext import nodes as own
from putback.sphinxext.building import REMARK
from putback.words import labels_for


class Sought(NamedTuple):
    """A passage: what the search can lead to."""

    anchor: str
    """The id of its element; empty for the page itself."""
    number: str
    """The number of a step; empty for all else."""
    title: str
    """What it is called: a heading, the sentence of a step, the name of a thing."""
    text: str
    """What else it says."""
    within: int
    """Which passage of the page it lies in; -1 for the first."""


@dataclass(slots=True)
class _Unclosed:
    """A passage that is being read."""

    anchor: str
    number: str
    within: int
    passing: bool = False
    title: str = ""
    said: list[str] = field(default_factory=list)

    def closed(self) -> Sought:
        return Sought(self.anchor, self.number, _joined([self.title]), _joined(self.said), self.within)


LEFT_OUT = (
    nodes.Invisible,
    nodes.raw,
    nodes.system_message,
    own.index_list,  # it leads to what the search finds
    own.tray,
    addnodes.toctree,
    addnodes.compact_paragraph,  # a table of contents
    addnodes.highlightlang,
)
"""What says nothing of its own."""


def passages(document: nodes.document, named: Mapping[str, Sequence[str]], language: str | None) -> list[Sought]:
    """Return the passages of a page, in its order, of which the first is the page.

    `named` has, for each anchor, what Sphinx knows to be described there: of a step its sentence with part numbers.
    """
    reader = _SoughtReader(named, language)
    page = reader.open("", "", -1)
    first = document.next_node(nodes.section)
    if first is not None:
        page.title = _title(first)
    for child in document.children:
        reader.read(child, 0, top=True)
    reader.index()
    return [each.closed() for each in reader.opened if each.title or each.said]


class _SoughtReader:
    def __init__(self, named: Mapping[str, Sequence[str]], language: str | None) -> None:
        self.named = named
        self.labels = labels_for(language)
        self.opened: list[_Unclosed] = []
        self.anchors: dict[str, _Unclosed] = {}
        self.indexed: list[tuple[str, str, int]] = []
        self.row_above = 0

    def open(self, anchor: str, number: str, within: int) -> _Unclosed:
        """Open a passage; what is described at its anchor is its title."""
        passage = _Unclosed(anchor, number, within)
        if titles := self.named.get(anchor):
            passage.title = titles[0].removeprefix(f"{number} ") if number else titles[0]
            passage.said += titles[1:]
        self.opened.append(passage)
        if anchor:
            self.anchors[anchor] = passage
        return passage

    def read(self, node: nodes.Node, at: int, *, top: bool = False) -> int:
        """Take what a node says into the passage with a place in the list, or into one of its own.

        Returns the place of the passage that takes what is said after it: an anchor without a block opens one.
        """
        if isinstance(node, nodes.Text):
            self.opened[at].said.append(node.astext())
        elif isinstance(node, addnodes.index):
            self.indexed += [(str(words), anchor, at) for _kind, words, anchor, *_ in node["entries"]]
        elif isinstance(node, LEFT_OUT) or _is_head(node) or not isinstance(node, nodes.Element):
            return self.target(node, at)
        elif isinstance(node, nodes.section):
            self.section(node, at, top=top)
        elif isinstance(node, own.step):
            self.step(node, at)
        elif isinstance(node, own.panel) and node["ids"]:
            self.panel(node, at)
        elif isinstance(node, nodes.row) and REMARK in node["classes"]:
            self.children(node, self.row_above)
        elif isinstance(node, nodes.row) and (anchored := _anchored(node)) is not None:
            self.row(node, anchored, at)
        else:
            if isinstance(node, nodes.row):
                self.row_above = at
            before, at = at, self.target(node, at)
            self.label(node, at)
            if at == before or node.astext() not in self.opened[at].title:
                self.children(node, at)
        return at

    def children(self, node: nodes.Element, at: int) -> None:
        """Take what the parts of a node say; a block ends with it."""
        first = at
        for child in node.children:
            at = self.read(child, at)
        if not isinstance(node, nodes.Inline):
            self.opened[at].said.append("\n")
            self.opened[first].said.append("\n")

    def target(self, node: nodes.Node, at: int) -> int:
        """Open a passage for what is described at an anchor that opens none by itself."""
        anchors: list[str] = node["ids"] if isinstance(node, nodes.Element) else []
        for anchor in anchors:
            if self.named.get(anchor) and anchor not in self.anchors:
                self.open(anchor, "", self.lasting(at)).passing = True
                return len(self.opened) - 1
        return at

    def lasting(self, at: int) -> int:
        """Return the section of a passage: what an anchor opens does not hold what the next one opens."""
        return self.opened[at].within if self.opened[at].passing else at

    def label(self, node: nodes.Element, at: int) -> None:
        """Take the label of a node that has one instead of words."""
        if isinstance(node, own.fact | own.otherwise | own.blank):
            label = str(node.get("label", ""))
            self.opened[at].said += [label, ": " if isinstance(node, own.fact) else "\n"]

    def section(self, node: nodes.section, at: int, *, top: bool) -> None:
        """Take a section: the first one of a page is the page."""
        anchor = str(node["ids"][0]) if node["ids"] else ""
        if top and at == 0 and self.opened[0].title == _title(node):
            self.anchors |= dict.fromkeys(node["ids"], self.opened[0])
            here = 0
        else:
            for other in node["ids"][1:]:
                self.anchors.setdefault(other, self.opened[at])
            here = len(self.opened)
            self.open(anchor, "", at).title = _title(node)
        for child in node.children:
            if not isinstance(child, nodes.title):
                here = self.read(child, here)

    def step(self, node: own.step, at: int) -> None:
        """Take a step; the steps of its branches are passages of their own, in the same section."""
        here = len(self.opened)
        passage = self.open(node["ids"][0] if node["ids"] else "", str(node.get("number", "")), at)
        for child in node.children:
            if isinstance(child, own.otherwise):
                self.label(child, here)
                for inner in child.children:
                    self.read(inner, at if isinstance(inner, own.step | own.panel) else here)
            elif isinstance(child, own.step_text) and passage.title:
                # The sentence is the title already; what a reader sees of the variants is not in it.
                limits = [each.astext() for each in child.findall(own.only_when)]
                passage.said += [*limits, "\n"] if limits else []
            else:
                self.read(child, here)

    def panel(self, node: own.panel, at: int) -> None:
        """Take a safety message: its signal word and its hazard are its title."""
        word = self.labels.safety.signal(str(node.get("signal", ""))).upper()
        here = len(self.opened)
        passage = self.open(node["ids"][0], "", at)
        hazard = next(iter(node.findall(own.panel_hazard)), None)
        passage.title = f"{word}: {hazard.astext()}" if hazard is not None else word
        for child in node.children:
            if child is not hazard:
                self.read(child, here)

    def row(self, node: nodes.row, anchored: nodes.Element, at: int) -> None:
        """Take a row of a table in which something is described."""
        here = self.row_above = len(self.opened)
        passage = self.open(anchored["ids"][0], "", at)
        passage.title = passage.title or _joined([anchored.astext()])
        for cell in node.children:
            for child in cell.children if isinstance(cell, nodes.entry) else ():
                if child is not anchored:
                    self.read(child, here)

    def index(self) -> None:
        """Take what an author put in the general index: it leads to the same place, by other words.

        Steps are in that index by themselves, in the words that they have here.
        """
        for words, anchor, at in self.indexed:
            said = ", ".join(part.strip() for part in words.split(";"))
            passage = self.anchors.get(anchor)
            if passage is not None and passage.number:
                continue
            if passage is None:
                passage = self.open(anchor, "", at)
                passage.title = passage.title or said
            if said not in passage.title and said not in passage.said:
                passage.said += ["\n", said, "\n"]


def _title(node: nodes.section) -> str:
    title = next((child for child in node.children if isinstance(child, nodes.title)), None)
    return _joined([title.astext()]) if title is not None else ""


def _is_head(node: nodes.Node) -> bool:
    """Tell whether a node is the head of one of our tables: it is the same above each."""
    table = node.parent.parent if isinstance(node, nodes.thead) else None
    return isinstance(table, nodes.table) and "putback" in table["classes"]


def _anchored(row: nodes.row) -> nodes.Element | None:
    """Return the paragraph of a row at which something is described."""
    return next((each for each in row.findall(nodes.paragraph) if each["ids"]), None)


NOTHING = ("–", "☐")
"""What stands in a cell that says nothing."""


def _joined(said: Sequence[str]) -> str:
    """Return what was said as one line: blocks that do not end as sentences do are set apart."""
    return " ".join(_stopped("".join(said).split("\n")))


def _stopped(blocks: Sequence[str]) -> Iterator[str]:
    plain = [words for block in blocks if (words := " ".join(block.split())) and words not in NOTHING]
    for words in plain[:-1]:
        yield words if words.endswith((".", ":", ";", "!", "?", ",")) else f"{words} ·"
    yield from plain[-1:]
