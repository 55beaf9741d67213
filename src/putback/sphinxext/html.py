"""How HTML shows the nodes of this extension: plain elements with classes; all looks are in `putback.css`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx.locale import _

from putback.sphinxext import nodes as own
from putback.sphinxext.borrowed import lend_words
from putback.sphinxext.howto import say_how_to
from putback.sphinxext.inpage import in_page
from putback.sphinxext.matter.indexpage import INDEX
from putback.sphinxext.matter.stepindex import sort_steps
from putback.sphinxext.pointing import (
    depart_callout_entry,
    depart_callout_key,
    depart_marked,
    visit_callout_entry,
    visit_callout_key,
    visit_marked,
)
from putback.sphinxext.tables import depart_entry, depart_table, tick_box, visit_entry, visit_table
from putback.telling import told_in
from putback.words import labels_for, spoken

if TYPE_CHECKING:
    from sphinx.application import Sphinx

Visitor = Callable[[Any, Any], None]

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


def _room(node: nodes.Element) -> dict[str, str]:
    """Return what tells the style sheet how long the numbers of a list of steps get, beyond the usual two digits."""
    longest = max((len(str(step.get("number", ""))) for step in node.children if isinstance(step, own.step)), default=0)
    return {"style": f"--putback-digits: {longest}"} if longest > 2 else {}


def visit_steps(self: Any, node: nodes.Element) -> None:
    """Open a list of steps."""
    self.body.append(self.starttag(node, "div", CLASS="steps", **_room(node)))


_OTHER_VERBS = re.compile(r"\bverb-(?!stop\b)[a-z-]+ ")


def visit_step(self: Any, node: nodes.Element) -> None:
    """Write a step with its number, and a box to tick that nothing and nobody remembers."""
    number = self.attval(str(node.get("number", "")))
    # A page has hundreds of steps, and of their verbs only one has a look of its own.
    self.body.append(_OTHER_VERBS.sub("", self.starttag(node, "div", CLASS="step")))
    if node.get("box"):
        done = labels_for(self.config.language).book.step_done.format(number=number)
        self.body.append(tick_box(done, f'<b class="number">{number}</b>'))
    else:
        self.body.append(f'<p class="tick"><b class="number">{number}</b></p>')
    self.body.append('<div class="step-body">')


def depart_step(self: Any, node: nodes.Element) -> None:
    """Close a step, whose words a branch has closed before itself."""
    branched = any(isinstance(child, own.otherwise) for child in node.children)
    self.body.append("</div>\n" if branched else "</div></div>\n")


def visit_step_text(self: Any, node: nodes.Element) -> None:
    """Open the sentence of a step."""
    self.context.append(len(self.body))
    self.body.append(self.starttag(node, "p", "", CLASS="step-text"))


def depart_step_text(self: Any, node: nodes.Element) -> None:
    """Close the sentence of a step; its links, of which a page has hundreds, need no class."""
    del node
    start = self.context.pop()
    self.body[start:] = [part.replace(' class="reference internal"', "", 1) for part in self.body[start:]]
    self.body.append("</p>\n")


def visit_blank(self: Any, node: nodes.Element) -> None:
    """Write a place to fill in, which prints as a line to write on."""
    label, unit = self.attval(node.get("label", "")), self.attval(node.get("unit", ""))
    step = node.parent if isinstance(node.parent, own.step) else None
    # Every measurement is called "Measured"; read aloud, its step and its unit tell it from the others.
    words = labels_for(self.config.language).book
    named = words.in_unit.format(label=label, unit=unit) if unit else label
    if step is not None:
        named = words.of_step.format(label=named, number=self.attval(str(step.get("number", ""))))
    named = f' aria-label="{named}"' if named != label else ""
    keys = ' inputmode="decimal"' if unit else ""
    after = f'<span class="unit">{unit}</span>' if unit else ""
    self.body.append(
        f'<div class="blank"><label><span class="blank-label">{label}</span> '
        f'<input type="text" autocomplete="off"{keys}{named}>{after}</label></div>\n'
    )
    raise nodes.SkipNode


def visit_grid(self: Any, node: nodes.Element) -> None:
    """Write a box to tick for each place, so that nobody loses count of them."""
    label = self.attval(node.get("label", ""))
    step = self.attval(str(node.parent.get("number", ""))) if isinstance(node.parent, own.step) else ""
    done = labels_for(self.config.language).book.step_done.format(number=step)
    boxes = "".join(
        tick_box(f"{done}: {label} {self.attval(name)}", f"<span>{self.encode(name)}</span>") for name in node["places"]
    )
    words = self.encode(node.get("label", ""))
    self.body.append(f'<div class="grid"><span class="grid-label">{words}</span>{boxes}</div>\n')
    raise nodes.SkipNode


def visit_drawing(self: Any, node: nodes.Element) -> None:
    """Write a drawing into the page, with its caption under it."""
    looks = [("small", "beside"), ("true-size", "true_size")]
    classes = ["drawing", *(look for look, key in looks if node.get(key))]
    self.body.append(self.starttag(node, "figure", CLASS=" ".join(classes)))
    self.body.append(in_page(node))
    if node.children or node.get("screen"):
        self.body.append("<figcaption>")


def depart_drawing(self: Any, node: nodes.Element) -> None:
    """Close a drawing, with what holds for a screen only."""
    screen = node.get("screen")
    if screen:
        self.body.append(f'<p class="on-screen">{self.encode(screen)}</p>')
    self.body.append("</figcaption></figure>\n" if node.children or screen else "</figure>\n")


def visit_otherwise(self: Any, node: nodes.Element) -> None:
    """Open a branch with what leads to it: below its step, so that it may begin below the box."""
    if isinstance(node.parent, own.step) and node is next(node.parent.findall(own.otherwise)):
        self.body.append("</div>\n")
    self.body.append(self.starttag(node, "div", CLASS="otherwise", **_room(node)))
    self.body.append(f'<p class="otherwise-label">{self.encode(node.get("label", ""))}</p>\n')


def visit_panel(self: Any, node: nodes.Element) -> None:
    """Open a safety message with its signal word; read aloud, the word comes first."""
    signal = node.get("signal", "warning")
    word = labels_for(self.config.language).safety.signal(signal)
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
    own.steps: (visit_steps, depart_block),
    own.step: (visit_step, depart_step),
    own.step_text: (visit_step_text, depart_step_text),
    own.only_when: _element("span", "only-when"),
    own.torque: _element("strong", "torque"),
    own.blank: (visit_blank, nothing),
    own.grid: (visit_grid, nothing),
    own.drawing: (visit_drawing, depart_drawing),
    own.abreast: _element("div", "abreast"),
    own.called_out: _element("div", "called-out"),
    own.marked: (visit_marked, depart_marked),
    own.callout_key: (visit_callout_key, depart_callout_key),
    own.callout_entry: (visit_callout_entry, depart_callout_entry),
    own.otherwise: (visit_otherwise, depart_block),
    own.panel: (visit_panel, depart_panel),
    own.panel_hazard: _element("p", "hazard"),
    own.panel_consequence: _element("p", "consequence"),
    own.panel_avoid: _element("div", "avoid"),
    own.panel_wear: _element("p", "wear"),
    own.signoff: _element("div", "sign-off"),
    own.index_list: _element("div", "index-list"),
    own.index_entry: _element("div", "index-entry"),
    own.index_use: _element("p", "index-use"),
    own.numbers: _element("span", "numbers"),
}
"""For each node, how it opens and closes."""


def setup_html(app: Sphinx) -> None:
    """Register how HTML shows the nodes of this extension, the tables of docutils, and what our theme's pages say."""
    for node in own.ALL:
        if node in VISITORS:
            app.add_node(node, html=VISITORS[node])
    app.add_node(nodes.table, override=True, html=(visit_table, depart_table))
    app.add_node(nodes.entry, override=True, html=(visit_entry, depart_entry))
    app.connect("builder-inited", lend_words)
    app.connect("html-page-context", _about_the_book)
    app.connect("html-page-context", say_how_to)
    app.connect("html-page-context", sort_steps)


def _book(language: str | None) -> dict[str, str]:
    """Return the words around the pages; in a language that only Sphinx has words for, those that it has."""
    words = asdict(labels_for(language).book)
    return words if spoken(language) else {name: str(_(word)) for name, word in words.items()}


SHORT = 200
"""A notice of at most so many characters stands whole on the page of each job; of a longer one, its first sentence."""


def _about_the_book(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, Any], doctree: nodes.document | None
) -> None:
    """Give the templates what the PDF has on its cover, and whether the page is a job."""
    del pagename, templatename
    config = app.config
    edition, licence = config.putback_edition, config.putback_licence
    date = told_in(config.language or "en").date(config.putback_date)
    authors = [config.putback_authors] if isinstance(config.putback_authors, str) else config.putback_authors
    page = doctree.next_node(nodes.section) if doctree is not None else None
    context["putback_is_job"] = page is not None and "job" in page["classes"]
    context["putback_subtitle"] = config.putback_subtitle
    context["putback_only"] = config.putback_only
    context["putback_imprint"] = [words for words in (edition, date, *authors, licence) if words]
    context["putback_notice"] = config.putback_notice.strip()
    context["putback_notice_short"] = short_notice(config.putback_notice)
    context["putback_draft"] = config.putback_draft
    context["putback_words"] = _book(config.language)
    own_index = (name for name, about in app.env.metadata.items() if INDEX in about)
    context["putback_index"] = next(own_index, "genindex" if context["hasdoc"]("genindex") else "")


def short_notice(notice: str) -> str:
    """Return a notice that is short enough for the head of every job."""
    words = " ".join(notice.split())
    first, stop, rest = words.partition(". ")
    return words if len(words) <= SHORT or not rest else f"{first}{stop.rstrip()}"
