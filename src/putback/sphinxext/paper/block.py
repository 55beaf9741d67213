"""How the block that opens a job prints."""

from __future__ import annotations

from itertools import groupby

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext.paper.sheet import is_sheet, print_sheet_setup
from putback.typstpdf.pen import Looks, Pen, listed, option, ranged, whole, yes

BULKY = (nodes.table, nodes.image, nodes.literal_block, nodes.line_block, own.drawing)
"""What takes room that its words do not tell of."""

SHORT = 56
"""A line of so many characters fits a half column."""

PARTED = 1.6
"""A list stands in a half column unless it takes there more than so many times the lines that it has."""

HALF = 36
"""A fact of so many characters stands in one line of a half column, after its label."""

LOW = 30
"""A set-up block of at most so many lines, half columns below each other, is lower than half a page."""

MANY = 10
"""So many lists of a set-up block are spread over two columns in the best way; more of them stand at the left."""


def print_setup(pen: Pen, node: nodes.Element) -> None:
    """Print the opening block, its parts side by side where they are short."""
    if is_sheet(pen):
        print_sheet_setup(pen, node)
        return
    pen.headings.minor = True
    children = [child for child in node.children if isinstance(child, nodes.Element)]
    narrow = [child for child in children if not _is_wide(child)]
    first = children.index(narrow[0]) if narrow else len(children)
    left, right = _balanced(narrow)
    # The short lists share one place, where the first of them stands: the block should fit on one page.
    groups = (children[:first], left, right, [child for child in children[first:] if child not in narrow])
    sources = [f"({listed([ranged(pen.content([child])) for child in group])})" for group in groups]
    pen.headings.minor = False
    low = option("low", "true" if _is_low(node) else "")
    pen.emit(f"setup-block({', '.join(sources)}, before: {pen.content([], pen.anchors(node))}{low})")


def _is_low(node: nodes.Element) -> bool:
    """Tell whether the block surely fits below the title of its job, so that it need not be measured."""
    bulky = any(True for kind in BULKY for _ in node.findall(kind))
    values = sum(-(-len(fact.astext()) // SHORT) or 1 for fact in node.findall(own.fact))
    headings = 2 * sum(1 for _ in node.findall(nodes.section))
    return not bulky and values + headings + sum(_lines(node)) <= LOW


def _balanced(parts: list[nodes.Element]) -> tuple[list[nodes.Element], list[nodes.Element]]:
    """Return `parts` in two columns of about the same height, each in their order."""
    heights = [2 + sum(_lines(part)) for part in parts]
    # Which parts stand at the right, as bits; the first part always stands at the left.
    choices = range(0, 2 ** min(len(parts), MANY), 2)
    best = min(
        choices, key=lambda right: abs(sum(height * (-1) ** (right >> at & 1) for at, height in enumerate(heights)))
    )
    at_right = [part for at, part in enumerate(parts) if best >> at & 1]
    return [part for part in parts if part not in at_right], at_right


def _is_wide(node: nodes.Element) -> bool:
    if isinstance(node, own.facts) or not isinstance(node, nodes.section | nodes.bullet_list):
        return True
    if any(True for kind in (nodes.table, nodes.image, nodes.literal_block) for _ in node.findall(kind)):
        return True
    lines = _lines(node)
    return sum(lines) > PARTED * len(lines)


def _lines(node: nodes.Element) -> list[int]:
    """Return how many lines each paragraph takes in a half column."""
    return [-(-len(paragraph.astext()) // SHORT) or 1 for paragraph in node.findall(nodes.paragraph)]


def _is_short(fact: nodes.Element) -> bool:
    plain = all(isinstance(part, nodes.paragraph | nodes.Text | nodes.Inline) for part in fact.children)
    return plain and len(fact.astext()) <= HALF


def print_facts(pen: Pen, node: nodes.Element) -> None:
    """Print labels and values, short ones in two columns."""
    facts, children = [], [child for child in node.children if isinstance(child, own.fact)]
    for short, run in groupby(children, _is_short):
        row = [*run]
        for at, child in enumerate(row):
            # One that has none beside it has the whole width.
            long = not short or (at == len(row) - 1 and at % 2 == 0)
            label = pen.quoted(child.get("label", ""), child)
            facts.append(f"({yes(long)}, {label}, {pen.content(child.children, pen.anchors(child))})")
    pen.emit(f"facts-block(({listed(facts)}), before: {pen.content([], pen.anchors(node))})")


def print_fact(pen: Pen, node: nodes.Element) -> None:
    """Print one label and value that stands alone."""
    label = pen.quoted(node.get("label", ""), node)
    pen.emit(f"facts-block(((true, {label}, {pen.content(node.children, pen.anchors(node))}),))")


BLOCK: Looks = {
    own.setup: whole(print_setup),
    own.facts: whole(print_facts),
    own.fact: whole(print_fact),
}
"""Looks of the set-up block."""
