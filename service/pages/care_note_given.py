"""What is given of one product, as a small table: lines of the label down, stretches of days across."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.care.answer import GivenLine, GivenPhase, GivenProduct
from service.domain.care.wording import in_a_sentence
from service.pages.care_note_words import count_of, milligrams, told, when
from service.pages.wording import number

# More columns than that do not fit beside each other; the rest follows in a table of its own.
_MOST_COLUMNS = 3
_LONGEST_CELL = 36
_HIDDEN = "amount_hidden_in_blend"


@dataclass(frozen=True, slots=True)
class PhaseView:
    """One stretch of days: when, how much, in which doses."""

    when: str
    much: str
    doses: str
    name: str


@dataclass(frozen=True, slots=True)
class LineView:
    """One line of a label: what it says, what a unit holds, what a day brings in each of the phases."""

    name: str
    form: str
    unit: str
    days: tuple[str, ...]
    left_open: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GivenTable:
    """Some phases side by side."""

    phases: tuple[PhaseView, ...]
    lines: tuple[LineView, ...]

    @property
    def fits(self) -> bool:
        """Whether its amounts fit beside each other without being broken over lines."""
        cells = [cell for line in self.lines for cell in (line.unit, *line.days)]
        return len(self.phases) < _MOST_COLUMNS and all(len(cell) <= _LONGEST_CELL for cell in cells)


@dataclass(frozen=True, slots=True)
class GivenView:
    """One product: its name, its tables, and the rest of its label."""

    name: str
    unit: str
    tables: tuple[GivenTable, ...]
    other_ingredients: str


def given_view(product: GivenProduct) -> GivenView:
    """Lay one product out.

    Parameters
    ----------
    product
        What is given of it.

    Returns
    -------
    GivenView
        Tables of at most three phases.
    """
    starts = range(0, len(product.phases), _MOST_COLUMNS)
    return GivenView(
        name=told(product.name or product.product_id),
        unit=told(product.unit),
        tables=tuple(_table(product, slice(start, start + _MOST_COLUMNS)) for start in starts),
        other_ingredients=told(product.other_ingredients or ""),
    )


def beside_view(product: GivenProduct) -> str:
    """Tell in one line what else is given all along."""
    units = product.phases[0].units_per_day
    much = f"{count_of(units, product.unit)} a day" if units is not None else "amount not told"
    held = [f"{told(line.name)} {_held(line)}" for line in product.lines]
    each = f"; in each {told(product.unit)}: {', '.join(held)}" if held else ""
    return f"{told(product.name or product.product_id)}: {much}{each}"


def _table(product: GivenProduct, shown: slice) -> GivenTable:
    return GivenTable(
        tuple(_phase(product.unit, phase) for phase in product.phases[shown]),
        tuple(_line(line, shown) for line in product.lines),
    )


def _phase(unit: str, phase: GivenPhase) -> PhaseView:
    units = phase.units_per_day
    much = "amount not told" if units is None else f"{count_of(units, unit)} a day" if units else "nothing"
    doses = " + ".join(number(dose) for dose in phase.doses) if len(phase.doses) > 1 else ""
    stretch = when(phase.from_day, phase.to_day, phase.from_date, phase.to_date)
    return PhaseView(stretch, much, doses, told(phase.name or ""))


def _line(line: GivenLine, shown: slice) -> LineView:
    days = tuple(_pair(day.low_mg, day.high_mg, day.moiety_low_mg, day.moiety_high_mg, line) for day in line.per_day)
    return LineView(
        name=told(f"{line.name} {line.amount}" if _amount_tells_more(line) and line.amount else line.name),
        form=_form(line),
        unit=_held(line),
        days=days[shown],
        # The rest of the sentence tells how the amounts were read, which they show themselves.
        left_open=tuple(text.partition(":")[0] for text in line.left_open),
    )


def _amount_tells_more(line: GivenLine) -> bool:
    """Whether the printed amount says what it is made of, as that of an oil with its fatty acids."""
    return "content_stated" in line.flags


def _form(line: GivenLine) -> str:
    """Name the form where the label's own words do not."""
    if line.ingredient is None:
        return "" if _HIDDEN in line.flags else "not understood"
    form = in_a_sentence(line.form_name) if line.form_name is not None else ""
    return "" if form.casefold() in line.name.casefold() else form


def _held(line: GivenLine) -> str:
    pair = (line.low_mg_per_unit, line.high_mg_per_unit)
    return _pair(*pair, line.moiety_low_mg_per_unit, line.moiety_high_mg_per_unit, line)


def _pair(
    low: Decimal | None, high: Decimal | None, moiety_low: Decimal | None, moiety_high: Decimal | None, line: GivenLine
) -> str:
    """Write an amount, with its active part where that is another number."""
    if low is None and moiety_low is None:
        return "not known"
    if low is None:
        return f"{milligrams(moiety_low, moiety_high)} {line.moiety}"
    if moiety_low is None or (moiety_low, moiety_high) == (low, high):
        return milligrams(low, high)
    return f"{milligrams(low, high)} ({milligrams(moiety_low, moiety_high)} {line.moiety})"
