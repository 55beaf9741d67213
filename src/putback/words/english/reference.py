"""What stands at the back of a book, in English."""

from __future__ import annotations

from putback.words.reference import IndexLabels, ReferenceLabels

_INDEX = IndexLabels(
    lead_steps="The numbers are those of the steps. Follow one to go there.",
    lead_pages="The numbers are pages. A number after the name of a part is where the machine's own tables have it.",
    signs="Signs that something is wrong",
    parts="Parts and lines",
    fasteners="Fasteners",
    fluids="Fluids",
    settings="Settings",
    tools="Tools and equipment",
    supplies="Consumables",
    hazards="Hazards",
    empty="This guide has no job yet.",
    step="step",
    off="off",
    on="on",
    renewed="renewed",
    loosened="loosened",
    tightened="tightened",
    drained="drained",
    filled="filled",
    adjusted="adjusted",
    measured="measured",
    inspected="looked at",
)

REFERENCE = ReferenceLabels(
    title="Reference tables",
    elsewhere="In another chapter of this book:",
    schedule="When each job is due",
    together="What falls due together",
    together_lead=(
        "Find the hours or months in the top row, and do all jobs that have a mark in that column. {own} is the job's "
        "own interval, {also} is a job that comes round again at the same time, and “{first}” is the first time."
    ),
    first="first",
    due="due",
    due_also="due again",
    hours="{number} h",
    km="{number} km",
    month="1 month",
    months="{number} months",
    none_together="No job of this guide is due after hours, months or kilometres.",
    differing="Steps that differ",
    differing_lead="These steps are for some machines only. With another machine, skip them.",
    for_whom="Machines",
    steps="Steps",
    same_for_all="The same for all machines:",
    all_same="All steps of all jobs are the same for all machines.",
    kits="Kits",
    in_kit="What is in it",
    used_in="Used in",
    no_kit="No kit is sold for this machine.",
    wear="Wear limits",
    measured="What is measured",
    in_jobs="In job",
    no_wear="No part of this machine has a wear limit.",
    revisions="Editions of this book",
    changed="What changed",
    edition="Edition",
    no_revision="This is the first edition.",
    index=_INDEX,
)
"""All of them in English."""
