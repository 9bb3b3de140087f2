"""Why one row of a batch was refused, in the words of the single endpoints."""

from __future__ import annotations

import logging
from dataclasses import dataclass

from service.domain import errors
from service.web.faults import Fault

_log = logging.getLogger(__name__)
_MOST_FAULTS = 20
_OURS = "Something failed on our side; it has been recorded. This row was not answered, all others were."


@dataclass(frozen=True, slots=True)
class Refusal:
    """A kind of problem and the places at fault: ``(where, what to change)``.

    Where is a column, or a path as in a JSON pointer without its first slash; empty for the whole row.
    """

    slug: str
    faults: tuple[tuple[str, str], ...]


def refusal_of(error: Exception, row: int) -> Refusal:
    """Tell a caller's mistake from a failure of ours; the latter is logged and shows nothing of itself."""
    if isinstance(error, Fault):
        named = tuple((_path(fault), fault["detail"]) for fault in error.errors)
        return Refusal(error.slug, named[:_MOST_FAULTS] or (("", error.detail),))
    if isinstance(error, errors.InvalidInput):
        return Refusal("invalid-input", tuple((issue.where, issue.detail) for issue in error.issues))
    if isinstance(error, errors.UnknownIngredient):
        return Refusal("unknown-ingredient", (("ingredient", _with_nearest(error, error.nearest)),))
    if isinstance(error, errors.UnknownForm):
        return Refusal("not-found", (("form", _with_nearest(error, error.nearest)),))
    if isinstance(error, errors.NoGuidance):
        return Refusal("no-guidance", (("ingredient", str(error)),))
    if isinstance(error, errors.DomainError):
        return Refusal("invalid-input", (("", str(error)),))
    _log.error("Row %d of a batch could not be answered.", row, exc_info=error)
    return Refusal("internal", (("", _OURS),))


def _path(fault: dict[str, str]) -> str:
    return fault.get("parameter") or fault["pointer"].removeprefix("#").removeprefix("/")


def _with_nearest(error: errors.DomainError, nearest: tuple[str, ...]) -> str:
    return f"{error} Nearest: {', '.join(nearest)}." if nearest else str(error)
