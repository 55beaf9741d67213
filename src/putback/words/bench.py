"""Words of the sheet of one job. Each language fills these in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchLabels:
    """The sheet of one job: its head, what it lists of the whole job, and the tray."""

    kind: str
    """What the sheet is: stands above the title."""
    in_the_book: str
    """What is not on the sheet: pattern with `what`, the title of another job or the number of one of its steps."""
    on_screen: str
    """Leads in to the address of the job's page."""
    code: str
    """The code to scan, for who cannot see it: pattern with `address`."""
    which_machine: str
    """Heading: how to tell which choices the machine has."""
    built: str
    """Head: what steps for such a machine begin with."""
    mine: str
    """Head: a box to tick, for the choices that it has."""
    torques: str
    """Heading: torques in the order of the steps."""
    torque: str
    """Head: the torque, and what the threads must be for it."""
    setting: str
    """What is set on a wrench: pattern with `setting`."""
    wrench: str
    """Head: the torque wrench, and what is put on it."""
    controls: str
    """Heading: controls before and after."""
    before: str
    """Head: the position in which a job finds a control."""
    set_at: str
    """Head: the positions to which it is set, with the steps."""
    position_at: str
    """A position and the step that sets it: pattern with `position` and `step`."""
    after: str
    """Head: the position in which the job leaves it."""
    off_at: str
    """Head: the step at which a piece comes off."""
    on_at: str
    """Head: the step at which it goes back."""
    already: str
    """It is off already."""
    stays_off: str
    """It stays off."""
    notes: str
    """Heading of the lines to write on."""
    on_tray: str
    """Where pieces are drawn at true size: pattern with `fields`, the numbers of their fields."""
    cost: str
    """What a job costs."""
    parts_cost: str
    """What its parts cost: pattern with `cost`."""
    longest_wait: str
    """The longest wait of a job, beside its time: pattern with `time` and `step`."""
    workshop_cost: str
    """What a workshop asks for it: pattern with `cost`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayLabels:
    """The sheet that parts are laid on."""

    title: str
    """Heading."""
    lead: str
    """How to use it."""
    off: str
    """When a piece comes off: pattern with `steps`."""
    on: str
    """When it goes back: pattern with `steps`."""
    already: str
    """It is off when the job begins."""
    stays_off: str
    """It does not go back in this job."""
    pieces: str
    """How many pieces lie in a field: pattern with `count`."""
    may_be_new: str
    """A new one may go back: pattern with `steps`, those that ask for it."""
    old: str
    """A piece lies on no field because a new one goes back: a word for a column."""
    old_lead: str
    """Leads in to these."""
    beside: str
    """It is too large."""
    beside_lead: str
    """Leads in to these, with room to write where they lie."""
    where: str
    """Head: where one of them lies."""
    stays_on: str
    """It is a line of which an end stays on the machine."""
    stays_lead: str
    """Leads in to these."""
    steps: str
    """When a piece comes off and goes back, in short: pattern with `off` and `on`."""
    left_over: str
    """Leads in to the list of a few fields by size."""
    left_over_rows: str
    """Leads in to a table of them."""
    size: str
    """Head: the size of what lies in a field."""
    millimetres: str
    """The length of the line, metric: pattern with `long`."""
    inches: str
    """The same in inches."""
    in_field: str
    """A size, and the field of what has it: pattern with `size` and `field`."""
    field: str
    """Head: the number of a field."""
    ruler: str
    """What to do with the line: pattern with `length`."""
    ruler_alt: str
    """What it is, for who cannot see it: pattern with `length`."""
    piece: str
    """Head: what lies in a field."""
