"""Which letter about an unpaid bill is due, and when the others follow.

The due date, what was sent and what stopped it come in with today's date; dated steps
go out. The steps are common practice, not law; what the firm keeps to besides (three
days between letters, two letters in seven days, working days only) is its own choice,
to stay well clear of harassment (Administration of Justice Act 1970 s. 40). Letters
before claim are not written here.
"""

from datetime import date, timedelta

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays
from invoices.engine.chasing_values import (
    Chase,
    Chased,
    Sent,
    Step,
    StepKey,
    Stop,
)

__all__ = ["Chase", "Chased", "Sent", "Step", "Stop", "letters_due"]

# Days from the due date, and the tone; common practice.
STEPS: dict[StepKey, tuple[int, str]] = {
    "copy": (-5, "a friendly copy of the bill and how to pay it"),
    "due": (0, "due today, the plain facts"),
    "nudge-1": (3, "it may have crossed with the payment"),
    "nudge-2": (7, "asking for a date or the reason"),
    "firm": (14, "the last reminder before formal steps"),
}
ONE_DAY = timedelta(days=1)
BETWEEN_LETTERS = timedelta(days=3)
TWO_LETTERS_IN = timedelta(days=7)
WHY_STOPPED = {
    "paid": "the bill is paid",
    "disputed": "the bill is in dispute: settle that first",
    "paused": "the office has paused it",
}


def letters_due(chase: Chase) -> Chased:
    """Date every step and name the one to send today, if any.

    A late run sends only the latest step that is due and passes over the ones before
    it: nobody gets three letters in one morning because the office was shut.

    >>> letters_due(Chase(due_on=date(2026, 11, 2), today=date(2026, 11, 10))).due_now
    'nudge-2'
    """
    _check(chase)
    left_on = {sent.key: sent.sent_on for sent in chase.sent}
    dates = _dates(chase, _calendar(chase))
    stopped = _stopped(chase)
    steps = tuple(_step(key, chase, left_on, dates, stopped) for key in STEPS)
    coming = [step.on for step in steps if step.state in ("due_now", "to_come")]
    due_now = [step.key for step in steps if step.state == "due_now"]
    return Chased(
        steps=steps,
        due_now=due_now[0] if due_now else None,
        next_on=min(coming, default=None),
        working=tuple(f"{step.key} {step.on}: {step.why}." for step in steps),
    )


def _check(chase: Chase) -> None:
    for n, sent in enumerate(chase.sent):
        if sent.sent_on > chase.today:
            raise Refused(
                f"A letter cannot have left on {sent.sent_on}, which is to come.",
                field=f"sent[{n}].sent_on",
            )
    if len({sent.key for sent in chase.sent}) < len(chase.sent):
        raise Refused("One letter is named as sent twice.", field="sent")
    for n, stop in enumerate(chase.stops):
        if stop.kind == "promised" and stop.until_on is None:
            raise Refused(
                "Say until when payment is promised.", field=f"stops[{n}].until_on"
            )


def _calendar(chase: Chase) -> WorkingDays:
    ends = [stop.until_on for stop in chase.stops if stop.until_on]
    days = [chase.due_on, chase.today, *ends]
    years = range(min(days).year - 1, max(days).year + 2)
    return WorkingDays(england_bank_holidays(years) | set(chase.closed_on))


def _dates(chase: Chase, calendar: WorkingDays) -> dict[StepKey, date]:
    """Date the letters still to leave, the one that is due now first."""
    sent = {letter.key for letter in chase.sent}
    unsent = [key for key in STEPS if key not in sent]
    for key in sent:
        unsent = [
            other for other in unsent if _meant(chase, other) > _meant(chase, key)
        ]
    if _goes_too_close_to_the_bill(chase) and "copy" in unsent:
        unsent.remove("copy")
    chance_on = calendar.shift_off_holidays(max(chase.today, _earliest(chase)))
    planned = _planned(chase, calendar, unsent, date.min)
    late = [key for key in unsent if planned[key] <= chance_on]
    coming = unsent[unsent.index(late[-1]) :] if late else unsent
    return _planned(chase, calendar, coming, chance_on if late else date.min)


def _planned(
    chase: Chase, calendar: WorkingDays, keys: list[StepKey], earliest_on: date
) -> dict[StepKey, date]:
    letters = sorted(sent.sent_on for sent in chase.sent)
    planned: dict[StepKey, date] = {}
    for key in keys:
        on = max(_meant(chase, key), earliest_on)
        if letters:
            on = max(on, letters[-1] + BETWEEN_LETTERS)
        if len(letters) > 1:
            on = max(on, letters[-2] + TWO_LETTERS_IN)
        planned[key] = calendar.shift_off_holidays(on)
        letters.append(planned[key])
    return planned


def _meant(chase: Chase, key: StepKey) -> date:
    return chase.due_on + timedelta(days=STEPS[key][0])


def _earliest(chase: Chase) -> date:
    # A promise holds the letters up to and including its day; then they go on.
    ends = [stop.until_on + ONE_DAY for stop in chase.stops if stop.until_on]
    return max(ends, default=date.min)


def _goes_too_close_to_the_bill(chase: Chase) -> bool:
    issued_on = chase.issued_on
    return issued_on is not None and _meant(chase, "copy") - issued_on < BETWEEN_LETTERS


def _stopped(chase: Chase) -> str:
    for stop in chase.stops:
        if stop.until_on is None:
            return WHY_STOPPED[stop.kind]
    return ""


def _step(
    key: StepKey,
    chase: Chase,
    left_on: dict[StepKey, date],
    dates: dict[StepKey, date],
    stopped: str,
) -> Step:
    meant_on, tone = _meant(chase, key), STEPS[key][1]
    if key in left_on:
        return Step(key=key, on=left_on[key], state="sent", why=f"sent: {tone}")
    if key not in dates:
        why = "passed over, because a later letter or the bill itself does its work"
        return Step(key=key, on=meant_on, state="overtaken", why=why)
    on = dates[key]
    if stopped:
        return Step(key=key, on=on, state="stopped", why=f"not sent: {stopped}")
    why = f"{_when(STEPS[key][0])}: {tone}"
    if on != meant_on:
        why += f"; moved from {meant_on}, {_moved(chase, on)}"
    return Step(
        key=key,
        on=on,
        state="due_now" if on == chase.today else "to_come",
        why=why,
    )


def _when(days: int) -> str:
    if not days:
        return "on the due day"
    side = "before" if days < 0 else "after"
    return f"{abs(days)} days {side} the due day"


def _moved(chase: Chase, on: date) -> str:
    if on == chase.today:
        return "which is the first chance to send it"
    if _earliest(chase) > date.min:
        return "because it was held until then"
    return "to a working day with room between letters"
