"""Where work can hurt someone: the words to show and the authority deferred to.

Showing a caution never gives a clearance. Where the authority was read, `known` says
so; the rest is from memory of the named rule and wants checking before it is quoted.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution; `before_year` hides it where the building is known to be later.

    `known` says how the authority is known; it is for us, `words` and `authority` are
    for everybody.
    """

    code: str
    words: str
    authority: str
    known: str = "from memory"
    before_year: int = 0


CAUTIONS = (
    Caution(
        code="C-ASB",
        words=(
            "Presume asbestos until a sample says otherwise. Do not sand, scrape, "
            "drill or pull down. Get a sample analysed by a competent laboratory "
            "before quoting disturbance. Trained workers and a plan of work are "
            "needed even for non-licensed work."
        ),
        authority=(
            "Control of Asbestos Regulations 2012 (SI 2012/632); ACOP L143; HSE "
            "Asbestos Essentials HSG210."
        ),
        before_year=2000,
    ),
    Caution(
        code="C-LEAD",
        words=(
            "Treat old paint as leaded. No dry sanding, no burning off. Wet methods, "
            "breathing protection, keep children and pregnant women away, bag the dust."
        ),
        authority=(
            "Control of Lead at Work Regulations 2002 (SI 2002/2676), ACOP L132; "
            "government advice on lead paint in older homes."
        ),
        known="read: used to the mid-1960s, some to the 1980s",
        before_year=1970,
    ),
    Caution(
        code="C-SIL",
        words=(
            "Silica dust. On-tool extraction (M class) or water, a face-fitted FFP3 "
            "mask, no dry sweeping."
        ),
        authority="COSHH Regulations 2002; EH40 limit 0.1 mg/m³; HSE CIS 36.",
        known="read",
    ),
    Caution(
        code="C-DUST",
        words=(
            "Gypsum dust is of lower toxicity but still controlled. Do not sand "
            "plaster as a way of finishing it."
        ),
        authority="HSE CIS 36; COSHH Regulations 2002.",
        known="read: names gypsum",
    ),
    Caution(
        code="C-ELEC",
        words=(
            "Find and isolate before cutting or nailing beads. Treat cables as live "
            "until proved dead by a competent person."
        ),
        authority=(
            "Electricity at Work Regulations 1989, regulation 14; HSG85; BS 7671 522.6."
        ),
        known="read in electrical guidance: cables under 50 mm deep",
    ),
    Caution(
        code="C-STR",
        words=(
            "Do not cut deeper than a third of the leaf upright or a sixth across. "
            "Structural cracks: stop, and ask an engineer."
        ),
        authority="Approved Document A paragraph 2C30; BRE Digest 251.",
        known="read as reproduced; from memory",
    ),
    Caution(
        code="C-WAH",
        words=(
            "Plan it, and use a platform with edge protection or a tower. Steps only "
            "for low-risk work up to about 30 minutes at a time. No hop-up stacks on "
            "stairs."
        ),
        authority=(
            "Work at Height Regulations 2005 (SI 2005/735); guard rails as in the "
            "HSE's work-at-height answers."
        ),
        known="read",
    ),
    Caution(
        code="C-ALK",
        words=(
            "Cement, lime and wet plaster burn skin and eyes. Gloves, waterproof "
            "knees, wash at once, eye wash to hand."
        ),
        authority="COSHH Regulations 2002; HSE CIS 26.",
        known="read: names plaster",
    ),
    Caution(
        code="C-MH",
        words=(
            "Bags weigh 25 kg; a 2400 × 1200 × 12.5 board weighs about 23–26 kg and is "
            "wide: two people."
        ),
        authority="Manual Handling Operations Regulations 1992; INDG143 filters.",
        known="read in quotation",
    ),
    Caution(
        code="C-CEIL",
        words=(
            "It may fall. Keep people out, prop, look from above, no vibration, no "
            "work under it until made safe."
        ),
        authority=(
            "Health and Safety at Work Act 1974; Work at Height Regulations 2005."
        ),
    ),
    Caution(
        code="C-HAV",
        words=(
            "Hand–arm vibration from breakers and long hacking: take turns and use "
            "low-vibration tools."
        ),
        authority="Control of Vibration at Work Regulations 2005.",
    ),
    Caution(
        code="C-DAMP",
        words=(
            "Do not plaster over damp. Find the cause first; gypsum fails on damp "
            "walls."
        ),
        authority="BS 6576; heritage guidance.",
        known="from memory; read",
    ),
    Caution(
        code="C-PARTL",
        words=(
            "Renovating more than half of an outside wall may need building control "
            "and insulation. Ask building control before starting."
        ),
        authority="Building Regulations, regulation 23, Approved Document L.",
        known="a council's note was read; councils differ on what is counted",
    ),
    Caution(
        code="C-LBC",
        words=("Listed building: consent before removing plaster, and like for like."),
        authority="Planning (Listed Buildings and Conservation Areas) Act 1990.",
    ),
    Caution(
        code="C-WASTE",
        words=(
            "Keep plaster, board and other gypsum apart from other waste. No wash-out "
            "to drains."
        ),
        authority="Environment agency's guidance on plasterboard.",
        known="read",
    ),
)
BY_CODE = {caution.code: caution for caution in CAUTIONS}
