"""A care note as plain text that pastes into any practice's record: at most 78 columns, no tabs, plain headings."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from service.pages.care_note import AmountView, Sheet
from service.pages.care_note_given import GivenTable, GivenView
from service.pages.wording import VERDICT_WORDS

WIDTH = 78
_LABEL = 16
# Blanks of a width that some records show as a question mark.
_NARROW_BLANKS = str.maketrans({"\u202f": " ", "\u2009": " ", "\u00a0": " "})


def written(sheet: Sheet) -> str:
    """Write a sheet as plain text.

    Parameters
    ----------
    sheet
        The care note as laid out for people.

    Returns
    -------
    str
        Lines of at most ``WIDTH`` characters that end in a line feed each.
    """
    parts: list[Sequence[str]] = [
        [*_wrapped(sheet.title), "=" * WIDTH],
        [line for label, value in sheet.facts for line in _labelled(label, value)],
        _section("Given", [line for product in sheet.given for line in _given(product)]),
        _section("Amounts a day over everything", [line for row in sheet.amounts for line in _amount(row)]),
        _listed("Medicines as told", sheet.medications, "none told"),
        _listed("Other supplements as told", sheet.supplements, "none told"),
        _listed("Conditions as told", sheet.conditions, "none told"),
        _listed("Seen by the carer", sheet.observations),
        _section("What speaks against it", list(_screen(sheet))),
        _numbered("Questions for the veterinarian", _questions(sheet)),
        _listed(
            "Judge whether it helps",
            [f"{day}, {names}" for day, names in sheet.reassess],
            "no time is recorded for what is given",
        ),
        _listed("Watch for", [_sign(sign.text, sign.action, sign.general) for sign in sheet.watch_for]),
        _listed("Mind", sheet.cautions),
        _section("Where this comes from", list(_origin(sheet))),
    ]
    return "\n".join("\n".join(part) + "\n" for part in parts if part).translate(_NARROW_BLANKS)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest) or [first.rstrip()]


def _labelled(label: str, value: str) -> list[str]:
    return _wrapped(value, label.ljust(_LABEL), " " * _LABEL)


def _section(heading: str, lines: Sequence[str]) -> list[str]:
    return [heading.upper(), "-" * len(heading), *lines] if lines else []


def _listed(heading: str, items: Sequence[str], otherwise: str = "") -> list[str]:
    shown = items or ([otherwise] if otherwise else [])
    return _section(heading, [line for item in shown for line in _wrapped(item, "- ", "  ")])


def _numbered(heading: str, items: Sequence[str]) -> list[str]:
    lines = (_wrapped(item, f"{place}. ".rjust(4), "    ") for place, item in enumerate(items, start=1))
    return _section(heading, [line for several in lines for line in several])


def _given(product: GivenView) -> Iterator[str]:
    yield from _wrapped(product.name)
    for table in product.tables:
        yield from _table(table, product.unit)
    if product.other_ingredients:
        yield from _wrapped(f"Other ingredients: {product.other_ingredients}", "  ", "    ")


def _table(table: GivenTable, unit: str) -> Iterator[str]:
    for phase in table.phases:
        doses = f" ({phase.doses})" if phase.doses else ""
        name = f", {phase.name}" if phase.name else ""
        yield from _wrapped(f"{phase.when}: {phase.much}{doses}{name}", "  ", "    ")
    for line in table.lines:
        form = f" ({line.form})" if line.form else ""
        days = ", then ".join(line.days)
        yield from _wrapped(f"{line.name}{form}: {line.unit} in each {unit}; {days} a day", "  - ", "    ")
        for left in line.left_open:
            yield from _wrapped(f"left open: {left}", "    ", "    ")


def _amount(row: AmountView) -> list[str]:
    counted = f" ({row.counted_as})" if row.counted_as else ""
    evidence = f"; evidence: {row.evidence}" if row.evidence else ""
    known = f" ({row.known_by})" if row.known_by else ""
    text = f"{row.name}{counted}, {row.when}: {row.amount}; range: {row.range}{known}; lies: {row.position}{evidence}"
    return _wrapped(text, "- ", "  ")


def _screen(sheet: Sheet) -> Iterator[str]:
    yield from _wrapped(f"{VERDICT_WORDS[sheet.verdict]}: {sheet.verdict_text}")
    for finding in sheet.findings:
        yield from _wrapped(f"{finding.level_words}: {finding.text} {finding.action}", "- ", "  ")
    for remark in sheet.remarks:
        yield from _wrapped(f"Good to know: {remark}", "- ", "  ")
    for gap in sheet.gaps:
        yield from _wrapped(gap)


def _questions(sheet: Sheet) -> list[str]:
    return [f"{question.text}{' (asked by the carer)' if question.by_carer else ''}" for question in sheet.questions]


def _sign(text: str, action: str, general: bool) -> str:
    return f"{text} {action}{' (common practice)' if general else ''}"


def _origin(sheet: Sheet) -> Iterable[str]:
    stamp = sheet.dataset
    yield from _wrapped(f"Dataset release {stamp.version} of {stamp.released}.")
    yield from _wrapped(f"Inputs, SHA-256: {sheet.checksum}", "", "  ")
    yield from _wrapped(sheet.reproduce)
    more = f"; and {sheet.more_sources} more in the JSON of this note" if sheet.more_sources else ""
    yield from _wrapped(f"Sources: {'; '.join(sheet.sources)}{more}.")
    yield from _wrapped(sheet.notice)
