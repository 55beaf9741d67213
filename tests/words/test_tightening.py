# ruff: noqa: E501 - a sentence stands whole on one line
"""How fasteners are tightened, as a reader is told: order, stages, thread condition, wrench setting, drawing."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from xml.etree import ElementTree

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.joints.friction import Film
from putback.ledger.opened import open_guide
from putback.model.fastened import condition_of
from putback.model.machine import Fastener
from putback.model.turned import dial_of
from putback.words import as_text, catalogue
from tests.sphinxext.projects import build, write

MACHINE = """\
machine: Test engine
parts:
  block: {}
  head: {name: cylinder head, loosen-evenly: true}
  cover: {}
  rod: {}
  cap: {name: rod cap}
fasteners:
  head-bolts:
    {name: head bolt, count: 6, thread: M8 x 1.25, class: "8.8", secures: head, to: block, torque: 24 N·m,
     stages: [snug, 50 %, 100 %], passes: 2, layout: "rows 2 x 3, 120 mm x 70 mm", compound: oil}
  cover-screws:
    {name: cover screw, count: 4, thread: M6, secures: cover, to: block, torque: 9 N·m, layout: circle 60 mm,
     condition: clean and dry}
  rod-bolts:
    {name: rod bolt, count: 2, thread: M7 x 1.0, class: "10.9", secures: cap, to: rod, stages: [12 N·m, 90°],
     replace: always}
  pipe-nut: {name: pipe nut, kind: nut, thread: M8, to: block, torque: 18 N·m, tool: crowfoot, condition: greased}
  side-nut: {name: side nut, kind: nut, thread: M8, to: block, torque: 18 N·m, tool: crowfoot, wrench-angle: 90°}
  far-nut: {name: far nut, kind: nut, thread: M8, to: block, torque: 200 N·m, tool: crowfoot, torque-confirmed: a test}
  listed: {name: pan screw, count: 4, thread: M6, torque: 9 N·m, order: [1, 3, 2, 4]}
  placed: {name: lid screw, count: 4, thread: M6, torque: 9 N·m, order: [4, 2, 3, 1], layout: circle 60 mm}
  worded: {name: box screw, count: 4, thread: M6, torque: 9 N·m, order: after the pan screws, layout: circle 60 mm}
  turned: {name: rim screw, count: 4, thread: M6, torque: 9 N·m, order: in turn, layout: circle 60 mm}
  stiff: {name: stop nut, kind: nut, thread: M8, torque: 25 N·m, running-torque: 3 N·m}
  stiffer: {name: end nut, kind: nut, count: 2, thread: M8, stages: [10 N·m, 25 N·m], running-torque: 2 N·m .. 4 N·m}
  three: {name: lug screw, count: 3, thread: M6, torque: 9 N·m, layout: circle 60 mm}
  bearing-nut: {name: bearing nut, kind: nut, to: block, stages: [68 N·m, back 90°]}
"""

LIBRARY = {
    "tools.yaml": """\
click-wrench: {name: click wrench, range: 10 N·m .. 60 N·m, step: 0.5 N·m, lever: 360 mm}
long-wrench: {name: long wrench, range: 15 N·m .. 160 N·m, lever: 600 mm}
crowfoot: {name: crowfoot, extends: 40 mm}
stubby: {name: stubby crowfoot, extends: 20 mm}
""",
    "consumables.yaml": "oil: {name: engine oil, threads: oiled}\n",
}


def test_pins_are_not_loosened_a_little_at_a_time(tmp_path: Path) -> None:
    pins = "  pins: {name: head pin, kind: pin, count: 2, secures: head}\n"
    write(tmp_path / "guide", {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE + pins})
    write(tmp_path / "guide", {"jobs/job.yaml": "job: Test\nsteps:\n  - {remove: pins}\n  - {remove: head-bolts}\n"})
    guide = read_guide(tmp_path / "guide")
    words = catalogue(open_guide(guide))
    pulled, loosened = (as_text(words.step(step)) for step in guide.jobs["job"].sections[0].steps)
    assert pulled == "Remove the two head pins."
    assert "half a turn at a time" in loosened


def guide_in(folder: Path, steps: str) -> Guide:
    files = {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": f"job: Test\nsteps:\n{steps}"}
    write(folder / "guide", files)
    write(folder / "shared", LIBRARY)
    guide = read_guide(folder / "guide")
    assert guide.faults == ()
    return guide


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        (
            "tighten: head-bolts",
            "Tighten the six head bolts from the middle outwards in stages, each once round all of them: snug, to 12 N·m (9 lbf·ft), then to "
            "24 N·m (18 lbf·ft), the last stage twice round, threads oiled.",
        ),
        ("tighten: cover-screws", "Tighten the four cover screws crosswise to 9 N·m (6.6 lbf·ft), threads clean and dry."),
        ("tighten: bearing-nut", "Tighten the bearing nut in stages: to 68 N·m (50 lbf·ft), then back by 90°."),
        ("tighten: rod-bolts", "Tighten the two rod bolts in stages: to 12 N·m (9 lbf·ft), then 90° further."),
        (
            "tighten: pipe-nut",
            "Tighten the pipe nut to 18 N·m (13 lbf·ft), thread greased. With the crowfoot in line with the wrench, set "
            "the click wrench (lever 360 mm) to 16 N·m (12 lbf·ft): the fastener then has its torque.",
        ),
        (
            "{tighten: pipe-nut, tool: stubby}",
            "Tighten the pipe nut to 18 N·m (13 lbf·ft), thread greased. With the stubby crowfoot in line with the "
            "wrench, set the click wrench (lever 360 mm) to 17 N·m (12.5 lbf·ft): the fastener then has its torque.",
        ),
        (
            "tighten: side-nut",
            "Tighten the side nut to 18 N·m (13 lbf·ft). With the crowfoot at 90° to the wrench, set the click wrench "
            "(lever 360 mm) to 18 N·m (13 lbf·ft): the fastener then has its torque.",
        ),
        ("tighten: far-nut", "Tighten the far nut to 200 N·m (148 lbf·ft)."),
        ("tighten: listed", "Tighten the four pan screws in the order 1, 3, 2, 4 to 9 N·m (6.6 lbf·ft)."),
        ("tighten: worded", "Tighten the four box screws to 9 N·m (6.6 lbf·ft), after the pan screws."),
        ("tighten: three", "Tighten the three lug screws to 9 N·m (6.6 lbf·ft)."),
        ("{tighten: cover-screws, count: 2}", "Tighten two of the four cover screws to 9 N·m (6.6 lbf·ft), threads clean and dry."),
        ("{tighten: cover-screws, torque: 4 N·m}", "Tighten the four cover screws crosswise to 4 N·m (35 lbf·in) for now, threads clean and dry."),
        ("{tighten: cover-screws, torque: 50 %}", "Tighten the four cover screws crosswise to 4.5 N·m (40 lbf·in), 50 % of the torque, for now."),
        ("{tighten: cover-screws, torque: snug}", "Tighten the four cover screws crosswise until they are snug, for now."),
        ("{tighten: side-nut, torque: snug}", "Tighten the side nut until it is snug, for now."),
        ("{tighten: rod-bolts, torque: 12 N·m}", "Tighten the two rod bolts to 12 N·m (9 lbf·ft) for now."),
        ("{tighten: rod-bolts, torque: 90°}", "Tighten the two rod bolts 90° further."),
        (
            "tighten: stiff",
            "Tighten the stop nut to 25 N·m (18.4 lbf·ft). It takes 3 N·m (27 lbf·in) to turn it before it seats: set "
            "the torque wrench to 28 N·m (21 lbf·ft).",
        ),
        (
            "tighten: stiffer",
            "Tighten the two end nuts in stages: to 10 N·m (7.4 lbf·ft), then to 25 N·m (18.4 lbf·ft). It takes 2–4 N·m "
            "(18–35 lbf·in) to turn one before it seats: set the torque wrench that much higher at each stage, at the "
            "last to 28 N·m (21 lbf·ft).",
        ),
        (
            "loosen: head-bolts",
            "Loosen the six head bolts (M8 x 1.25) in the opposite order, half a turn at a time. Leave them in.",
        ),
        (
            "remove: head-bolts",
            "Remove the six head bolts (M8 x 1.25). Loosen them in the opposite order, half a turn at a time, until all "
            "are loose, before the first comes out.",
        ),
        ("remove: cover-screws", "Remove the four cover screws (M6)."),
    ],
)  # fmt: skip
def test_what_a_reader_is_told(tmp_path: Path, step: str, sentence: str) -> None:
    guide = guide_in(tmp_path, f"  - {step}\n")
    words = as_text(catalogue(open_guide(guide)).step(guide.jobs["job"].sections[0].steps[0]))
    assert words.replace("\N{NO-BREAK SPACE}", " ") == sentence


@pytest.mark.parametrize(
    ("name", "sequence", "order"),
    [
        ("head-bolts", (2, 5, 1, 6, 3, 4), "from the middle outwards"),
        ("cover-screws", (1, 3, 2, 4), "crosswise"),
        ("listed", (1, 3, 2, 4), "in the order 1, 3, 2, 4"),
        ("placed", (4, 2, 3, 1), "in the order of the drawing"),
        ("worded", (), "after the pan screws"),
        ("turned", (1, 2, 3, 4), "in turn"),
        ("three", (), None),
    ],
)
def test_the_order_of_a_group(tmp_path: Path, name: str, sequence: tuple[int, ...], order: str | None) -> None:
    guide = guide_in(tmp_path, "  - note: x\n")
    assert guide.machine is not None
    thing = guide.machine.things[name]
    assert isinstance(thing, Fastener)
    assert (catalogue(open_guide(guide)).order(thing), sorted(thing.sequence)) == (order, sorted(sequence))
    if name != "head-bolts":
        assert thing.sequence == sequence
    else:
        assert set(thing.sequence[:2]) == {2, 5}, "the middle pair comes first"


def test_the_state_of_a_thread_is_stated_or_comes_from_the_compound(tmp_path: Path) -> None:
    guide = guide_in(tmp_path, "  - note: x\n")
    assert guide.machine is not None
    films = {
        key: condition_of(thing, guide.library).film
        for key, thing in guide.machine.things.items()
        if isinstance(thing, Fastener)
    }
    assert films["head-bolts"] is Film.OILED
    assert films["cover-screws"] is Film.DRY
    assert films["rod-bolts"] is None


def test_no_setting_without_a_crowfoot_or_a_lever(tmp_path: Path) -> None:
    guide = guide_in(tmp_path, "  - note: x\n")
    assert guide.machine is not None
    thing = guide.machine.things["cover-screws"]
    assert isinstance(thing, Fastener)
    assert thing.torque is not None
    assert dial_of(thing, thing.torque, guide.library) is None


JOB = """\
job: Renew the head gasket
sections:
  - title: Apart
    steps:
      - remove: head-bolts
      - remove: head
  - title: Together
    steps:
      - install: head
      - apply: oil
        to: head-bolts
      - install: head-bolts
      - tighten: head-bolts
  - title: Prove
    steps:
      - check: head joint
        limit: dry
        otherwise:
          - stop: Do the job again.
"""


def project(folder: Path) -> Path:
    conf = 'project = "Test"\nextensions = ["putback.sphinxext"]\nroot_doc = "index"\n'
    index = "# Test\n\n```{toctree}\nmachine\njobs/job\n```\n\n```{putback-torques}\n```\n"
    write(folder, {"conf.py": conf, "index.md": index, "guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": JOB, **LIBRARY})  # fmt: skip
    return folder


def turns(drawing: ElementTree.Element, size: float = 0.0) -> list[tuple[float, float, str]]:
    """Return the turns in a drawing, which are its largest figures, with their places, the first turn first."""
    size = float(drawing.get("font-size", size))
    if drawing.tag == "text" and size > 10:
        return [(float(drawing.get("x", "")), float(drawing.get("y", "")), drawing.text or "")]
    return sorted((turn for child in drawing for turn in turns(child, size)), key=lambda turn: turn[2])


def test_the_drawing_stands_at_the_step_and_tells_its_order_in_words(tmp_path: Path) -> None:
    root = project(tmp_path / "p")
    build(root)
    page = (root / "_build/html/jobs/job.html").read_text(encoding="utf-8")
    drawings = re.findall(r'<figure class="drawing.*?</figure>', page, re.DOTALL)
    assert [re.search("<title>(.*?)</title>", each)[1] for each in drawings] == [  # type: ignore[index]
        "Loosening order of the six head bolts",
        "Tightening order of the six head bolts",
    ]
    assert all('role="img"' in each and "Seen from the side of the head bolts." in each for each in drawings)
    assert [re.search("<desc>(.*?): start|<desc>(.*?) Start", each) is not None for each in drawings] == [True, True]
    places = [turns(ElementTree.fromstring(re.search("<svg.*</svg>", each, re.DOTALL)[0])) for each in drawings]  # type: ignore[index]
    assert [number for _, _, number in places[0]] == list("123456")
    (x, y, _), (u, v, _) = places[0][0], places[1][0]
    moved = u - x, v - y  # the words above are longer in one of them
    for (x, y, one), (u, v, other) in zip(*places, strict=True):
        assert (round(u - x - moved[0], 1), round(v - y - moved[1], 1), one) == (0, 0, other)


def test_a_drawing_stands_once_on_a_page(tmp_path: Path) -> None:
    root = project(tmp_path / "p")
    again = "      - loosen: head-bolts\n      - tighten: head-bolts\n"
    job = JOB.replace("      - tighten: head-bolts\n", f"      - tighten: head-bolts\n{again}")
    write(root, {"jobs/job.yaml": job})
    build(root)
    page = (root / "_build/html/jobs/job.html").read_text(encoding="utf-8")
    assert page.count('<figure class="drawing') == 2
    assert re.findall(r"See the drawing of the order at step \d+\.", page) == [
        "See the drawing of the order at step 1.", "See the drawing of the order at step 6."
    ]  # fmt: skip


def test_the_torque_table_is_by_joint(tmp_path: Path) -> None:
    root = project(tmp_path / "p")
    build(root)
    page = (root / "_build/html/index.html").read_text(encoding="utf-8")
    rows = re.findall(r"<tr.*?</tr>", page, re.DOTALL)
    at = next(at for at, row in enumerate(rows) if "ead bolt" in row)
    # The row of the bolts, and the one below it with what is to be remarked.
    row = "".join(rows[at : at + 2])
    cells = [
        " ".join(unescape(re.sub(r"<[^>]+>", "", cell)).split())
        for cell in re.findall(r"<t[hd].*?</t[hd]>", row, re.DOTALL)
    ]
    assert cells == [
        "6 × Head bolts cylinder head to block",
        "M8 x 1.25, 8.8",
        "oiled",
        "snug, to 12 N·m (9 lbf·ft), then to 24 N·m (18 lbf·ft), the last stage twice round, from the middle outwards",
        "Put engine oil on their threads.",
    ]


def test_an_output_without_pictures_gets_the_words(tmp_path: Path) -> None:
    root = project(tmp_path / "p")
    build(root, "text")
    page = " ".join((root / "_build/text/jobs/job.txt").read_text(encoding="utf-8").split())
    assert "Tighten them in the order of the numbers, from 1 to 6. Start at the top" in page
    assert "Loosen them in reverse order, from 6 to 1. The numbers are those of tightening: start" in page


def test_what_is_said_at_a_block_stands_before_its_steps(tmp_path: Path) -> None:
    root = project(tmp_path / "p")
    block = "block: Look\nsteps:\n  - inspect: head\n    for: a crack\n"
    machine = MACHINE.replace("parts:\n", "options:\n  fuel: [gas, oil]\nparts:\n")
    job = "job: Test\nsteps:\n  - do: look\n    when: {fuel: gas}\n    note: With both hands.\n  - do: look\n"
    write(root, {"machine.yaml": machine, "blocks/look.yaml": block, "jobs/job.yaml": job})
    build(root, "text")
    page = (root / "_build/text/jobs/job.txt").read_text(encoding="utf-8")
    said = page.index("With both hands.")
    assert page.index("Only with fuel: gas") < said < page.index("1. ")
    assert page.count("With both hands.") == 1


@pytest.mark.parametrize(
    ("lengths", "said"),
    [
        ("{front: 30 mm, aft: 45 mm, mid: 60 mm}", ["front 30 mm", "aft 45 mm", "mid 60 mm"]),
        ("{front: 20 mm, aft: 35 mm, mid: 20 mm}", ["20 mm at front and mid", "35 mm at aft"]),
    ],
)
def test_a_length_that_several_places_have_is_said_once(lengths: str, said: list[str], tmp_path: Path) -> None:
    places = f"{{kind: bolt, count: 3, length: {lengths}, to: block, torque: 9 N·m}}"
    (tmp_path / "g").mkdir()
    (tmp_path / "g" / "machine.yaml").write_text(
        f"machine: M\nparts: {{block: {{}}}}\nfasteners: {{bolts: {places}}}\n"
    )
    opened = open_guide(read_guide(tmp_path / "g"))
    assert opened.guide.machine
    bolts = opened.guide.machine.things["bolts"]
    assert isinstance(bolts, Fastener)
    assert [each.replace("\N{NO-BREAK SPACE}", " ") for each in catalogue(opened).lengths(bolts)] == said
