"""Visitors for what stands on lines of its own: paragraphs, lists, quotes, code, remarks, descriptions."""

from __future__ import annotations

from collections.abc import Callable

from docutils import nodes
from sphinx.locale import admonitionlabels

from putback.typstpdf.escape import clean, literal
from putback.typstpdf.inline import InlineVisitors
from putback.typstpdf.sheet import plain_classes

NUMBERINGS = {
    "arabic": "1",
    "loweralpha": "a",
    "upperalpha": "A",
    "lowerroman": "i",
    "upperroman": "I",
}


class BlockVisitors(InlineVisitors):
    """Everything of prose but headings, tables and pictures."""

    def visit_paragraph(self, node: nodes.Element) -> None:
        if self.is_lone(node):
            # A picture that stands alone is no part of a line; in a paragraph, Typst would press it into one.
            pictures = [child for child in node.children if isinstance(child, nodes.image)]
            self.emit(f"block({self.content(pictures, self.anchors(node))})")
            raise nodes.SkipNode
        self._wrap("leading" if "leads-in" in plain_classes(node) else "p", node)

    visit_compact_paragraph = visit_paragraph

    @staticmethod
    def is_lone(node: nodes.Element) -> bool:
        """Tell whether a paragraph is nothing but a picture, or several, as Markdown writes a picture of its own."""
        pictures = [child for child in node.children if isinstance(child, nodes.image)]
        rest = [child for child in node.children if child not in pictures]
        return (
            isinstance(node, nodes.paragraph)
            and bool(pictures)
            and not any(isinstance(child, nodes.Element) or child.astext().strip() for child in rest)
        )

    def visit_rubric(self, node: nodes.Element) -> None:
        self._wrap("rubric", node)

    visit_centered = visit_rubric

    def visit_caption(self, node: nodes.Element) -> None:
        self._wrap("caption", node)

    def visit_block_quote(self, node: nodes.Element) -> None:
        self._wrap("quoted", node)

    def visit_attribution(self, node: nodes.Element) -> None:
        self._wrap("attribution", node)

    def visit_transition(self, node: nodes.Element) -> None:
        # MyST draws a line above its footnotes, which stand at the foot of the page here.
        if "footnotes" not in plain_classes(node):
            self.emit("transition()")
        raise nodes.SkipNode

    def visit_versionmodified(self, node: nodes.Element) -> None:
        self._wrap("aside", node)

    # lists

    @staticmethod
    def _tight(node: nodes.Element) -> str:
        for item in node.children:
            blocks = [child for child in item.children if not isinstance(child, nodes.Invisible)]
            if len([child for child in blocks if isinstance(child, nodes.paragraph)]) > 1:
                return "false"
            if not all(
                isinstance(child, nodes.paragraph | nodes.bullet_list | nodes.enumerated_list) for child in blocks
            ):
                return "false"
        return "true"

    def _items(self, node: nodes.Element, function: str) -> str:
        items = []
        for item in node.children:
            if isinstance(item, nodes.Element):
                items.append(f"{function}({self.content(item.children, self.anchors(item))})")
        return ",\n".join(items)

    def visit_bullet_list(self, node: nodes.Element) -> None:
        self._pass(node)
        if node.children:
            self.emit(f"list(tight: {self._tight(node)},\n{self._items(node, 'list.item')})")
        raise nodes.SkipNode

    def visit_enumerated_list(self, node: nodes.Element) -> None:
        self._pass(node)
        if node.children:
            sign = NUMBERINGS.get(node.get("enumtype", "arabic"), "1")
            pattern = clean(node.get("prefix", "")) + sign + clean(node.get("suffix", "."))
            start = int(node.get("start", 1))
            items = self._items(node, "enum.item")
            tight = self._tight(node)
            self.emit(f"enum(tight: {tight}, start: {start}, numbering: {literal(pattern)},\n{items})")
        raise nodes.SkipNode

    def visit_definition_list(self, node: nodes.Element) -> None:
        self._pass(node)
        items = []
        for item in node.findall(nodes.definition_list_item):
            if item.parent is not node:
                continue
            terms = [child for child in item.children if isinstance(child, nodes.term | nodes.classifier)]
            rest = [child for child in item.children if child not in terms]
            heads = [self.content(term.children, self.anchors(term)) for term in terms]
            before = self.anchors(item)
            items.append(
                f"terms.item(({','.join(heads)},).join({literal(', ')}), {self.run_in(self._inner(rest), before)})"
            )
        if items:
            self.emit("terms(" + ",\n".join(items) + ")")
        raise nodes.SkipNode

    @staticmethod
    def _inner(children: list[nodes.Node]) -> list[nodes.Node]:
        return [
            inner
            for child in children
            for inner in (child.children if isinstance(child, nodes.definition) else [child])
        ]

    def visit_glossary(self, node: nodes.Element) -> None:
        self._pass(node)

    def visit_field_list(self, node: nodes.Element) -> None:
        self._pass(node)
        items = []
        for field in node.children:
            if isinstance(field, nodes.field):
                name, body = field.children[0], field.children[1:]
                inner = [leaf for part in body if isinstance(part, nodes.Element) for leaf in part.children]
                items.append(f"terms.item({self.content(name.children)}, {self.run_in(inner, self.anchors(field))})")
        if items:
            self.emit("terms(" + ",\n".join(items) + ")")
        raise nodes.SkipNode

    visit_docinfo = visit_field_list

    def visit_option_list(self, node: nodes.Element) -> None:
        items = []
        for item in node.children:
            if isinstance(item, nodes.Element):
                head = ", ".join(option.astext() for option in item.findall(nodes.option))
                body = [leaf for part in item.findall(nodes.description) for leaf in part.children]
                items.append(f"terms.item(lit({self.quoted(head, item)}), {self.run_in(body)})")
        if items:
            self.emit("terms(" + ",\n".join(items) + ")")
        raise nodes.SkipNode

    def visit_line_block(self, node: nodes.Element) -> None:
        self.emit(f"lines(({self._lines(node)},))")
        raise nodes.SkipNode

    def _lines(self, node: nodes.Element, depth: int = 0) -> str:
        lines = []
        for child in node.children:
            if isinstance(child, nodes.line_block):
                lines.append(self._lines(child, depth + 1))
            elif isinstance(child, nodes.line):
                lines.append(f"({depth}, {self.content(child.children)})")
        return ",\n".join(lines)

    # code

    def visit_literal_block(self, node: nodes.Element) -> None:
        self._pass(node)
        self.emit(f"code({self.quoted(node.astext().expandtabs(4), node, blanks=True)})")
        raise nodes.SkipNode

    visit_doctest_block = visit_literal_block

    def visit_math_block(self, node: nodes.Element) -> None:
        self._tell_math(node)
        self.visit_literal_block(node)

    # remarks

    def _remark(self, node: nodes.Element, kind: str) -> None:
        children = list(node.children)
        label = self.quoted(str(admonitionlabels.get(kind, kind.capitalize())), node)
        if children and isinstance(children[0], nodes.title):
            label = self.content(children[0].children)
            children = children[1:]
        grave = "true" if kind in ("danger", "error", "warning", "caution", "attention", "important") else "false"
        self.emit(f"remark({label}, {self.content(children, self.anchors(node))}, grave: {grave})")
        raise nodes.SkipNode

    def _titled(self, node: nodes.Element) -> None:
        children = list(node.children)
        heads = [child for child in children if isinstance(child, nodes.title | nodes.subtitle)]
        head = self.content([leaf for title in heads for leaf in title.children]) if heads else "none"
        rest = [child for child in children if child not in heads]
        self.emit(f"box-of({head}, {self.content(rest, self.anchors(node))})")
        raise nodes.SkipNode

    visit_topic = visit_sidebar = _titled

    # descriptions of things with a signature

    def visit_desc(self, node: nodes.Element) -> None:
        self._pass(node)

    def visit_desc_signature(self, node: nodes.Element) -> None:
        anchors = self.anchors(node)
        self.emit(f"signature({{[]\n{anchors}\n{self.quoted(node.astext(), node)}\n}})")
        raise nodes.SkipNode

    def visit_desc_content(self, node: nodes.Element) -> None:
        self._wrap("quoted", node)


def _remark_visitor(kind: str) -> Callable[[BlockVisitors, nodes.Element], None]:
    def visit(self: BlockVisitors, node: nodes.Element) -> None:
        self._remark(node, kind)

    return visit


for _kind in (*admonitionlabels, "admonition", "error"):
    setattr(BlockVisitors, f"visit_{_kind}", _remark_visitor(_kind))
