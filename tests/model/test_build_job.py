"""From a job or block file to its record."""

from __future__ import annotations

import pytest

from putback.model.build_job import build_block, build_job
from putback.model.interval import Interval
from putback.model.job import Block, Job, Step, walk
from putback.model.said import Limit
from putback.model.terms import Ref
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.marking import Align, Mark
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.source.load import Mapping, load_text
from putback.source.schema import FileKind, validate


def job_of(text: str) -> Job:
    loaded = load_text(text, "jobs/impeller.yaml")
    assert isinstance(loaded.root, Mapping), loaded.faults
    assert validate(loaded, FileKind.JOB) == []
    job, faults = build_job(loaded.root, "jobs/impeller.yaml")
    assert faults == []
    return job


def block_of(text: str) -> Block:
    loaded = load_text(text, "blocks/off.yaml")
    assert isinstance(loaded.root, Mapping), loaded.faults
    assert validate(loaded, FileKind.BLOCK) == []
    block, faults = build_block(loaded.root, "blocks/off.yaml")
    assert faults == []
    return block


def step_of(text: str) -> Step:
    [step] = job_of(f"job: X\nsteps:\n{text}").sections[0].steps
    return step


def test_the_head_of_a_job() -> None:
    job = job_of("""job: >-
  Replace the
  impeller
purpose: Flow.
interval: {hours: 300, months: 24, years: 2, km: 100}
people: 2
time: 90 min
skill: For any owner.
waive: {no-final-test: looked at later}
steps: [{note: Look.}]
""")
    assert (job.key, job.path, job.title) == ("impeller", "jobs/impeller.yaml", "Replace the impeller")
    assert (job.purpose, job.people, job.skill) == ("Flow.", 2, "For any owner.")
    assert job.interval is not None
    assert amounts(job.interval) == {"hours": (300, 300), "months": (24, 24), "years": (2, 2), "km": (100, 100)}
    assert (job.interval.calendar or ())[:2] == (24, 24)
    assert job.time is not None
    assert job.time.text == "90 min"
    assert [(waiver.check.name, waiver.reason) for waiver in job.waive] == [("no-final-test", "looked at later")]
    assert (job.span.line, job.span.column, job.span.end_column) == (1, 1, 4)


def amounts(interval: Interval) -> dict[str, tuple[float, float]]:
    return {unit: (lapse.least, lapse.most) for unit, lapse in interval.lapses()}


def test_when_a_job_is_due() -> None:
    def interval_of(written: str) -> Interval:
        interval = job_of(f"job: X\ninterval: {written}\nsteps: [{{note: Look.}}]\n").interval
        assert interval is not None
        return interval

    whole = interval_of("{first: {hours: 20, years: 1}, months: 3 .. 6, also: before  storage}")
    assert (amounts(whole), whole.also) == ({"months": (3, 6)}, "before storage")
    assert whole.first is not None
    assert amounts(whole.first) == {"hours": (20, 20), "years": (1, 1)}
    assert [str(each.span) for each in (whole, whole.first)] == ["jobs/impeller.yaml:2:1", "jobs/impeller.yaml:2:12"]
    words = interval_of("before each use")
    assert (words.also, amounts(words), words.first, words.calendar) == ("before each use", {}, None, None)


def test_words_beside_nothing_are_told() -> None:
    text = "job: X\ninterval: {also: before storage}\nsteps: [{note: Look.}]\n"
    root = load_text(text, "jobs/impeller.yaml").root
    assert isinstance(root, Mapping)
    job, faults = build_job(root, "jobs/impeller.yaml")
    assert [(str(fault.span), fault.message, fault.hint) for fault in faults] == [
        (
            "jobs/impeller.yaml:2:12",
            "'also' is alone: there is no other interval that it adds to",
            "write the words after 'interval' itself",
        )
    ]
    assert job.interval is not None


def test_what_a_job_does_not_say() -> None:
    job = job_of("job: X\nsteps: [{note: Look.}]\n")
    assert (job.people, job.interval, job.purpose, job.time, job.waive) == (1, None, None, None, ())
    assert [section.title for section in job.sections] == [None]


def test_sections() -> None:
    job = job_of("""job: X
sections:
  - title: One
    when: {drive: belt}
    steps: [{note: a}, {check: b, otherwise: [{note: c}]}]
  - title: Two
    steps: [{note: d}]
""")
    assert [section.title for section in job.sections] == ["One", "Two"]
    assert job.sections[0].when is not None
    assert job.sections[1].when is None
    assert [type(step.action) for step in job.steps()] == [Note, Verify, Note, Note]


def test_a_block() -> None:
    block = block_of("block: Off\nbegins-with: [a]\nends-with: [b, c]\nsteps: [{remove: b}]\n")
    assert (block.key, block.title) == ("off", "Off")
    assert [ref.name for ref in block.begins_with] == ["a"]
    assert [ref.name for ref in block.ends_with] == ["b", "c"]


@pytest.mark.parametrize(
    ("text", "kind", "facts"),
    [
        ("remove: a\n    count: 2", Remove, {"count": 2}),
        ("install: a\n    new: true\n    count: 2", Install, {"count": 2, "new": True, "turn": None}),
        ("install: a\n    turn: clockwise", Install, {"new": False, "turn": "clockwise"}),
        ("replace: a", Replace, {"count": None}),
        ("loosen: a\n    count: 1", Loosen, {"count": 1}),
        ("tighten: a\n    torque: 9 N·m", Tighten, {"count": None}),
        ("disconnect: a\n    at: b", Disconnect, {"at": "b"}),
        ("connect: a", Connect, {"at": None}),
        ("drain: a", Drain, {"volume": None}),
        ("fill: a", Fill, {"volume": None}),
        ("set: a\n    to: b", Set, {"to": "b"}),
        ("place: a\n    at: under it", Place, {"at": "under it"}),
        ("take-away: a", TakeAway, {}),
        ("mark: a\n    against: the block", Mark, {"against": "the block"}),
        ("align: a", Align, {"against": None}),
        ("clean: a\n    with: b", Clean, {"with_": "b"}),
        ("inspect: a\n    for: [cracks, wear]", Inspect, {"for_": ("cracks", "wear")}),
        ("measure: a\n    limit: 3 mm", Measure, {"limit": "3 mm"}),
        ("check: a\n    limit: zero", Verify, {"limit": "zero"}),
        ("run: a\n    at: idle", Run, {"at": "idle"}),
        ("lift: a\n    with: b", Lift, {"with_": "b"}),
        ("do: a", Do, {}),
        ("reverse: a", Reverse, {}),
        ("caution: a", Caution, {}),
    ],
)
def test_an_action(text: str, kind: type, facts: dict[str, object]) -> None:
    step = step_of(f"  - {text}\n")
    assert type(step.action) is kind
    assert [ref.name for ref in step.things] == ["a"]
    for name, expected in facts.items():
        value = getattr(step.action, name)
        value = value.name if isinstance(value, Ref) else value.text if isinstance(value, Limit) else value
        assert value == expected


def test_an_action_on_several_things() -> None:
    step = step_of("  - apply: grease\n    to: [a, b]\n")
    assert isinstance(step.action, Apply)
    assert [ref.name for ref in step.action.to] == ["a", "b"]
    assert [ref.name for ref in step_of("  - remove: [a, b]\n").things] == ["a", "b"]


def test_waits_notes_and_stops_have_no_things() -> None:
    wait, note = step_of("  - wait: 5 min\n    until: it is cold\n"), step_of("  - note: Look.\n")
    assert isinstance(wait.action, Wait)
    assert wait.action.duration is not None
    assert (wait.action.duration.text, wait.action.until) == ("5 min", "it is cold")
    assert note.action == Note("Look.")
    assert step_of("  - stop: Enough.\n").action == Stop("Enough.")
    assert wait.things == note.things == ()


def test_the_torque_of_a_step_keeps_its_place() -> None:
    action = step_of("  - tighten: a\n    torque: 9 N·m\n").action
    assert isinstance(action, Tighten)
    assert action.torque is not None
    assert action.torque_span is not None
    assert (action.torque_span.line, action.torque_span.column, action.torque_span.end_column) == (4, 13, 18)


def test_what_every_step_may_carry() -> None:
    step = step_of("""  - remove: a
    text: Take it off.
    note: With
      care.
    because: It leaks.
    tool: [puller, torch]
    figure: {image: a.svg, alt: The part., caption: A.}
    time: 5 min
    when: [{drive: belt}, {drive: [gear, chain], seal: soft}]
    name: first
    waive: {no-final-test: why}
""")
    assert (step.text, step.note, step.because) == ("Take it off.", "With care.", "It leaks.")
    assert [tool.name for tool in step.tools] == ["puller", "torch"]
    assert step.figure is not None
    assert (step.figure.image.name, step.figure.alt, step.figure.caption) == ("a.svg", "The part.", "A.")
    assert step.time is not None
    assert step.time.text == "5 min"
    assert step.when is not None
    cases = [[(clause.option.name, [c.name for c in clause.choices]) for clause in case] for case in step.when.cases]
    assert cases == [
        [("drive", ["belt"])], [("drive", ["gear", "chain"]), ("seal", ["soft"])],
    ]  # fmt: skip
    assert step.name is not None
    assert step.name.name == "first"
    assert step.waive[0].check.name == "no-final-test"
    assert (step.key.line, step.key.column, step.key.end_column) == (3, 5, 11)
    assert (step.span.line, step.span.end_line) == (3, 13)


def test_a_figure_in_short() -> None:
    figure = step_of("  - remove: a\n    figure: a.svg\n").figure
    assert figure is not None
    assert (figure.image.name, figure.alt) == ("a.svg", None)


def test_a_note_before_its_verb_is_a_remark() -> None:
    step = step_of("  - note: With care.\n    remove: a\n")
    assert (type(step.action), step.note) == (Remove, "With care.")
    alone = step_of("  - note: With care.\n")
    assert (type(alone.action), alone.note) == (Note, None)


def test_steps_under_otherwise_come_behind_theirs() -> None:
    step = step_of("""  - measure: a
    otherwise:
      - inspect: b
        otherwise: [{note: c}]
      - remove: d
""")
    assert [type(inner.action) for inner in walk((step,))] == [Measure, Inspect, Note, Remove]
    assert step_of("  - remove: a\n").otherwise == ()


def test_a_quantity_that_is_wrong() -> None:
    loaded = load_text("job: X\nsteps:\n  - tighten: a\n    torque: 18\n", "jobs/j.yaml")
    assert isinstance(loaded.root, Mapping)
    job, [fault] = build_job(loaded.root, "jobs/j.yaml")
    assert (fault.check, str(fault.span), fault.message) == ("bare-number", "jobs/j.yaml:4:13", "'18' has no unit")
    action = job.sections[0].steps[0].action
    assert isinstance(action, Tighten)
    assert action.torque is None
    assert action.torque_span is not None
