"""What the screen says of products alone and together, beside what it says of the animal without any of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.combining.request import CombineRequest
from service.domain.products import STEP_OF, Product
from service.domain.screening import screen
from service.domain.screening_answers import Finding, ScreenAnswer, ScreenRequest
from service.reference.release import Reference

# The screen wants something to look at; water adds nothing to what it says of medicines and other supplements.
_NOTHING = "water"
AVOID, VETERINARIAN, OVER_LIMIT = "avoid", "veterinarian", "over_limit"

# Smallest parts a day by the product's place in the request.
Choice = Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Stop:
    """The least amounts at which products must not be given, together or alone, and why."""

    choice: Choice
    findings: tuple[Finding, ...]


class Screens:
    """Screens every choice once.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Products, and all that the animal gets beside them.
    """

    def __init__(self, reference: Reference, request: CombineRequest) -> None:
        self._products = request.products
        beside = ScreenRequest(
            animal=request.animal,
            other_supplements=request.other_supplements,
            medications=request.medications,
            conditions=request.conditions,
            traits=request.traits,
        )
        self._whole = _Context(reference, beside)
        # What another supplement is objected to for already would hide the same objection to a product.
        alone = _Context(reference, replace(beside, other_supplements=())) if request.other_supplements else None
        self._contexts = (self._whole, alone) if alone is not None else (self._whole,)
        self.before = self._whole.before

    def of(self, choice: Choice) -> ScreenAnswer:
        """Screen a choice together with all that is given beside it.

        Parameters
        ----------
        choice
            At least one product.

        Returns
        -------
        ScreenAnswer
            Of the whole.
        """
        return self._whole.of(self._given(choice))

    def objections(self, choice: Choice) -> tuple[Finding, ...]:
        """List what must not be given, because of the choice.

        Parameters
        ----------
        choice
            At least one product.

        Returns
        -------
        tuple of Finding
            Of level ``avoid``, without those that already hold for the animal as it is.
        """
        given = self._given(choice)
        return tuple(dict.fromkeys(one for context in self._contexts for one in context.objections(given)))

    def stop(self, choice: Choice) -> Stop | None:
        """Find out what of a choice makes it one that must not be given.

        Parameters
        ----------
        choice
            At least one product.

        Returns
        -------
        Stop or None
            As few products and parts as still meet the objection, so that every choice with at least these is
            known too: more of anything never lifts one. ``None`` where there is no objection.
        """
        if not self.objections(choice):
            return None
        least = {place: count for place, count in choice.items() if count}
        for place in sorted(least):
            without = {other: count for other, count in least.items() if other != place}
            if without and self.objections(without):
                least = without
                continue
            least[place] = self._fewest(least, place)
        return Stop(least, self.objections(least))

    def _fewest(self, choice: Choice, place: int) -> int:
        """Halve the way down to the fewest parts of one product that still meet the objection."""
        allowed, stopped = 0, choice[place]
        while stopped - allowed > 1:
            middle = (allowed + stopped) // 2
            if self.objections({**choice, place: middle}):
                stopped = middle
            else:
                allowed = middle
        return stopped

    def _given(self, choice: Choice) -> tuple[Product, ...]:
        return tuple(
            replace(product, units_per_day=STEP_OF[product.divisible] * choice[place])
            for place, product in enumerate(self._products)
            if choice.get(place)
        )


class _Context:
    """Screens products beside the same medicines, conditions and other supplements."""

    def __init__(self, reference: Reference, beside: ScreenRequest) -> None:
        self._reference = reference
        self._beside = beside
        self._known: dict[tuple[tuple[str, Decimal | None], ...], ScreenAnswer] = {}
        self.before = screen(reference, replace(beside, ingredients_text=_NOTHING))
        self._said_before = frozenset(self.before.findings)

    def of(self, products: tuple[Product, ...]) -> ScreenAnswer:
        """Screen products together with everything that the animal gets; the same ones are screened once."""
        key = tuple((product.id, product.units_per_day) for product in products)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = screen(self._reference, replace(self._beside, products=products))
        return found

    def objections(self, products: tuple[Product, ...]) -> tuple[Finding, ...]:
        """Give the findings of level ``avoid`` that were not there without these products."""
        answer = self.of(products)
        return tuple(one for one in answer.findings if one.level == AVOID and one not in self._said_before)
