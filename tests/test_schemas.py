"""The schemas for editors: in each guide, right on every machine, and no part of the guide."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource
from ruamel.yaml import YAML

from putback.lint.guides import lint
from putback.source.schema import shipped
from putback.starter import start_guide
from putback.starter.schemas import FOLDER, renew_schemas
from tests.conftest import Putback

MODELINE = "# yaml-language-server: $schema="


def on_disk(uri: str) -> Resource[bool | dict[str, object]]:
    text = Path(uri.removeprefix("file://")).read_text(encoding="utf-8")
    found: Resource[bool | dict[str, object]] = Resource.from_contents(json.loads(text))
    return found


def test_each_file_of_a_new_guide_names_its_schema_wherever_the_guide_is(tmp_path: Path) -> None:
    """As an editor does it: by a path that begins at the file, and from one schema to the next by theirs."""
    start_guide(tmp_path / "first")
    guide = tmp_path / "on another machine"
    shutil.move(tmp_path / "first", guide)
    kinds = set()
    for path in sorted(guide.rglob("*.yaml")):
        first, text = path.read_text(encoding="utf-8").split("\n", 1)
        assert first.startswith(MODELINE), path
        schema = (path.parent / first.removeprefix(MODELINE)).resolve()
        kinds.add(schema.name.partition(".")[0])
        assert schema.parent == guide / FOLDER
        rules = {"$ref": f"file://{schema}"}
        validator = Draft202012Validator(rules, registry=Registry(retrieve=on_disk))  # type: ignore[call-arg]
        yaml = YAML(typ="safe", pure=True)
        yaml.version = (1, 2)
        value = json.loads(json.dumps(yaml.load(text), default=str))
        assert [error.message for error in validator.iter_errors(value)] == []
        assert [*validator.iter_errors({**value, "no-such-key": {"no-such-key": 1}})] != []
    assert kinds == {"block", "cautions", "equipment", "guide", "hazards", "job", "machine", "tools"}


def test_nothing_in_the_folder_is_part_of_the_guide(tmp_path: Path) -> None:
    start_guide(tmp_path / "mill")
    before = lint([tmp_path / "mill"])
    for name in ("guide.yaml", "machine.yaml", "jobs.yaml", "page.md"):
        (tmp_path / "mill" / FOLDER / name).write_text("[", encoding="utf-8")
    assert lint([tmp_path / "mill"]) == before


def test_what_is_out_of_date_is_replaced_and_what_is_not_ours_stays(tmp_path: Path) -> None:
    names = [path.name for path in sorted(shipped("schema").iterdir())]
    assert [path.name for path in renew_schemas(tmp_path)] == names
    assert renew_schemas(tmp_path) == []
    outside = tmp_path / "outside"
    outside.write_text("mine", encoding="utf-8")
    (tmp_path / FOLDER / "mine.json").write_text("{}", encoding="utf-8")
    (tmp_path / FOLDER / "job.schema.json").write_text("{}", encoding="utf-8")
    (tmp_path / FOLDER / "words.schema.json").unlink()
    (tmp_path / FOLDER / "words.schema.json").symlink_to(outside)
    assert [path.name for path in renew_schemas(tmp_path)] == ["job.schema.json", "words.schema.json"]
    assert outside.read_text(encoding="utf-8") == "mine"
    assert sorted(os.listdir(tmp_path / FOLDER)) == sorted([*names, "mine.json"])  # noqa: PTH208
    assert (tmp_path / FOLDER / "job.schema.json").read_bytes() == (shipped("schema") / "job.schema.json").read_bytes()


def test_the_command_says_what_it_wrote_and_which_lines_are_missing(
    tmp_path: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    start_guide(tmp_path / "mill")
    assert putback("schema", "mill").out == "mill/.schema is up to date\n"
    (tmp_path / "mill" / FOLDER / "job.schema.json").unlink()
    (tmp_path / "mill" / "jobs" / "oil.yaml").write_text("job: Oil\nsteps: []\n", encoding="utf-8")
    (tmp_path / "mill" / "guide.yaml").write_text("title: Mill\n", encoding="utf-8")
    assert putback("schema", "mill").out == (
        "wrote mill/.schema/job.schema.json\n\n"
        "Your editor finds them by the first line of each file. Add it to:\n"
        "  guide.yaml   # yaml-language-server: $schema=.schema/guide.schema.json\n"
        "  jobs/*.yaml  # yaml-language-server: $schema=../.schema/job.schema.json\n"
    )


def test_what_is_no_guide_gets_no_schemas(tmp_path: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    start_guide(tmp_path / "mill")
    shutil.rmtree(tmp_path / "mill" / FOLDER)
    (tmp_path / "elsewhere").mkdir()
    refused = putback("schema", "elsewhere")
    assert (refused.code, refused.out) == (2, "")
    assert "'elsewhere' is not a guide: it has no guide.yaml and no machine.yaml" in refused.err
    (tmp_path / "mill" / FOLDER).symlink_to(tmp_path / "elsewhere")
    refused = putback("schema", "mill")
    assert (refused.code, refused.out) == (2, "")
    assert "the schemas cannot be written into 'mill': it is a link" in refused.err
    assert list((tmp_path / "elsewhere").iterdir()) == []
