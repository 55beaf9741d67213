"""The library's files: every kind of entry, what is wrong with them, and two of them together."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.library import FILES, folder_for, merged, read_shelf
from putback.model.terms import Signal
from putback.source.schema import shipped

TEXTS = {
    "cautions": """
hot-coolant:
  signal: warning
  hazard: Coolant is hot.
  consequence: It can burn skin.
  avoid: [Let it cool., Open slowly.]
  covers: [hot, pressure]
  ppe: [gloves]
""",
    "hazards": """
fuel: {name: fuel vapour, signal-at-least: warning, verbs: [drain], tags: [fuel], ppe: [gloves],
       safe-when: {tap: closed, tank: empty}}
noise: {signal-at-least: notice}
""",
    "tools": """
small-torque-wrench: {name: small torque wrench, range: 1 N·m .. 25 N·m}
socket-10: {drives: [hex 10 mm, hex 3/8]}
""",
    "consumables": "glycerine: {name: glycerine, tags: [slippery]}\n",
    "equipment": "stand: {name: engine stand, rated-load: 60 kg}\nrag: {}\n",
}


@pytest.fixture
def shelf_folder(tmp_path: Path) -> Path:
    for name, text in TEXTS.items():
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


def test_every_kind_of_entry(shelf_folder: Path) -> None:
    shelf = read_shelf(shelf_folder, "shared")
    assert shelf.faults == ()
    assert shelf.files == tuple(f"shared/{name}.yaml" for name in FILES)
    caution = shelf.cautions["hot-coolant"]
    assert (caution.signal, caution.hazard, caution.consequence) == (
        Signal.WARNING,
        "Coolant is hot.",
        "It can burn skin.",
    )
    assert (caution.name, caution.avoid, caution.ppe) == ("hot coolant", ("Let it cool.", "Open slowly."), ("gloves",))
    assert [ref.name for ref in caution.covers] == ["hot", "pressure"]
    fuel, noise = shelf.hazards["fuel"], shelf.hazards["noise"]
    assert (fuel.name, fuel.signal_at_least, fuel.verbs, fuel.tags, fuel.ppe) == (
        "fuel vapour", Signal.WARNING, ("drain",), ("fuel",), ("gloves",),
    )  # fmt: skip
    assert [(need.control.name, need.position.name) for need in fuel.safe_when] == [
        ("tap", "closed"),
        ("tank", "empty"),
    ]
    assert (noise.verbs, noise.tags, noise.safe_when) == ((), (), ())
    wrench, stand = shelf.tools["small-torque-wrench"].range, shelf.equipment["stand"].rated_load
    assert wrench is not None
    assert stand is not None
    assert (wrench.text, stand.text) == ("1 N·m .. 25 N·m", "60 kg")
    assert shelf.tools["socket-10"].drives == ("hex 10 mm", "hex 3/8")
    assert [tag.name for tag in shelf.consumables["glycerine"].tags] == ["slippery"]
    assert (shelf.equipment["rag"].name, shelf.equipment["rag"].rated_load) == ("rag", None)


def test_an_entry_keeps_its_place(shelf_folder: Path) -> None:
    span = read_shelf(shelf_folder, "shared").hazards["noise"].span
    assert (str(span), span.end_column) == ("shared/hazards.yaml:4:1", 6)


def test_files_that_are_not_there_are_no_fault(tmp_path: Path) -> None:
    shelf = read_shelf(tmp_path, "")
    assert (shelf.files, shelf.faults, shelf.cautions) == ((), (), {})


def test_the_guides_own_files_are_shown_without_a_folder(shelf_folder: Path) -> None:
    assert read_shelf(shelf_folder, "").files[0] == "cautions.yaml"


@pytest.mark.parametrize(
    ("name", "text", "check", "place"),
    [
        ("tools", "wrench: {range: 25}\n", "bare-number", "shared/tools.yaml:1:17"),
        ("equipment", "stand: {rated-load: 60 N·m}\n", "bad-quantity", "shared/equipment.yaml:1:21"),
        ("equipment", "stand: {bear: 60 kg}\n", "wrong-shape", "shared/equipment.yaml:1:9"),
        ("hazards", "fuel: {signal-at-least: loud}\n", "wrong-shape", "shared/hazards.yaml:1:25"),
        ("equipment", "a: {\n", "not-yaml", "shared/equipment.yaml:2:1"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(name: str, text: str, check: str, place: str, tmp_path: Path) -> None:
    (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    shelf = read_shelf(tmp_path, "shared")
    [fault] = shelf.faults
    assert (fault.check, str(fault.span)) == (check, place)
    assert shelf.unreadable == (check == "not-yaml")


def test_a_file_of_a_wrong_shape_gives_no_entries(tmp_path: Path) -> None:
    (tmp_path / "equipment.yaml").write_text("- stand\n- rag\n", encoding="utf-8")
    shelf = read_shelf(tmp_path, "shared")
    assert shelf.equipment == {}
    assert (set(shelf.broken), set(shelf.unlisted)) == ({"equipment"}, {"equipment"})
    assert not shelf.doubtful


def test_an_entry_of_a_wrong_shape_is_known_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "equipment.yaml").write_text("stand: {strong: 60 kg}\nrag: {}\n", encoding="utf-8")
    shelf = read_shelf(tmp_path, "shared")
    assert list(shelf.equipment) == ["rag"]
    assert (set(shelf.broken), set(shelf.doubtful)) == ({"equipment"}, {("equipment", "stand")})
    assert not shelf.unlisted


def test_an_entry_with_a_misspelt_word_is_read_as_it_was_meant(tmp_path: Path) -> None:
    (tmp_path / "cautions.yaml").write_text(
        "hot: {signal: waning, hazrd: a, consequence: b, avoid: [c], covers: []}\n", encoding="utf-8"
    )
    shelf = read_shelf(tmp_path, "shared")
    assert [fault.check for fault in shelf.faults] == ["wrong-shape", "wrong-shape"]
    assert (shelf.cautions["hot"].signal, shelf.cautions["hot"].hazard) == (Signal.WARNING, "a")
    assert shelf.broken == set()
    assert shelf.mended == {"shared/cautions.yaml"}


def test_both_together_with_one_name_in_both(shelf_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    own_folder = tmp_path_factory.mktemp("guide")
    (own_folder / "equipment.yaml").write_text("rag: {name: oily rag}\nhook: {}\n", encoding="utf-8")
    shared, own = read_shelf(shelf_folder, "shared"), read_shelf(own_folder, "")
    together, faults = merged(shared.equipment, own.equipment)
    assert list(together) == ["stand", "rag", "hook"]
    assert together["rag"].name == "oily rag"
    [fault] = faults
    assert (fault.check, str(fault.span)) == ("same-name", "equipment.yaml:1:1")
    assert fault.message == "'rag' is in this guide and in the shared library"
    assert [str(also.span) for also in fault.also] == ["shared/equipment.yaml:2:1"]


def test_without_a_shared_folder_the_shipped_library_serves(tmp_path: Path) -> None:
    assert folder_for(tmp_path) == shipped("shared")
    shelf = read_shelf(folder_for(tmp_path), "shared")
    assert shelf.faults == ()
    assert all(getattr(shelf, name) for name in FILES)


def test_every_hazard_that_a_shipped_caution_covers_is_one() -> None:
    shelf = read_shelf(shipped("shared"), "shared")
    covered = {ref.name for caution in shelf.cautions.values() for ref in caution.covers}
    assert covered <= set(shelf.hazards)
    assert covered == set(shelf.hazards)
