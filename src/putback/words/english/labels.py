"""Headings, heads of columns and labels in English."""

from __future__ import annotations

from putback.model.terms import Signal
from putback.words.around import BookLabels, NoPageLabels, SuppliesLabels, UpkeepLabels
from putback.words.english.atbench import AT_BENCH
from putback.words.english.bench import BENCH, TRAY
from putback.words.english.reference import REFERENCE
from putback.words.english.sought import SEARCH
from putback.words.labels import JobLabels, Labels, MachineLabels, SafetyLabels

_JOB = JobLabels(
    purpose="Purpose",
    due="Due",
    machines="Which machines",
    when_needed="when needed",
    time="Time",
    people="People",
    goes_on_from="Continues from",
    begins_with="Begins with",
    goes_on_with="Continues with",
    ends_with="Ends with",
    set_first="Before you start",
    safety_messages="Safety messages in this job",
    wear="Protective equipment",
    new_parts="New parts",
    tools="Tools",
    consumables="Consumables",
    equipment="Equipment",
    none="None.",
    steps="Steps",
    tool="Tool: {name}.",
    several_tools="Tools: {names}.",
    measured="Measured",
    count_back="Count back",
    count_lead="Before you sign the job off, count what came off, what went back, and which of it is new.",
    nothing_off="Nothing comes off in this job.",
    left_lead="What is left off here goes back in a later job. Set it aside, each part with its screws.",
    settings_lead="This job disturbs these settings. Each must be back within its limit before the job is signed off.",
    at_step="Step",
    within="Within",
    piece="Piece",
    out="Out",
    back="Back",
    new="New",
    counted="Counted",
    part="Part",
    number="Number",
    kit="Kit",
    same_kit="same kit",
    count="Count",
    sign_off="Sign-off",
    to_sign=("Machine and serial number", "Date", "Name", "Signature"),
    sign_hours="Running hours",
)

_MACHINE = MachineLabels(
    title="The machine: {machine}",
    options="Options",
    option="Option",
    choice="Choice",
    how_to_tell="How to tell",
    orders="Tightening orders",
    stacks="How parts come apart",
    stack_marks=(
        "Parts come off in the order of the numbers, and go back in reverse. A white number on black: fit a new one. "
        "A drop: put on what is named."
    ),
    true_size="Bolts at true size",
    controls="Controls",
    parts="Parts",
    fasteners="Fasteners and torques",
    lines="Lines",
    fluids="Fluids",
    settings="Settings",
    in_one_job="{count}; one job takes {most}",
    never_built="Never built:",
    fastener="Fastener, joint",
    size="Size, drive",
    threads="Threads",
    torque="Torque",
    mass="Weight",
    remarks="Remarks",
    new="New",
    fitted="Fitted",
    every_time="every time",
    when_worn="when worn",
    line="Line",
    kind="Kind",
    joins="Joins",
    fluid="Fluid",
    grade="Grade",
    volume="Volume",
    drains_at="Drains at",
    fills_at="Fills at",
    control="Control",
    positions="Positions",
    normal="Normal position",
    setting="Setting",
    limit="Limit",
    disturbed_by="Disturbed by",
    adjusted_by="Adjusted by",
    job="Job",
    no_job="This guide has no job yet.",
)

_SAFETY = SafetyLabels(
    skill="Who can do it",
    stop="Stop and call",
    first="What comes first",
    licensed="Licensed work",
    any_skill="Anyone who has used these tools before.",
    stop_and_call=(
        "Stop, and call a licensed professional, when a step cannot be done as it is written, when something breaks or "
        "looks wrong, or when you are not sure."
    ),
    goes_first="Local codes and the maker's data take precedence over this book.",
    before="Before you start",
    before_lead=(
        "Read this before the first job. The block at the start of each job repeats what matters most for that job."
    ),
    before_who="Who can do the jobs",
    before_first="What takes precedence over this book",
    before_first_lead="These take precedence, in this order. Where one of them says otherwise, follow it.",
    before_first_list=(
        "The law and the codes of the place where you work.",
        "The data of the maker of your machine.",
        "The data sheets of fuels, fluids and other consumables.",
    ),
    before_stop="When to stop and call a licensed professional",
    before_stop_lead="Stop, and call a licensed professional, when",
    before_stop_list=(
        "local codes require one;",
        "a step cannot be done as it is written, or the machine in front of you looks different;",
        "a thread strips, or a part breaks, that the job does not renew;",
        "a leak persists, or a test fails twice;",
        "you do not have the tools or the protective equipment that the job lists;",
        "you are not sure.",
    ),
    before_often=(
        "In many places, work on fuel gas, mains electricity, refrigerant and the brakes of vehicles needs a licence. "
        "Ask before you begin."
    ),
    before_leave=(
        "A half-finished job must not hurt the next person. Make sure that nobody can start the machine, and hang a "
        "tag on it that says what is open."
    ),
    job="Job",
    who="Who",
    follow_up="Follow-up",
    follow_up_lead="This is due later. Mark it off when it is done, and write down when.",
    follow_up_done="Done at",
    follow_up_blank="Done at running hours",
    follow_up_on="Done on (date)",
    hours_unit="h",
    signals=(
        (Signal.DANGER, "Danger"),
        (Signal.WARNING, "Warning"),
        (Signal.CAUTION, "Caution"),
        (Signal.NOTICE, "Notice"),
    ),
    alert="safety alert symbol",
)

_UPKEEP = UpkeepLabels(
    job="Job",
    at="When",
    first="First after",
    every="Every",
    then_every="Then every",
    or_every="Or every",
    once="{lapse}, once",
    sooner="Where a row has two intervals, the job is due at whichever comes first.",
    none_due="No job of this guide is due at a set time.",
    after="Due",
    once_more="These jobs leave something to do later:",
    what="What",
    look="Step",
    if_not="If it is not right",
    done="Done",
    card_lead="The whole job, with what to wear and what to lay out: ",
    cause="Likely cause",
    check="Check",
    mend="Remedy",
    symptoms_lead=(
        "Find the sign, and go through its causes from the top: the likeliest comes first. Look, listen and smell "
        "with the machine as it stands. Anything that needs a hand in the machine is in the job, with its safety "
        "messages."
    ),
    no_symptom="This guide has no symptom table.",
    next_hours="Next due in {lapse}, at (hours)",
    follow_up_due="Follow-up due at",
    next_km="Next due in {lapse}, at (km)",
    next_date="Next due in {lapse}, on (date)",
)

_BOOK = BookLabels(
    manual="Manual",
    contents="Contents",
    page="page",
    of="of",
    licence="Licence",
    edition="Edition {edition}",
    draft="Draft, not checked",
    notice="Read this first",
    notes="Notes",
    for_some="This book leaves out what other variants need. Check that yours is the one it is for.",
    picture="picture",
    no_picture="Picture not shown",
    index="Index",
    no_index="The index is empty.",
    search="Search",
    search_needs="Search needs JavaScript. The index does not:",
    go="Go",
    skip="Skip to the page",
    close="Close",
    start="Start",
    turn="Previous and next page",
    previous="Previous",
    next="Next",
    table="Table",
    in_unit="{label} in {unit}",
    of_step="{label}, step {number}",
    step_done="Step {number} done",
)

_NO_PAGE = NoPageLabels(
    lead="This page cannot be shown.",
    in_no_guide="This file belongs to no guide.",
    endless="A block in it leads back into itself, or blocks are nested too deep.",
    lost_block="A block in it could not be read.",
    too_long="It has too many steps.",
    unwalked=(
        "The machine file has a fault, or options and inspections combine in too many ways; putback lint says which."
    ),
)

_SUPPLIES = SuppliesLabels(
    title="Shopping list: {machine}",
    jobs="For",
    only="Only for",
    kits="Kits",
    perhaps="Only if a step asks for it",
    lead="Each job counts once. Parts and fluids are added up; tools, equipment and consumables serve all jobs.",
    nothing="Nothing is needed.",
    item="What",
    amount="Amount",
    got="Got",
    in_kit="also in the {kit}",
    over="left over: {names}",
)

LABELS = Labels(
    job=_JOB,
    machine=_MACHINE,
    safety=_SAFETY,
    upkeep=_UPKEEP,
    book=_BOOK,
    no_page=_NO_PAGE,
    reference=REFERENCE,
    supplies=_SUPPLIES,
    bench=BENCH,
    tray=TRAY,
    at_bench=AT_BENCH,
    search=SEARCH,
)
"""All labels in English."""
