"""Visitors for the nodes of this extension: `VISITORS`, and nothing else, is what the extension registers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.typstpdf.escape import literal
from putback.typstpdf.translator import TypstTranslator

SIGNALS = ("danger", "warning", "caution", "notice")
"""The signal words of ANSI Z535.6, gravest first."""

SHORT = 56
"""A fact or a set-up list whose longest line has at most so many characters fits a half column."""

MANY = 10
"""So many lists of a set-up block are spread over two columns in the best way; more of them stand at the left."""

SURELY_LOW = 900
"""A step with its panels and no more characters than this, nor anything but words, is lower than a page and need not
be measured (a page of the manual holds more than 3000 characters)."""

BULKY = (nodes.image, nodes.table, nodes.literal_block, nodes.line_block, own.otherwise)
"""What takes room that its words do not tell of."""

LINES = (
    nodes.paragraph, nodes.list_item, own.blank, own.torque, own.panel, own.panel_hazard, own.panel_consequence,
    own.panel_wear,
)  # fmt: skip
"""What takes a line at least."""

Visitor = Callable[[Any, Any], None]


def visit_setup(self: TypstTranslator, node: nodes.Element) -> None:
    """Print the opening block, its parts side by side where they are short."""
    self.in_setup = True
    children = [child for child in node.children if isinstance(child, nodes.Element)]
    narrow = [child for child in children if not _is_wide(child)]
    first = children.index(narrow[0]) if narrow else len(children)
    left, right = _balanced(narrow)
    # The short lists share one place, where the first of them stands: the block should fit on one page.
    groups = (children[:first], left, right, [child for child in children[first:] if child not in narrow])
    sources = [f"({_listed([self.content([child]) for child in group])})" for group in groups]
    self.in_setup = False
    self.emit(f"setup-block({', '.join(sources)}, before: {self.content([], self.anchors(node))})")
    raise nodes.SkipNode


def _balanced(parts: list[nodes.Element]) -> tuple[list[nodes.Element], list[nodes.Element]]:
    """Return `parts` in two columns of about the same height, each in their order."""
    heights = [2 + sum(1 for _ in part.findall(nodes.paragraph)) for part in parts]
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
    return any(len(paragraph.astext()) > SHORT for paragraph in node.findall(nodes.paragraph))


def visit_facts(self: TypstTranslator, node: nodes.Element) -> None:
    """Print labels and values, short ones in two columns."""
    facts = []
    for child in node.children:
        if isinstance(child, own.fact):
            plain = all(isinstance(part, nodes.paragraph | nodes.Text | nodes.Inline) for part in child.children)
            long = not plain or len(child.astext()) > SHORT
            label = self.quoted(child.get("label", ""), child)
            facts.append(f"({_yes(long)}, {label}, {self.content(child.children, self.anchors(child))})")
    self.emit(f"facts-block(({_listed(facts)}), before: {self.content([], self.anchors(node))})")
    raise nodes.SkipNode


def visit_fact(self: TypstTranslator, node: nodes.Element) -> None:
    """Print one label and value that stands alone."""
    label = self.quoted(node.get("label", ""), node)
    self.emit(f"facts-block(((true, {label}, {self.content(node.children, self.anchors(node))}),))")
    raise nodes.SkipNode


def visit_steps(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a run of steps, each panel together with the step that it stands above."""
    self._pass(node)
    self.emit(_run(self, node.children))
    raise nodes.SkipNode


def _run(self: TypstTranslator, children: list[nodes.Node]) -> str:
    """Return the source of steps; what stands between a panel and its step is kept with them."""
    parts = []
    waiting: list[nodes.Node] = []
    for child in children:
        if isinstance(child, own.step):
            parts.append(_unit(self, waiting, child))
            waiting = []
        elif waiting or isinstance(child, own.panel) or _is_limit(child):
            waiting.append(child)
        else:
            parts.append(self.render([child]))
    parts.append(self.render(waiting))
    return "\n".join(part for part in parts if part)


def _is_limit(node: nodes.Node) -> bool:
    """Tell whether this says which variants a section is for: it stays with the first step."""
    return isinstance(node, nodes.paragraph) and "section-limit" in node["classes"]


def _unit(self: TypstTranslator, before: list[nodes.Node], node: nodes.Element) -> str:
    branches = [child for child in node.children if isinstance(child, own.otherwise)]
    rest = [child for child in node.children if child not in branches]
    kept = [self.content([child]) for child in before]
    number = self.quoted(str(node.get("number", "")), node)
    body = _step_body(self, rest, self.anchors(node))
    followed = bool(branches) or _next_is_branch(node)
    call = (
        f"unit(({_listed(kept)}), {number}, {_yes(bool(node.get('box', True)))}, {body},"
        f" depth: {self.branches}, followed: {_yes(followed)}, measured: {_yes(_may_be_tall([*before, *rest]))})"
    )
    return "\n".join([call, *(self.render([branch]) for branch in branches)])


def _step_body(self: TypstTranslator, children: list[nodes.Node], before: str) -> str:
    parts = []
    for child in children:
        code = self.render([child])
        # A torque or a word that stands bare among the blocks of a step needs a line of its own.
        bare = isinstance(child, nodes.Text | nodes.Inline) and not isinstance(child, nodes.image)
        parts.append(f"p({{[]\n{code}\n}})" if bare else code)
    return "\n".join(part for part in ("{[]", before, *parts, "}") if part)


def _may_be_tall(parts: list[nodes.Node]) -> bool:
    """Tell whether `parts` together could be taller than a page."""
    blocks = [block for part in parts for block in part.findall(lambda node: isinstance(node, BULKY))]
    paragraphs = [line for part in parts for line in part.findall(lambda node: isinstance(node, LINES))]
    return bool(blocks) or len(paragraphs) > 8 or sum(len(part.astext()) for part in parts) > SURELY_LOW


def _next_is_branch(node: nodes.Element) -> bool:
    following = node.next_node(descend=False, siblings=True)
    return isinstance(following, own.otherwise)


def visit_step(self: TypstTranslator, node: nodes.Element) -> None:
    """Print one step."""
    self.emit(_unit(self, [], node))
    raise nodes.SkipNode


def visit_step_text(self: TypstTranslator, node: nodes.Element) -> None:
    """Print the sentence of a step."""
    self._wrap("step-text", node)


def visit_only_when(self: TypstTranslator, node: nodes.Element) -> None:
    """Print which variants a step is for, in words, not only in looks."""
    label = node.get("label", "")
    text = self.content(node.children) if node.children else self.quoted(label, node)
    long = "true" if len(node.astext() or label) > 40 else ""
    self.emit(f"only-when({text}{self.option('long', long)})")
    raise nodes.SkipNode


def visit_torque(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a torque so that it is found at a glance."""
    if _in_cell(node):
        # A column of torques needs no frames.
        self._wrap("strong", node)
    self.emit(f"torque({self.content(node.children, self.anchors(node))}, {len(node.astext())})")
    raise nodes.SkipNode


def _in_cell(node: nodes.Element) -> bool:
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, nodes.entry):
        parent = parent.parent
    return parent is not None


def visit_blank(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a ruled line with its label and its unit."""
    self._pass(node)
    label, unit = node.get("label", ""), node.get("unit", "")
    options = self.option("fill", "true" if isinstance(node.parent, own.signoff) else "")
    options += self.option("long", "true" if len(label) > SHORT else "")
    self.emit(f"blank({self.quoted(label, node)}, {self.quoted(unit, node)}{options})")
    raise nodes.SkipNode


def visit_otherwise(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a branch: indented, with a rule at its side."""
    self.branches += 1
    before, label = self.anchors(node), self.quoted(node.get("label", ""), node)
    self.emit(f"otherwise({label}, {{[]\n{before}\n{_run(self, node.children)}\n}})")
    self.branches -= 1
    raise nodes.SkipNode


def visit_panel(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a safety message: signal word, hazard, consequence, how to avoid it."""
    signal = node.get("signal", "")
    if signal not in SIGNALS:
        # A signal that nobody knows must not look harmless.
        signal = "warning"
    body = self.content(node.children, self.anchors(node))
    self.emit(f"panel({literal(signal)}, {body}, measured: {_yes(_may_be_tall([node]))})")
    raise nodes.SkipNode


def visit_panel_hazard(self: TypstTranslator, node: nodes.Element) -> None:
    """Print what the danger is."""
    self._wrap("hazard", node)


def visit_panel_consequence(self: TypstTranslator, node: nodes.Element) -> None:
    """Print what it can do."""
    self._wrap("p", node)


def visit_panel_avoid(self: TypstTranslator, node: nodes.Element) -> None:
    """Print how to avoid it."""
    self._wrap("avoid", node)


def visit_panel_wear(self: TypstTranslator, node: nodes.Element) -> None:
    """Print what to wear."""
    self._wrap("wear", node)


def visit_signoff(self: TypstTranslator, node: nodes.Element) -> None:
    """Print the block to sign, never over two pages."""
    blanks: list[nodes.Node] = []
    rest: list[nodes.Node] = []
    for child in node.children:
        (blanks if isinstance(child, own.blank) else rest).append(child)
    lines = [self.content([blank]) for blank in blanks]
    self.emit(f"signoff({self.content(rest, self.anchors(node))}, ({_listed(lines)}))")
    raise nodes.SkipNode


def visit_drawing(self: TypstTranslator, node: nodes.Element) -> None:
    """Print a drawing with its caption."""
    image = f'image(bytes({literal(node["svg"])}), format: "svg", alt: {literal(node["alt"])})'
    self.emit(f"drawn({image}, {self.content(node.children)})")
    raise nodes.SkipNode


def depart(self: TypstTranslator, node: nodes.Element) -> None:
    """Do nothing: each visitor prints the whole of its node."""


def _yes(value: bool) -> str:
    return "true" if value else "false"


def _listed(parts: list[str]) -> str:
    return "".join(part + ",\n" for part in parts)


VISITORS: dict[type[nodes.Element], tuple[Visitor, Visitor]] = {
    own.setup: (visit_setup, depart),
    own.facts: (visit_facts, depart),
    own.fact: (visit_fact, depart),
    own.steps: (visit_steps, depart),
    own.step: (visit_step, depart),
    own.step_text: (visit_step_text, depart),
    own.only_when: (visit_only_when, depart),
    own.torque: (visit_torque, depart),
    own.blank: (visit_blank, depart),
    own.drawing: (visit_drawing, depart),
    own.otherwise: (visit_otherwise, depart),
    own.panel: (visit_panel, depart),
    own.panel_hazard: (visit_panel_hazard, depart),
    own.panel_consequence: (visit_panel_consequence, depart),
    own.panel_avoid: (visit_panel_avoid, depart),
    own.panel_wear: (visit_panel_wear, depart),
    own.signoff: (visit_signoff, depart),
}
"""For each node of `putback.sphinxext.nodes`, how the printed manual opens and closes it."""
