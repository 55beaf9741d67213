"""Words that stand on pages whatever the guide says: headings, heads of columns, labels. Each language fills these in.

A text with names in braces is a pattern; the page puts the values in.
"""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.terms import Signal
from putback.words.around import BookLabels, NoPageLabels, SuppliesLabels, UpkeepLabels
from putback.words.atbench import AtBenchLabels
from putback.words.bench import BenchLabels, TrayLabels
from putback.words.reference import ReferenceLabels
from putback.words.sought import SearchLabels


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLabels:
    """The page of a job."""

    purpose: str
    """What it is good for."""
    due: str
    """When it is due."""
    machines: str
    """For which machines all of it is."""
    when_needed: str
    """It is due at no set time."""
    time: str
    """How long it takes."""
    people: str
    """How many it takes."""
    goes_on_from: str
    """The job before it."""
    begins_with: str
    """What it finds off, open, out, moved or in place."""
    goes_on_with: str
    """The job after it."""
    ends_with: str
    """What it leaves so."""
    set_first: str
    """Controls to set before the work."""
    safety_messages: str
    """All of the job, in short."""
    wear: str
    """Protective equipment."""
    new_parts: str
    """Parts to buy."""
    tools: str
    """Tools."""
    consumables: str
    """Consumables and fluids."""
    equipment: str
    """What is brought in and taken away."""
    none: str
    """Of one of these, nothing is needed."""
    steps: str
    """Heading of a section without a title."""
    tool: str
    """The tool of a step: pattern with `name`."""
    several_tools: str
    """The tools of a step: pattern with `names`."""
    measured: str
    """Where a measured value is written."""
    count_back: str
    """Heading of the table that is counted."""
    count_lead: str
    """What to do with it."""
    nothing_off: str
    """There is nothing to count."""
    left_lead: str
    """What is left off goes back in the job after this one."""
    settings_lead: str
    """What to do with the table of settings that were disturbed."""
    at_step: str
    """Head: the number of the step that brings a setting back."""
    within: str
    """Head: the box to tick when it is within its limit."""
    piece: str
    """Head: what is counted."""
    out: str
    """Head: how many came off."""
    back: str
    """Head: how many went back."""
    new: str
    """Head: how many of those are new."""
    counted: str
    """Head: the box to tick."""
    part: str
    """Head: a part to buy."""
    number: str
    """Head: its number."""
    kit: str
    """Head: its kit."""
    same_kit: str
    """What stands in place of a kit that stands above."""
    count: str
    """Head: how many of it."""
    sign_off: str
    """Heading of the block to sign."""
    to_sign: tuple[str, ...]
    """What is written there: machine, date, name, signature."""
    sign_hours: str
    """The running hours, after the machine, where it has any."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineLabels:
    """The page of a machine, and the tables of prose pages."""

    title: str
    """Heading: pattern with `machine`."""
    options: str
    """Heading: the ways in which machines of this model differ."""
    option: str
    """Head: one of these ways."""
    choice: str
    """Head: how a machine is built, of such a way."""
    how_to_tell: str
    """Head: how to tell it."""
    orders: str
    """Heading: drawings."""
    stacks: str
    """Heading: drawings of parts along their axis."""
    stack_marks: str
    """What the numbers and marks in them mean."""
    true_size: str
    """Heading of the drawings of bolts to lay a bolt on."""
    controls: str
    """Heading."""
    parts: str
    """Heading."""
    fasteners: str
    """Heading: fasteners and torques."""
    lines: str
    """Heading: hoses, pipes, cables."""
    fluids: str
    """Heading."""
    settings: str
    """Heading: what is adjusted."""
    in_one_job: str
    """How many there are of a part, and how many one job takes: `{count}`, `{most}`."""
    never_built: str
    """Leads in to combinations of options that no machine has."""
    fastener: str
    """Head: a fastener, and what it holds together."""
    size: str
    """Head: thread, class, length and drive."""
    threads: str
    """Head: the state of the threads."""
    torque: str
    """Head."""
    mass: str
    """Head."""
    remarks: str
    """Head."""
    new: str
    """Head: when a part is renewed."""
    fitted: str
    """Head: how many of a part the machine has; a job can want more of them, and says so."""
    every_time: str
    """A part is renewed whenever it was off, and not in each job."""
    when_worn: str
    """A part is renewed when it is worn."""
    line: str
    """Head."""
    kind: str
    """Head: of a line."""
    joins: str
    """Head: of a line."""
    fluid: str
    """Head."""
    grade: str
    """Head: of a fluid."""
    volume: str
    """Head: of a fluid."""
    drains_at: str
    """Head: of a fluid."""
    fills_at: str
    """Head: of a fluid."""
    control: str
    """Head."""
    positions: str
    """Head: of a control."""
    normal: str
    """Head: of a control."""
    setting: str
    """Head."""
    limit: str
    """Head: of a setting."""
    disturbed_by: str
    """Head: what disturbs a setting."""
    adjusted_by: str
    """Head: what is loosened or turned to adjust it."""
    job: str
    """Head: of the table of jobs."""
    no_job: str
    """There is no job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyLabels:
    """Who may do a job, when to leave it, what goes before the book; and what is due later."""

    skill: str
    """Who can do a job."""
    stop: str
    """When to stop and call somebody."""
    first: str
    """What goes before the book."""
    licensed: str
    """Work that needs a licence."""
    any_skill: str
    """Who can do a job that says nothing of it."""
    stop_and_call: str
    """When to stop and call somebody, in short."""
    goes_first: str
    """What goes before the book, in short."""
    before: str
    """Heading of the page before the first job."""
    before_lead: str
    """What that page is for."""
    before_who: str
    """Heading: who can do the jobs."""
    before_first: str
    """Heading: what goes before the book."""
    before_first_lead: str
    """What to do with the list below."""
    before_first_list: tuple[str, ...]
    """What goes before the book, the first first."""
    before_stop: str
    """Heading: when to stop."""
    before_stop_lead: str
    """Leads in to the list."""
    before_stop_list: tuple[str, ...]
    """When to stop."""
    before_often: str
    """Work that often needs a licence."""
    before_leave: str
    """How to leave a job half done."""
    job: str
    """Head: the job."""
    who: str
    """Head: who can do it."""
    follow_up: str
    """Heading: what is due later."""
    follow_up_lead: str
    """What to do with it."""
    follow_up_done: str
    """The label of the place where a distance is written."""
    follow_up_blank: str
    """Where the running hours are written."""
    follow_up_on: str
    """Where the day is written, on a machine that counts no hours."""
    hours_unit: str
    """Their unit."""
    signals: tuple[tuple[Signal, str], ...]
    """The signal words, gravest first, as written in a sentence; they are printed in capitals."""
    alert: str
    """The safety alert symbol, for who cannot see it."""

    def signal(self, signal: str) -> str:
        """Return the word for a signal; one that nobody knows must not look harmless."""
        words = {known.value: word for known, word in self.signals}
        return words.get(signal, words[Signal.WARNING.value])


@dataclass(frozen=True, slots=True, kw_only=True)
class Labels:
    """All of them."""

    job: JobLabels
    """The page of a job."""
    machine: MachineLabels
    """The page of a machine."""
    safety: SafetyLabels
    """Safety and follow-up."""
    upkeep: UpkeepLabels
    """Schedule, card and symptom table."""
    book: BookLabels
    """Around the pages."""
    no_page: NoPageLabels
    """In place of a page."""
    reference: ReferenceLabels
    """At the back of the book."""
    supplies: SuppliesLabels
    """A shopping list."""
    bench: BenchLabels
    """The sheet of one job."""
    tray: TrayLabels
    """The sheet that parts are laid on."""
    at_bench: AtBenchLabels
    """The page of a job while somebody works by it."""
    search: SearchLabels
    """The page that searches."""
