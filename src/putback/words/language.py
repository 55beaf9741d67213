"""What a language must be able to say. Pages ask nothing else, and say nothing themselves."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Protocol

from putback.model.details import Kit
from putback.model.interval import Interval, Lapse
from putback.model.job import Job, Step
from putback.model.library import Equipment, Hazard, Library, Tool
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line
from putback.model.said import Limit
from putback.model.setting import Disturber
from putback.model.terms import Ref, When
from putback.model.verbs.asking import Measure
from putback.sheet.between import Away
from putback.sheet.supply import Over
from putback.sheet.wanted import LaidOut
from putback.units import Quantity
from putback.variants import Choice
from putback.words.drawn import BesideDrawings
from putback.words.labels import Labels
from putback.words.pieces import Phrase


class Language(BesideDrawings, Protocol):
    """Makes the sentences of one guide, in one language."""

    things: Mapping[str, AnyThing]
    """The things of the machine."""
    library: Library
    """The library."""
    labels: Labels
    """Headings, heads of columns and labels."""

    # Quantities, conditions, names.

    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units."""

    def job_named(self, title: str) -> str:
        """Return the title of a job as it stands in a sentence."""
        ...

    def written(self, text: str) -> str:
        """Return an author's words for what is no thing of the machine, as they are printed."""
        ...

    def kind(self, kind: str) -> str:
        """Return what kind of fastener or line something is, in a table."""
        ...

    def each_of(self, places: str, names: Sequence[str]) -> str:
        """Return what stands above the steps that are done for each place: their names."""

    def figure(self, value: float | Decimal) -> str:
        """Return a bare number."""
        ...

    def day(self, text: str) -> str:
        """Return a day, written as 2026-11-25; other words as they are."""
        ...

    def unit_of(self, quantity: Quantity) -> str:
        """Return the unit that a quantity is printed in first."""

    def limit(self, limit: Limit) -> str:
        """Return a limit: in the guide's units when it is a quantity, otherwise as it is."""

    def only_when(self, when: When | None) -> str | None:
        """Return a condition as it stands in front of a sentence; None for what every variant meets."""

    def for_choice(self, choice: Choice) -> str:
        """Return which variants a book is for, as a line on its cover; nothing when it is for all."""

    def row(self, what: str, when: When | None, only_if: Sequence[str] = (), more: int = 0) -> str:
        """Return what a row is about, for which variants and after which steps; with `more`, so many besides others."""

    def kit(self, kit: Kit | None) -> str:
        """Return a kit with its number."""

    def only_for(self, when: When | None) -> str:
        """Return for which variants something is, as it stands in brackets; nothing for all."""
        ...

    def only_in(self, branches: Sequence[tuple[str, Sequence[str]]]) -> str:
        """Return on which steps of which jobs something hangs, each job by its title; nothing for none."""
        ...

    def left_over(self, over: Sequence[Over]) -> str:
        """Return what a kit leaves over."""
        ...

    def count(self, pieces: int, *, varies: bool = False) -> str:
        """Return a number of pieces; the most of them where it depends on the machine."""

    def if_led(self, steps: Sequence[str]) -> str:
        """Return on which steps a follow-up hangs."""

    def title_of(self, thing: AnyThing) -> str:
        """Return a thing's name as a row or heading."""

    def names(self, names: Sequence[str]) -> str:
        """Return names as a list, all of them together."""

    def choices(self, names: Sequence[str]) -> str:
        """Return choices as a list, one of them at a time."""

    def option(self, name: str) -> str:
        """Return an option as a label."""

    def driven(self, thing: Fastener) -> str:
        """Return what turns a fastener, with its size; nothing when that is not said."""
        ...

    def facts(self, thing: Fastener) -> str:
        """Return what tells a fastener from others, in brackets, with a blank before; nothing when it has none."""

    def fluid(self, fluid: Fluid, volume: Quantity | None) -> str:
        """Return a fluid to lay out, with its grade and how much of it is filled in."""

    def tool_for(self, drive: str) -> str:
        """Return the name of a tool that the library has none of, by the drive that it turns."""

    def second_tool(self, name: str) -> str:
        """Return the name of one of two alike tools: the other turns, this one holds."""

    def due(self, interval: Interval | None) -> str:
        """Return when a job is due."""

    def lapses(self, interval: Interval, *, calendar: bool | None = None) -> str:
        """Return how much goes by until a job is due: by the meter, on the calendar, or both; nothing for nothing."""

    def lapse(self, unit: str, lapse: Lapse) -> str:
        """Return how much of one thing goes by."""

    # Steps.

    def step(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence of a step: the author's own text and what it leaves out, or a made one."""

    def reason(self, text: str) -> str:
        """Return why a step is done, as the author says it."""

    def uses(self, step: Step) -> Iterator[str]:
        """Yield what stands before the lines for which use of its things it is."""

    def new_if(self, step: Step, steps: Sequence[str]) -> str:
        """Return on which steps it hangs that a new one goes on, in place of what came off."""

    def step_facts(self, step: Step) -> Iterator[str]:
        """Yield what a step's sentence has no place for."""

    def tool(self, tool: Tool, *, briefly: bool = False, torque: Quantity | None = None) -> str:
        """Return a tool with what tells it from others; of a wrench, no range in other units than the torque."""

    def equipment(self, equipment: Equipment) -> str:
        """Return a piece of equipment with its rated load."""

    def generated(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence that verb and facts make."""

    def step_named(self, number: str, title: str = "") -> str:
        """Return a step by its number; of another job, with the title of that one."""

    def figure_named(self, number: str, title: str = "") -> str:
        """Return a picture by the number of the step at which it stands."""

    def go_back(self, number: str) -> Phrase:
        """Return how to go on from an earlier step."""

    def otherwise(self, step: Step, places: int = 1) -> str:
        """Return what leads to the steps under `otherwise`."""

    def outcome(self, step: Step, found: Limit, places: int = 1) -> str:
        """Return what leads to the steps of one outcome."""

    def reading(self, name: str) -> str:
        """Return what stands before the line for one of several readings."""

    def worked_out(self, action: Measure) -> Iterator[str]:
        """Yield what stands before the lines for what is worked out of several readings."""

    def waste(self, text: str) -> str:
        """Return what to do with what comes out."""

    def wear(self, items: Sequence[str]) -> str:
        """Return what to wear; nothing for nothing."""

    # Controls.

    def set_first(self, control: Control, position: str, when: When | None) -> Phrase:
        """Return a control to set before the work, and for which variants."""

    def positions(self, control: Control) -> str:
        """Return all positions of a control, each with the author's words for what brings it there."""

    def position_name(self, position: str) -> str:
        """Return the name of a position."""

    def standing(self, rows: Sequence[LaidOut[Away]]) -> list[str]:
        """Return how a machine stands that is apart, a line for each kind of state."""

    # Settings.

    def disturbers(self, disturbers: Sequence[Disturber]) -> str:
        """Return what disturbs a setting, or adjusts it, as a list; nothing for nothing."""

    # Fasteners and parts.

    def torque(self, thing: Fastener, stated: Quantity | None = None) -> str | None:
        """Return the torque of a fastener."""

    def film(self, thing: Fastener) -> str | None:
        """Return the state of the thread that its torque is meant for."""

    def stages(self, thing: Fastener) -> Phrase:
        """Return the stages of tightening."""

    def order(self, thing: Fastener) -> str | None:
        """Return the order in which a group is tightened."""

    def gently(self, things: Sequence[Ref]) -> str:
        """Return how fasteners come loose whose part may warp; nothing for others."""

    def how_tight(self, thing: Fastener) -> Phrase:
        """Return how a fastener is tightened, for a table."""

    def joint(self, thing: Fastener, held: Sequence[str], base: str | None) -> str:
        """Return what a fastener holds together; nothing when that is not said."""

    def thread_state(self, thing: Fastener) -> str | None:
        """Return the state of the thread as a table says it."""

    def lengths(self, thing: Fastener) -> list[str]:
        """Return the length of a fastener, or that of the piece at each position."""

    def bought(self, thing: Fastener | Line) -> str:
        """Return how a thing is bought; nothing when that is not said."""

    def remarks(self, thing: AnyThing, *, of_thread: bool = False) -> Iterator[str]:
        """Yield what a table has no column for, a sentence each; with `of_thread`, of how a part is screwed on."""

    def never_built(self, combination: When) -> str:
        """Return a combination of options that no machine has."""

    # Safety.

    def skill(self, job: Job) -> str:
        """Return who can do a job."""

    def licensed(self, hazards: Sequence[Hazard]) -> str:
        """Return what a licensed professional must do."""

    def before_licensed(self, hazard: Hazard, titles: Sequence[str]) -> str:
        """Return which jobs need a licensed professional for a hazard."""

    def due_after(self, after: str) -> str:
        """Return after what a follow-up is due, as a heading: running hours, a distance, or the author's words."""

    def once_more(
        self,
        thing: Fastener,
        count: int,
        hours: Quantity,
        torque: Quantity | None,
        steps: Sequence[str],
        slacken: Quantity | None = None,
    ) -> Phrase:
        """Return what is tightened once more, when, and how."""
