"""Visitors for tables: widths, spans, repeated heads."""

from __future__ import annotations

import re

from docutils import nodes

from putback.typstpdf.blocks import BlockVisitors
from putback.typstpdf.sheet import ids, plain_classes

NARROW = 14
"""A column whose longest cell has at most so many characters is as wide as its words; the others share the rest."""

WIDEST = 60
"""More characters than this in a cell do not make its column any wider."""

SMALL_ROWS, SMALL_COLUMNS, SMALL_TEXT = 12, 6, 400
"""A table with at most so many rows, columns and characters is kept on one page: even with all of its text in one
narrow column it is about half a page high."""

PAGE = 50.0
"""Width of a page's text, em of a table's letters; A4, the narrower paper."""

LETTER, BESIDE = 0.56, 1.4
"""Widths, em: a letter, bold ones among them; what is beside a column, and some to spare."""

LONG = 14
"""A word of more letters may be parted, and makes no column wider."""

_BREAKS = re.compile(r"[ \t\n\u200b]+|(?<=[-\u2010\u2013\u2014])")
"""Where a line may break; not at a no-break space."""

SIDES = {"text-left": "left", "text-center": "center", "text-right": "right"}


class TableVisitors(BlockVisitors):
    """Tables."""

    def visit_table(self, node: nodes.Element) -> None:
        titles = [child for child in node.children if isinstance(child, nodes.title)]
        groups = [child for child in node.children if isinstance(child, nodes.tgroup)]
        for group in groups:
            widths = self._widths(node, group)
            head = self._rows(group, nodes.thead)
            body = self._rows(group, nodes.tbody)
            if not widths or not (head or body):
                continue
            number = self.figure_number(node, "table")
            caption = self.content(titles[0].children, number) if titles else "none"
            small = "true" if _is_small(group, widths) and "colwidths-given" not in plain_classes(node) else ""
            self.emit(
                f"grid-table(({', '.join(widths)},), ({_listed(head)}), ({_listed(body)}), caption: {caption},"
                f" before: {self.content([], self.anchors(node))}{self.option('small', small)})"
            )
        raise nodes.SkipNode

    def figure_number(self, node: nodes.Element, kind: str) -> str:
        """Return the source of "Table 3" as Sphinx counts it; nothing without `numfig`."""
        numbers = self.builder.env.toc_fignumbers.get(self.docname, {}).get(kind, {})
        for target in ids(node):
            if target in numbers:
                pattern = self.config.numfig_format.get(kind, "%s")
                text = pattern % ".".join(map(str, numbers[target]))
                return f"strong({self.quoted(text + ' ', node)})"
        return ""

    @staticmethod
    def _widths(table: nodes.Element, group: nodes.Element) -> list[str]:
        specs = [child for child in group.children if isinstance(child, nodes.colspec)]
        longest, word = [1] * len(specs), [1] * len(specs)
        taken: dict[tuple[int, int], bool] = {}
        for at, row in enumerate(group.findall(nodes.row)):
            column = 0
            for entry in row.children:
                if not isinstance(entry, nodes.entry):
                    continue
                while taken.get((at, column)):
                    column += 1
                across, down = entry.get("morecols", 0) + 1, entry.get("morerows", 0) + 1
                taken.update(((at + y, column + x), True) for y in range(down) for x in range(across))
                if across == 1 and column < len(longest):
                    text = entry.astext()
                    # A picture or a list in a cell needs room that its text does not tell of.
                    plain = all(isinstance(child, nodes.paragraph) for child in entry.children)
                    longest[column] = max(longest[column], min(len(text) if plain else WIDEST, WIDEST))
                    word[column] = max(word[column], *(min(len(part), LONG) for part in _BREAKS.split(text)))
                column += across
        if "colwidths-given" in plain_classes(table):
            return _roomy([max(1, int(spec.get("colwidth", 1))) for spec in specs], word)
        if all(length <= NARROW for length in longest):
            return _roomy([length + 4 for length in longest], word)
        own = sum(LETTER * length + BESIDE for length in longest if length <= NARROW)
        wide = [at for at, length in enumerate(longest) if length > NARROW]
        shares = dict(
            zip(wide, _roomy([longest[at] for at in wide], [word[at] for at in wide], PAGE - own), strict=True)
        )
        return [shares.get(at, "auto") for at in range(len(longest))]

    def _rows(self, group: nodes.Element, kind: type[nodes.Element]) -> list[str]:
        cells = []
        stubs = [bool(spec.get("stub")) for spec in group.children if isinstance(spec, nodes.colspec)]
        for part in group.children:
            if not isinstance(part, kind):
                continue
            rows = [row for row in part.children if isinstance(row, nodes.row)]
            for at, row in enumerate(rows):
                before = self.anchors(row)
                for column, entry in enumerate(row.children):
                    if isinstance(entry, nodes.entry):
                        strong = kind is nodes.thead or (column < len(stubs) and stubs[column])
                        cells.append(self._cell(entry, len(rows) - at, before, strong))
                        before = ""
        return cells

    def _cell(self, entry: nodes.Element, rows_left: int, before: str, strong: bool) -> str:
        across = entry.get("morecols", 0) + 1
        # A span that reaches past its part of the table would break the layout of the whole.
        down = min(entry.get("morerows", 0) + 1, rows_left)
        side = next((SIDES[name] for name in plain_classes(entry) if name in SIDES), "")
        options = self.option("colspan", str(across) if across > 1 else "")
        options += self.option("rowspan", str(down) if down > 1 else "")
        options += self.option("align", side)
        anchors = "\n".join(part for part in (before, self.anchors(entry)) if part)
        body = self.content(entry.children, anchors)
        return f"table.cell({f'strong({body})' if strong else body}{options})"


def _roomy(shares: list[int], words: list[int], room: float = PAGE) -> list[str]:
    """Return the shares of columns, each at least as wide as the longest word in it, where they have that room (em).

    A word that is wider than its column would run into the next one.
    """
    needs = [LETTER * length + BESIDE for length in words]
    if sum(needs) > room:
        return [f"{need:.1f}fr" for need in needs]
    tight: set[int] = set()
    while True:
        free = room - sum(needs[at] for at in tight)
        whole = sum(share for at, share in enumerate(shares) if at not in tight)
        more = {at for at, share in enumerate(shares) if at not in tight and free * share / whole < needs[at]}
        if not more:
            break
        tight |= more
    if not tight:
        return [f"{share}fr" for share in shares]
    return [f"{needs[at] if at in tight else free * share / whole:.1f}fr" for at, share in enumerate(shares)]


def _is_small(group: nodes.Element, widths: list[str]) -> bool:
    """Tell whether a table is surely lower than half a page."""
    rows = sum(1 for _ in group.findall(nodes.row))
    words = not any(True for kind in (nodes.image, nodes.literal_block, nodes.table) for _ in group.findall(kind))
    return words and rows <= SMALL_ROWS and len(widths) <= SMALL_COLUMNS and len(group.astext()) <= SMALL_TEXT


def _listed(cells: list[str]) -> str:
    return "".join(cell + ",\n" for cell in cells)
