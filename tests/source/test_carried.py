"""Guides in the old words are carried over by a program that knows the list of renames, and nothing else."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from tests.conftest import Putback, Write

LIST = Path(__file__).parents[2] / "docs" / "changes" / "renames.tsv"
ROWS = [line.split("\t") for line in LIST.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
FILES = {was: now for where, _, was, now in ROWS if where == "file"}

ODD: dict[str, str | bytes | None] = {
    "pump/guide.yaml": (
        "title: Odd\n'notice' : \"Invented.\"   # notice: a comment\n"
        '"accept":\n  "unproved" : it is looked at\n'
    ),
    "pump/machine.yaml": (
        '"machine" : Bench pump\n'
        "controls: {tap: {positions: [open, closed], 'rest' : open, free   : true}}\n"
        'parts: {lid: {warps: true}, shaft: {"turns": clockwise}, seat: {note: "it turns, and holds: well"}}\n'
        "makes: {check: {tap: open}, reverse: {tap: open}}\n"
        "fasteners:\n  screws:\n"
        '    {kind: screw, count: 4, holds: lid, because: "the maker says so", torque: 10 N·m, thread: M6,  # holds\n'
        "     class: 8.8, order: crosswise, \"settles\"  : 10 h, tool: crowfoot, 'angle': 90°}\n"
        "  ? nut\n  : {kind: nut, by-hand: until it stops, 'frees-when': loose, holds: [seat]}\n"
        "behind : {seat : [lid]}\nneeds: {clear: {tap: open}}\n"
    ),
    "pump/aids.yaml": '{"stand": {bears : 60 kg, name: clear stand}}\n',
    "pump/tools.yaml": "crowfoot: {extends: 40 mm}\nwrench: {range: 2 N·m .. 20 N·m, lever: 200 mm}\n",
    "pump/hazards.yaml": 'pinching: {least: warning, verbs: [do, "clear"], gone-when: {tap: open}, wear: [gloves]}\n',
    "pump/cautions.yaml": (
        'pinch: {signal: warning, hazard: "it moves, wear", consequence: You lose a finger., avoid: [Keep off.],\n'
        '  covers: [pinching], "wear": [gloves]}\n'
    ),
    "pump/blocks/open.yaml": "block: Open\nleaves: [screws, lid]\nsteps: [{remove: screws}, {remove: lid}]\n",
    "pump/jobs/look.yaml": (
        "job: Look\naccept : {'unused': \"kept\"}\nsections:\n- title: \"accept: this\"\n  steps:\n"
        "  - caution: pinch\n  - {\"place\" : stand}\n  - {name: start, 'do': open}\n"
        '  - {reverse: open, because: "clear: no key here", note: again}\n'
        '  - "clear" : stand\n  - check: tap\n    limit: open\n'
        "    otherwise: [{set: tap, to: open, because: it sticks}, {again : start}]\n"
    ),
    "pump/jobs/other.yaml": (
        "job: Other\nsteps:\n  - do: open\n  - install: lid\n  - install: screws\n  - tighten: screws\n"
    ),
    "pump/jobs/third.yaml": (
        "job: Third\nsteps:\n  - do: open\n  - install: lid\n  - install: screws\n"
        "  - tighten: screws\n    'accept' : {unproved: seen}\n"
    ),
}  # fmt: skip
"""A guide in the old words, written oddly: between braces, in quotes, with blanks and comments."""


def now_called(kind: str, place: list[str], word: str) -> str | None:
    """Return the new name of a key of a mapping, by the list."""
    in_step = place[-2:-1] in (["steps"], ["otherwise"])
    for where, at, was, now in ROWS:
        wanted = at.split("/") if at else []
        fits = {
            "check": place[-1:] in (["accept"], ["waive"]),
            "step": in_step,
            "verb": in_step or place in (["needs"], ["makes"], ["results-in"]),
            kind: len(wanted) == len(place) and all(a in ("*", b) for a, b in zip(wanted, place, strict=True)),
        }
        if word == was and fits.get(where):
            return now
    return None


def old_words(kind: str, node: Node, place: list[str]) -> Iterator[tuple[Node, str]]:
    if isinstance(node, MappingNode):
        for key, value in node.value:
            if now := now_called(kind, place, key.value):
                yield key, now
            yield from old_words(kind, value, [*place, key.value])
    elif isinstance(node, SequenceNode):
        for index, item in enumerate(node.value):
            yield from old_words(kind, item, [*place, str(index)])
    elif isinstance(node, ScalarNode) and place[-2:-1] == ["verbs"]:
        yield from ((node, now) for where, _, was, now in ROWS if where == "verb" and was == node.value)


def carried(folder: Path) -> set[tuple[str, int, int, str]]:
    """Carry all files of a folder over; return each word that was changed: path, line, column, new word."""
    done = set()
    for path in sorted(folder.rglob("*.yaml")):
        kind = {"jobs": "job", "blocks": "block"}.get(path.parent.name, FILES.get(path.stem, path.stem))
        text = path.read_text(encoding="utf-8")
        words = list(old_words(kind, YAML(pure=True).compose(text), []))
        for node, now in reversed(words):
            mark = node.start_mark
            done.add((str(path.relative_to(folder.parent)), mark.line + 1, mark.column + 1, now))
            text = text[: mark.index] + now + text[node.end_mark.index :]
        path.write_text(text, encoding="utf-8")
        if path.stem in FILES:
            done.add((str(path.relative_to(folder.parent)), 1, 1, f"{FILES[path.stem]}.yaml"))
            path.rename(path.with_stem(FILES[path.stem]))
    return done


def test_a_guide_that_is_carried_over_by_the_list_is_clean(write_guide: Write, putback: Putback) -> None:
    folder = write_guide(ODD)
    told = json.loads(putback("lint", "--format", "json", "pump").out)["findings"]
    done = carried(folder)
    assert sorted(
        (each["path"], each["line"], each["column"], each["message"].rsplit("'", 2)[1]) for each in told
    ) == sorted(done)
    assert len(done) == 30
    assert json.loads(putback("lint", "--format", "json", "pump").out)["findings"] == []
