"""Words of the sheet of one job in English."""

from __future__ import annotations

from putback.words.bench import BenchLabels, TrayLabels

BENCH = BenchLabels(
    kind="Job sheet",
    in_the_book="{what} in the book",
    on_screen="This job on screen:",
    code="QR code of the address {address}",
    which_machine="Which machine is in front of you",
    built="Steps that say",
    mine="Yours",
    torques="Torques, in the order of the steps",
    torque="Torque, threads",
    setting="set {setting}",
    wrench="Wrench",
    controls="Controls, before and after",
    before="Before",
    set_at="Set to, at step",
    position_at="{position} at {step}",
    after="After",
    off_at="Step off",
    on_at="Step back",
    already="off already",
    stays_off="stays off",
    notes="Notes",
    on_tray="At true size on the parts tray: field {fields}.",
    cost="Cost",
    parts_cost="parts and fluids {cost}",
    longest_wait="with a wait of {time}, in step {step}",
    workshop_cost="at a workshop {cost}",
)

TRAY = TrayLabels(
    title="Parts tray",
    lead=(
        "Lay each piece in its field as it comes off, and take it from there when it goes back. The fields are "
        "numbered in the order in which the pieces come off. When the job is done, every field is empty."
    ),
    off="off at step {steps}",
    on="back at step {steps}",
    already="off already",
    stays_off="stays off",
    pieces="{count} pieces",
    may_be_new="a new one if step {steps} asks for it",
    old="old",
    old_lead="Old, not laid here, because a new one goes back:",
    beside="beside",
    beside_lead="Too large for this sheet. Lay these beside it, and write down where:",
    where="Where it lies",
    stays_on="stays on",
    stays_lead="Stays on the machine with an end open:",
    steps="off {off}, back {on}",
    left_over=(
        "A piece is left over? Find it here by its size, and lay it on the outline of its field on the parts tray: the "
        "field says at which step it goes back."
    ),
    left_over_rows="A piece is left over? Find it here by its size. Its field on the parts tray has its outline.",
    size="Size",
    millimetres="{long} mm",
    inches="{long} in",
    in_field="{size}: field {field}",
    field="Field",
    ruler="Measure this line. If it is not {length} long, the outlines are not at true size: print at 100 %.",
    ruler_alt="A line that is {length} long",
    piece="Piece",
)
