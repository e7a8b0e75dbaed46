"""What a wall or ceiling may be made of, as people choose it."""

from firm.engine.trade.backgrounds import BACKGROUNDS, BackgroundCode

CHASES: BackgroundCode = "B14"
# What is met most often stands first, so that a thumb need not travel.
MET_MOST: tuple[BackgroundCode, ...] = ("B06", "B07", "B08")


def background_choices() -> list[tuple[str, str]]:
    """Return the choices, none picked beforehand. Chases are given by their run."""
    rows = [row for row in BACKGROUNDS if row.code != CHASES]
    rows.sort(key=lambda row: row.code not in MET_MOST)
    words = ((row.code, row.name[0].upper() + row.name[1:]) for row in rows)
    return [("", "Choose"), *words]


def background_name(code: str) -> str:
    """Return the words for a code, and nothing for a surface not yet described."""
    return next((row.name for row in BACKGROUNDS if row.code == code), "")
