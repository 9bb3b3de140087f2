"""A course as a calendar by RFC 5545: changes of the amount, refills and reassessments, each an all-day event."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from uuid import NAMESPACE_URL, uuid5

from service.domain.common import NOTICE
from service.domain.course.answer import PlanAnswer
from service.domain.errors import InvalidInput, Issue
from service.pages.counting import counted, money
from service.reference.release import DatasetStamp
from service.version import VERSION
from service.web.csv_output import plain_number

_DAYS_TO_ORDER = 7


@dataclass(frozen=True, slots=True)
class _Event:
    kind: str
    on: date
    summary: str
    text: str
    days_before: int | None = None


def calendar_of(answer: PlanAnswer, stamp: DatasetStamp) -> bytes:
    """Write the course of the first product as a calendar.

    Parameters
    ----------
    answer
        A plan with a start date.
    stamp
        The dataset release, whose day stands as the time stamp of every event: the same plan is the same bytes.

    Returns
    -------
    bytes
        A VCALENDAR. An event keeps its UID as long as course, product and date stay the same; courses are told apart
        by ``course_id``, without one by animal, product and first day. A product that must not be given has one event
        that says so.

    Raises
    ------
    InvalidInput
        If the plan has no start date, or its product cannot serve it.
    """
    if answer.start_date is None:
        raise InvalidInput(Issue("start_date", "is needed for a calendar"))
    if not answer.phases:
        raise InvalidInput(Issue("product", f"makes no calendar: {' '.join(answer.why_not)}"))
    # Takes a tenth of a second and some MiB to import, and few callers ask for calendars.
    from icalendar import Alarm, Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", f"-//Fabella//Fabella {VERSION}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", _named("Supplement", answer))
    stamped = datetime.combine(date.fromisoformat(str(stamp.released)), time(), UTC)
    for one in _events(answer):
        event = Event()
        event.add("uid", _uid(answer, one))
        event.add("dtstamp", stamped)
        event.add("dtstart", one.on)
        event.add("dtend", one.on + timedelta(days=1))
        event.add("summary", one.summary)
        event.add("description", "\n".join((one.text, *_warnings(answer), NOTICE)))
        event.add("categories", ["Fabella", one.kind])
        event.add("transp", "TRANSPARENT")
        event.add("sequence", 0)
        if one.days_before is not None:
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", one.summary)
            alarm.add("trigger", timedelta(days=-one.days_before))
            event.add_component(alarm)
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


def _uid(answer: PlanAnswer, one: _Event) -> str:
    course = answer.course_id or f"{answer.species} {answer.weight_kg} {answer.name} {answer.start_date}"
    name = "\n".join((course, answer.product_id, one.kind, str(one.on)))
    return f"{uuid5(NAMESPACE_URL, name)}@fabella.invalid"


def _named(what: str, answer: PlanAnswer) -> str:
    whose = f" ({answer.course_id})" if answer.course_id else ""
    return f"{what}: {answer.name or answer.product_id}{whose}"


def _events(answer: PlanAnswer) -> Iterator[_Event]:
    if answer.verdict == "stop" and answer.start_date is not None:
        yield _Event("warning", answer.start_date, _named("Do not give", answer), " ".join(answer.warnings))
        return
    yield from _amounts(answer)
    yield from _refills(answer)
    for index, again in enumerate(answer.reassessments):
        if again.date is not None:
            title = _named("Check-up" if index else "Does it help?", answer)
            yield _Event("reassessment", again.date, title, again.reason)
    if answer.end_date is not None:
        text = f"Last day of this plan of {answer.horizon_days} days. Left over: {_left(answer)}."
        yield _Event("end", answer.end_date, _named("Last day", answer), text)


def _amounts(answer: PlanAnswer) -> Iterator[_Event]:
    for phase in answer.phases:
        amount = f"{counted(phase.units_per_day, answer.unit)} a day"
        text = f"{phase.phase}: {amount}, from {phase.from_date} to {phase.to_date} ({phase.days} days)."
        title = (
            f"{_named('From today', answer)}, {amount}" if phase.units_per_day else _named("Pause from today", answer)
        )
        if phase.from_date is not None:
            yield _Event("amount", phase.from_date, title, text)


def _refills(answer: PlanAnswer) -> Iterator[_Event]:
    for index, purchase in enumerate(answer.purchases):
        if purchase.date is None:
            continue
        packs = "1 pack" if purchase.containers == 1 else f"{plain_number(purchase.containers)} packs"
        cost = money(purchase.cost, answer.currency) or "at an unknown price"
        text = f"A new pack is opened on this day. To buy until then: {packs}, {cost}."
        # The first is bought before the course begins; a reminder of it would ring in the past.
        days_before = _DAYS_TO_ORDER if index else None
        yield _Event("refill", purchase.date, f"{_named('Refill', answer)} ({packs})", text, days_before)


def _left(answer: PlanAnswer) -> str:
    if answer.left_over_units is None:
        return "not known"
    return counted(answer.left_over_units, answer.unit)


def _warnings(answer: PlanAnswer) -> tuple[str, ...]:
    """Put what speaks against the product, or the one caution that always holds, into every event."""
    own = (*answer.why_not, *answer.warnings)
    if answer.verdict != "nothing_found":
        own += (f"The screen's verdict is: {answer.verdict.replace('_', ' ')}.",)
    return own or ("Caution: stop and ask a veterinarian if the animal vomits, stops eating or seems unwell.",)
