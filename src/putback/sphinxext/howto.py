"""The page of a job as data that other programs read: a `HowTo` of schema.org, as JSON-LD at its end.

It is read from the finished page, so that it says what the page says: the way on which all is well, with each safety
message in front of the step that it stands before, and what is for some machines only begins with the words for whom.

A page must stay light enough for a telephone: of three forms, the fullest that is short enough is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from docutils import nodes

from putback.model.job import Job
from putback.sphinxext import nodes as own
from putback.sphinxext.building import NONE
from putback.sphinxext.escaped import as_data
from putback.sphinxext.sources import opened_for
from putback.units import Quantity
from putback.words import labels_for

if TYPE_CHECKING:
    from sphinx.application import Sphinx

Data = dict[str, Any]

TIPS = ("note", "because", "tool", "waste", "new-one", "remark")
"""Classes of what stands below the sentence of a step; a paragraph without a class does as well."""

SUPPLIES, TOOLS = ("consumables",), ("tools", "equipment", "protective-equipment")
"""Lists of the block that opens a job: what is used up, and what is not."""


def say_how_to(app: Sphinx, pagename: str, templatename: str, context: Data, doctree: nodes.document | None) -> None:
    """Give the template of a job's page its data."""
    del templatename
    page = doctree.next_node(nodes.section) if doctree is not None else None
    if page is None or "job" not in page["classes"]:
        return
    opened = opened_for(app.env, pagename)
    jobs = opened.guide.jobs if opened is not None else {}
    job = jobs.get(pagename.rpartition("/")[2]) if "blocks" not in pagename.split("/")[-2:-1] else None
    images = {str(uri): f"{app.builder.imgpath}/{name}" for uri, name in app.builder.images.items()}
    context["putback_how_to"] = fitting(page, job, app.config.language, images)


MOST = 25_000
"""The data have at most so many characters, unless not even the shortest form has so few."""


def fitting(page: nodes.section, job: Job | None, language: str | None, images: Mapping[str, str]) -> str:
    """Return the data of a page, as text: all that steps say; else their sentences; else these without addresses."""
    text = as_data(how_to(page, job, language, images))
    if len(text) > MOST:
        brief = how_to(page, job, language, images, brief=True)
        text = as_data(brief)
        text = as_data(_plain(brief)) if len(text) > MOST else text
    return text


def _plain(data: Data) -> Data:
    """Return data in which what is laid out and each step is a text: schema.org allows that."""
    steps = [each | {"itemListElement": [step["text"] for step in each["itemListElement"]]} for each in data["step"]]
    tools = {key: [each["name"] for each in data[key]] for key in ("tool",) if key in data}
    return data | tools | {"step": steps}


def how_to(
    page: nodes.section, job: Job | None, language: str | None, images: Mapping[str, str], *, brief: bool = False
) -> Data:
    """Return the data of a page; `images` has the address of each picture.

    In brief, a step is its sentence, after the hazards of the messages that stand before it.
    """
    labels = labels_for(language)
    data: Data = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": _title(page),
        "inLanguage": (language or "en").replace("_", "-"),
        "description": next(
            (_said(each) for each in page.findall(own.fact) if each["label"] == labels.job.purpose), ""
        ),
        "totalTime": duration(job.time) if job is not None and job.time is not None else "",
        "estimatedCost": str(job.cost.parts) if job is not None and job.cost is not None and job.cost.parts else "",
        "supply": [*_parts(page), *(_named("HowToSupply", each) for each in _listed(page, SUPPLIES))],
        "tool": [_named("HowToTool", each) for each in _listed(page, TOOLS)],
        "step": [_section(each, _Steps(images, language, brief=brief)) for each in _sections(page)],
    }
    return {key: value for key, value in data.items() if value}


def duration(time: Quantity) -> str:
    """Return a time as ISO 8601 writes it, at its longest: 90 min is `PT1H30M`; empty when it has no end."""
    longest = time.to("s")
    seconds = longest.high if longest.high is not None else longest.nominal
    if seconds is None or seconds <= 0:
        return ""
    minutes, rest = divmod(seconds, Decimal(60))
    hours, minutes = divmod(minutes, Decimal(60))
    parts = [(hours, "H"), (minutes, "M"), (rest.normalize(), "S")]
    return "PT" + "".join(f"{value:f}{unit}" for value, unit in parts if value)


def _parts(page: nodes.section) -> Iterator[Data]:
    """Yield the parts to buy: name, number and how many."""
    for found in _set_up(page, ("new-parts",)):
        for body in found.findall(nodes.tbody):
            for row in body.children:
                name, number, _, count = [_said(cell) for cell in row.children if isinstance(cell, nodes.entry)]
                supply = _named("HowToSupply", name)
                if number and number != NONE:
                    supply["identifier"] = number
                if count[:1].isdigit():
                    supply["requiredQuantity"] = int(count) if count.isdecimal() else count
                yield supply


def _listed(page: nodes.section, names: Sequence[str]) -> Iterator[str]:
    for found in _set_up(page, names):
        yield from (_said(item) for item in found.findall(nodes.list_item))


def _set_up(page: nodes.section, names: Sequence[str]) -> Iterator[nodes.section]:
    for block in page.findall(own.setup):
        yield from (each for each in block.findall(nodes.section) if set(names) & set(each["classes"]))


def _sections(page: nodes.section) -> Iterator[nodes.section]:
    """Yield the sections of the work: a follow-up is due later."""
    for part in page.children:
        if isinstance(part, nodes.section) and any("-section-" in each for each in part["ids"]):
            yield part


def _section(part: nodes.section, writer: _Steps) -> Data:
    for run in part.findall(own.steps):
        writer.run(run)
    section: Data = {"@type": "HowToSection", "name": _title(part), "url": f"#{part['ids'][0]}"}
    if writer.limit:
        section["description"] = writer.limit
    return section | {"itemListElement": [*writer.written()]}


class _Steps:
    """Writes the steps of a section, without those that only a bad answer leads to."""

    def __init__(self, images: Mapping[str, str], language: str | None, *, brief: bool) -> None:
        self.images = images
        self.brief = brief
        self.labels = labels_for(language)
        self.steps: list[Data] = []
        self.limit = ""
        self.before: list[Data] = []
        """What stands in front of the next step."""

    def run(self, run: nodes.Element) -> None:
        """Write a run of steps; what stands after its last step is said with that."""
        for node in run.children:
            if isinstance(node, own.step):
                self.step(node)
            elif isinstance(node, own.panel):
                self.before.append({"@type": "HowToDirection", "text": self.message(node)})
            elif isinstance(node, nodes.paragraph) and "section-limit" in node["classes"]:
                self.limit = _said(node)
            elif isinstance(node, nodes.paragraph):
                self.before.append({"@type": "HowToTip", "text": _said(node)})
        if self.before and self.steps:
            self.steps[-1]["itemListElement"] += self.before
            self.before = []

    def written(self) -> Iterator[Data]:
        """Yield the steps; one that says but one thing says it without a list."""
        for step in self.steps:
            said = step["itemListElement"]
            short = {key: value for key, value in step.items() if key != "itemListElement"}
            if self.brief:
                del short["position"]
                said = [each for each in said if each["@type"] == "HowToDirection"]
                yield short | {"text": " ".join(each["text"] for each in said)}
            else:
                yield short | {"text": said[0]["text"]} if len(said) == 1 else step

    def step(self, node: own.step) -> None:
        """Write a step; the steps of `each` follow, with what they are for in front."""
        number = str(node.get("number", ""))
        said = [*self.before]
        self.before = []
        step: Data = {"@type": "HowToStep", "position": int(number) if number.isdecimal() else number}
        if node["ids"]:
            step["url"] = f"#{node['ids'][0]}"
        for child in node.children:
            if isinstance(child, own.step_text):
                said.append({"@type": "HowToDirection", "text": _said(child)})
            elif isinstance(child, nodes.paragraph) and (not child["classes"] or set(TIPS) & set(child["classes"])):
                said.append({"@type": "HowToTip", "text": _said(child)})
        pictures = [self.images[uri] for uri in self.pictures(node) if uri in self.images]
        if pictures:
            step["image"] = pictures[0] if len(pictures) == 1 else pictures
        branches = [child for child in node.children if isinstance(child, own.otherwise)]
        branches = branches if "verb-each" in node["classes"] else []
        said += [
            {"@type": "HowToDirection", "text": label} for each in branches if (label := str(each.get("label", "")))
        ]
        self.steps.append(step | {"itemListElement": said})
        for branch in branches:
            self.run(branch)

    def pictures(self, node: nodes.Element) -> Iterator[str]:
        """Yield the pictures of a step, and not those of its branches."""
        for child in node.children:
            if isinstance(child, nodes.image):
                yield str(child["uri"])
            elif isinstance(child, nodes.Element) and not isinstance(child, own.otherwise):
                yield from self.pictures(child)

    def message(self, node: own.panel) -> str:
        """Return a safety message as one text, its signal word first."""
        word = self.labels.safety.signal(str(node.get("signal", ""))).upper()
        said = [_said(each) for each in node.findall(_is_line)][: 1 if self.brief else None]
        return f"{word}: {' '.join(each if each.endswith(('.', '!', '?')) else f'{each}.' for each in said if each)}"


def _is_line(node: nodes.Node) -> bool:
    kinds = (own.panel_hazard, own.panel_consequence, own.panel_wear)
    return isinstance(node, kinds) or (isinstance(node, nodes.paragraph) and isinstance(node.parent, own.panel_avoid))


def _named(kind: str, name: str) -> Data:
    return {"@type": kind, "name": name}


def _title(node: nodes.section) -> str:
    title = next((child for child in node.children if isinstance(child, nodes.title)), None)
    return _said(title) if title is not None else ""


def _said(node: nodes.Node) -> str:
    return " ".join(node.astext().split())
