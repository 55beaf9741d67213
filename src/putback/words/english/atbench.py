"""Words of the page of a job, while somebody works by it on a screen, in English."""

from __future__ import annotations

from putback.words.atbench import (
    AtBenchLabels,
    AtStepLabels,
    BarLabels,
    MachineChoiceLabels,
    SaidLabels,
    StateLabels,
)
from putback.words.benchsheets import RefusalLabels, SheetLabels

_BAR = BarLabels(
    name="This job",
    done="{done} of {of} steps",
    next_step="Next: {step}",
    no_next="All ticked",
    off="Off now: {count}",
    off_now="Off now",
    none_off="Nothing is off.",
    goes_back="Still to go back: {count}",
    off_lead="By your ticks. Each with the step that puts it back.",
    pieces="{name} ({count})",
    back_at="back at step {step}",
    away_at="goes away at step {step}",
    since="since step {step}",
    stays="no later step puts it back",
    perhaps="if your machine has it, or the answer says so",
    left_out="Left without a tick so far:",
    went_back="Step {step} led back to an earlier step.",
    take_back="Take that back",
    closed="Everything is back as it was.",
    timer="Step {step}: {left}",
    sheet="Sheet",
    close="Close",
)

_STATE = StateLabels(
    off="off",
    out="{n} of {of} out",
    loose="loose: {n}",
    part="not at full torque: {n}",
    open="open: {n} of {of}",
    empty="out",
    at="at: {at}",
    disturbed="not known",
    there="to take away",
    astray="not aligned",
)

_MACHINE = MachineChoiceLabels(
    title="Which machine is in front of you?",
    lead="Steps for other machines are then folded away, on all pages of this book in this browser.",
    unknown="not known yet",
    summary="Your machine: {choices}",
    own="This sheet is for another machine of this model",
    hidden="Folded away: {steps} steps and {rows} rows for other machines",
    show="Show them",
    not_yours="not for your machine",
    not_said="depends on your machine",
)

_STEP = AtStepLabels(
    answers="Answer to step {step}",
    good="As it should be",
    bad="Not so",
    verdict_good="good",
    verdict_low="below the limit: {limit}",
    verdict_high="above the limit: {limit}",
    verdict_out="outside the limit",
    garbage="not a number",
    unclear="can be read as two numbers; write it without a thousands mark",
    wrong_unit="not in a unit that can be compared",
    unit="Unit of {label}",
    show_branch="{label} Show the steps",
    not_needed="not needed",
    needed="do this now",
    again="Do this step again.",
    start="Start {time}",
    start_limit="Start, at most {time}",
    running="{left} to go, until {end}",
    limit_running="{left} left",
    over="Time is over since {end}.",
    stop="Stop",
    by_ticks="By your ticks: {out} out, {back} back, {new} new",
    differs="Not the same yet",
    now_here="next",
)

_SHEET = SheetLabels(
    title="Your sheet",
    lead="A sheet has your ticks, readings and answers. Each person, and each machine, can have a sheet.",
    unnamed="Sheet of {date}",
    row="{name}: {done} ticked, {date}",
    open_now="open",
    open="Open {name}",
    name="Name of this sheet",
    new="New sheet",
    put_away="Put this sheet away",
    take_out="Take this sheet out again",
    away="put away",
    older="begun with another edition of this job",
    drop="Delete this sheet",
    drop_sure="Delete “{name}” with all its ticks and readings? This cannot be undone.",
    drop_yes="Delete it",
    keep="Keep as it is",
    note="Notes",
    kept="Everything is kept in this browser, for this folder, as soon as it is written.",
    screen_on="The screen stays on while you work.",
    file="Sheet as a file",
    file_lead="A browser can lose what it keeps. A file can go to another device, or be kept.",
    export="Save as a file",
    take="Take a sheet from a file",
    taken="In the file: {name}, changed {date}.",
    as_own="Take it as a sheet of its own",
    merge="Put it into the sheet that is here",
    twin="This sheet is here already.",
    equal="It is the same as in the file.",
    other_edition=(
        "The file is of another edition of this job. {kept} marks fit; {lost} do not, and are set aside. "
        "Steps then: {steps}."
    ),
    edition=(
        "This sheet was begun with another edition of this job. {kept} marks fit; {lost} do not, and are set aside. "
        "Steps then: {steps}."
    ),
)

_SAID = SaidLabels(
    again="These steps are done again, and their ticks are taken away: {steps}. Go on at step {step}.",
    branch="The answer to step {step} leads to: {steps}.",
    stop="Stop here: the job ends at step {step}.",
    finished="The last step is ticked. Count back, then sign off.",
    not_kept="This browser keeps nothing here. Ticks are lost when you leave the page; save them as a file.",
    full="There is no more room to keep anything. Save this sheet as a file, or delete old sheets.",
    kept_again="Everything is kept again.",
    other_tab="This sheet was changed in another tab. Here is what it has now.",
    edition="This job was changed since the sheet was begun. {kept} marks fit; {lost} do not, and are set aside.",
    unchosen="No machine of this model has that together with what was chosen before, so that choice was taken back.",
    timer_over="Step {step}: the time is over.",
    sheet_open="Now open: {name}",
    imported="Taken from the file: {name}",
    exported="Saved as {name}",
)

_REFUSAL = RefusalLabels(
    empty="There is nothing in this file.",
    too_big="This file is too large to be a sheet.",
    not_json="This file is not a sheet: it is no JSON.",
    not_a_record="This file is not a sheet of a job.",
    newer_version="This sheet was written by a newer edition of the program, and cannot be read here.",
    other_guide="This sheet is of another guide: {guide}.",
    other_job="This sheet is of another job: {title}. Open it on the page of that job.",
    broken="This sheet is damaged, and nothing was taken from it: {where}.",
    full="There is no room to keep this sheet. Nothing was changed.",
    unread="This file could not be read.",
)

AT_BENCH = AtBenchLabels(
    bar=_BAR,
    state=_STATE,
    machine=_MACHINE,
    step=_STEP,
    sheet=_SHEET,
    said=_SAID,
    refusal=_REFUSAL,
)
