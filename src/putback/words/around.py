"""Words that stand around the pages of a book, or in place of a page. Each language fills these in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BookLabels:
    """What is around the pages, on screen and on paper."""

    manual: str
    """A book without a title."""
    contents: str
    """The table of contents."""
    page: str
    """In front of the number of a page."""
    of: str
    """Between the number of a page and how many there are."""
    licence: str
    """In front of the licence."""
    edition: str
    """An edition that is a bare number: pattern with `edition`."""
    draft: str
    """The book was not checked."""
    notice: str
    """Heading of the notice."""
    notes: str
    """Heading of room to write what one wants to remember."""
    for_some: str
    """Said on the cover of a book that is for some variants only."""
    picture: str
    """A picture without words."""
    no_picture: str
    """A picture is not there, or must not be shown."""
    index: str
    """The index."""
    no_index: str
    """The index has no entry."""
    search: str
    """The search."""
    search_needs: str
    """Leads to the index when the search cannot run."""
    go: str
    """Begins a search."""
    skip: str
    """Leads to the page itself."""
    close: str
    """Closes the contents."""
    start: str
    """The first page."""
    turn: str
    """Names the links to the pages before and after."""
    previous: str
    """The page before."""
    next: str
    """The page after."""
    table: str
    """Names a table that scrolls."""
    in_unit: str
    """Names a place to write a value: pattern with `label` and `unit`."""
    of_step: str
    """Adds the step to that: pattern with `label` and `number`."""
    step_done: str
    """Names the box of a step: pattern with `number`."""

    def called(self, edition: str) -> str:
        """Return an edition as it is printed: a bare number says that it is one, and words speak for themselves."""
        bare = edition[:1].isdigit() and len(edition.split()) == 1
        return self.edition.format(edition=edition) if bare else edition


@dataclass(frozen=True, slots=True, kw_only=True)
class NoPageLabels:
    """Why a page is not shown."""

    lead: str
    """Stands first; the faults of its file follow, or one of these."""
    in_no_guide: str
    """It lies in no guide."""
    endless: str
    """A block leads into itself."""
    lost_block: str
    """A block could not be read."""
    too_long: str
    """It has too many steps."""
    unwalked: str
    """Anything else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UpkeepLabels:
    """The maintenance schedule, the card of a job that only looks, and the symptom table."""

    job: str
    """Head: the job."""
    at: str
    """Head: when it is due, in words."""
    first: str
    """Head: when it is due for the first time."""
    every: str
    """Head: by running hours or distance."""
    then_every: str
    """The same, beside a column of when it is due first."""
    or_every: str
    """Head: by the calendar."""
    once: str
    """It is due only once: pattern with `lapse`."""
    sooner: str
    """Says that of two intervals the one that is over first counts."""
    none_due: str
    """No job has an interval."""
    after: str
    """Head: how long after a job something is due."""
    once_more: str
    """Leads in to what is due after jobs."""
    what: str
    """Head: what is due then."""
    look: str
    """Head: what is looked at or done."""
    if_not: str
    """Head: what to do when it is not as it should be."""
    done: str
    """Head: the box to tick."""
    card_lead: str
    """In front of the title of the job, with all that the card leaves out."""
    cause: str
    """Head: what may be wrong."""
    check: str
    """Head: how to know."""
    mend: str
    """Head: what mends it."""
    symptoms_lead: str
    """Says how to use the symptom table."""
    no_symptom: str
    """There is no symptom table."""
    next_hours: str
    """Where is written at which running hours the job is due again."""
    follow_up_due: str
    """Where is written when its follow-up is due: at which running hours or distance, or on which day."""
    next_km: str
    """Where is written at which distance it is."""
    next_date: str
    """Where is written by which day it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SuppliesLabels:
    """A shopping list."""

    title: str
    """Heading: pattern with `machine`."""
    jobs: str
    """Leads in to the jobs that it is for."""
    only: str
    """Leads in to the only variants that it is for."""
    kits: str
    """Heading: kits."""
    perhaps: str
    """Heading: what only a branch of a job needs."""
    lead: str
    """How it was summed, and what that means for who buys."""
    nothing: str
    """There is nothing to get."""
    item: str
    """Head: what to get."""
    amount: str
    """Head: how many, or how much."""
    got: str
    """Head: the box to tick."""
    in_kit: str
    """A part that is bought alone, and is in a kit as well: pattern with `kit`."""
    over: str
    """What a kit leaves over: pattern with `names`."""
