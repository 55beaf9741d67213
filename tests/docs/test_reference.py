"""The reference of the language: every key and verb is on one page, and each example is as good as it says."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from putback.model.verbs import VERBS
from putback.source.keys import THINGS, Key, about_verb, everywhere, keys_of, owners, written
from putback.source.load import load_text
from putback.source.schema import FileKind, document, shipped, validate
from tests.docs.answering import answer_of, lint
from tests.pasted import ROOT

PAGES = sorted((ROOT / "docs" / "reference").glob("*.md"))
STEPS = (ROOT / "docs" / "reference" / "steps.md").read_text(encoding="utf-8")

FENCE = re.compile(r"(?:^<!-- with\n(?P<rest>.*?)^-->\n\n)?^```yaml\n(?P<shown>.*?)^```$", re.DOTALL | re.MULTILINE)
"""An example of a verb: its steps, and the rest of the guide, which is not shown."""

LISTED = re.compile(r"^```\{putback-keys\} (?P<owner>\S+)\n(?P<options>(?::.*\n)*)```$", re.MULTILINE)
"""A list of keys on a page."""


def listed() -> Iterator[tuple[str, str]]:
    """Yield each key that a page shows, with its owner: once for each place where it is shown."""
    for page in PAGES:
        for found in LISTED.finditer(page.read_text(encoding="utf-8")):
            owner = found["owner"]
            options = dict(re.findall(r"^:([a-z]+): (.*)$", found["options"], re.MULTILINE))
            names = options.get("keys", "").split() or list(keys_of(owner))
            every = THINGS if owner == "thing" else (owner, *options.get("also", "").split())
            for name in names:
                yield from ((each, name) for each in every)
    for verb in re.findall(r"^```\{putback-verb\} (\S+)\n```$", STEPS, re.MULTILINE):
        yield verb, verb
        yield from ((verb, name) for name in keys_of(verb) if name != verb)


def test_every_key_and_every_verb_is_on_one_page() -> None:
    known = {(owner, name) for owner in owners() for name in keys_of(owner)} | {(verb, verb) for verb in VERBS}
    shown = Counter(listed())
    assert sorted(known - set(shown)) == [], "show them on a page of docs/reference: {putback-keys} OWNER"
    assert sorted(set(shown) - known) == []
    assert [each for each, times in shown.items() if times > 1] == [], "shown more than once"


def mappings(schema: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the place of every mapping with keys in a schema."""
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict) and "additionalProperties" in schema:
            yield path
        for key, inner in schema.items():
            if key not in ("examples", "default"):
                yield from mappings(inner, (*path, key))
    elif isinstance(schema, list):
        for inner in schema:
            yield from mappings(inner, path)


def test_no_mapping_of_a_schema_is_forgotten() -> None:
    """A mapping with keys that `owners` does not know would be on no page."""
    known = {(owner.file, owner.path) for owner in owners().values()}
    files = [path.name.removesuffix(".schema.json") for path in shipped("schema").glob("*.json")]
    found = {(file, place) for file in files for place in mappings(document(f"{file}.schema.json"))}
    assert found - known == set()


KEYS = [(owner, key) for owner in owners() for key in keys_of(owner).values()]


def check_words(key: Key) -> Iterator[str]:
    """Yield what is wrong with the words of a key."""
    text = key.about
    if not re.fullmatch(r"[A-Z`].*[.]", text):
        yield "a description is a sentence or two, with a capital and a full stop"
    if re.sub(r"`[^`]*`", "", text) != re.sub(r"`[^`]*`|[*_\[\]<>]", "", text):
        yield "a description has no markup but back-quotes"
    if len(text) > 300:
        yield "a description is short; what is longer goes on the page"


@pytest.mark.parametrize(("owner", "key"), KEYS, ids=[f"{owner}-{key.name}" for owner, key in KEYS])
def test_a_key_has_good_words_and_good_examples(owner: str, key: Key) -> None:
    assert list(check_words(key)) == []
    for example in (*key.examples, *([key.default] if key.default else ())):
        line = f"{key.name}: {written(example)}"
        loaded = load_text(f"{line}\n", "f.yaml")
        assert loaded.root is not None, line
        assert loaded.faults == [], line
        assert str(loaded.root.plain()) == str({key.name: example}), line


@pytest.mark.parametrize("file", sorted(path.name for path in shipped("schema").glob("*.json")))
def test_the_examples_of_a_schema_fit_it(file: str) -> None:
    """An editor offers them: each is what the key takes."""
    from referencing import Registry, Resource

    names = [path.name for path in shipped("schema").glob("*.json")]
    registry: Registry[Any] = Registry().with_resources((n, Resource.from_contents(document(n))) for n in names)

    def examples(schema: Any) -> Iterator[tuple[dict[str, Any], Any]]:
        if isinstance(schema, dict):
            yield from ((schema, each) for each in schema.get("examples", ()))
        for inner in schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ():
            yield from examples(inner)

    for schema, example in examples(document(file)):
        bare = {key: value for key, value in schema.items() if key != "examples"}
        if str(bare.get("$ref", "")).startswith("#"):
            bare["$ref"] = file + bare["$ref"]
        within = {"$id": file, "$defs": document(file).get("$defs", {}), "allOf": [bare]}
        wrong = [error.message for error in Draft202012Validator(within, registry=registry).iter_errors(example)]
        assert wrong == [], example


def test_a_verb_has_its_meaning_and_says_how_it_is_reversed() -> None:
    for name, verb in VERBS.items():
        assert list(check_words(about_verb(name))) == []
        assert bool(verb.way_back) == (verb.back is not None), f"'way_back' of {name}: what 'reverse' makes of it"
    assert {owner.called for owner, _ in everywhere("torque")} == {"a part", "a fastener", "tighten"}


# What stands on the pages


def verb_examples() -> list[Any]:
    """Return the examples of the verbs, each as an answer on the bench machine."""
    found = []
    for part in re.split(r"^### ", STEPS, flags=re.MULTILINE)[1:]:
        verb, _, text = part.partition("\n")
        for each in FENCE.finditer(text.partition("\n(references)=")[0]):
            shown = "".join(f"  {line}\n" for line in each["shown"].splitlines())
            found.append(answer_of(verb, f"# jobs/example.yaml\nsteps:\n{shown}", each["rest"] or ""))
    return found


@pytest.mark.parametrize("answer", verb_examples(), ids=lambda answer: answer.question)
def test_the_example_of_a_verb_gives_no_finding(answer: Any) -> None:
    found = lint(answer)
    assert [f"{each.span.path}: {each.check}: {each.message}" for each in found] == []


def test_every_verb_has_a_heading_and_an_example_that_uses_it() -> None:
    shown: dict[str, str] = {}
    for answer in verb_examples():
        shown[answer.question] = shown.get(answer.question, "") + answer.shown
    assert {verb for verb, text in shown.items() if re.search(rf"- {verb}:", text)} == set(VERBS)


def other_examples() -> list[tuple[str, str]]:
    """Return what the other pages show as YAML, each with the page."""
    pages = [page for page in PAGES if page.name not in ("steps.md", "findings.md", "commands.md")]
    return [
        (page.name, text)
        for page in pages
        for text in re.findall(r"^```yaml\n(.*?)^```$", page.read_text("utf-8"), re.DOTALL | re.MULTILINE)
    ]


@pytest.mark.parametrize(("page", "text"), other_examples())
def test_an_example_has_the_shape_of_its_file(page: str, text: str) -> None:
    """Part of a file is completed with what the file must have; steps alone are a job."""
    content, stem = YAML(typ="safe", pure=True).load(text), page.removesuffix(".md")
    kinds = {"tools", "consumables", "equipment", "hazards", "cautions", "symptoms"}
    if isinstance(content, list):
        text, kind = f"job: x\nsteps:\n{text}", FileKind.JOB
    elif found := {kind for kind in (FileKind.JOB, FileKind.BLOCK) if kind.value in content}:
        [kind] = found
        text += "" if {"steps"} & set(content) else "steps: [{note: x}]\n"
    elif set(content) <= set(keys_of("job")):
        text, kind = f"job: x\n{text}" + ("" if "steps" in content else "steps: [{note: x}]\n"), FileKind.JOB
    elif set(content) <= set(keys_of("guide")):
        kind = FileKind.GUIDE
    elif set(content) <= set(keys_of("machine")):
        text, kind = text if "machine" in content else f"machine: x\n{text}", FileKind.MACHINE
    else:
        fits = [each for each in kinds if not validate(load_text(text, "f.yaml"), FileKind(each))]
        assert fits, f"{stem}: {text}"
        return
    loaded = load_text(text, "f.yaml")
    assert [fault.message for fault in (*loaded.faults, *validate(loaded, kind))] == []
