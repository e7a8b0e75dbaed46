from quotes.models.look import Look, Opening, Room, Suction, Wall
from quotes.models.quote import Acceptance, Quote, QuoteVersion, Rates

__all__ = [
    "Acceptance",
    "Look",
    "Opening",
    "Quote",
    "QuoteVersion",
    "Rates",
    "Room",
    "Suction",
    "Wall",
]
