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
    drawing(svg=, alt=, more=)  a drawing that is made, as SVG, with its words; children: a paragraph, its caption
    abreast                     narrow drawings, beside each other where there is room
    called_out                  a picture and what its numbers stand for; children `marked` and `callout_key`
    marked(ratio=, width=, labels=, lines=, dots=, rings=, arrows=)
                                a picture with numbers over it; places in parts of its width; child: the image
    callout_key                 what the numbers stand for; children `callout_entry(number=)`, text
    otherwise(label=)           what to do when a limit is not met; children: `step`s, numbered 7a, 7b; of a step with
                                several outcomes, one for each
    panel(signal=)              a safety message; children: panel_hazard, panel_consequence, panel_avoid, panel_wear
    signoff                     the closing block: children `blank`
    index_list                  the index; children: rubrics, and `index_entry`
      index_entry(brief=)       one thing: a paragraph with its name, and an `index_use` for each job
      index_use                 one job: a reference to it, and words with `numbers`
        numbers(label=)         inline: references, on screen by the numbers of steps, on paper by their pages

Only on the sheet of one job:

    masthead(kicker=, svg=, alt=)  its head, with a drawing that may be empty; children: paragraphs
    wide                        what has the whole width, on pages of its own; children: sections
    tray(small=)                the sheet that parts are laid on; `small` when it stands on a page with other things;
                                children: a section
    tray_fields                 children: `tray_field`
    tray_field(number=, outlines=, letters=, room=)  where pieces lie; `outlines` are drawings of them with their sizes,
                                `letters` what stands under them, `room` is how high it is without; children: paragraphs
    note_lines                  ruled lines to write on, in the room that is left
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
    """A drawing; attributes `svg`, the text of a standalone SVG, and `alt`, what it shows in words.

    `more` are further ones, each with its words, of what does not go into one; they stand beside each other where there
    is room. One at true size has `true_size`, and as `screen` what is said beside its caption where it is not printed.
    A small one stands beside other things of its step, where there is room: attribute `beside`, which is `blank` for
    the lines to write on, and `step` for all of the step.
    """


class abreast(nodes.General, nodes.Element):
    """Narrow drawings, beside each other where there is room."""


def drawings_of(node: nodes.Element) -> list[tuple[str, str]]:
    """Return the SVG of a drawing, each with its words."""
    return [(node["svg"], node["alt"]), *node.get("more", ())]


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


class index_list(nodes.General, nodes.Element):
    """The index."""


class index_entry(nodes.General, nodes.Element):
    """One thing of the index; attribute `brief`, whether its pages are enough on paper."""


class index_use(nodes.General, nodes.TextElement):
    """What one job does with it: first a reference to the job."""


class numbers(nodes.Inline, nodes.TextElement):
    """References to steps; attribute `label`, what is done there."""


class masthead(nodes.General, nodes.Element):
    """The head of a sheet; attributes `kicker`, and `svg` and `alt` of a drawing beside it, which may be empty."""


class wide(nodes.General, nodes.Element):
    """What stands over the whole width of a sheet, on pages of its own."""


class tray(nodes.General, nodes.Element):
    """A sheet that parts are laid on; attribute `small`."""


class tray_fields(nodes.General, nodes.Element):
    """Where pieces lie, in the order in which they come off."""


class tray_field(nodes.General, nodes.Element):
    """Where some pieces lie; attributes `number`, `outlines` and `room`."""


class note_lines(nodes.General, nodes.Element):
    """Lines to write on."""


ONLY_ON_PAPER: tuple[type[nodes.Element], ...] = (masthead, wide, tray, tray_fields, tray_field, note_lines)
"""What no page of HTML has."""

ALL: tuple[type[nodes.Element], ...] = (
    *ONLY_ON_PAPER, setup, facts, fact, steps, step, step_text, only_when, torque, blank, grid, drawing, abreast,
    called_out, marked,
    callout_key, callout_entry, otherwise,
    panel, panel_hazard, panel_consequence, panel_avoid, panel_wear, signoff,
    index_list, index_entry, index_use, numbers,
)  # fmt: skip
"""Every node of this module."""
