"""The integer programme: how many smallest parts of each product, under which rules; exact, without any solver."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from service.domain.rounding import significant

# Converting to moiety and back leaves a tail far beyond any printed digit; a comparison of products ignores it too.
_NOISE_DIGITS = 15
_COST_DIGITS = 9
# Kinds of rows: what can stand in the way, and what only serves to choose among equals.
TARGET, RANGE, LIMIT, HARM, ENERGY = "target", "range", "limit", "harm", "energy"
COST, UNITS = "cost", "units"

# Smallest parts of each product a day, by its place in the programme.
Steps = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A sum over the products, so much per smallest part, that must be at least or at most so much.

    ``itself_too_much``: the sum must stay below ``most``. ``soft``: to fall short of ``least`` is allowed, but counted.
    ``given`` is what counts before the first product; ``least`` or ``most`` is what it leaves of ``bound``.
    ``ingredient``, ``limit_id``, ``words``, ``origin`` and ``source_ids`` say what the row is about.
    """

    kind: str
    per_step: tuple[Decimal, ...]
    least: Decimal | None = None
    most: Decimal | None = None
    itself_too_much: bool = False
    bound: Decimal = Decimal(0)
    given: Decimal = Decimal(0)
    ingredient: str | None = None
    limit_id: str | None = None
    words: str = ""
    origin: str | None = None
    source_ids: tuple[str, ...] = ()
    soft: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """What was learned: of the products listed, at least one stays below its count, or if ``upward`` exceeds it."""

    counts: Mapping[int, int]
    upward: bool = False


@dataclass(frozen=True, slots=True)
class Programme:
    """All rules for one choice. ``used`` fixes whether a product is in; ``names`` only serve to order equals."""

    names: tuple[str, ...]
    step_sizes: tuple[Decimal, ...]
    costs: tuple[Decimal, ...]
    caps: tuple[int, ...]
    most_products: int
    rows: tuple[Row, ...] = ()
    cuts: tuple[Cut, ...] = ()
    used: Mapping[int, bool] = field(default_factory=dict)

    def with_rows(self, *rows: Row) -> Programme:
        """Add rules.

        Parameters
        ----------
        *rows
            What must hold too.

        Returns
        -------
        Programme
            The programme with the caps that follow.
        """
        caps = tuple(_cap(rows, place, cap) for place, cap in enumerate(self.caps))
        return replace(self, rows=(*self.rows, *rows), caps=caps)

    def with_cuts(self, cuts: Iterable[Cut]) -> Programme:
        """Add what was learned.

        Parameters
        ----------
        cuts
            New ones.

        Returns
        -------
        Programme
            The programme with them.
        """
        return replace(self, cuts=(*self.cuts, *cuts))

    def with_used(self, used: Mapping[int, bool]) -> Programme:
        """Fix which products are in.

        Parameters
        ----------
        used
            For some products, whether at least one part of it is given.

        Returns
        -------
        Programme
            The programme with them.
        """
        return replace(self, used={**self.used, **used})

    def cost(self, steps: Steps) -> Decimal:
        """Add up what a choice costs a day.

        Parameters
        ----------
        steps
            The choice.

        Returns
        -------
        Decimal
            In the currency of the products, exact but for the tail of divisions.
        """
        return without_noise(weighted(self.costs, steps))

    def key(self, steps: Steps) -> tuple[Decimal, int, Decimal, tuple[str, ...], tuple[int, ...]]:
        """Give what orders choices: cost as counted, then fewer products, fewer units, names, fewer parts in turn.

        Parameters
        ----------
        steps
            The choice.

        Returns
        -------
        tuple
            Smaller is better; no two choices share one.
        """
        places = sorted((place for place, count in enumerate(steps) if count), key=lambda place: self.names[place])
        units = weighted(self.step_sizes, steps)
        names = tuple(self.names[place] for place in places)
        return (counted_cost(self.cost(steps)), len(places), units, names, tuple(steps[place] for place in places))

    def broken(self, steps: Steps) -> Row | None:
        """Find a row that a choice breaks, by exact arithmetic.

        Parameters
        ----------
        steps
            The choice.

        Returns
        -------
        Row or None
            ``None`` where all hold.
        """
        return next((row for row in self.rows if not holds(row, without_noise(weighted(row.per_step, steps)))), None)


def counted_cost(cost: Decimal) -> Decimal:
    """Round a cost to what is compared: nobody pays a difference in the tenth digit, and no solver finds it.

    Parameters
    ----------
    cost
        Of a choice.

    Returns
    -------
    Decimal
        With nine significant digits.
    """
    return significant(cost, _COST_DIGITS)


def just_dearer(cost: Decimal) -> Decimal:
    """Give the least cost that is counted as more than a cost.

    Parameters
    ----------
    cost
        Of a choice.

    Returns
    -------
    Decimal
        Half a step of the ninth digit above it.
    """
    counted = counted_cost(cost)
    return counted + Decimal(5).scaleb(counted.adjusted() - _COST_DIGITS)


def weighted(per_step: Sequence[Decimal], steps: Steps) -> Decimal:
    """Add up an amount over a choice.

    Parameters
    ----------
    per_step
        Of each product, per smallest part.
    steps
        The choice.

    Returns
    -------
    Decimal
        Exact but for the last of 28 digits.
    """
    return sum((amount * count for amount, count in zip(per_step, steps, strict=True) if count), Decimal(0))


def without_noise(value: Decimal) -> Decimal:
    """Drop the tail that divisions leave: three times a third of 2000 is 2000.

    Parameters
    ----------
    value
        A sum.

    Returns
    -------
    Decimal
        With 15 significant digits.
    """
    return significant(value, _NOISE_DIGITS)


def holds(row: Row, total: Decimal) -> bool:
    """Say whether a sum keeps to a row.

    Parameters
    ----------
    row
        The rule.
    total
        What :func:`without_noise` makes of the sum.

    Returns
    -------
    bool
        A sum a billionth below the aim does not.
    """
    if row.least is not None and not row.soft and total < without_noise(row.least):
        return False
    if row.most is None:
        return True
    most = without_noise(row.most)
    return total < most if row.itself_too_much else total <= most


def is_slack(row: Row, programme: Programme) -> bool:
    """Say whether as many products as allowed, each at its most, keep to a row anyway.

    Parameters
    ----------
    row
        A rule.
    programme
        The products, their caps and how many of them may be used.

    Returns
    -------
    bool
        ``False`` for every aim.
    """
    if row.least is not None or row.most is None:
        return False
    largest = sorted((mg * cap for mg, cap in zip(row.per_step, programme.caps, strict=True)), reverse=True)
    return holds(row, without_noise(sum(largest[: programme.most_products], Decimal(0))))


def lie_of(row: Row, steps: Steps) -> Cut:
    """Learn from a choice that the solver took for one that keeps to a row, and that does not.

    Parameters
    ----------
    row
        The row that is broken.
    steps
        The choice.

    Returns
    -------
    Cut
        Amounts only grow with the number of parts: to reach an aim, more is needed of something that counts; to stay
        within a maximum, less.
    """
    total = without_noise(weighted(row.per_step, steps))
    upward = row.least is not None and total < without_noise(row.least)
    places = [place for place, amount in enumerate(row.per_step) if amount and (upward or steps[place])]
    return Cut({place: steps[place] for place in places}, upward)


def _cap(rows: Iterable[Row], place: int, cap: int) -> int:
    """Lower the most parts of a product to what the rows allow of it alone."""
    for row in rows:
        amount = row.per_step[place]
        if row.most is None or not amount:
            continue
        cap = min(cap, int(row.most / amount) + 1)
        while cap and not holds(replace(row, least=None), without_noise(amount * cap)):
            cap -= 1
    return cap
