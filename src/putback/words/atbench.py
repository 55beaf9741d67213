"""Words of the page of a job while somebody works by it on a screen. Each language fills these in.

The page's script puts the values into patterns; a word here is never glued to another one.
"""

from __future__ import annotations

from dataclasses import dataclass

from putback.words.benchsheets import RefusalLabels, SheetLabels


@dataclass(frozen=True, slots=True, kw_only=True)
class BarLabels:
    """The bar at the foot of the page, what it opens, and what is said there."""

    name: str
    """Names the bar."""
    done: str
    """How many steps are ticked: pattern with `done` and `of`."""
    next_step: str
    """Goes to the next step without a tick: pattern with `step`, its number."""
    no_next: str
    """Stands there when every step is ticked."""
    off: str
    """Opens what is off now: pattern with `count`, how many pieces still go back."""
    off_now: str
    """Heading of what is off now."""
    none_off: str
    """Nothing is off, open, out or moved."""
    goes_back: str
    """What still goes back, in numbers: pattern with `count`."""
    off_lead: str
    """By what the list is made."""
    pieces: str
    """A thing and how many pieces of it: pattern with `name` and `count`."""
    back_at: str
    """Where a thing goes back: pattern with `step`."""
    away_at: str
    """Where equipment that was brought to the machine is taken away again: pattern with `step`."""
    since: str
    """Where a thing came off: pattern with `step`."""
    stays: str
    """No step that is left puts a thing back."""
    perhaps: str
    """Whether a thing is off depends on what is not said yet."""
    left_out: str
    """Steps without a tick before a ticked one: leads in to their numbers."""
    went_back: str
    """A step led back to an earlier one: pattern with `step`, that which led back."""
    take_back: str
    """Undoes that."""
    closed: str
    """Everything is back as it was."""
    timer: str
    """A timer that runs: pattern with `step` and `left`."""
    sheet: str
    """Opens what belongs to the whole sheet: machine, sheets, file."""
    close: str
    """Closes a panel, a dialog or a message."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StateLabels:
    """How a thing stands that is not as it should be at the end."""

    off: str
    """A part is off."""
    out: str
    """Fasteners are out: pattern with `n` and `of`."""
    loose: str
    """Fasteners are loose: pattern with `n`."""
    part: str
    """Fasteners are not at their torque yet: pattern with `n`."""
    open: str
    """A line is open at some of its ends: pattern with `n` and `of`."""
    empty: str
    """A fluid is out."""
    at: str
    """A control is not in its usual position: pattern with `at`, where it is."""
    disturbed: str
    """A setting is not known."""
    there: str
    """Equipment is at the machine and goes away again."""
    astray: str
    """A part is not aligned yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineChoiceLabels:
    """Which machine is in front of the mechanic."""

    title: str
    """Heading."""
    lead: str
    """What the choice does, and for which pages."""
    unknown: str
    """The choice of an option is not known."""
    summary: str
    """What is chosen: pattern with `choices`."""
    own: str
    """A box: this sheet is of another machine of the same model than the others."""
    hidden: str
    """How much is folded away: pattern with `steps` and `rows`."""
    show: str
    """A box: show what is for other machines."""
    not_yours: str
    """Stands at a step or row that is for other machines."""
    not_said: str
    """Stands at a step that depends on an option that is not chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtStepLabels:
    """At a step."""

    answers: str
    """Names the two buttons of a check: pattern with `step`."""
    good: str
    """A button: it is as it should be."""
    bad: str
    """A button: it is not."""
    verdict_good: str
    """A reading is within its limit."""
    verdict_low: str
    """A reading is below its limit: pattern with `limit`."""
    verdict_high: str
    """A reading is above its limit: pattern with `limit`."""
    verdict_out: str
    """A reading is outside its limit, which has no words."""
    garbage: str
    """What is written is no number."""
    unclear: str
    """What is written can be read as two numbers."""
    wrong_unit: str
    """What is written is in a unit that cannot be compared."""
    unit: str
    """Names the choice of a unit: pattern with `label`, that of the reading."""
    show_branch: str
    """Opens a branch that may not be needed: pattern with `label`."""
    not_needed: str
    """A branch that the answer does not lead to."""
    needed: str
    """The branch that the answer leads to."""
    again: str
    """A tick was taken away because the step is done again."""
    start: str
    """Starts a timer: pattern with `time`."""
    start_limit: str
    """Starts a timer for what may last at most so long: pattern with `time`."""
    running: str
    """A timer runs: pattern with `left` and `end`, a time of day."""
    limit_running: str
    """A timer for what may last at most so long runs: pattern with `left`."""
    over: str
    """The time is over: pattern with `end`, a time of day."""
    stop: str
    """Stops a timer."""
    by_ticks: str
    """What came off and went back by the ticks: pattern with `out`, `back`, `new`."""
    differs: str
    """The same, where less went back than came off."""
    now_here: str
    """Said of the step that is next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidLabels:
    """What the page tells, once, when it happens."""

    again: str
    """Ticks were taken away: pattern with `step`, from which one goes on, and `steps`."""
    branch: str
    """A branch was opened: pattern with `step` and `steps`."""
    stop: str
    """The way ends: pattern with `step`."""
    finished: str
    """The last step is ticked."""
    not_kept: str
    """Nothing is kept: storage is off or denied."""
    full: str
    """Nothing is kept any more: storage is full."""
    kept_again: str
    """It is kept again."""
    other_tab: str
    """The sheet was changed in another tab."""
    edition: str
    """The guide was changed since: pattern with `kept` and `lost`."""
    unchosen: str
    """Choices were taken back that no machine has together with the new one."""
    timer_over: str
    """The time of a step is over: pattern with `step`."""
    sheet_open: str
    """Another sheet is open: pattern with `name`."""
    imported: str
    """A file was taken: pattern with `name`."""
    exported: str
    """A file was written: pattern with `name`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtBenchLabels:
    """All of them."""

    bar: BarLabels
    """The bar at the foot of the page."""
    state: StateLabels
    """What a thing is now."""
    machine: MachineChoiceLabels
    """Which machine it is."""
    step: AtStepLabels
    """At a step."""
    sheet: SheetLabels
    """Sheets and files."""
    said: SaidLabels
    """What is told when it happens."""
    refusal: RefusalLabels
    """Why a file is not taken."""
