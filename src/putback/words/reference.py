"""Words of what stands at the back of a book: index, calendar, tables of variants, kits, wear, editions."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexLabels:
    """The index. What is done with a thing stands in front of the numbers: `off 12, on 31`."""

    lead_steps: str
    """Says, on screen, that numbers are those of steps."""
    lead_pages: str
    """Says, on paper, that numbers are pages."""
    signs: str
    """Heading: signs that something is wrong."""
    parts: str
    """Heading: parts and lines."""
    fasteners: str
    """Heading."""
    fluids: str
    """Heading."""
    settings: str
    """Heading."""
    tools: str
    """Heading: tools and equipment."""
    supplies: str
    """Heading: consumables."""
    hazards: str
    """Heading: hazards, with where their messages stand."""
    empty: str
    """There is nothing to list."""
    step: str
    """In front of numbers of steps that nothing else is said of."""
    off: str
    """It comes off."""
    on: str
    """It goes on."""
    renewed: str
    """A new one goes on."""
    loosened: str
    """It is loosened."""
    tightened: str
    """It is tightened."""
    drained: str
    """It is let out."""
    filled: str
    """It is filled in."""
    adjusted: str
    """It is set."""
    measured: str
    """It is measured."""
    inspected: str
    """It is looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReferenceLabels:
    """The tables at the back, and what prose pages can show of them."""

    title: str
    """Heading of the page that has what no page of the author shows."""
    elsewhere: str
    """Leads in, on the page of the machine, to the tables that stand on another page."""
    schedule: str
    """Heading: when each job is due."""
    together: str
    """Heading: what falls due together."""
    together_lead: str
    """Says how to read it: pattern with `own`, `also` and `first`, the marks."""
    first: str
    """The mark of what is due for the first time."""
    due: str
    """What the mark of a job's own interval means."""
    due_also: str
    """What the mark means of a job whose own interval is shorter."""
    hours: str
    """Head of a column: pattern with `number`."""
    km: str
    """Head of a column: pattern with `number`."""
    month: str
    """Head of a column, of one month."""
    months: str
    """Head of a column: pattern with `number`."""
    none_together: str
    """No job is due at a set time."""
    differing: str
    """Heading: which steps are for some variants only."""
    differing_lead: str
    """Says how to use it."""
    for_whom: str
    """Head: the variants."""
    steps: str
    """Head: numbers of steps."""
    same_for_all: str
    """Leads in to the jobs of which all steps are for all."""
    all_same: str
    """Nothing differs."""
    kits: str
    """Heading."""
    in_kit: str
    """Head: what is in a kit."""
    used_in: str
    """Head: which jobs take something of it."""
    no_kit: str
    """There is none."""
    wear: str
    """Heading: wear limits."""
    measured: str
    """Head: what is measured."""
    in_jobs: str
    """Head: in which jobs."""
    no_wear: str
    """There is none."""
    revisions: str
    """Heading: what changed from edition to edition."""
    changed: str
    """Head: what changed."""
    edition: str
    """Head: the edition, with its day."""
    no_revision: str
    """There is none."""
    index: IndexLabels
    """The index."""
