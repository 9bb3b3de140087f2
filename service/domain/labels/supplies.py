"""Recogniser of how long a pack lasts, which is no size of it."""

from __future__ import annotations

from service.domain.labels.direction_words import DAYS
from service.domain.labels.findings import Findings, Line
from service.domain.labels.numerals import number
from service.domain.labels.phrases import any_of
from service.domain.labels.sheet import Sheet

SUPPLY = frozenset("supply vorrat reserva cure".split())
_LASTS = any_of(
    """
        lasts | lasts for | lasts up to | lasts about | lasts approx | enough for | sufficient for | supply for |
        reicht für | reicht | reicht ca | ausreichend für | vorrat für | dure | suffit pour | pour une cure de |
        dura | suficiente para | para
    """
)
_ABOUT = frozenset("approx about ca circa up to . env environ aprox etwa bis zu".split())


def days_behind(sheet: Sheet, at: int, end: int) -> int | None:
    """Recognise ``45 day``, ``45-day``, ``2 months``.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    int or None
        The token behind so many days.
    """
    tokens = sheet.tokens
    counted = number(sheet, at, end)
    if counted is not None:
        place = counted.end
    elif at + 1 < end and tokens[at].text.isdigit() and tokens[at + 1].text == "-":
        place = at + 2
    else:
        return None
    hit = DAYS.find(tokens, place, end)
    return hit.end if hit is not None else None


def supply(found: Findings, line: Line) -> bool:
    """Recognise ``Lasts 45 days``, ``Reicht f\u00fcr 62 Tage``, ``45-day supply``: no size, but no amount either.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line holds nothing else.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    said = _LASTS.find(tokens, line.start, line.end)
    at = said.end if said is not None else line.start
    while at < line.end and tokens[at].fold in _ABOUT:
        at += 1
    behind = days_behind(sheet, at, line.end)
    if behind is None or (said is None and (behind >= line.end or tokens[behind].fold not in SUPPLY)):
        return False
    behind += behind < line.end and tokens[behind].fold in SUPPLY
    if behind < line.end:
        return False
    found.state("supply", line.start, line.end)
    return True
