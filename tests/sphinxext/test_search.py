"""The search of HTML leads to steps, messages and things; with another theme, Sphinx's own knows part numbers."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from sphinx import search
from sphinx.search.en import SearchEnglish

import putback.sphinxext
from putback.sphinxext.searching import _SPLITTER
from putback.sphinxext.sought.gathering import search_data
from putback.sphinxext.sought.passages import Sought
from tests.browser.conftest import missing
from tests.sphinxext.projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")

FIND = Path(putback.sphinxext.__file__).parent / "theme" / "static" / "search" / "find.js"
START, END = "window.PUTBACK_SEARCH=", ";\n"


def data_of(folder: Path) -> dict[str, Any]:
    text = (folder / "_build/html/search-data.js").read_text(encoding="utf-8")
    assert text.startswith(START)
    assert text.endswith(END)
    data: dict[str, Any] = json.loads(text.removeprefix(START).removesuffix(END))
    return data


def places(data: dict[str, Any]) -> dict[str, tuple[str, str, str]]:
    """Return what can be found: by its number and title, its page, its anchor, and what else it says."""
    return {
        f"{number} {title}".strip(): (data["pages"][page][0], anchor, text)
        for page, anchor, number, title, text, _ in data["passages"]
    }


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sought")
    write(folder, GUIDE)
    build(folder)
    return folder


def test_a_step_is_found_by_its_words_and_by_the_part_numbers_of_what_it_handles(made: Path) -> None:
    found = places(data_of(made))
    assert found["3 Remove the seal (TP-1)"][:2] == ("jobs/seal.html", "seal-step-3")
    assert found["4 Install a new seal (part number TP-1)"][:2] == ("jobs/seal.html", "seal-step-4")
    assert found["9a Stop here. Do the job again"][:2] == ("jobs/seal.html", "seal-step-9a")
    assert found["Seal (TP-1)"][:2] == ("machine.html", "seal-thing")


def test_what_else_a_step_says_is_found_with_it_and_its_branch_is_not(made: Path) -> None:
    found = places(data_of(made))
    assert found["1 Remove the four lid screws (M6 x 1.0, 10 mm hex)"][2] == "They are alike."
    assert found["8 Inspect the belt guard"][2].startswith("Only with belt drive. Look for cracks.")
    measured = next(text for title, (_, _, text) in found.items() if title.startswith("9 "))
    assert "Do the job again" not in measured


def test_a_safety_message_has_an_address_of_its_own(made: Path) -> None:
    page, anchor, text = next(
        place for title, place in places(data_of(made)).items() if title.startswith("DANGER:") and "jobs" in place[0]
    )
    assert (page, anchor) == ("jobs/seal.html", "seal-message-1")
    assert text.startswith("The gas has no smell")


def test_a_remark_on_a_row_is_found_with_its_row(made: Path) -> None:
    assert places(data_of(made))["Seal (TP-1)"][2] == "TP-1 · Fit a new one whenever it has been off."


def test_what_lies_in_what_is_told_by_place(made: Path) -> None:
    data = data_of(made)
    within = {each[3]: data["passages"][each[5]][3] for each in data["passages"] if each[5] >= 0}
    assert within["Remove the seal (TP-1)"] == "Take apart"
    assert within["Take apart"] == "Renew the seal"
    assert [each[3] for each in data["passages"] if each[5] < 0] == [title for _, title in data["pages"]]


def test_every_anchor_is_on_its_page(made: Path) -> None:
    data = data_of(made)
    seen = 0
    for page, anchor, *_ in data["passages"]:
        html = (made / "_build/html" / data["pages"][page][0]).read_text(encoding="utf-8")
        assert not anchor or f'id="{anchor}"' in html, anchor
        seen += bool(anchor)
    assert seen > 30


def test_no_two_passages_have_one_address(made: Path) -> None:
    addresses = [(page, anchor) for page, anchor, *_ in data_of(made)["passages"]]
    assert len(addresses) == len(set(addresses))


def test_the_data_are_the_same_each_time(tmp_path: Path, made: Path) -> None:
    write(tmp_path, GUIDE)
    build(tmp_path)
    ours, theirs = (folder / "_build/html/search-data.js" for folder in (tmp_path, made))
    assert ours.read_bytes() == theirs.read_bytes()


def test_pages_that_are_not_read_again_are_still_found_and_those_that_are_gone_are_not(tmp_path: Path) -> None:
    write(tmp_path, GUIDE | {"notes.md": "# Notes\n\nAsk the harbor.\n", "old.md": "# Old\n\nForget this.\n"})
    build(tmp_path)
    assert {"Notes", "Old"} <= places(data_of(tmp_path)).keys()
    (tmp_path / "old.md").unlink()
    (tmp_path / "notes.md").write_text("# Remarks\n\nAsk the office.\n", encoding="utf-8")
    build(tmp_path)
    again = places(data_of(tmp_path))
    assert again["Remarks"][2] == "Ask the office."
    assert "3 Remove the seal (TP-1)" in again
    assert not {"Notes", "Old"} & again.keys()


def test_without_what_was_kept_all_pages_are_read_again(tmp_path: Path) -> None:
    write(tmp_path, GUIDE)
    build(tmp_path)
    before = (tmp_path / "_build/html/search-data.js").read_bytes()
    (tmp_path / "_build/doctrees/sought.json").write_text('{"index": 3}', encoding="utf-8")
    build(tmp_path)
    assert (tmp_path / "_build/html/search-data.js").read_bytes() == before


def test_two_processes_find_what_one_finds(tmp_path: Path, made: Path) -> None:
    write(tmp_path, GUIDE)
    build(tmp_path, parallel=2)
    assert places(data_of(tmp_path)) == places(data_of(made))


def test_prose_is_found_by_section_and_by_what_the_author_put_in_the_index(tmp_path: Path) -> None:
    text = "# Start\n\nIn front.\n\n## Below\n\n```{index} single: flywheel; locking\n```\n\nHold it.\n\n- one\n- two\n"
    write(tmp_path, {"index.md": text})
    build(tmp_path)
    found = places(data_of(tmp_path))
    assert found["Start"] == ("index.html", "", "In front.")
    assert found["Below"] == ("index.html", "below", "Hold it. one · two")
    assert found["flywheel, locking"][:2] == ("index.html", "index-0")


def test_a_symptom_is_found_with_its_causes(tmp_path: Path) -> None:
    symptoms = "drips: {sign: Oil drips., causes: [{cause: The seal is worn., check: Look below., fix: Renew it.}]}\n"
    symptoms = symptoms.replace("fix:", "mend:")
    index = "# Book\n\n```{putback-symptoms}\n```\n"
    write(tmp_path, GUIDE | {"symptoms.yaml": symptoms, "index.md": index})
    build(tmp_path)
    page, anchor, text = places(data_of(tmp_path))["Oil drips"]
    assert (page, anchor) == ("index.html", "drips-symptom")
    assert text.startswith("The seal is worn. Look below.")


def test_whatever_a_page_says_the_data_are_one_script_of_one_value() -> None:
    hostile = "</script><script>alert(1)//\u2028\u2029\\\"'<!--"
    text = search_data([(hostile, [Sought(hostile, hostile, hostile, hostile, -1)])]).decode()
    assert not set("<\u2028\u2029") & set(text)
    data = json.loads(text.removeprefix(START).removesuffix(END))
    assert data == {"pages": [[hostile, hostile]], "passages": [[0, hostile, hostile, hostile, hostile, -1]]}


# What is typed.


def asked(passages: list[tuple[str, str]], queries: list[str], language: str = "en") -> dict[str, list[str]]:
    """Return the titles that are found for each query, with the hits in brackets, on a page with passages."""
    node = shutil.which("node")
    if node is None:
        missing("node")
    data = {
        "pages": [["page.html", "Renew the water pump"]],
        "passages": [[0, "", "", "Renew the water pump", "", -1]]
        + [[0, f"at-{place}", "", title, text, 0] for place, (title, text) in enumerate(passages)],
    }
    script = f"""
        require({json.dumps(str(FIND))});
        const search = Putback.search.searcher({json.dumps(data)}, {json.dumps(language)});
        const found = {{}};
        for (const query of {json.dumps(queries)}) {{
            const result = search.find(query);
            found[query] = result.found.map(index => search.marked(search.passage(index).title, result.terms, 0)
                .map(piece => piece[1] ? "[" + piece[0] + "]" : piece[0]).join(""));
        }}
        console.log(JSON.stringify(found));
    """
    done = subprocess.run([node, "-e", script], capture_output=True, check=True, text=True)
    answer: dict[str, list[str]] = json.loads(done.stdout)
    return answer


def test_a_part_number_is_found_whole_in_part_and_without_what_parts_it() -> None:
    passages = [("Seal (AG-1103)", ""), ("Seal (AG-1104)", ""), ("Gasket 12-345-67", "")]
    queries = ["AG-1103", "ag1103", "AG 1103", "1103", "110", "ag-11", "AG\N{NON-BREAKING HYPHEN}1103", "1234567", "10"]
    found = asked(passages, queries)
    for query in ("AG-1103", "ag1103", "1103", "AG\N{NON-BREAKING HYPHEN}1103"):
        assert [each.replace("[", "").replace("]", "") for each in found[query]] == ["Seal (AG-1103)"], query
    assert found["ag1103"] == ["Seal ([AG-1103])"]
    assert found["AG 1103"] == ["Seal ([AG]-[1103])"]
    assert found["110"] == ["Seal (AG-[110]3)", "Seal (AG-[110]4)"]
    assert found["ag-11"] == ["Seal ([AG-11]03)", "Seal ([AG-11]04)"]
    assert found["1234567"] == ["Gasket [12-345-67]"]
    assert found["10"] == []


def test_a_number_is_not_found_within_a_decimal() -> None:
    passages = [("Gap 0.2 mm", ""), ("Gap 10.2 mm", ""), ("Gap 2 mm", ""), ("Gap 0,2 mm", "")]
    found = asked(passages, ["0.2", "2 mm"])
    assert found["0.2"] == ["Gap [0.2] mm", "Gap [0,2] mm"]
    assert found["2 mm"] == ["Gap [2] [mm]"]


def test_all_words_must_be_there_the_heading_of_the_page_counts_but_not_alone() -> None:
    passages = [("Remove the impeller", "Use a puller."), ("Remove the housing", ""), ("Clean the impeller", "")]
    found = asked(passages, ["remove impeller", "water impeller", "impeller puller", "impeller anchor", "water"])
    assert found["remove impeller"] == ["[Remove] the [impeller]"]
    assert found["water impeller"] == ["Clean the [impeller]", "Remove the [impeller]"]
    assert found["impeller puller"] == ["Remove the [impeller]"]
    assert found["impeller anchor"] == []
    assert found["water"] == ["Renew the [water] pump"]


def test_the_nearest_comes_first() -> None:
    far = "Oil, and far off in another line, a filter."
    passages = [
        ("Waterproof", ""),
        ("Other", "The oil is old."),
        ("Rest", far),
        ("New", "The oil filter."),
        ("Oil", ""),
    ]
    found = asked(passages, ["oil", "oil filter", "proof"])
    assert found["oil"][0] == "[Oil]"
    assert found["oil filter"] == ["New", "Rest"]
    assert found["proof"] == ["Water[proof]"]


def test_beginnings_are_found_and_a_word_that_is_nowhere_loses_its_ending() -> None:
    found = asked([("Tighten the screw", "")], ["tight", "screws", "tightening", "scr", "ten"])
    assert found["tight"] == ["[Tight]en the screw"]
    assert found["screws"] == ["Tighten the [screw]"]
    assert found["tightening"] == ["[Tighten] the screw"]
    assert found["scr"] == ["Tighten the [scr]ew"]
    assert found["ten"] == []


@pytest.mark.parametrize("query", ["Öl", "ol", "oel", "OEL", "ÖL"])
def test_german_is_found_however_it_is_typed(query: str) -> None:
    assert asked([("Öl ablassen", ""), ("Oelfilter", "")], [query], "de")[query] == ["[Öl] ablassen", "[Oel]filter"]


def test_case_accents_and_marks_make_no_difference() -> None:
    passages = [("Schließen, große Maße", ""), ("Válvula de ralentí", ""), ("18 N·m", ""), ("Don’t", ""), ("ﬁlter", "")]
    found = asked(passages, ["grosse", "MASSE", "valvula ralenti", "nm", "don't", "filter", "ſ"])
    assert found["grosse"] == ["Schließen, [große] Maße"]
    assert found["MASSE"] == ["Schließen, große [Maße]"]
    assert found["valvula ralenti"] == ["[Válvula] de [ralentí]"]
    assert found["nm"] == ["18 [N·m]"]
    assert found["don't"] == ["[Don’t]"]
    assert found["filter"] == ["[ﬁlter]"]


@pytest.mark.parametrize("query", ["", " ", "-", "...", "(((", "\\", "[-", "$&", "*+?", "😀", "\ud800"])
def test_what_is_no_word_finds_nothing_and_does_no_harm(query: str) -> None:
    assert asked([("Plain (text) [a-z]", "")], [query])[query] == []


def test_an_excerpt_begins_and_ends_at_words_and_has_the_hits() -> None:
    node = shutil.which("node")
    if node is None:
        missing("node")
    text = "word " * 100 + "here is the flywheel nut of the engine " + "word " * 100
    data = {"pages": [["p.html", "Page"]], "passages": [[0, "", "", "Page", text.strip(), -1]]}
    script = f"""
        require({json.dumps(str(FIND))});
        const search = Putback.search.searcher({json.dumps(data)}, "en");
        const pieces = search.marked(search.passage(0).text, search.find("flywheel nut").terms, 120);
        console.log(JSON.stringify(pieces));
    """
    done = subprocess.run([node, "-e", script], capture_output=True, check=True, text=True)
    pieces = json.loads(done.stdout)
    assert [words for words, hit in pieces if hit] == ["flywheel", "nut"]
    shown = "".join(words for words, _ in pieces)
    assert len(shown) < 140
    assert shown.startswith("… ")
    assert shown.endswith(" …")
    assert all(word in text.split() for word in shown.strip("… ").split())


# With another theme.


def index_of(folder: Path, **settings: Any) -> dict[str, Any]:
    write(folder, GUIDE)
    build(folder, html_theme="alabaster", **settings)
    text = (folder / "_build/html/searchindex.js").read_text(encoding="utf-8")
    index: dict[str, Any] = json.loads(text.removeprefix("Search.setIndex(").removesuffix(")"))
    return index


def test_another_theme_keeps_the_search_of_sphinx_which_finds_steps(tmp_path: Path) -> None:
    index = index_of(tmp_path)
    found = {
        f"{prefix}.{name}" if prefix else name: (index["docnames"][page], anchor)
        for prefix, objects in index["objects"].items()
        for page, _, _, anchor, name in objects
    }
    assert found["3 Remove the seal (TP-1)"] == ("jobs/seal", "seal-step-3")
    assert found["Seal (TP-1)"] == ("machine", "seal-thing")
    assert not (tmp_path / "_build/html/search-data.js").exists()


@pytest.mark.parametrize("language", ["en", "de", "pt_BR"])
def test_a_part_number_is_one_word_and_only_where_it_stands(tmp_path: Path, language: str) -> None:
    index = index_of(tmp_path, language=language)
    pages = index["terms"]["tp-1"]
    names = sorted(index["docnames"][page] for page in ([pages] if isinstance(pages, int) else pages))
    assert names == ["index", "jobs/seal", "machine"]
    assert "function splitQuery" in (tmp_path / "_build/html/_static/language_data.js").read_text(encoding="utf-8")


def test_a_language_that_has_a_splitter_keeps_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Own(SearchEnglish):
        lang = "own"
        js_splitter_code = "function splitQuery(query) { return [query]; }"

    monkeypatch.setitem(search.languages, "own", Own)
    index = index_of(tmp_path, html_search_language="own")
    assert "tp-1" not in index["terms"]
    script = (tmp_path / "_build/html/_static/language_data.js").read_text(encoding="utf-8")
    assert Own.js_splitter_code in script


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_what_is_typed_is_split_in_the_same_way() -> None:
    asked = ["ag-1103", "head bolts", "o-ring TP-1", "part AG-1103-b, new", "-", "12"]
    script = f"{_SPLITTER}\nconsole.log(JSON.stringify({json.dumps(asked)}.map(splitQuery)))"
    done = subprocess.run(["node", "-e", script], capture_output=True, check=True, text=True)
    assert json.loads(done.stdout) == [
        ["ag-1103"], ["head", "bolts"], ["TP-1", "o", "ring"], ["AG-1103-b", "part", "new"], [], ["12"]
    ]  # fmt: skip
