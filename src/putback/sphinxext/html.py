"""How HTML shows the nodes of this extension: plain elements with classes; all looks are in `putback.css`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from docutils import nodes

from putback.sphinxext import nodes as own

Visitor = Callable[[Any, Any], None]

SIGNAL_WORDS = {"danger": "Danger", "warning": "Warning", "caution": "Caution", "notice": "Notice"}

_ALERT = (
    '<svg class="alert-symbol" viewBox="0 0 24 22" aria-hidden="true" focusable="false">'
    '<path d="M12 1 23.3 21H.7Z"/><path class="mark" d="M12 7.5v6.6M12 16.6v2"/></svg>'
)
"""The safety alert symbol, drawn by us after the description in ISO 3864-2: a triangle with an exclamation mark."""


def _element(tag: str, name: str) -> tuple[Visitor, Visitor]:
    def visit(self: Any, node: nodes.Element) -> None:
        self.body.append(self.starttag(node, tag, "" if tag in _INLINE else "\n", CLASS=name))

    def depart(self: Any, node: nodes.Element) -> None:
        del node
        self.body.append(f"</{tag}>\n" if tag not in _INLINE else f"</{tag}>")

    return visit, depart


_INLINE = ("span", "strong")


def visit_setup(self: Any, node: nodes.Element) -> None:
    """Open the set-up block; the headings in it are one level below the job's."""
    self.body.append(self.starttag(node, "div", CLASS="set-up"))


def depart_block(self: Any, node: nodes.Element) -> None:
    """Close a block."""
    del node
    self.body.append("</div>\n")


def visit_fact(self: Any, node: nodes.Element) -> None:
    """Write the label of a fact and open its value."""
    self.body.append(f"<div><dt>{self.encode(node.get('label', ''))}</dt><dd>")


def depart_fact(self: Any, node: nodes.Element) -> None:
    """Close a fact."""
    del node
    self.body.append("</dd></div>\n")


def visit_step(self: Any, node: nodes.Element) -> None:
    """Write a step with a box to tick; the box is remembered by nothing and nobody."""
    number = self.encode(str(node.get("number", "")))
    self.body.append(self.starttag(node, "div", CLASS="step"))
    if node.get("box"):
        self.body.append(
            f'<label class="tick"><input type="checkbox" autocomplete="off" aria-label="Step {number} done">'
            f'<span class="number">{number}</span></label>'
        )
    self.body.append('<div class="step-body">')


def depart_step(self: Any, node: nodes.Element) -> None:
    """Close a step."""
    del node
    self.body.append("</div></div>\n")


def visit_blank(self: Any, node: nodes.Element) -> None:
    """Write a place to fill in, which prints as a line to write on."""
    label, unit = self.encode(node.get("label", "")), self.encode(node.get("unit", ""))
    after = f'<span class="unit">{unit}</span>' if unit else ""
    self.body.append(
        f'<div class="blank"><label><span class="blank-label">{label}</span> '
        f'<input type="text" autocomplete="off">{after}</label></div>\n'
    )
    raise nodes.SkipNode


def visit_otherwise(self: Any, node: nodes.Element) -> None:
    """Open a branch with what leads to it."""
    self.body.append(self.starttag(node, "div", CLASS="otherwise"))
    self.body.append(f'<p class="otherwise-label">{self.encode(node.get("label", ""))}</p>\n')


def visit_panel(self: Any, node: nodes.Element) -> None:
    """Open a safety message with its signal word; read aloud, the word comes first."""
    signal = node.get("signal", "warning")
    word = SIGNAL_WORDS.get(signal, "Warning")
    symbol = "" if signal == "notice" else _ALERT
    self.body.append(self.starttag(node, "div", CLASS=f"panel panel-{signal}", role="note", **{"aria-label": word}))
    self.body.append(f'<p class="signal">{symbol}<span>{word}</span></p><div class="panel-body">\n')


def depart_panel(self: Any, node: nodes.Element) -> None:
    """Close a safety message."""
    del node
    self.body.append("</div></div>\n")


def nothing(self: Any, node: nodes.Element) -> None:
    """Write nothing."""
    del self, node


VISITORS: dict[type[nodes.Element], tuple[Visitor, Visitor]] = {
    own.setup: (visit_setup, depart_block),
    own.facts: _element("dl", "facts"),
    own.fact: (visit_fact, depart_fact),
    own.steps: _element("div", "steps"),
    own.step: (visit_step, depart_step),
    own.step_text: _element("p", "step-text"),
    own.only_when: _element("span", "only-when"),
    own.torque: _element("strong", "torque"),
    own.blank: (visit_blank, nothing),
    own.otherwise: (visit_otherwise, depart_block),
    own.panel: (visit_panel, depart_panel),
    own.panel_hazard: _element("p", "hazard"),
    own.panel_consequence: _element("p", "consequence"),
    own.panel_avoid: _element("div", "avoid"),
    own.signoff: _element("div", "sign-off"),
}
"""For each node, how it opens and closes."""
