"""Neutral nodes for what docutils has no word for; each output gives them its own look.

Every node keeps its words in ordinary docutils children, so that an output that knows nothing of it can still
print it (see `transforms.Plain`). Structure, outermost first:

    setup                       the block that opens a job; children: `facts`, sections of lists and tables
    facts                       a definition list of label and value: children `fact`
    fact(label=)                children: block content
    steps                       a run of steps and cautions, in order
    step(number=, box=)         one action; children: `step_text`, then any of `torque`, `blank`, paragraphs, figures
      step_text                 inline: the sentence
      only_when(label=)         inline: the variants a step is limited to; stands first in `step_text`
      torque                    inline: a torque with its unit(s), stands out
      blank(label=, unit=)      a place to write a value by hand
    grid(label=, places=)       the places that a step is done for, each with a box to tick; `places` a list of names
    drawing(svg=, alt=)         a drawing that is made, as SVG, with its words; children: a paragraph, its caption
    called_out                  a picture and what its numbers stand for; children `marked` and `callout_key`
    marked(ratio=, width=, labels=, lines=, dots=, rings=, arrows=)
                                a picture with numbers over it; places in parts of its width; child: the image
    callout_key                 what the numbers stand for; children `callout_entry(number=)`, text
    otherwise(label=)           what to do when a limit is not met; children: `step`s, numbered 7a, 7b; of a step with
                                several outcomes, one for each
    panel(signal=)              a safety message; children: panel_hazard, panel_consequence, panel_avoid, panel_wear
    signoff                     the closing block: children `blank`
"""

from __future__ import annotations

from docutils import nodes


class setup(nodes.General, nodes.Element):
    """The block that opens a job."""


class facts(nodes.General, nodes.Element):
    """A list of labelled values."""


class fact(nodes.General, nodes.Element):
    """One labelled value; attribute `label`."""


class steps(nodes.General, nodes.Element):
    """A run of steps, cautions and notes."""


class step(nodes.General, nodes.Element):
    """One action; attributes `number` (text) and `box` (whether it has a box to tick)."""


class step_text(nodes.General, nodes.TextElement):
    """The sentence of a step."""


class only_when(nodes.Inline, nodes.TextElement):
    """The variants that a step is limited to."""


class torque(nodes.Inline, nodes.TextElement):
    """A torque, in the first and the second unit."""


class blank(nodes.General, nodes.Element):
    """A place to write by hand; attributes `label` and `unit` (may be empty)."""


class grid(nodes.General, nodes.Element):
    """Boxes to tick, one for each place; attributes `label`, what one of them is called, and `places`, their names."""


class drawing(nodes.General, nodes.Element):
    """A drawing; attributes `svg`, the text of a standalone SVG, and `alt`, what it shows in words."""


class called_out(nodes.General, nodes.Element):
    """A picture with numbers over it, and what they stand for: beside it where there is room."""


class marked(nodes.General, nodes.Element):
    """A picture with numbers over it, as tuples of floats in parts of its width from the top left.

    Attributes: `ratio`, its height; `width`, mm on paper; `labels` (number, x, y); `lines` and `arrows` (x, y, x, y),
    from and to; `dots` (x, y); `rings` (x, y, width).
    """


class callout_key(nodes.General, nodes.Element):
    """What the numbers over a picture stand for."""


class callout_entry(nodes.General, nodes.TextElement):
    """One line of a key; attribute `number`."""


class otherwise(nodes.General, nodes.Element):
    """Steps for when a limit is not met; attribute `label`."""


class panel(nodes.General, nodes.Element):
    """A safety message; attribute `signal` is danger, warning, caution or notice."""


class panel_hazard(nodes.General, nodes.TextElement):
    """What the danger is."""


class panel_consequence(nodes.General, nodes.TextElement):
    """What it can do."""


class panel_avoid(nodes.General, nodes.Element):
    """How to avoid it: paragraphs."""


class panel_wear(nodes.General, nodes.TextElement):
    """What to wear."""


class signoff(nodes.General, nodes.Element):
    """The block in which the mechanic signs."""


ALL: tuple[type[nodes.Element], ...] = (
    setup, facts, fact, steps, step, step_text, only_when, torque, blank, grid, drawing, called_out, marked,
    callout_key, callout_entry, otherwise,
    panel, panel_hazard, panel_consequence, panel_avoid, panel_wear, signoff,
)  # fmt: skip
"""Every node of this module."""
