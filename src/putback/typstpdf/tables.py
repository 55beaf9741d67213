"""How tables print: spans, repeated heads, and what the template must know to make each column wide enough."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from docutils import nodes

from putback.typstpdf.escape import breakable, clean, literal, one_line
from putback.typstpdf.pen import Looks, Pen, ids, is_within, listed, option, plain_classes, ranged, whole, yes
from putback.typstpdf.shares import GUTTER, ROOM, best_shares

BULK = 60
"""What is no plain text takes as much room as a line of so many characters."""

SHORT = 14
"""A column whose longest cell has at most so many characters stands on one line where there is room."""

NEAR = 2
"""A cell with so many letters less than the longest may be the widest."""

MEASURED = 8
"""So many of the longest words of a column are measured: one of fewer letters is hardly wider."""

SMALL_ROWS, SMALL_COLUMNS, SMALL_TEXT = 12, 6, 400
"""A table with at most so many rows, columns and characters is kept on one page: even with all of its text in one
narrow column it is about half a page high."""

KEPT = {
    "symptoms": (14, 1400), "card": (16, 1800), "schedule": (16, 1200), "calendar": (16, 1400), "wear": (14, 1200),
    "kits": (12, 1400), "revisions": (10, 1200), "supplies": (12, 700),
}  # fmt: skip
"""Tables of a class that are kept on one page as well: with at most so many rows, and so many characters."""

LOW = 200
"""A row is lower than a page when no cell has more characters, even if its columns hold four letters each."""

BULKY = (nodes.image, nodes.literal_block, nodes.table)
"""What takes room that its words do not tell of."""

REMARK = "remark-row"
"""Class of a row that belongs to the one above it."""

UNBROKEN = "unbroken"
"""Class of words that stand on one line of a cell: their column is made wide enough for them."""

_BREAKS = re.compile(r"[ \t\n\u200b]+|(?<=[-\u2010\u2014])|(?<=\u2013)(?!\d)")
"""Where a line may break; not at a no-break space, nor within a range of numbers."""

PAGE_NUMBER = 9
"""What refers to another place takes so many characters more: the number of its page stands after it."""

NAMED = 34
"""Where rows have remarks, the names before them take no more than so many characters: the remarks take the room."""

SIDES = {"text-left": "left", "text-center": "center", "text-right": "right"}


@dataclass(slots=True)
class _Column:
    """What the width of a column depends on."""

    share: int = 1
    """How much of the room it wants: the characters of its longest cell, or what the author gave."""
    longest: str = ""
    """The text of the longest cell."""
    cells: set[str] = field(default_factory=set)
    """The texts of its cells, as far as they are short."""
    words: dict[str, int] = field(default_factory=dict)
    """What must not be parted, as Typst source, and how many letters it has."""

    @property
    def source(self) -> str:
        longest = sorted(self.words, key=lambda word: (-self.words[word], word))[:MEASURED]
        # Of cells with as many letters, one can be wider than the other: "12 months" is wider than "Or every".
        near = sorted(cell for cell in self.cells if len(cell) >= len(self.longest) - NEAR)[-MEASURED:]
        short = f"({listed(map(literal, near))})" if 0 < len(self.longest) <= SHORT else "none"
        return f"({self.share}, {short}, ({listed(longest)}))"


def print_table(pen: Pen, node: nodes.Element, *, tail: str = "") -> None:
    """Print a table; each of its groups stands for itself.

    `tail` is the height of what must stand on the same page as its last rows, as Typst writes it. Such a table has no
    cell over several rows or columns.
    """
    titles = [child for child in node.children if isinstance(child, nodes.title)]
    given = "colwidths-given" in plain_classes(node)
    for group in node.children:
        if not isinstance(group, nodes.tgroup):
            continue
        columns = _columns(pen, group, given=given)
        head = _rows(pen, group, nodes.thead) if _says_something(group) else []
        body = _rows(pen, group, nodes.tbody)
        if not columns or not (head or body):
            continue
        number = figure_number(pen, node, "table")
        caption = pen.content(titles[0].children, number) if titles else "none"
        small = (not given and _is_small(group, len(columns))) or _is_kept(node, group)
        options = f"small: {yes(small)}{option('tail', tail)}"
        pen.emit(
            f"grid-table(({listed(column.source for column in columns)}), ({listed(head)}), ({listed(body)}),"
            f" caption: {caption}, before: {pen.content([], pen.anchors(node))}, {options})"
        )


def figure_number(pen: Pen, node: nodes.Element, kind: str) -> str:
    """Return the source of "Table 3" as Sphinx counts it; nothing without `numfig`."""
    numbers = pen.env.toc_fignumbers.get(pen.docname, {}).get(kind, {})
    for target in ids(node):
        if target in numbers:
            pattern = pen.config.numfig_format.get(kind, "%s")
            text = pattern % ".".join(map(str, numbers[target]))
            return f"strong({pen.quoted(text + ' ', node)})"
    return ""


def _columns(pen: Pen, group: nodes.Element, *, given: bool) -> list[_Column]:
    specs = [child for child in group.children if isinstance(child, nodes.colspec)]
    columns = [_Column(max(1, int(spec.get("colwidth", 1))) if given else 1) for spec in specs]
    taken: set[tuple[int, int]] = set()
    rows: list[list[list[int]]] = []
    for at, row in enumerate(group.findall(nodes.row)):
        place = 0
        rows.append([[] for _ in specs])
        for entry in row.children:
            if not isinstance(entry, nodes.entry):
                continue
            while (at, place) in taken:
                place += 1
            across, down = entry.get("morecols", 0) + 1, entry.get("morerows", 0) + 1
            taken.update((at + y, place + x) for y in range(down) for x in range(across))
            if across == 1 and place < len(columns):
                columns[place].words.update(_words(pen, entry))
                rows[-1][place] = _lengths(entry)
                wish = max(rows[-1][place], default=1)
                if not given and wish > columns[place].share:
                    columns[place].share = wish
                    columns[place].longest = one_line(clean(entry.astext()))
                if not given and wish <= SHORT:
                    columns[place].cells.add(one_line(clean(entry.astext())))
            place += across
    if not given:
        noted = any(REMARK in plain_classes(row) for row in group.findall(nodes.row))
        if noted:
            rows = [[[min(length, NAMED) for length in row[0]], *row[1:]] for row in rows]
        for column, share in zip(columns, best_shares([_need(column) for column in columns], rows), strict=True):
            column.share = max(1, share)
        spare = ROOM - GUTTER * 2 * len(columns) - sum(column.share for column in columns)
        if noted and spare > 0 and len(columns[-1].longest) > SHORT:
            columns[-1].share += spare
    return columns


def _need(column: _Column) -> int:
    return max(column.words.values(), default=1)


def _lengths(entry: nodes.Element) -> list[int]:
    """Return how many characters each paragraph of a cell has."""
    # A picture or a list in a cell needs room that its text does not tell of.
    if not all(isinstance(child, nodes.paragraph) for child in entry.children):
        return [BULK, len(entry.astext())]
    return [len(part.astext()) + PAGE_NUMBER * _pointers(part) for part in entry.children]


def _pointers(part: nodes.Node) -> int:
    """Return after how many words of a paragraph the number of a page stands."""
    return sum(1 for link in part.findall(nodes.reference) if link.get("internal"))


def _words(pen: Pen, entry: nodes.Element) -> Iterator[tuple[str, int]]:
    """Yield what a line of a cell cannot break, as Typst source, and how many letters it has."""
    for element in entry.findall(nodes.Element):
        if UNBROKEN in plain_classes(element):
            yield pen.quoted(element.astext()), len(element.astext())
    for text in entry.findall(nodes.Text):
        call = "lit" if isinstance(text.parent, nodes.literal) else ""
        if is_within(text, nodes.list_item):
            call = "indented"
        for word in _BREAKS.split(breakable(one_line(text.astext()))):
            if word:
                yield f"{call}({pen.quoted(word)})", len(word)


def _rows(pen: Pen, group: nodes.Element, kind: type[nodes.Element]) -> list[str]:
    cells = []
    stubs = [bool(spec.get("stub")) for spec in group.children if isinstance(spec, nodes.colspec)]
    for part in group.children:
        if not isinstance(part, kind):
            continue
        rows = [row for row in part.children if isinstance(row, nodes.row)]
        for at, row in enumerate(rows):
            before = pen.anchors(row)
            low = _is_low(row)
            # A remark on the row above it: no rule between the two.
            seam = "top" if REMARK in plain_classes(row) else "bottom" if _has_remark(rows, at) else ""
            for column, entry in enumerate(row.children):
                if isinstance(entry, nodes.entry):
                    strong = kind is nodes.thead or (column < len(stubs) and stubs[column])
                    cells.append(_cell(pen, entry, len(rows) - at, before, strong, low=low, seam=seam))
                    before = ""
    return cells


def _says_something(group: nodes.Element) -> bool:
    """Tell whether a table has a head with words: a form of writing may ask for one where there is nothing to say."""
    heads = [child for child in group.children if isinstance(child, nodes.thead)]
    return any(head.astext().strip() or any(True for _ in head.findall(nodes.image)) for head in heads)


def _is_low(row: nodes.Element) -> bool:
    """Tell whether a row is surely lower than a page, so that it need not be broken over two."""
    words = not any(True for kind in BULKY for _ in row.findall(kind))
    cells = [cell for cell in row.children if isinstance(cell, nodes.entry)]
    short = all(len(cell.astext()) <= LOW * (cell.get("morecols", 0) + 1) for cell in cells)
    return words and len(cells) <= SMALL_COLUMNS + 2 and short


def _has_remark(rows: list[nodes.row], at: int) -> bool:
    return at + 1 < len(rows) and REMARK in plain_classes(rows[at + 1])


def _cell(
    pen: Pen, entry: nodes.Element, rows_left: int, before: str, strong: bool, *, low: bool, seam: str = ""
) -> str:
    across = entry.get("morecols", 0) + 1
    # A span that reaches past its part of the table would break the layout of the whole.
    down = min(entry.get("morerows", 0) + 1, rows_left)
    side = next((SIDES[name] for name in plain_classes(entry) if name in SIDES), "")
    options = option("colspan", str(across) if across > 1 else "")
    options += option("rowspan", str(down) if down > 1 else "")
    options += option("align", side) + option("breakable", "false" if low else "")
    if seam and down == 1:
        options += f", stroke: ({seam}: none), inset: {'below' if seam == 'top' else 'above'}-seam"
    anchors = "\n".join(part for part in (before, pen.anchors(entry)) if part)
    body = ranged(pen.content(_bare(entry), anchors))
    return f"table.cell({f'strong({body})' if strong else body}{options})"


def _bare(entry: nodes.Element) -> list[nodes.Node]:
    """Return what a cell holds; of a single plain paragraph its words, because a paragraph costs as much again."""
    if len(entry.children) == 1 and isinstance(only := entry.children[0], nodes.paragraph):
        plain = not ids(only) and not only.get("classes")
        return list(only.children) if plain else [only]
    return list(entry.children)


def _is_small(group: nodes.Element, columns: int) -> bool:
    """Tell whether a table is surely lower than half a page."""
    rows = sum(1 for _ in group.findall(nodes.row))
    words = not any(True for kind in BULKY for _ in group.findall(kind))
    return words and rows <= SMALL_ROWS and columns <= SMALL_COLUMNS and len(group.astext()) <= SMALL_TEXT


def _is_kept(node: nodes.Element, group: nodes.Element) -> bool:
    """Tell whether a table is one that is kept on one page, and fits there."""
    rows, text = sum(1 for _ in group.findall(nodes.row)), len(group.astext())
    limits = [KEPT[name] for name in plain_classes(node) if name in KEPT]
    return any(rows <= most and text <= room for most, room in limits)


TABLES: Looks = {nodes.table: whole(print_table)}
"""Looks of tables."""
