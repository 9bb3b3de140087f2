"""What the chart of amounts over body weight shows."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class AmountPoint:
    """Low and high end of the amount in mg per day at one body weight."""

    weight_kg: Decimal
    low_mg: Decimal
    high_mg: Decimal


@dataclass(frozen=True, slots=True)
class PhaseBand:
    """The guidance of one phase: straight between its points on logarithmic scales."""

    phase: str
    points: tuple[AmountPoint, ...]


@dataclass(frozen=True, slots=True)
class PublishedMark:
    """One regimen. ``points`` (one or two) are its lightest and heaviest animal; without any it is not drawn.

    ``finding`` is ``positive``, ``mixed``, ``negative`` or ``not_told``; ``stated`` is the amount in its own words.
    ``has_weights`` says whether weights were recorded, ``follows_weight`` whether the amount grows with them.
    """

    regimen_id: str
    phase: str
    stated: str
    outcome: str | None
    finding: str
    points: tuple[AmountPoint, ...]
    has_weights: bool
    follows_weight: bool
    why_not_drawn: str | None = None

    @property
    def is_for_any_weight(self) -> bool:
        """Whether it is stated per kg, for animals whose weights nobody recorded."""
        return self.follows_weight and not self.has_weights

    @property
    def is_beside(self) -> bool:
        """Whether it stands beside the plot: one amount, for animals whose weights nobody recorded."""
        return not self.has_weights and not self.follows_weight


@dataclass(frozen=True, slots=True)
class AskedAnimal:
    """The animal asked for: its weight and its amount in each phase."""

    weight_kg: Decimal
    amounts: tuple[tuple[str, AmountPoint], ...]


@dataclass(frozen=True, slots=True)
class AmountOverWeight:
    """What the chart shows, from ``from_kg`` to ``to_kg``; ``substance`` is what the amounts are mg of."""

    title: str
    subject: str
    substance: str
    from_kg: Decimal
    to_kg: Decimal
    bands: tuple[PhaseBand, ...]
    published: tuple[PublishedMark, ...] = ()
    limit: tuple[AmountPoint, ...] = ()
    asked: AskedAnimal | None = None
    notes: str = ""
