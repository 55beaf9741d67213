"""Pages for outputs that know nothing of this extension: its nodes become ordinary ones, and no word is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.words import labels_for
from putback.words.labels import Labels

if TYPE_CHECKING:
    from sphinx.application import Sphinx


def plain_nodes(app: Sphinx, document: nodes.document, docname: str) -> None:
    """Replace the nodes of this extension where the builder's format has no visitors for them.

    Innermost first, so that their parents find ordinary children.
    """
    del docname
    unknown = () if app.builder.format == "typst" else own.ONLY_ON_PAPER if app.builder.format == "html" else own.ALL
    for node in reversed(list(document.findall(lambda node: isinstance(node, unknown)))):
        if isinstance(node, nodes.Element):
            node.replace_self(list(plain(node, labels_for(app.config.language))))


def plain(node: nodes.Element, labels: Labels) -> list[nodes.Node]:
    """Return ordinary nodes that say what a node says."""
    children = list(node.children)
    match node:
        case own.torque() | own.only_when():
            return _strong(node.astext())
        case own.step_text() | own.panel_hazard() | own.panel_consequence() | own.panel_wear() | own.index_use():
            return [nodes.paragraph("", "", *children)]
        case own.blank():
            return [nodes.paragraph("", f"{node['label']}: ______ {node.get('unit', '')}".rstrip())]
        case own.grid():
            boxes = ", ".join(f"[ ] {name}" for name in node["places"])
            return [nodes.paragraph("", f"{node['label']}: {boxes}")]
        case own.tray_field():
            return [_numbered(node["number"], children)]
        case own.drawing():
            return [*children, *(nodes.paragraph("", words) for _, words in own.drawings_of(node))]
        case own.callout_entry():
            return [nodes.paragraph("", f"{node['number']}: {node.astext()}")]
        case own.fact():
            return _labelled(node["label"], children)
        case own.step():
            box = "[ ] " if "follow-up" in node["classes"] else ""
            return [_numbered(f"{box}{node.get('number', '')}", children)]
        case own.otherwise():
            return [nodes.block_quote("", nodes.paragraph("", node.get("label", "")), *children)]
        case own.panel():
            word = labels.safety.signal(node.get("signal", ""))
            # In a container: some writers run the paragraphs of an admonition together.
            return [nodes.admonition("", nodes.title("", word), nodes.container("", *children))]
        case own.setup():
            return [_without_sections(child) for child in children]
        case _:
            return children


def _strong(text: str) -> list[nodes.Node]:
    """Return words that stand out; a blank before or after them stays outside, or marks of emphasis would show."""
    words = text.strip()
    before, after = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
    strong = nodes.strong(words, words)
    return [*(nodes.Text(blank) for blank in (before,) if blank), strong, *(nodes.Text(b) for b in (after,) if b)]


def _labelled(label: str, children: list[nodes.Node]) -> list[nodes.Node]:
    """Return a labelled value: one paragraph when the value is one, otherwise the label above it."""
    first, rest = children[:1], children[1:]
    line = nodes.paragraph("", "", *_strong(f"{label}:"))
    if first and isinstance(first[0], nodes.paragraph):
        line += nodes.Text(" ")
        line += first[0].children
        return [line, *rest]
    return [line, *children]


def _numbered(number: str, children: list[nodes.Node]) -> nodes.Node:
    first = next((child for child in children if isinstance(child, nodes.paragraph)), None)
    if first is not None:
        first.insert(0, nodes.Text(f"{number}. "))
    return nodes.container("", *children, classes=["step"])


def _without_sections(node: nodes.Node) -> nodes.Node:
    """A section inside a block is a heading and what follows."""
    if not isinstance(node, nodes.section):
        return node
    title, *rest = node.children
    return nodes.container("", nodes.rubric("", title.astext()), *rest)
