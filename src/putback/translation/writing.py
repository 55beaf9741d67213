"""A catalogue as a file: the same bytes for the same texts, whenever it is written."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from babel.messages.pofile import normalize

from putback.guide.record import Guide
from putback.translation.catalogue import PoEntry
from putback.translation.merging import Merged
from putback.translation.wording import GuideText

_WIDTH = 100
_HEAD = """\
# {title}, in the language {tag}. `putback translate` writes this file, and keeps what is translated.
msgid ""
msgstr ""
"Project-Id-Version: {name}\\n"
"Language: {language}\\n"
"MIME-Version: 1.0\\n"
"Content-Type: text/plain; charset=UTF-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"""


def written(found: Merged, guide: Guide, tag: str) -> str:
    """Return the text of a catalogue."""
    title = guide.cover.title if guide.cover else guide.root.name
    name = title.replace("\\", "\\\\").replace('"', '\\"')
    parts = [_HEAD.format(title=title, tag=tag, name=name, language=tag.replace("-", "_"))]
    parts += ["".join(f"{line}\n" for line in _entry(entry, wording, guide)) for wording, entry in found.entries]
    parts += ["".join(f"{line}\n" for line in _entry(entry, None, guide)) for entry in found.unused]
    return "\n".join(parts)


def _entry(entry: PoEntry, wording: GuideText | None, guide: Guide) -> Iterator[str]:
    """Yield the lines of an entry; of one that is no longer used, without a wording."""
    yield from (f"# {remark}".rstrip() for remark in entry.remarks)
    if wording is not None:
        yield from _wrapped(wording.note, "#. ")
        yield from _wrapped(" ".join(_places(wording, guide)), "#: ")
    if entry.fuzzy and entry.told:
        yield "#, fuzzy"
        if entry.previous:
            yield from _said("msgid", entry.previous, "#| ")
    prefix = "#~ " if wording is None else ""
    yield from _said("msgctxt", entry.context, prefix)
    yield from _said("msgid", entry.text, prefix)
    yield from _said("msgstr", entry.told, prefix)


def _said(word: str, text: str, prefix: str) -> Iterator[str]:
    for line in f"{word} {normalize(text, width=_WIDTH)}".split("\n"):
        yield f"{prefix}{line}"


def _wrapped(text: str, prefix: str) -> Iterator[str]:
    for line in textwrap.wrap(text, _WIDTH - len(prefix), break_long_words=False, break_on_hyphens=False):
        yield f"{prefix}{line}"


def _places(wording: GuideText, guide: Guide) -> list[str]:
    """Return where a text stands, by files of the guide."""
    return list(dict.fromkeys(f"{_within(span.path, guide)}:{span.line}" for span in wording.spans))


def _within(path: str, guide: Guide) -> str:
    # A blank would end the name.
    return re.sub(r"\s", "%20", path.removeprefix(f"{guide.shown}/"))
