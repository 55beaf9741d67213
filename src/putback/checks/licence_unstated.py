"""A job includes licensed work, and does not say when to call a professional.

Mains electricity, fuel gas, refrigerant and brakes can kill the owner and others, long after the job. In most places
the law says who may do this work. `hazards.yaml` marks such hazards as `licensed`; closing a tap or switching off does
not change that.

Say in the job's `skill` who must do it or check it: a licensed electrician, a certified gas fitter, a workshop.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.hazards import licensed_work
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.source.finding import Also, Level
from putback.source.late import Late

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True

FAILS = """
# hazards.yaml
running-engine: {name: running engine, signal-at-least: warning, verbs: [run], licensed: true}
# jobs/example.yaml
job: Run the pump
^^^ running engine is work for a professional, but the job has no 'skill'
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""

PASSES = """
# hazards.yaml
running-engine: {name: running engine, signal-at-least: warning, verbs: [run], licensed: true}
# jobs/example.yaml
job: Run the pump
skill: For a licensed electrician only.
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""

_PROFESSIONAL = Late(
    r"\b(licen[sc]ed?|certified|certificated|qualified|registered|electricians?|(gas )?fitters?|technicians?"
    r"|professionals?|workshops?|dealers?|mechanics?|engineers?)\b",
    re.IGNORECASE,
)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield jobs with licensed hazards whose `skill` names no professional; once for each hazard."""
    for book in opened.books:
        job = book.sequence
        if not isinstance(job, Job) or _PROFESSIONAL.search(job.skill or ""):
            continue
        for risk, variants in licensed_work(book):
            lacks = "its 'skill' does not name one" if job.skill else "the job has no 'skill'"
            entry = risk.entry
            yield Fault(
                job.span if job.skill is None else job.skill.span,
                f"{risk.hazard.name} is work for a professional, but {lacks}",
                (Also(entry.span, "this step has the hazard"), *entry.ways),
                "add to 'skill': who must do this work, or check it",
                variants,
            )
