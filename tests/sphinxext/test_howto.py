"""The data of a job's page: what the page says, in the terms of schema.org."""

from __future__ import annotations

import json
import re
import shutil
import warnings
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from rdflib.namespace import SDO

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sheet import sheet_of
from putback.sphinxext.escaped import as_data
from putback.sphinxext.howto import MOST, duration
from putback.sphinxext.manual import build_manual
from putback.units import parse_any
from tests.sphinxext.projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")

ROOT = Path(__file__).parents[2]

_DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)


def data_of(page: Path) -> dict[str, Any]:
    (text,) = _DATA.findall(page.read_text(encoding="utf-8"))
    data: dict[str, Any] = json.loads(text)
    return data


def inside(value: Any) -> Iterator[dict[str, Any]]:
    """Yield every record of the data."""
    if isinstance(value, dict):
        yield value
        for each in value.values():
            yield from inside(each)
    elif isinstance(value, list):
        for each in value:
            yield from inside(each)


def steps_of(data: dict[str, Any]) -> list[dict[str, Any]]:
    return [each for each in inside(data) if each.get("@type") == "HowToStep"]


@pytest.fixture(scope="module")
def seal(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("seal")
    job = GUIDE["jobs/seal.yaml"].replace("time: 30 min", "time: 90 min\ncost: {parts: about 4 EUR}")
    write(folder, GUIDE | {"jobs/seal.yaml": job})
    build(folder)
    return folder / "_build/html"


@pytest.fixture(scope="module", params=["hollin-20", "sessel-w15", "tarrick-d2", "ambry-g5"])
def shipped(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path]:
    place = tmp_path_factory.mktemp(request.param)
    guide = place / "procedures" / request.param
    shutil.copytree(ROOT / "procedures" / request.param, guide, ignore=shutil.ignore_patterns("build"))
    shutil.copytree(ROOT / "shared", place / "shared")
    opened = open_guide(read_guide(guide))
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        return opened, build_manual(opened, ["html"], place / "out").files[0].parent


def test_a_job_says_its_name_its_time_its_cost_and_what_it_needs(seal: Path) -> None:
    data = data_of(seal / "jobs/seal.html")
    steps = data.pop("step")
    assert data == {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": "Renew the seal",
        "inLanguage": "en",
        "description": "Stop a leak.",
        "totalTime": "PT1H30M",
        "estimatedCost": "about 4 EUR",
        "supply": [{"@type": "HowToSupply", "name": "Seal", "identifier": "TP-1", "requiredQuantity": 1}],
        "tool": [{"@type": "HowToTool", "name": each} for each in (
            "ear protection", "eye protection", "10 mm socket",
            "small torque wrench, 4–25 N·m (3.0–18.4 lbf·ft), in steps of 0.5 N·m (0.37 lbf·ft), lever 220 mm",
        )],
    }  # fmt: skip
    assert [(each["name"], each["url"]) for each in steps] == [
        ("Take apart", "#seal-section-1"), ("Put together", "#seal-section-2"), ("Prove", "#seal-section-3")
    ]  # fmt: skip


def test_a_safety_message_stands_in_front_of_its_step_and_a_branch_is_left_out(seal: Path) -> None:
    proved = data_of(seal / "jobs/seal.html")["step"][-1]["itemListElement"]
    assert [each["position"] for each in proved] == [8, 9, 10]
    message, run = proved[-1]["itemListElement"]
    assert message["text"].startswith("DANGER: A running engine gives off carbon monoxide")
    assert "The gas has no smell" in message["text"]
    assert run == {"@type": "HowToDirection", "text": "Run the engine for 5 min."}
    assert "Do the job again" not in json.dumps(proved)


def test_a_step_for_some_machines_says_so(seal: Path) -> None:
    guard = data_of(seal / "jobs/seal.html")["step"][-1]["itemListElement"][0]
    assert [each["text"] for each in guard["itemListElement"]] == [
        "Only with belt drive. Inspect the belt guard.",
        "Look for cracks.",
    ]


def test_only_the_page_of_a_job_has_such_data(seal: Path) -> None:
    with_data = {page.relative_to(seal).as_posix() for page in seal.rglob("*.html") if _DATA.search(page.read_text())}
    assert with_data == {"jobs/seal.html"}


def test_every_term_is_one_of_schema_org(shipped: tuple[Any, Path]) -> None:
    for page in (shipped[1] / "jobs").glob("*.html"):
        for record in inside(data_of(page)):
            assert record["@type"] in SDO, record
            unknown = [key for key in record if not key.startswith("@") and key not in SDO]
            assert unknown == [], record


def test_every_step_of_the_good_way_is_there_once_and_leads_to_its_place(shipped: tuple[Any, Path]) -> None:
    opened, folder = shipped
    for key, job in opened.guide.jobs.items():
        sheet = sheet_of(job, opened)
        if sheet is None:
            continue
        page = folder / "jobs" / f"{key}.html"
        data = data_of(page)
        steps = steps_of(data)
        wanted = [
            line.number for part in sheet.sections for line in part.walk() if line.number and not line.conditional
        ]
        anchors = [f"#{key}-step-{number.lower()}" for number in wanted]
        if not steps:  # of a long job, only the texts
            texts = [text for part in data["step"] for text in part["itemListElement"]]
            assert len(texts) == len(wanted)
            assert all(texts)
            continue
        assert [each["url"] for each in steps] == anchors, key
        text = page.read_text(encoding="utf-8")
        for each in steps:
            assert f'id="{each["url"].removeprefix("#")}"' in text
            assert each.get("text") or all(part["text"] for part in each["itemListElement"])


def test_every_safety_message_of_the_good_way_is_there(shipped: tuple[Any, Path]) -> None:
    opened, folder = shipped
    seen = 0
    for key, job in opened.guide.jobs.items():
        sheet = sheet_of(job, opened)
        told = json.dumps(data_of(folder / "jobs" / f"{key}.html")["step"], ensure_ascii=False)
        for line in sheet.walk() if sheet else ():
            for shown in line.messages if not line.conditional and not line.number else ():
                hazard = json.dumps(shown.message.hazard, ensure_ascii=False).strip('"')
                assert " ".join(hazard.split()) in told or "{" in hazard, key
                seen += 1
    assert seen


def test_pictures_are_files_of_the_manual(shipped: tuple[Any, Path]) -> None:
    folder = shipped[1]
    for page in (folder / "jobs").glob("*.html"):
        for each in steps_of(data_of(page)):
            pictures = each.get("image", [])
            for picture in [pictures] if isinstance(pictures, str) else pictures:
                assert (page.parent / picture).is_file(), picture


def test_the_data_of_no_shipped_job_are_heavy(shipped: tuple[Any, Path]) -> None:
    for page in (shipped[1] / "jobs").glob("*.html"):
        (text,) = _DATA.findall(page.read_text(encoding="utf-8"))
        assert len(text) <= MOST, page.name


def test_a_long_job_says_the_sentences_of_its_steps_and_a_longer_one_only_these(tmp_path: Path) -> None:
    for times, lists, addresses in ((150, False, True), (330, False, False)):
        folder = tmp_path / str(times)
        note = "        note: Look at it closely, in a good light, and feel along it with a fingernail.\n"
        prove = "  - title: Prove\n    steps:\n"
        job = GUIDE["jobs/seal.yaml"].replace(prove, prove + times * f"      - inspect: lid\n{note}")
        write(folder, GUIDE | {"jobs/seal.yaml": job})
        build(folder)
        data = data_of(folder / "_build/html/jobs/seal.html")
        steps = data["step"][-1]["itemListElement"]
        assert any("itemListElement" in each for each in steps if isinstance(each, dict)) is lists
        assert any("url" in each for each in steps if isinstance(each, dict)) is addresses
        last = steps[-1]["text"] if addresses else steps[-1]
        assert last == (
            "DANGER: A running engine gives off carbon monoxide, gets hot, and turns parts that no guard covers. "
            "Run the engine for 5 min."
        )
        assert len(steps) == times + 3


@pytest.mark.parametrize(
    ("time", "said"),
    [
        ("30 min", "PT30M"), ("90 min", "PT1H30M"), ("7 h", "PT7H"), ("45 s", "PT45S"), ("2-3 h", "PT3H"),
        ("<= 20 min", "PT20M"), (">= 20 min", ""), ("26 h", "PT26H"), ("1.5 h", "PT1H30M"), ("0.5 s", "PT0.5S"),
    ],
)  # fmt: skip
def test_a_time_is_written_as_iso_8601_does(time: str, said: str) -> None:
    assert duration(parse_any(time)) == said
    assert not said or Decimal(re.sub(r"\D", "", said)) > 0


def test_data_end_no_script_and_open_no_tag() -> None:
    text = as_data({"name": "</script><!--<script>&amp;\u2028"})
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == {"name": "</script><!--<script>&amp;\u2028"}
