from firm.models.crew import Crew, TimeOff
from firm.models.firm import Firm, FirmFigure, Payee
from firm.models.history import HistoryLine
from firm.models.notice import Notice, NoticeAttempt
from firm.models.number_series import NumberSeries
from firm.models.paper import Paper
from firm.models.person import Person
from firm.models.pulse import Pulse
from firm.models.signed_link import SignedLink

__all__ = [
    "Crew",
    "Firm",
    "FirmFigure",
    "HistoryLine",
    "Notice",
    "NoticeAttempt",
    "NumberSeries",
    "Paper",
    "Payee",
    "Person",
    "Pulse",
    "SignedLink",
    "TimeOff",
]
