"""What prepares a background: dilution, use, and how long until it may be plastered."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Agent:
    """One way of preparing; `product` is empty where only water or a tool is used."""

    code: str
    product: str
    operation: str
    coats: int
    words: str
    interval: str
    why: str
    source: str
    status: Literal["seen", "common practice"] = "common practice"


AGENTS = (
    Agent(
        code="DAMP",
        product="",
        operation="",
        coats=1,
        words="Brush down and damp with clean water.",
        interval="Plaster once the shine has gone.",
        why="Moderate suction only wants evening out.",
        source="Common practice.",
    ),
    Agent(
        code="PVA-SEAL",
        product="M-PVA",
        operation="PRM",
        coats=1,
        words="Seal with PVA, 1 part to 4 or 5 of water.",
        interval="Let it dry: 30 minutes to overnight.",
        why="High suction would pull the water out of the plaster before it sets.",
        source="Common practice; agent to BS 5270-1 (named in NHBC 9.2, read).",
    ),
    Agent(
        code="PVA-SEAL-BOND",
        product="M-PVA",
        operation="PRM",
        coats=2,
        words=(
            "Seal with PVA 1 to 4 and let it dry, then a second coat 1 to 3; plaster "
            "while that is tacky."
        ),
        interval="Plaster 10–45 minutes after the second coat.",
        why="The first coat stops the suction, the second holds the skim.",
        source="Common practice.",
    ),
    Agent(
        code="PVA-BOND",
        product="M-PVA",
        operation="PRM",
        coats=1,
        words="One coat of PVA, 1 to 3; plaster while it is tacky.",
        interval="Plaster 10–45 minutes after.",
        why="The wall draws little, so one coat to hold the skim is enough.",
        source="Common practice.",
    ),
    Agent(
        code="GRIT",
        product="M-GRIT",
        operation="PRM",
        coats=1,
        words="Grit primer, as it comes.",
        interval="Dry 2–4 hours, overnight best; plaster within a week, dust-free.",
        why="Nothing draws in and nothing holds: the grit gives the key.",
        source="Common practice.",
    ),
    Agent(
        code="TAPE",
        product="M-TAPE",
        operation="TAP",
        coats=1,
        words="Tape every joint and internal angle. No PVA on new board.",
        interval="Skim soon, before the paper fades or dusts.",
        why="Untaped joints crack.",
        source="Model clause M20/659: “continuous lengths of jointing tape”.",
        status="seen",
    ),
    Agent(
        code="CHASE-EDGES",
        product="M-PVA",
        operation="PRM",
        coats=1,
        words=(
            "Wet and prime the edges of the chase; mesh or scrim at least 50 mm past "
            "each edge where it is hollow or loose."
        ),
        interval="Fill while the primer is tacky.",
        why="Cut edges draw fast, and the long crack runs along them.",
        source=(
            "Common practice; cover too thin: metal lathing (NHBC 8.2-S2, 2010, read)."
        ),
    ),
)
BY_CODE = {agent.code: agent for agent in AGENTS}
