#!/usr/bin/env python
"""Keeps the catalogues of other languages in step with the code.

    .ci/catalogues.py update          every catalogue gets the messages that the code has now, and no others
    .ci/catalogues.py update --new fr begins one for another language
    .ci/catalogues.py check           says what is missing; exit code 1 when something is
    .ci/catalogues.py extract         prints all messages as a template

A message whose English text has changed keeps its translation, marked as fuzzy, where its context tells which it was.
Fuzzy translations are not printed. Files are the same for the same messages: they have no dates and no line numbers.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import io
import re
import sys
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import takewhile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "src"))

from babel.messages.catalog import Catalog  # noqa: E402
from babel.messages.pofile import read_po, write_po  # noqa: E402

from putback.telling import Message, Translatable  # noqa: E402
from putback.telling.catalogue import FOLDER, usable  # noqa: E402
from putback.telling.figures import unit_messages  # noqa: E402
from putback.words.english.labels import LABELS  # noqa: E402
from putback.words.telling import relabelled  # noqa: E402

SRC = ROOT / "src" / "putback"
TEXTS = {"say": 1, "say_phrase": 1, "say_count": 2, "say_count_phrase": 2}
"""Methods that say a message, and how many texts follow the context."""
OWN = (SRC / "telling", SRC / "words" / "telling.py", SRC / "translation")
"""Where messages are passed on, and need not be written out."""
LEAD = "# Translators:"
_DROPPED = re.compile(r'"(POT-Creation-Date|PO-Revision-Date|Generated-By|Report-Msgid|Last-|Language-Team|Project-Id)')
"""Lines of the head of a file that say nothing, or something else each time."""


class NotWrittenOutError(Exception):
    """A message that is made while the program runs: nobody could translate it."""


def wanted() -> Iterator[Translatable]:
    """Yield all messages: labels, sentences, units, texts of the library."""
    yield from label_messages()
    for path in sorted(SRC.rglob("*.py")):
        yield from messages_in(path)
    yield from unit_messages()
    try:
        library = importlib.import_module("putback.translation.library")
    except ModuleNotFoundError:
        return
    yield from library.library_texts()


# Sentences.


def messages_in(path: Path) -> Iterator[Translatable]:
    """Yield the messages of a module. Raises `NotWrittenOutError`."""
    text = path.read_text(encoding="utf-8")
    ours = SRC / "words" in path.parents and SRC / "words" / "english" not in path.parents
    if not ours and "putback.telling" not in text:
        return  # other things have methods of such names too
    lines, place = text.splitlines(), path.relative_to(ROOT).as_posix()
    for statement, call in _calls(ast.parse(text)):
        found = _message(call)
        if found is None:
            if not any(path == own or own in path.parents for own in OWN):
                raise NotWrittenOutError(f"{place}:{call.lineno}: write the context and the texts of this message out")
            continue
        note = _note(lines, call.lineno) or _note(lines, statement.lineno)
        yield Translatable(found, note, place)


def _calls(tree: ast.Module) -> Iterator[tuple[ast.stmt, ast.Call]]:
    """Yield the calls that say a message, each with the innermost statement it is in, in the order of the text."""
    found: list[tuple[ast.stmt, ast.Call]] = []

    def look(node: ast.AST, statement: ast.stmt) -> None:
        for child in ast.iter_child_nodes(node):
            inner = child if isinstance(child, ast.stmt) else statement
            if isinstance(child, ast.Call) and _named(child) in (*TEXTS, "Message"):
                found.append((inner, child))
            look(child, inner)

    for top in tree.body:
        look(ast.Module([top], []), top)
    return iter(sorted(found, key=lambda pair: (pair[1].lineno, pair[1].col_offset)))


def _named(call: ast.Call) -> str:
    match call.func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def _message(call: ast.Call) -> Message | None:
    """Return the message of a call; None when it is not written out."""
    count = 1 + TEXTS.get(_named(call), len(call.args) - 1)
    texts = [each.value for each in call.args[:count] if isinstance(each, ast.Constant) and isinstance(each.value, str)]
    return Message(*texts) if len(texts) == count and count > 1 else None


def _note(lines: list[str], number: int) -> str:
    """Return the comment for translators above a line."""
    above = list(takewhile(lambda line: line.startswith("#"), (line.strip() for line in reversed(lines[: number - 1]))))
    comment = list(reversed(above))
    starts = [place for place, line in enumerate(comment) if line.startswith(LEAD)]
    if not starts:
        return ""
    first, *others = comment[starts[-1] :]
    return " ".join([first.removeprefix(LEAD).strip(), *(line.lstrip("# ") for line in others)])


# Labels.


def label_messages() -> Iterator[Translatable]:
    """Yield the labels, each with what its field says of it."""
    found: list[tuple[str, str]] = []

    def keep(context: str, text: str) -> str:
        found.append((context, text))
        return text

    relabelled(LABELS, "label", keep)
    for context, text in found:
        yield Translatable(Message(context, text), *_of_label(context))


def _of_label(context: str) -> tuple[str, str]:
    """Return the note on a label and the module that has it."""
    record: Any = LABELS
    note = place = ""
    for name in context.split(".")[1:]:
        if not hasattr(type(record), "__dataclass_fields__") or name not in type(record).__dataclass_fields__:
            break
        module = sys.modules[type(record).__module__]
        note = _docs(str(module.__file__)).get((type(record).__name__, name), "")
        place = Path(str(module.__file__)).relative_to(ROOT).as_posix()
        record = getattr(record, name)
    return note, place


@cache
def _docs(path: str) -> dict[tuple[str, str], str]:
    """Return the docstrings under the fields of the classes of a module."""
    found = {}
    for node in ast.parse(Path(path).read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ClassDef):
            for field, doc in zip(node.body, node.body[1:], strict=False):
                match field, doc:
                    case ast.AnnAssign(target=ast.Name(id=name)), ast.Expr(value=ast.Constant(value=str(words))):
                        found[node.name, name] = " ".join(words.split())
    return found


# Catalogues.


def updated(old: Catalog, messages: Iterable[Translatable]) -> Catalog:
    """Return a catalogue of these messages alone, with the translations that the old one has of them."""
    new = Catalog(old.locale, project="Putback", charset="utf-8", fuzzy=False)
    new.header_comment = f"# What Putback prints, in the language {_tag(old)}.\n# Kept in step by .ci/catalogues.py."
    wanted_now = list(messages)
    now = {(each.message.context, each.message.text) for each in wanted_now}
    gone: dict[str, list[Any]] = {}
    for message in old:
        if message.id and (message.context, _first(message.id)) not in now:
            gone.setdefault(message.context, []).append(message)
    for message, note, place in wanted_now:
        before = old.get(message.text, message.context)
        was = gone.get(message.context, []) if before is None else []
        kept = before or (was[0] if len(was) == 1 and bool(was[0].pluralizable) is bool(message.many) else None)
        new.add(
            (message.text, message.many) if message.many else message.text,
            kept.string if kept is not None else None,
            locations=[(place.partition(":")[0], 0)] if place else [],
            flags={"fuzzy"} if kept is not None and kept.string and (kept.fuzzy or before is None) else set(),
            auto_comments=[note] if note else [],
            user_comments=kept.user_comments if kept is not None else [],
            previous_id=_previous(kept, before),
            context=message.context,
        )
    return new


def _previous(kept: Any, before: Any) -> Any:
    """Return the English text that a kept translation was made of, where that was another one."""
    if kept is None or not kept.string:
        return ()
    return kept.previous_id if before is not None else kept.id


def _first(text: Any) -> str:
    return text if isinstance(text, str) else text[0]


def _tag(catalog: Catalog) -> str:
    return str(catalog.locale_identifier).replace("_", "-")


def written(catalog: Catalog) -> str:
    """Return a catalogue as the text of its file."""
    file = io.BytesIO()
    write_po(file, catalog, width=110, include_lineno=False, include_previous=True, ignore_obsolete=True)
    lines = file.getvalue().decode("utf-8").splitlines(keepends=True)
    return "".join(line for line in lines if not _DROPPED.match(line))


def read(path: Path) -> Catalog:
    """Return the catalogue in a file."""
    with path.open("rb") as file:
        return read_po(file, locale=path.stem)


def faults(catalog: Catalog, messages: Iterable[Translatable]) -> Iterator[str]:
    """Yield what is wrong with a catalogue: what is missing, fuzzy, too much, or has other fields."""
    known = {(each.message.context, each.message.text) for each in messages}
    for context, text in sorted(known):
        found = catalog.get(text, context)
        if found is None or not any([found.string] if not isinstance(found.string, tuple | list) else found.string):
            yield f"not translated: [{context}] {text}"
        elif not usable(found):
            yield f"{'fuzzy' if found.fuzzy else 'other fields'}: [{context}] {text}"
    for message in catalog:
        if message.id and (message.context, _first(message.id)) not in known:
            yield f"no message any more: [{message.context}] {_first(message.id)}"


def paths() -> list[Path]:
    """Return the files of all catalogues."""
    return sorted(FOLDER.glob("*.po"))


def main() -> int:
    """Do what the command line says."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("what", choices=("update", "check", "extract"))
    parser.add_argument("--new", metavar="TAG", help="begin a catalogue for this language")
    asked = parser.parse_args()
    messages = list(wanted())
    if asked.what == "extract":
        print(written(updated(Catalog("en"), messages)), end="")
        return 0
    if asked.new:
        new = FOLDER / f"{asked.new.replace('-', '_')}.po"
        FOLDER.mkdir(exist_ok=True)
        if not new.exists():
            new.write_text(written(updated(Catalog(new.stem), messages)), encoding="utf-8")
    found = 0
    for path in paths():
        catalog = read(path)
        if asked.what == "update":
            catalog = updated(catalog, messages)
            path.write_text(written(catalog), encoding="utf-8")
        wrong = list(faults(catalog, messages))
        found += len(wrong)
        print(f"{path.name}: {len({each.message[:2] for each in messages})} messages, {len(wrong)} to do")
        if asked.what == "check":
            print("".join(f"  {each}\n" for each in wrong), end="")
    return int(asked.what == "check" and found > 0)


if __name__ == "__main__":
    raise SystemExit(main())
