"""How steps print: with what stands above them, their torques, places to write, and branches."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext import nodes as own
from putback.sphinxext.paper.block import SHORT
from putback.sphinxext.pointing import print_called_out
from putback.typstpdf.pen import Looks, Pen, is_within, listed, option, passed, ranged, whole, wrap, wrapped, yes

SURELY_LOW = 900
"""A step with its panels and no more characters than this, nor anything but words, is lower than a page and need not
be measured (a page of the manual holds more than 3000 characters)."""

MOST_LINES = 14
"""A branch of at most so many paragraphs stays on one page."""

BULKY = (nodes.image, nodes.table, nodes.literal_block, nodes.line_block, own.drawing, own.otherwise)
"""What takes room that its words do not tell of."""

CLOSELY = re.compile(r"[,.;:)]+")
"""What follows without a blank."""

LINES = (
    own.step_text, nodes.paragraph, nodes.list_item, own.blank, own.grid, own.torque, own.panel, own.panel_hazard,
    own.panel_consequence, own.panel_wear,
)  # fmt: skip
"""What takes a line at least."""


def print_steps(pen: Pen, node: nodes.Element) -> None:
    """Print a run of steps, each panel together with the step that it stands above."""
    passed(pen, node)
    pen.emit(_run(pen, node.children, _Run()))


@dataclass(frozen=True, slots=True)
class _Run:
    """Where a run of steps stands."""

    depth: int = 0
    """In so many branches."""
    ends: int = 0
    """So many branches end with the last of its steps."""
    together: bool = False
    """Whether all of it stays on one page."""
    goes_on: bool = False
    """Whether its last step stays with what comes after it as well."""

    def at(self, *, last: bool) -> _Run:
        """Return where one of its steps stands, as a run of this step alone."""
        return self if last else replace(self, ends=0, goes_on=self.together)


def _run(pen: Pen, children: list[nodes.Node], run: _Run) -> str:
    """Return the source of steps; what stands between a panel and its step, or before the first, is kept with it."""
    parts = []
    waiting: list[nodes.Node] = []
    for child in children:
        here = run.at(last=child is children[-1])
        if isinstance(child, own.step):
            parts.append(_unit(pen, waiting, child, here))
            waiting = []
        elif waiting or not parts or isinstance(child, own.panel):
            waiting.append(child)
        else:
            parts.append(_part(pen, child, here))
    parts += [_part(pen, child, run.at(last=child is children[-1])) for child in waiting]
    return "\n".join(part for part in parts if part)


def _part(pen: Pen, node: nodes.Node, run: _Run) -> str:
    """Return the source of what stands between steps."""
    # A remark stands where the words of the steps do.
    between = isinstance(node, nodes.paragraph)
    if not run.depth:
        return f"between({pen.content([node])})" if between else pen.render([node])
    body = f"between({pen.content([node])})" if between else pen.content([node])
    return f"run-part({run.depth}, {body}, ends: {run.ends}, sticky: {yes(run.goes_on)})"


def _unit(pen: Pen, before: list[nodes.Node], node: nodes.Element, run: _Run) -> str:
    branches = [child for child in node.children if isinstance(child, own.otherwise)]
    rest = [child for child in node.children if child not in branches]
    kept = [pen.content([child]) for child in before]
    number = pen.quoted(str(node.get("number", "")), node)
    body = ranged(_step_body(pen, rest, pen.anchors(node)))
    followed = bool(branches) or run.goes_on or stays_with_next(node)
    call = (
        f"unit(({listed(kept)}), {number}, {yes(bool(node.get('box', True)))}, {body}, depth: {run.depth},"
        f" ends: {0 if branches else run.ends}, followed: {yes(followed)},"
        f" measured: {yes(may_be_tall([*before, *rest]))})"
    )
    # What is found is read as one list: the label of the next outcome stays with the one before.
    before_last = replace(run.at(last=False), goes_on=True)
    runs = [run if branch is branches[-1] else before_last for branch in branches]
    return "\n".join([call, *(_branch(pen, branch, each) for branch, each in zip(branches, runs, strict=True))])


def _branch(pen: Pen, node: nodes.Element, outer: _Run) -> str:
    """Return the source of a branch: indented, with a rule at its side, and never parted from the test before it.

    A short one is not parted at all: "Stop the engine" here and "Stop here" overleaf would be read as half of it.
    """
    depth = outer.depth + 1
    run = replace(outer, depth=depth, ends=outer.ends + 1, together=outer.together or is_short(node))
    anchors, label = pen.anchors(node), pen.quoted(node.get("label", ""), node)
    told = ranged(f"{{[]\n{anchors}\n{label}\n}}")
    head = f"otherwise({told}, depth: {depth})"
    return f"{head}\n{_run(pen, node.children, run)}"


def _step_body(pen: Pen, children: list[nodes.Node], before: str) -> str:
    parts = []
    scale = next((pen.content([child]) for child in children if _is_beside(child, "blank")), "")
    aside = listed([pen.content([child]) for child in children if _is_beside(child, "step")])
    written = [child for child in children if not (isinstance(child, own.drawing) and child.get("beside"))]
    for lines, run in groupby(written, lambda child: isinstance(child, own.blank)):
        if lines:
            code = _blanks(pen, [child for child in run if isinstance(child, own.blank)])
            parts.append(f"beside({code}, ({listed([scale])}), least: auto)" if scale else code)
            scale = ""
        else:
            parts += [_bare(pen, child) for child in run]
    body = "\n".join(part for part in ("{[]", before, *parts, "}") if part)
    return f"beside({body}, ({aside}))" if aside else body


def _bare(pen: Pen, child: nodes.Node) -> str:
    """Return the source of a child of a step; what stands bare among the blocks has a line of its own."""
    code = pen.render([child])
    bare = isinstance(child, nodes.Text | nodes.Inline) and not isinstance(child, nodes.image)
    return f"p({{[]\n{code}\n}})" if bare else code


def _blanks(pen: Pen, lines: Sequence[nodes.Element]) -> str:
    """Return the source of the lines to write on of a step; the rules of short ones stand below each other."""
    told = [(line.get("label", ""), line.get("unit", "")) for line in lines]
    if len(lines) == 1 or any(len(label) > SHORT for label, _ in told):
        return pen.content(lines)
    rows = [
        f"({pen.quoted(label, line)}, {pen.quoted(unit, line)})"
        for line, (label, unit) in zip(lines, told, strict=True)
    ]
    return "\n".join(["{[]", *(pen.anchors(line) for line in lines), f"blanks(({listed(rows)}))", "}"])


def _is_beside(node: nodes.Node, what: str) -> bool:
    return isinstance(node, own.drawing) and node.get("beside") == what


def is_short(branch: nodes.Element) -> bool:
    """Tell whether a branch is surely no higher than about a third of a page."""
    bulky = any(
        True for _ in branch.findall(lambda node: isinstance(node, BULKY) and not isinstance(node, own.otherwise))
    )
    lines = sum(1 for _ in branch.findall(lambda node: isinstance(node, LINES)))
    nested = any(True for inner in branch.findall(own.otherwise) if inner is not branch)
    if nested:
        # Its own tests are kept as well: a run of steps that is kept from the top of a page on is parted anywhere.
        lines += MOST_LINES // 2
    return not bulky and lines <= MOST_LINES and len(branch.astext()) <= SURELY_LOW


def may_be_tall(parts: list[nodes.Node]) -> bool:
    """Tell whether `parts` together could be taller than a page."""
    blocks = [block for part in parts for block in part.findall(lambda node: isinstance(node, BULKY))]
    paragraphs = [line for part in parts for line in part.findall(lambda node: isinstance(node, LINES))]
    return bool(blocks) or len(paragraphs) > 8 or sum(len(part.astext()) for part in parts) > SURELY_LOW


def stays_with_next(node: nodes.Element) -> bool:
    """Tell whether something may not be parted from what comes after it: a branch, or the block to sign."""
    following = node.next_node(descend=False, siblings=True)
    return isinstance(following, own.otherwise) or closes(node)


def closes(node: nodes.Element) -> bool:
    """Tell whether something stands last before the block to sign: that may not stand alone on a page."""
    above: nodes.Element = node
    # What a document ends with does not close the job of the next one.
    while above.parent is not None and not isinstance(above, addnodes.start_of_file):
        following = above.next_node(descend=False, siblings=True)
        if isinstance(following, nodes.Element):
            return any(True for _ in following.findall(own.signoff))
        above = above.parent
    return False


def print_step(pen: Pen, node: nodes.Element) -> None:
    """Print one step."""
    pen.emit(_unit(pen, [], node, _Run()))


def print_only_when(pen: Pen, node: nodes.Element) -> None:
    """Print which variants a step is for, in words, not only in looks."""
    label = node.get("label", "")
    text = pen.content(node.children) if node.children else pen.quoted(label, node)
    long = "true" if len(node.astext() or label) > 40 else ""
    pen.emit(f"only-when({text}{option('long', long)})")


def print_torque(pen: Pen, node: nodes.Element) -> None:
    """Print a torque so that it is found at a glance."""
    if is_within(node, nodes.entry):
        # A column of torques needs no frames.
        wrap(pen, "strong", node)
    after = option("after", pen.quoted(closely, node) if (closely := _closely(node)) else "")
    pen.emit(f"torque({pen.content(node.children, pen.anchors(node))}, {len(node.astext())}{after})")


def _closely(node: nodes.Node) -> str:
    """Return the comma or stop that follows a torque: it stands in the frame, or it would stand apart."""
    following = node.next_node(descend=False, siblings=True)
    found = CLOSELY.match(following.astext()) if isinstance(following, nodes.Text) else None
    return found[0] if found else ""


def print_words(pen: Pen, node: nodes.Text) -> None:
    """Print words, without the comma that stands in the frame of the torque before it."""
    siblings = node.parent.children
    before = next((one for one, other in pairwise(siblings) if other is node), None)
    framed = isinstance(before, own.torque) and not is_within(before, nodes.entry)
    pen.emit(pen.quoted(node.astext()[len(_closely(before)) if framed and before else 0 :], node.parent))


def print_blank(pen: Pen, node: nodes.Element) -> None:
    """Print a ruled line with its label and its unit."""
    passed(pen, node)
    label, unit = node.get("label", ""), node.get("unit", "")
    options = option("fill", "true" if isinstance(node.parent, own.signoff) else "")
    options += option("long", "true" if len(label) > SHORT else "")
    pen.emit(f"blank({pen.quoted(label, node)}, {pen.quoted(unit, node)}{options})")


def print_grid(pen: Pen, node: nodes.Element) -> None:
    """Print a box to tick for each place."""
    passed(pen, node)
    names = listed([pen.quoted(name, node) for name in node["places"]])
    pen.emit(f"grid-boxes({pen.quoted(node.get('label', ''), node)}, ({names}))")


def print_otherwise(pen: Pen, node: nodes.Element) -> None:
    """Print a branch that stands by itself."""
    pen.emit(_branch(pen, node, _Run()))


def print_drawing(pen: Pen, node: nodes.Element) -> None:
    """Print a drawing with its caption."""
    large = node.get("large") if pen.config.putback_large_print else None
    images = [pen.drawing(large or svg, alt) for svg, alt in own.drawings_of(node)]
    if node.get("beside"):
        pen.emit(f"drawn-small({images[0]})")
    elif len(images) == 1:
        options = option("true-size", "true" if node.get("true_size") else "")
        options += option("bold", "true" if node.get("bold") else "")
        if narrow := node.get("narrow"):
            options += option("narrow", pen.drawing(narrow, node["alt"]))
        pen.emit(f"drawn({images[0]}, {pen.content(node.children)}{options})")
    else:
        pen.emit(f"drawn-apart(({', '.join(images)}), {pen.content(node.children)})")


def print_abreast(pen: Pen, node: nodes.Element) -> None:
    """Print narrow drawings beside each other."""
    pen.emit(f"abreast({', '.join(pen.content([child]) for child in node.children)})")


STEPS: Looks = {
    nodes.Text: whole(print_words),
    own.steps: whole(print_steps),
    own.step: whole(print_step),
    own.step_text: wrapped("step-text"),
    own.only_when: whole(print_only_when),
    own.torque: whole(print_torque),
    own.blank: whole(print_blank),
    own.grid: whole(print_grid),
    own.drawing: whole(print_drawing),
    own.abreast: whole(print_abreast),
    own.called_out: whole(print_called_out),
    own.otherwise: whole(print_otherwise),
}
"""Looks of steps."""
