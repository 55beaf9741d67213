"""Kept results: the same as a run without, whatever is changed, and whatever happens to the folder they are kept in."""

from __future__ import annotations

import json
import os
import random
import re
import resource
import shutil
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path

import pytest

from putback.lint import cache as keeping
from putback.lint import processes
from putback.lint.cache import Cache, GuideRequest, opened, seal
from putback.lint.edition import edition
from putback.lint.guides import lint
from putback.lint.parts import CheckPart, Share
from putback.lint.place import NoPlaceError, place_of_results, prepare
from putback.lint.report.json import write as as_json
from putback.lint.result import GuideResult, Looked, Result, Waived
from putback.source.finding import Also, Finding, Level
from putback.source.intake import LARGEST, Disk
from putback.source.plain_data import as_data, from_data
from putback.source.span import Span
from putback.source.witness import Recall, Witness
from tests.conftest import Putback
from tests.lint.keeping import edit, told, write_guides

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src"
FOUND = Finding(
    "left-off", Level.ERROR, Span("jobs/ä.yaml", 1, 2, 3, 4), "two screws", (Also(Span("m", 1, 1, 1, 2), "here"),),
    "add it", (("shaft", "long"),),
)  # fmt: skip


@pytest.fixture
def guides(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two small guides with faults, in the current folder."""
    top = tmp_path / "guides"
    write_guides(top)
    monkeypatch.chdir(top)
    return top


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    return tmp_path / "kept"


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the guides that are really checked, as it goes on."""
    names: list[str] = []
    check = processes.check

    def noted(asked: GuideRequest, *, witnessed: bool) -> tuple[GuideResult, bytes]:
        names.append(asked.folder.name)
        return check(asked, witnessed=witnessed)

    monkeypatch.setattr(processes, "check", noted)
    return names


# What is kept


def test_every_field_of_a_result_comes_back() -> None:
    looked = Looked("pump", True, ("a",), ("b",), ("c",), 3, 4, ("d",), ("e",), False)
    share = Share(CheckPart(1, 2), {"pump": 2, "fan": 1}, (FOUND,))
    result = Result(
        (FOUND,),
        1,
        2,
        3,
        True,
        4,
        ("f",),
        ("g",),
        True,
        (Waived(FOUND, "so"),),
        (looked,),
        "h",
        {FOUND: "0f"},
        share,
        frozenset({FOUND}),
        "known.yaml",
    )
    assert all(getattr(result, field.name) for field in fields(result)), "a field more is tried here as well"
    whole = GuideResult(("h",), ("i",), "refused", result)
    answered, same = opened(json.loads(seal(Witness(Disk()), whole)))
    assert (answered, same) == ((), whole)
    empty = replace(whole, refused=None, result=Result())
    assert from_data(GuideResult, json.loads(json.dumps(as_data(empty)))) == empty


@pytest.mark.parametrize("data", [None, [], {}, [[], [], None], [[], [], 1, []], [[1], [], None, []], "x"])
def test_data_that_are_no_result_are_refused(data: object) -> None:
    with pytest.raises((TypeError, ValueError)):
        from_data(GuideResult, data)


def test_shipped_guides_give_the_same_bytes_cold_warm_and_by_two(
    kept: Path, checked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    paths = [Path("procedures"), Path("docs/example")]
    cold = as_json(lint(paths, cache=Cache(kept)))
    assert len(checked) == 5
    assert as_json(lint(paths, cache=Cache(kept))) == cold
    assert len(checked) == 5, "nothing is checked again"
    assert as_json(lint(paths, processes=2)) == cold


def test_an_entry_is_of_a_place_a_choice_and_the_files_asked_for(
    guides: Path, kept: Path, checked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    job = Path("pump/jobs/open.yaml")
    for paths in ([Path()], [job], [job.parent / "look.yaml"]):
        before = len(checked)
        fresh = as_json(lint(paths, cache=Cache(kept)))
        assert len(checked) > before
        assert fresh == as_json(lint(paths))
    monkeypatch.chdir(guides / "pump")
    before = len(checked)
    assert '"path": "jobs/open.yaml"' in as_json(lint([Path()], cache=Cache(kept)))
    assert len(checked) > before


# Whatever changes


@pytest.mark.parametrize("seed", range(6))
def test_after_any_edit_the_answer_is_that_of_a_run_without(
    seed: int, guides: Path, kept: Path, checked: list[str]
) -> None:
    chance, hits = random.Random(seed), 0
    for number in range(30):
        if number % 6 == 0:
            shutil.rmtree(guides, ignore_errors=True)
            write_guides(guides)
            os.chdir(guides)
        what = edit(guides, chance)
        expected = told(None)
        assert told(Cache(kept)) == expected, what
        before = len(checked)
        assert told(Cache(kept)) == expected, what
        hits += len(checked) == before
    assert hits >= 20, "a result that is kept is of use"


@pytest.mark.parametrize(
    "change",
    [
        "pump/images/lid.svg", "pump/translations/de.po", "shared/hazards.yaml", "shared/blocks/again.yaml",
        "pump/index.md", "pump/guide.yaml", "pump/blocks/own.yaml",
    ],
)  # fmt: skip
def test_each_file_counts_and_only_for_guides_that_read_it(
    change: str, guides: Path, kept: Path, checked: list[str]
) -> None:
    told(Cache(kept))
    checked.clear()
    path = guides / change
    facts = path.stat()
    data = bytearray(path.read_bytes())
    data[-2] ^= 1
    path.write_bytes(bytes(data))
    os.utime(path, ns=(facts.st_atime_ns, facts.st_mtime_ns))  # as many bytes, at the same time as before
    told(Cache(kept))
    assert checked == (["fan", "pump"] if change.startswith("shared") else ["pump"])


def test_what_was_not_there_counts(guides: Path, kept: Path, checked: list[str]) -> None:
    told(Cache(kept))
    for name in ("shared/equipment.yaml", "pump/hazards.yml", "pump/images/other.svg", "pump/jobs/new.txt"):
        (guides / name).write_text("{}\n", encoding="utf-8")
        checked.clear()
        assert told(Cache(kept)) == told(None)
        assert "pump" in checked[:2], name


def test_a_nearer_library_counts(guides: Path, kept: Path) -> None:
    shutil.rmtree(guides / "shared")
    (guides.parent / "shared").mkdir()
    (guides.parent / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
    told(Cache(kept))
    write_guides(guides)
    assert told(Cache(kept)) == told(None)


def test_another_putback_another_package_another_check(
    guides: Path, kept: Path, checked: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    del guides
    told(Cache(kept))
    site = tmp_path / "site"
    (site / "acme-1.dist-info").mkdir(parents=True)
    (site / "acme_checks").mkdir()
    monkeypatch.syspath_prepend(site)
    for name, text in (
        ("acme-1.dist-info/METADATA", "Metadata-Version: 2.1\nName: acme\nVersion: 1\n"),
        ("acme-1.dist-info/entry_points.txt", "[putback.checks]\nacme = acme_checks\n"),
        ("acme_checks/__init__.py", ""),
        ("acme_checks/data.txt", "a"),
    ):
        (site / name).write_text(text, encoding="utf-8")
        checked.clear()
        if name == "acme-1.dist-info/METADATA":
            told(Cache(kept))
            assert checked == ["fan", "pump"], "a package was installed"
    known = {edition()}
    (site / "acme_checks" / "data.txt").write_text("b", encoding="utf-8")
    known.add(edition())
    (site / "acme_checks" / "new_check.py").write_text("", encoding="utf-8")
    known.add(edition())
    (site / "acme_checks" / "__init__.py").unlink()
    shutil.rmtree(site / "acme_checks")
    assert edition() is None, "a check that is nowhere to be seen"
    assert len(known) == 3
    assert None not in known
    assert not Cache(kept).is_on


def test_an_edition_is_putback_itself(tmp_path: Path) -> None:
    """A copy of the sources, with one more line in one of them, is another edition."""
    copy = tmp_path / "copy"
    for name in ("src/putback", "schema", "docs/changes"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", "static"))
    ask = [sys.executable, "-c", "from putback.lint.edition import edition; print(edition())"]
    environment = os.environ | {"PYTHONPATH": str(copy / "src"), "PYTHONDONTWRITEBYTECODE": "1"}

    def now() -> str:
        return subprocess.run(ask, env=environment, cwd=tmp_path, capture_output=True, text=True, check=True).stdout

    seen = [now()]
    assert now() == seen[0]
    for name in ("src/putback/checks/left_off.py", "schema/job.schema.json", "docs/changes/renames.tsv"):
        (copy / name).write_bytes((copy / name).read_bytes() + b"\n")
        seen.append(now())
    record = copy / "src" / "putback-0.1.0.dist-info" / "RECORD"
    record.parent.mkdir()
    for text in ("a", "b"):
        record.write_text(text, encoding="utf-8")
        seen.append(now())
    assert len({*seen}) == len(seen)
    assert "None\n" not in seen


# Files that change while they are read


def test_a_file_that_changes_just_after_it_was_read(
    guides: Path, kept: Path, monkeypatch: pytest.MonkeyPatch, checked: list[str]
) -> None:
    job = guides / "pump" / "jobs" / "open.yaml"
    whole = job.read_text(encoding="utf-8") + "  - install: lid\n  - install: screws\n  - tighten: screws\n"

    class Saved(Disk):
        def read(self, path: Path, largest: int = LARGEST) -> bytes:
            data = super().read(path, largest)
            if path == job:
                job.write_text(whole, encoding="utf-8")
            return data

    monkeypatch.setattr(processes, "Disk", Saved)
    first, _ = told(Cache(kept))
    monkeypatch.setattr(processes, "Disk", Disk)
    assert isinstance(first, Result)
    assert first.count(Level.ERROR), "what was read is what is told"
    checked.clear()
    second = told(Cache(kept))
    assert checked == ["pump"]
    assert second == told(None) != (first, "")


def test_what_was_read_twice_and_was_not_the_same_is_not_kept(
    guides: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Changing(Disk):
        times = 0

        def read(self, path: Path, largest: int = LARGEST) -> bytes:
            data = super().read(path, largest)
            if path.suffix == ".svg":
                Changing.times += 1
                return data + b" " * Changing.times
            return data

    monkeypatch.setattr(processes, "Disk", Changing)
    told(Cache(kept))
    monkeypatch.setattr(processes, "Disk", Disk)
    assert Changing.times > 1
    assert Cache(kept).find(GuideRequest(guides / "fan")) is not None
    assert Cache(kept).find(GuideRequest(guides / "pump")) is None


def test_putback_that_changes_while_it_runs_keeps_nothing(
    guides: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    del guides
    editions: Iterator[str] = map(str, range(99))
    monkeypatch.setattr(keeping, "edition", lambda: next(editions))
    told(Cache(kept))
    assert not [*kept.iterdir()]


def test_a_witness_hears_of_everything_that_is_opened_or_listed() -> None:
    """What Python itself is told of each file that is opened, and each folder that is listed, against the witness."""
    program = """
import sys
from pathlib import Path
seen, top = set(), Path.cwd()
from putback.lint.run import lint_guide
from putback.source.intake import Disk
from putback.source.witness import Witness
def hear(event, args):
    if event in ("open", "os.listdir", "os.scandir") and isinstance(args[0], (str, Path)):
        seen.add((event, str(args[0])))
sys.addaudithook(hear)
for guide in sorted((top / "procedures").iterdir()) + [top / "docs/example", *sorted((top / "tests/real").glob("*/"))]:
    if not (guide / "machine.yaml").exists():
        continue
    seen.clear()
    witness = Witness(Disk())
    lint_guide(guide, store=witness)
    asked = {path for _, path, _ in witness.answers}
    own = [str(top / name) for name in ("src", "schema", "docs/changes")]
    for event, path in sorted(seen):
        if path.startswith(str(top)) and not path.startswith(tuple(own)) and path not in asked and "/.venv" not in path:
            print(event, path)
"""
    ran = subprocess.run(
        [sys.executable, "-B", "-c", program], cwd=ROOT, capture_output=True, text=True, check=True,
        env=os.environ | {"PYTHONPATH": str(SRC)},
    )  # fmt: skip
    assert ran.stdout == ""


PAST_THE_STORE = re.compile(
    r"\bos\.(stat|path|lstat|access|readlink|listdir|scandir|environ)\b|\bresolved\("
    r"|\.(stat|lstat|exists|is_symlink|resolve|samefile|iterdir|glob|rglob|read_bytes|read_text)\("
)
WITH_REASON = {
    "guide/library.py": "where a guide is after all links is part of what was asked for",
    "guide/paths.py": "the current folder is part of what was asked for; the rest is the search for guides",
    "guide/reading.py": "as guide/library.py",
    "guide/stamps.py": "for Sphinx",
    "guide/within.py": "for Sphinx",
    "pictures/__init__.py": "what is written, not what is there",
    "telling/catalogue.py": "Putback's own catalogues",
}
"""Modules that may ask the system itself."""


def test_what_decides_about_a_guide_asks_the_store() -> None:
    """What only looks whether something is there is heard of by nobody: so it is looked for in the text."""
    found = set()
    layers = "units joints lifting trade telling model pictures variants guide prose translation ledger mending checks"
    for layer in layers.split():
        for path in (SRC / "putback" / layer).rglob("*.py"):
            if PAST_THE_STORE.search(path.read_text(encoding="utf-8")):
                found.add(path.relative_to(SRC / "putback").as_posix())
    assert found == {*WITH_REASON}, "ask `guide.store`, so that kept results know what they depend on"


def test_identities_are_compared_and_their_numbers_forgotten(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.mkdir()
    other.symlink_to(one)
    witness = Witness(Disk())
    assert witness.identity(one) == witness.identity(other)
    assert Recall(Disk()).holds(witness.answered)
    one.rmdir()
    (tmp_path / "filler").mkdir()
    one.mkdir()
    assert Recall(Disk()).holds(witness.answered), "another number on the disk"
    other.unlink()
    other.mkdir()
    assert not Recall(Disk()).holds(witness.answered), "they are two now"


# The folder


def test_the_folder_is_the_users_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("PUTBACK_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", "/x")
    assert place_of_results() == Path("/x/putback/lint")
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    assert place_of_results() is None
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert place_of_results() == tmp_path / ".cache/putback/lint"
    monkeypatch.setattr(sys, "platform", "darwin")
    assert place_of_results() == tmp_path / "Library/Caches/putback/lint"
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", "/local")
    assert place_of_results() == Path("/local/putback/lint")
    monkeypatch.setenv("PUTBACK_CACHE", "")
    assert place_of_results() is None
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PUTBACK_CACHE", "here")
    assert place_of_results() == tmp_path / "here"


def test_only_the_user_may_write_there(tmp_path: Path) -> None:
    prepare(tmp_path / "new" / "folder")
    assert stat.S_IMODE((tmp_path / "new" / "folder").stat().st_mode) == 0o700
    (tmp_path / "open").mkdir()
    (tmp_path / "open").chmod(0o777)
    (tmp_path / "link").symlink_to(tmp_path / "new")
    (tmp_path / "file").write_text("")
    for name, why in (("open", "others may write to it"), ("link", "it is a link"), ("file", "file exists")):
        with pytest.raises(NoPlaceError, match=why):
            prepare(tmp_path / name)
    if os.geteuid() == 0:
        os.chown(tmp_path / "new", 12345, 12345)
        with pytest.raises(NoPlaceError, match="it belongs to somebody else"):
            prepare(tmp_path / "new")


def test_a_folder_that_is_not_fit_costs_one_note(
    guides: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = putback("lint", "--no-cache")
    assert plain.err == ""
    bad = guides.parent / "bad"
    bad.mkdir()
    bad.chmod(0o777)
    monkeypatch.setenv("PUTBACK_CACHE", str(bad))
    answer = putback("lint")
    assert (answer.code, answer.out) == (plain.code, plain.out)
    assert answer.err == f"note: results are not kept in '{bad}': others may write to it\n"
    assert not [*bad.iterdir()]
    assert putback("lint", "--no-cache").err == ""


def test_a_result_of_a_file_that_changed_meanwhile_is_not_kept(tmp_path: Path) -> None:
    witness = Witness(Disk())
    for text in ("one", "one", "two"):
        (tmp_path / "a.yaml").write_text(text, encoding="utf-8")
        witness.read(tmp_path / "a.yaml")
        kept, _ = opened(json.loads(seal(witness, GuideResult())))
        assert (kept is None) == (text == "two")


def test_a_full_disk_costs_one_note_and_leaves_nothing_behind(guides: Path, kept: Path) -> None:
    def full() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

    program = 'import sys; from putback.cli import main; sys.argv[0]="putback"; main()'
    ran = subprocess.run(
        [sys.executable, "-B", "-c", program, "lint", "--processes", "1"], cwd=guides, capture_output=True, text=True,
        check=False, preexec_fn=full, env=os.environ | {"PYTHONPATH": str(SRC), "PUTBACK_CACHE": str(kept)},
    )  # fmt: skip
    assert ran.returncode == 1
    assert ran.stderr == f"note: results are not kept in '{kept}': file too large\n"
    assert not [*kept.iterdir()]


def test_whatever_is_in_the_folder_the_answer_is_right(guides: Path, kept: Path, checked: list[str]) -> None:
    del guides
    expected = told(Cache(kept))
    entries = sorted(kept.iterdir())
    good = [entry.read_bytes() for entry in entries]
    chance, first = random.Random(7), good[0]
    deep = b"[" * 50_000
    bad = [
        b"",
        first[:-1],
        first[:70],
        first[70:],
        b"\n",
        good[1],
        deep,
        _signed(deep),
        _signed(b"[]"),
        _signed(b"null"),
    ]
    bad += [_signed(b"[[],[[],[[],[],null,[]]]]"), _signed(first[65:].replace(b'"read"', b'"eval"'))]
    for _ in range(40):
        broken = bytearray(first)
        broken[chance.randrange(len(broken))] ^= 1 << chance.randrange(8)
        bad.append(bytes(broken))
    for data in bad:
        entries[0].write_bytes(data)
        checked.clear()
        assert told(Cache(kept)) == expected
        assert len(checked) == 1
        assert [entry.read_bytes() for entry in entries] == good, "and it is kept anew"
    entries[0].unlink()
    entries[0].mkdir()
    assert told_with_trouble(kept) == expected


def told_with_trouble(kept: Path) -> object:
    cache = Cache(kept)
    result = lint([Path()], cache=cache)
    assert cache.trouble is not None
    assert "results are not kept" in cache.trouble
    return result, told(None)[1]


def _signed(data: bytes) -> bytes:
    return keeping._digest(data) + b"\n" + data


def test_clocks_may_jump(guides: Path, kept: Path, checked: list[str]) -> None:
    expected = told(Cache(kept))
    for moment in (0, 4_000_000_000):
        for path in (*kept.iterdir(), guides / "pump" / "jobs" / "open.yaml"):
            os.utime(path, (moment, moment))
        checked.clear()
        assert told(Cache(kept)) == expected
        assert checked == []
        assert all(abs(time.time() - path.stat().st_mtime) < 3600 for path in kept.iterdir())


def test_what_is_of_no_use_goes_first(guides: Path, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    del guides
    kept.mkdir(mode=0o700)
    for number in range(10):
        path = kept / f"{number:064x}"
        path.write_bytes(b"x" * 100_000)
        os.utime(path, (number, number))
    (kept / "notes.txt").write_bytes(b"x" * 100_000)
    (kept / f"{0:064x}.{1:016x}.part").write_bytes(b"half")
    os.utime(kept / f"{0:064x}.{1:016x}.part", (0, 0))
    monkeypatch.setattr(keeping, "MOST", 900_000)
    told(Cache(kept))
    left = sorted(path.name for path in kept.iterdir())
    assert [name for name in left if name.startswith("0" * 60)] == [f"{number:064x}" for number in range(6, 10)]
    assert "notes.txt" in left
    assert len(left) == 4 + 2 + 1


# Several runs, and runs that are killed


def test_runs_at_once(guides: Path, kept: Path) -> None:
    program = 'import sys; from putback.cli import main; sys.argv[0]="putback"; main()'
    command = [sys.executable, "-B", "-c", program, "lint", "--format", "json"]
    environment = os.environ | {"PYTHONPATH": str(SRC), "PUTBACK_CACHE": str(kept)}
    runs = [
        subprocess.Popen(command, cwd=guides, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for _ in range(3)
    ]
    answers = [run.communicate() for run in runs]
    assert {(out, err) for out, err in answers} == {(as_json(lint([Path()])).encode() + b"\n", b"")}
    assert len([*kept.iterdir()]) == 2


def test_killed_at_any_moment_nothing_is_half_written_and_nothing_lies(guides: Path, kept: Path) -> None:
    expected = told(None)
    chance = random.Random(200)
    began = time.perf_counter()
    told(Cache(kept))
    lasts = time.perf_counter() - began
    whole = 0
    for number in range(200):
        if number % 4 == 0:
            shutil.rmtree(kept, ignore_errors=True)
        child = os.fork()
        if child == 0:
            lint([Path()], cache=Cache(kept))
            os._exit(0)
        time.sleep(chance.uniform(0, lasts * 2))
        os.kill(child, signal.SIGKILL)
        whole += os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        for path in kept.iterdir() if kept.is_dir() else ():
            if not path.name.endswith(".part"):
                digest, _, data = path.read_bytes().partition(b"\n")
                assert keeping._digest(data) == digest
        if number % 10 == 9:
            assert told(Cache(kept)) == expected
    assert 0 < whole < 200, "some came to their end, and some did not"
    assert told(Cache(kept)) == expected
