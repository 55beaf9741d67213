"""Nothing is falsely clean: every file of a guide, made unreadable in every way, is told once, and nothing else is."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from pathlib import Path

import pytest

from putback.source.intake import LARGEST, LARGEST_PAGE, LARGEST_PICTURE
from tests.conftest import Answer, Putback, Write

MACHINE = """\
machine: Bench pump
parts:
  lid: {mass: 20 kg}
fasteners:
  screws: {name: screw, count: 4, thread: M5 x 0.8, drive: hex 4 mm, torque: 4 N·m, order: crosswise, secures: lid,
           class: 8.8, compound: paste, condition: greased}
fluids:
  oil: {tags: [hot-oil, old-oil], drains: [plug], fills: [plug]}
controls:
  tap: {positions: [open, closed], normal: closed}
"""
MACHINE = MACHINE.replace("fluids:", "  plug: {kind: plug, by-hand: hand-tight}\nfluids:")

JOB = """\
job: Look under the lid
steps:
  - caution: [heavy-lid, scald, dirty]
  - place: stand
  - do: drain-it
  - do: look
  - remove: screws
  - remove: lid
    figure: {image: lid.svg, alt: The lid.}
  - apply: own-paste
    to: lid
  - clean: lid
    with: own-paste
  - inspect: lid
    note: Look for cracks.
    tool: [lamp, own-lamp]
  - install: lid
  - apply: paste
    to: screws
  - install: screws
  - tighten: screws
    tool: key
  - reverse: drain-it
  - take-away: stand
  - place: own-stand
  - take-away: own-stand
  - check: lid
    limit: dry
    otherwise: [{stop: Do the job again.}]
"""

CAUTION = """\
{name}:
  signal: {signal}
  hazard: {hazard} is in the way.
  consequence: It can {harm}.
  avoid: [{way}]
  covers: [{covers}]
"""
HEAVY = CAUTION.format(
    name="heavy-lid", signal="warning", hazard="A heavy lid", harm="crush a hand", way="Lift it with straight legs.",
    covers="weight",
)  # fmt: skip
SCALD = CAUTION.format(
    name="scald", signal="warning", hazard="Hot oil", harm="scald the skin", way="Let the pump cool for an hour.",
    covers="heat",
)  # fmt: skip
DIRTY = CAUTION.format(
    name="dirty", signal="notice", hazard="Old oil", harm="foul water", way="Catch the oil in a pan.", covers="dirt"
)

FILES: dict[str, str] = {
    "pump/guide.yaml": "title: Bench pump\n",
    "pump/machine.yaml": MACHINE,
    "pump/jobs/look.yaml": JOB,
    "pump/blocks/drain-it.yaml": "block: Drain\nends-with: [oil, plug]\nsteps:\n  - remove: plug\n  - drain: oil\n",
    "pump/cautions.yaml": DIRTY,
    "pump/hazards.yaml": "dirt: {name: dirt, signal-at-least: notice, tags: [old-oil]}\n",
    "pump/tools.yaml": "own-lamp: {}\n",
    "pump/consumables.yaml": "own-paste: {}\n",
    "pump/equipment.yaml": "own-stand: {}\n",
    "pump/index.md": "# Bench pump\n\n```{toctree}\njobs/look\n```\n",
    "pump/images/lid.svg": '<svg xmlns="http://www.w3.org/2000/svg"/>\n',
    "shared/cautions.yaml": HEAVY + SCALD,
    "shared/hazards.yaml": "weight: {name: a heavy part, signal-at-least: warning, mass: 15 kg}\n"
    "heat: {name: hot oil, signal-at-least: warning, tags: [hot-oil]}\n",
    "shared/tools.yaml": "lamp: {}\nkey: {name: torque wrench, range: 1 N·m .. 10 N·m, drives: [hex 4 mm]}\n",
    "shared/consumables.yaml": "paste: {threads: greased}\n",
    "shared/equipment.yaml": "stand: {rated-load: 60 kg}\n",
    "shared/blocks/look.yaml": "block: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n",
}


@pytest.fixture
def write_whole(write_guide: Write) -> Callable[..., Path]:
    """Write the whole guide, without one of its files; return its folder."""

    def write(*without: str) -> Path:
        files: dict[str, str | bytes | None] = dict(FILES)
        return write_guide(files | dict.fromkeys(without)).parent

    return write


def test_the_whole_guide_is_clean(write_whole: Callable[..., Path], putback: Putback) -> None:
    write_whole()
    answer = putback("lint", "pump")
    assert answer.out == "1 job, 23 steps in 15 files: everything goes back\n"
    assert answer.code == 0


# Files that are there and cannot be read


def folder(path: Path) -> None:
    path.mkdir()


def folder_with_a_file(path: Path) -> None:
    path.mkdir()
    (path / "a.yaml").write_text("a: b\n", encoding="utf-8")


def pipe(path: Path) -> None:
    os.mkfifo(path)


def link_to_a_pipe(path: Path) -> None:
    os.mkfifo(path.parent / ".pipe")
    path.symlink_to(".pipe")


def dangling_link(path: Path) -> None:
    path.symlink_to("nowhere.yaml")


def link_to_itself(path: Path) -> None:
    path.symlink_to(path.name)


def links_in_a_ring(path: Path) -> None:
    (path.parent / ".other").symlink_to(path.name)
    path.symlink_to(".other")


def endless_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def silent_device(path: Path) -> None:
    path.symlink_to("/dev/tty")


def own_socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)  # the path of a socket must be short
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(path.name)
    os.chdir(here)


def far_too_large(path: Path) -> None:
    path.write_bytes(b"")
    os.truncate(path, {".svg": LARGEST_PICTURE, ".md": LARGEST_PAGE}.get(path.suffix, LARGEST) + 1)


def far_too_large_link(path: Path) -> None:
    far_too_large(path.with_stem(".large"))
    path.symlink_to(path.with_stem(".large"))


WAYS = [
    folder, folder_with_a_file, pipe, link_to_a_pipe, dangling_link, link_to_itself, links_in_a_ring, endless_device,
    silent_device, own_socket, far_too_large, far_too_large_link,
]  # fmt: skip
READ = [name for name in FILES if not name.endswith(".svg")]
"""What is read as text."""


def must_be_one(answer: Answer, place: str, code: int) -> None:
    """One finding, at the place, and no word of everything."""
    assert [found.split(" ")[0] for found in answer.findings] == [f"{place}:1:1"], answer.findings
    assert answer.code == code
    assert not answer.data["summary"]["complete"]


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
@pytest.mark.parametrize("name", FILES)
def test_a_file_that_cannot_be_read(
    name: str, way: Callable[[Path], None], write_whole: Callable[..., Path], putback: Putback
) -> None:
    path = write_whole(name) / name
    path.parent.mkdir(exist_ok=True)
    way(path)
    must_be_one(putback("lint", "--format", "json", "pump"), name, 2)
    text = putback("lint", "pump")
    assert text.code == 2
    assert "everything goes back" not in text.out
    assert "not checked: " in text.out


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_may_not_be_read(
    name: str, write_whole: Callable[..., Path], putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    top, opened = write_whole(), os.open

    def refuse(path: str | Path, flags: int, *rest: int) -> int:
        if Path(path) == top / name:
            raise PermissionError(13, "Permission denied", str(path))
        return opened(path, flags, *rest)

    monkeypatch.setattr(os, "open", refuse)
    answer = putback("lint", "--format", "json", "pump")
    must_be_one(answer, name, 2)
    assert answer.findings[0].endswith("the file cannot be read: permission denied")


@pytest.mark.parametrize("name", READ)
@pytest.mark.parametrize("content", [b"\xff\xfe", b"a: b\x00c"], ids=["not-utf-8", "nul"])
def test_a_file_that_is_no_text(name: str, content: bytes, write_whole: Callable[..., Path], putback: Putback) -> None:
    if name.endswith(".md") and b"\x00" in content:
        pytest.skip("what stands in a page is for Sphinx")
    (write_whole() / name).write_bytes(content)
    answer = putback("lint", "--format", "json", "pump")
    assert [found.split(":")[0] for found in answer.findings] == [name], answer.findings
    assert answer.code == 2
    assert not answer.data["summary"]["complete"]


@pytest.mark.parametrize("content", ["", "# nothing\n", "- a\n", "[]\n", "a: &b c\n", "{a: {b: 1}, a: {}}\n"])
@pytest.mark.parametrize("name", [name for name in READ if name.endswith(".yaml")])
def test_a_file_of_which_nothing_is_left(
    name: str, content: str, write_whole: Callable[..., Path], putback: Putback
) -> None:
    (write_whole() / name).write_text(content, encoding="utf-8")
    answer = putback("lint", "--format", "json", "pump")
    assert {found.split(":")[0] for found in answer.findings} == {name}, answer.findings
    assert answer.code in (1, 2)
    assert not answer.data["summary"]["complete"]


# Folders


FOLDER_WAYS = [
    pipe,
    link_to_a_pipe,
    dangling_link,
    link_to_itself,
    links_in_a_ring,
    endless_device,
    own_socket,
    far_too_large,
]


@pytest.mark.parametrize("way", FOLDER_WAYS, ids=lambda way: way.__name__)
@pytest.mark.parametrize("name", ["pump/jobs", "pump/blocks", "pump/images", "shared", "shared/blocks"])
def test_a_folder_that_is_none(
    name: str, way: Callable[[Path], None], write_whole: Callable[..., Path], putback: Putback
) -> None:
    way(write_whole(*[file for file in FILES if file.startswith(f"{name}/")]) / name)
    must_be_one(putback("lint", "--format", "json", "pump"), name, 2)
    assert "everything goes back" not in putback("lint", "pump").out


@pytest.mark.parametrize("name", ["pump", "pump/jobs", "pump/blocks", "pump/images", "shared", "shared/blocks"])
def test_a_folder_that_may_not_be_listed(
    name: str, write_whole: Callable[..., Path], putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    top, listed = write_whole(), os.listdir

    def refuse(path: str | Path) -> list[str]:
        if Path(path).absolute() == top / name:
            raise PermissionError(13, "Permission denied", str(path))
        return listed(path)

    monkeypatch.setattr(os, "listdir", refuse)
    for asked in ("pump", "."):
        must_be_one(putback("lint", "--format", "json", asked), name, 2)


# Names


OTHER_NAMES = [
    ("pump/hazards.yaml", "hazards.yml"),
    ("pump/hazards.yaml", "Hazards.yaml"),
    ("pump/hazards.yaml", "HAZARDS.YAML"),
    ("pump/hazards.yaml", "hazards.Yaml"),
    ("pump/hazards.yaml", "hazard.yaml"),
    ("pump/hazards.yaml", "hazrads.yaml"),
    ("pump/hazards.yaml", "hazards.yaml.txt"),
    ("pump/hazards.yaml", "hazards.yaml.yaml"),
    ("pump/hazards.yaml", "hazards.ymal"),
    ("pump/hazards.yaml", "hazards"),
    ("pump/hazards.yaml", "hazards.txt"),
    ("pump/hazards.yaml", "hazards.json"),
    ("pump/hazards.yaml", "hazards-old.yaml"),
    ("shared/hazards.yaml", "hazards (2).yaml"),
    ("shared/hazards.yaml", "hazards.txt"),
    ("pump/jobs/look.yaml", "look"),
    ("pump/jobs/look.yaml", "look.txt"),
    ("pump/jobs/look.yaml", "look.json"),
    ("shared/blocks/look.yaml", "look.txt"),
    ("pump/hazards.yaml", " hazards.yaml"),
    ("pump/hazards.yaml", "hazards.yaml "),
    ("pump/hazards.yaml", "h\u0430zards.yaml"),
    ("pump/cautions.yaml", "caution.yml"),
    ("pump/tools.yaml", "Tools.YML"),
    ("pump/consumables.yaml", "consumable.yaml"),
    ("pump/equipment.yaml", "EQUIPMENT.yaml"),
    ("pump/guide.yaml", "guide.yml"),
    ("pump/guide.yaml", "Guide.yaml"),
    ("pump/machine.yaml", "machine.yml"),
    ("pump/machine.yaml", "machines.yaml"),
    ("pump/machine.yaml", "MACHINE.yaml"),
    ("pump/jobs/look.yaml", "look.YAML"),
    ("pump/jobs/look.yaml", "look.yml"),
    ("pump/jobs/look.yaml", "look.yaml.txt"),
    ("pump/jobs/look.yaml", "look.yaml "),
    ("pump/blocks/drain-it.yaml", "drain-it.YML"),
    ("pump/index.md", "index.MD"),
    ("pump/index.md", "index.markdown"),
    ("shared/hazards.yaml", "hazards.yml"),
    ("shared/cautions.yaml", "Cautions.yaml"),
    ("shared/tools.yaml", "tool.yaml"),
    ("shared/consumables.yaml", "consumables.yaml.txt"),
    ("shared/equipment.yaml", "Equipment.yml"),
    ("shared/blocks/look.yaml", "look.Yaml"),
]


@pytest.mark.parametrize(("name", "other"), OTHER_NAMES, ids=[f"{name}-{other}" for name, other in OTHER_NAMES])
def test_a_name_that_is_not_read(name: str, other: str, write_whole: Callable[..., Path], putback: Putback) -> None:
    top = write_whole()
    (top / name).rename((top / name).with_name(other))
    answer = putback("lint", "--format", "json", "pump")
    place = f"{name.rpartition('/')[0]}/{other}"
    assert [found.split(":")[0] for found in answer.findings] == [place], answer.findings
    assert answer.code == 1
    # The hint is right: obeyed, it mends all.
    good = answer.data["findings"][0]["hint"].removeprefix("name it '").removesuffix("'")
    (top / place).rename((top / place).with_name(good))
    assert putback("lint", "pump").code == 0


def test_all_files_of_a_library_with_wrong_names(write_whole: Callable[..., Path], putback: Putback) -> None:
    top = write_whole()
    for file in sorted((top / "shared").glob("*.yaml")):
        file.rename(file.with_suffix(".yml"))
    answer = putback("lint", "--format", "json", "pump")
    assert [found.split(":")[0] for found in answer.findings] == [
        f"shared/{name}.yml" for name in ("cautions", "consumables", "equipment", "hazards", "tools")
    ]
    assert answer.code == 1


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("pump/jobs", "Jobs"), ("pump/jobs", "job"), ("pump/jobs", "JOBS"), ("pump/blocks", "block"),
        ("pump/blocks", "Blocks"), ("shared", "Shared"), ("shared/blocks", "Blocks"), ("pump/jobs", "jbos"),
    ],
)  # fmt: skip
def test_a_folder_with_another_name(name: str, other: str, write_whole: Callable[..., Path], putback: Putback) -> None:
    top = write_whole()
    (top / name).rename((top / name).with_name(other))
    answer = putback("lint", "--format", "json", "pump")
    place = str((Path(name)).with_name(other))
    assert [found.split(":")[0] for found in answer.findings] == [place], answer.findings
    assert answer.code == 1


@pytest.mark.parametrize("name", ["a", "B"])
def test_a_guide_with_only_wrong_names_is_still_found(
    name: str, write_whole: Callable[..., Path], putback: Putback
) -> None:
    top = write_whole()
    (top / "pump" / "guide.yaml").rename(top / "pump" / "guide.yml")
    (top / "pump" / "machine.yaml").rename(top / "pump" / "Machine.yaml")
    (top / "pump").rename(top / name)
    answer = putback("lint", "--format", "json")
    assert [found.split(":")[0] for found in answer.findings] == [f"{name}/Machine.yaml", f"{name}/guide.yml"]


@pytest.mark.parametrize("name", ["guide.yaml", "machine.yaml"])
@pytest.mark.parametrize("way", [pipe, dangling_link, folder], ids=lambda way: way.__name__)
def test_a_guide_of_one_file_that_cannot_be_read_is_still_found(
    name: str, way: Callable[[Path], None], write_whole: Callable[..., Path], putback: Putback
) -> None:
    top = write_whole("pump/guide.yaml", "pump/machine.yaml")
    way(top / "pump" / name)
    answer = putback("lint", "--format", "json")
    assert sorted(found.split(":")[0] for found in answer.findings) == ["pump/guide.yaml", "pump/machine.yaml"]
    assert answer.code == 2


LEFTOVERS = [
    "pump/.hazards.yaml.swp", "pump/hazards.yaml~", "pump/hazards.yaml.bak", "pump/#hazards.yaml#",
    "pump/~hazards.yaml", "pump/jobs/look.yaml.orig", "pump/jobs/.#look.yaml", "pump/jobs/look.yaml~",
    "shared/tools.yaml.old", "shared/blocks/.look.yaml", "pump/index.md~", "pump/notes.yaml", "pump/values.json",
    "pump/jobs/readme.txt", "pump/old/notes.txt", "shared/readme.md", "pump/tools/drawing.txt", "pump/guide.txt",
    "pump/hazards-old.yaml", "pump/machine-2.yaml", "pump/machines.yaml", "shared/tools.txt", "pump/jobs/LICENSE",
]  # fmt: skip


@pytest.mark.parametrize("name", LEFTOVERS)
def test_what_an_editor_leaves_and_what_is_nobodys_is_no_fault(
    name: str, write_whole: Callable[..., Path], putback: Putback
) -> None:
    path = write_whole() / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("left: over\n", encoding="utf-8")
    answer = putback("lint", "pump")
    assert (answer.code, answer.out[-21:]) == (0, "everything goes back\n"), answer.out


@pytest.mark.parametrize(
    ("name", "twin", "hint"),
    [
        ("pump/hazards.yaml", "pump/hazards.yml", None),
        ("pump/jobs/look.yaml", "pump/jobs/look.yml", None),
        ("pump/machine.yaml", "pump/Machine.yaml", None),
        ("shared/tools.yaml", "shared/tools.YAML", None),
        ("pump/index.md", "pump/Index.markdown", "name it 'Index.md'"),
    ],
)
def test_a_second_file_beside_the_right_one(
    name: str, twin: str, hint: str | None, write_whole: Callable[..., Path], putback: Putback
) -> None:
    (write_whole() / twin).write_text(FILES[name], encoding="utf-8")
    answer = putback("lint", "--format", "json", "pump")
    assert [found.split(":")[0] for found in answer.findings] == [twin], answer.findings
    # To rename it would lose the other.
    assert answer.data["findings"][0]["hint"] == hint


@pytest.mark.parametrize("place", ["pump/jobs", "pump/blocks", "pump", "shared/blocks"])
@pytest.mark.parametrize("form", ["text", "json"])
def test_a_name_that_is_no_utf_8(place: str, form: str, write_whole: Callable[..., Path], putback: Putback) -> None:
    ending, content = (
        (b".md", "# Page\n")
        if place == "pump"
        else (b".yaml", "block: X\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n")
    )
    content = content.replace("block:", "job:") if place.endswith("jobs") else content
    (write_whole() / place / os.fsdecode(b"p\xffmp" + ending)).write_text(content, encoding="utf-8")
    answer = putback("lint", "--format", form, "pump")
    assert answer.code == 1
    assert f"{place}/p{chr(92) * (2 if form == 'json' else 1)}xffmp{ending.decode()}" in answer.out
    answer.out.encode()


@pytest.mark.parametrize("name", ["pump/index.md", "pump/jobs/look.yaml", "pump/images/lid.svg", "pump/deep/a.md"])
@pytest.mark.parametrize("way", [pipe, endless_device], ids=lambda way: way.__name__)
def test_not_even_a_draft_is_made_of_what_cannot_be_read(
    name: str, way: Callable[[Path], None], write_whole: Callable[..., Path], putback: Putback
) -> None:
    path = write_whole(name) / name
    path.parent.mkdir(exist_ok=True)
    way(path)
    answer = putback("build", "pump", "--draft")
    assert answer.code == 2
    assert "pump is not printed" in answer.err
