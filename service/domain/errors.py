"""What can go wrong in the domain. One table in ``service.web.problems`` maps these to HTTP problems."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Issue:
    """One thing to change in the input: where it stands and what is wrong with it."""

    where: str
    detail: str


class DomainError(Exception):
    """Base of all errors that a caller can cause."""


class InvalidInput(DomainError):
    """The input can be read but not accepted; ``issues`` says what to change.

    Parameters
    ----------
    *issues
        One entry per fault. ``where`` is a parameter name or, for a body, a slash-separated path.
    """

    def __init__(self, *issues: Issue) -> None:
        super().__init__("; ".join(f"{issue.where}: {issue.detail}" for issue in issues))
        self.issues = issues


class UnknownIngredient(DomainError):
    """No ingredient has this id; ``nearest`` lists ids and names that come close."""

    def __init__(self, ingredient_id: str, nearest: tuple[str, ...]) -> None:
        super().__init__(f"No ingredient has the id {ingredient_id!r}.")
        self.ingredient_id = ingredient_id
        self.nearest = nearest


class UnknownSubstance(UnknownIngredient):
    """What was eaten is not known; ``nearest`` lists names that come close, of which none was taken as meant."""

    def __init__(self, text: str, nearest: tuple[str, ...], medicine: str | None = None) -> None:
        super().__init__(text, nearest)
        if medicine is not None:
            self.args = (
                f"This release knows {text[:80]!r} as a medicine ({medicine}) and holds no thresholds for it. That "
                "does not make it harmless: contact a veterinarian or an animal poison line now. What it must not be "
                "given with is told by the screen, where it belongs into `medications`.",
            )
            return
        self.args = (
            f"This release does not know {text[:80]!r}. That does not make it harmless: if it may be poisonous, "
            "contact a veterinarian or an animal poison line now.",
        )


class UnknownForm(DomainError):
    """No chemical form has this id."""

    def __init__(self, form_id: str, nearest: tuple[str, ...]) -> None:
        super().__init__(f"No form has the id {form_id!r}.")
        self.form_id = form_id
        self.nearest = nearest


class UnknownRelease(DomainError):
    """No dataset release has the version asked for."""

    def __init__(self, version: str, known: tuple[str, ...]) -> None:
        super().__init__(f"There is no dataset release {version!r}; known: {', '.join(known)}.")
        self.version = version
        self.known = known


@dataclass(frozen=True, slots=True)
class KnownInstead:
    """What the dataset does hold where it holds no amount: evidence, regimens, hazards, limits, sources."""

    ingredient: str
    species: str
    evidence_verdict: str | None
    evidence_summary: str | None
    regimen_ids: tuple[str, ...]
    hazard_ids: tuple[str, ...]
    limit_ids: tuple[str, ...]
    source_ids: tuple[str, ...]


class NoGuidance(DomainError):
    """The ingredient is known, but no amount for this animal is."""

    def __init__(self, detail: str, known: KnownInstead) -> None:
        super().__init__(detail)
        self.known = known
