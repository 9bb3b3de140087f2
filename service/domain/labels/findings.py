"""What has been found on a label so far: filled by the recognisers, one line after the other."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from service.domain.labels.item_shapes import Item
from service.domain.labels.quantities import Per
from service.domain.labels.segments import Segment
from service.domain.labels.sheet import Sheet, Span
from service.reference.records import Unit


@dataclass(frozen=True, slots=True)
class Statement:
    """A sentence that is no fact. ``kind`` says what it is for, ``meaning`` what it says where that is known."""

    kind: str
    text: str
    meaning: str | None
    value: Decimal | None
    unit: str | None
    span: Span


@dataclass(frozen=True, slots=True)
class Band:
    """Units for a range of body weights; ``to_kg`` is ``None`` without an upper end. Half-open: from <= weight < to."""

    from_kg: Decimal | None
    to_kg: Decimal | None
    units_low: Decimal | None
    units_high: Decimal | None
    unit: str | None
    times_per_day: Decimal | None
    span: Span


@dataclass(frozen=True, slots=True)
class Direction:
    """One line of directions. Days are of a phase, ``interval_days`` is 2 for every other day."""

    text: str
    bands: tuple[Band, ...]
    units_low: Decimal | None
    units_high: Decimal | None
    unit: str | None
    times_per_day: Decimal | None
    times_per_week: Decimal | None
    interval_days: int | None
    per_body_weight_kg: Decimal | None
    phase: str | None
    days_low: int | None
    days_high: int | None
    factor: Decimal | None
    species: tuple[str, ...]
    flags: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class ListedText:
    """One item of an ingredient list; ``denied`` where an earlier "free from" reaches it."""

    text: str
    denied: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Allergen:
    """An allergen that the label states, or that one of its ingredients brings."""

    allergen: str
    text: str
    stated: bool
    may_contain: bool
    span: Span


@dataclass(slots=True)
class PanelLine:
    """An item of a panel with the context that it stands in."""

    item: Item
    per: Per | None
    section: str
    group: int
    indent: int
    members: list[Item] = field(default_factory=list)
    parts: list[Item] = field(default_factory=list)
    flags: tuple[str, ...] = ()


@dataclass(slots=True)
class Pack:
    """What the label says of unit, serving and container; ``None`` where it says nothing."""

    serving_units: Decimal | None = None
    serving_unit: str | None = None
    serving_word: str | None = None
    serving_equated: bool = False
    serving_mass_g: Decimal | None = None
    serving_volume_ml: Decimal | None = None
    servings_per_day: Decimal | None = None
    serving_spans: list[Span] = field(default_factory=list)
    serving_flags: list[str] = field(default_factory=list)
    unit_count: Decimal | None = None
    unit: str | None = None
    servings: Decimal | None = None
    net_g: Decimal | None = None
    net_ml: Decimal | None = None
    packs: Decimal | None = None
    unit_mass_g: Decimal | None = None
    unit_volume_ml: Decimal | None = None
    # Amounts are for a serving of which nothing is printed.
    serving_is_open: bool = False
    container_spans: list[Span] = field(default_factory=list)
    container_flags: list[str] = field(default_factory=list)
    kcal_per_kg: Decimal | None = None
    kcal_per_unit: Decimal | None = None
    kcal_per_serving: Decimal | None = None
    energy_spans: list[Span] = field(default_factory=list)
    energy_flags: list[str] = field(default_factory=list)
    price: Decimal | None = None
    currency: str | None = None
    # Tokens of the price and how surely it is the one to pay: 0 for a recommended one, 2 for "now" or "our price".
    price_tokens: tuple[int, int] | None = None
    price_rank: int = 0
    price_spans: list[Span] = field(default_factory=list)
    price_flags: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Findings:
    """Everything found, and which tokens were understood."""

    sheet: Sheet
    covered: bytearray
    pack: Pack = field(default_factory=Pack)
    lines: list[PanelLine] = field(default_factory=list)
    listed: list[ListedText] = field(default_factory=list)
    allergens: list[Allergen] = field(default_factory=list)
    directions: list[Direction] = field(default_factory=list)
    statements: list[Statement] = field(default_factory=list)
    flags: list[str] = field(default_factory=list)
    # What the amounts behind a footnote mark are for: "*per 2 tablets".
    marked_per: dict[str, Per] = field(default_factory=dict)
    species: list[str] = field(default_factory=list)
    product_type: str | None = None
    # Context that a heading sets for the lines below it.
    section: str = ""
    per: Per | None = None
    column_unit: Unit | None = None
    bound: str | None = None
    phase: str | None = None
    days: tuple[int, int] | None = None
    # Columns of a table of body weights: "Initial (4-6 weeks)", "Maintenance".
    phases: tuple[tuple[str, tuple[int, int] | None], ...] = ()
    group: int = 0

    def cover(self, start: int, end: int) -> None:
        """Mark tokens as understood.

        Parameters
        ----------
        start, end
            First and past-the-end token.
        """
        self.covered[start:end] = b"\x01" * (end - start)

    def uncover(self, start: int, end: int) -> None:
        """Take back that tokens were understood.

        Parameters
        ----------
        start, end
            First and past-the-end token.
        """
        self.covered[start:end] = bytes(end - start)

    def state(self, kind: str, start: int, end: int, meaning: str | None = None) -> None:
        """Keep a sentence as a statement.

        Parameters
        ----------
        kind
            What it is for.
        start, end
            First and past-the-end token.
        meaning
            What it says, where that is known.
        """
        sheet = self.sheet
        self.statements.append(Statement(kind, sheet.text(start, end), meaning, None, None, sheet.span(start, end)))
        self.cover(start, end)

    def new_section(self, section: str) -> None:
        """Begin a section. What amounts are for holds on: "per 2 chews" may stand above several headings.

        Parameters
        ----------
        section
            Kind of the heading.
        """
        self.section, self.column_unit, self.phase, self.days, self.phases = section, None, None, None, ()
        self.group += 1


@dataclass(frozen=True, slots=True)
class Line:
    """A segment on which the recognisers are tried, without its bullet and leading signs."""

    segment: Segment
    start: int
    end: int
