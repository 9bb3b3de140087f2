"""The header row of a CSV batch: which columns are read, which are the caller's own, and what cannot stand."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from service.domain.suggesting import misspelt, nearest_ids
from service.schemas.batch_limits import MOST_COLUMNS
from service.schemas.request_base import shown
from service.web.faults import Fault, at_pointer, invalid_input

WEIGHTS = ("weight", "weight_kg", "weight_lb")
_PIN = "dataset"
_MOST_FAULTS = 20


@dataclass(frozen=True, slots=True)
class Wanted:
    """What an operation reads: names in order, and groups of which at least one column must be there."""

    known: tuple[str, ...]
    needed: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Header:
    """A header row that can stand: every name as it came, and where each column that is read stands."""

    names: tuple[str, ...]
    places: dict[str, int]

    def given(self, cells: Sequence[str]) -> dict[str, str]:
        """Pick the cells that are read and not empty; blanks around a value mean nothing."""
        found = ((name, cells[place].strip()) for name, place in self.places.items())
        return {name: text for name, text in found if text}


def read_header(names: Sequence[str], wanted: Wanted, answered: Collection[str]) -> Header:
    """Check a header row.

    Parameters
    ----------
    names
        The cells of the first row.
    wanted
        What the operation reads.
    answered
        Names of the columns that answers are written to.

    Returns
    -------
    Header
        Every other column is the caller's own.

    Raises
    ------
    Fault
        ``invalid-input`` with one error per column at fault.
    """
    plain = [name.strip() for name in names]
    if len(plain) > MOST_COLUMNS:
        raise Fault("body-too-large", f"The header row has {len(plain)} columns; at most {MOST_COLUMNS} are read.")
    faults = [*_unnamed(plain), *_repeated(plain), *_missing(plain, wanted)]
    faults += [
        at_pointer((name,), detail) for name in plain if (detail := own_name_fault(name, plain, wanted, answered))
    ]
    if faults:
        raise invalid_input(faults[:_MOST_FAULTS])
    return Header(tuple(names), {name: place for place, name in enumerate(plain) if name in wanted.known})


def own_name_fault(name: str, present: Collection[str], wanted: Wanted, answered: Collection[str]) -> str | None:
    """Say why a name cannot be one of the caller's own, or ``None`` where it can (or is one that is read)."""
    if name in wanted.known or not name:
        return None
    if name in answered:
        return "is the name of something that the answer adds; rename it"
    if name == _PIN:
        return "is not read from a row: one release serves the whole batch, pin it with the query parameter dataset"
    if name.casefold().startswith("fact_") and any(known.startswith("fact_") for known in wanted.known):
        return "is no numbered fact; write fact_1_name, fact_1_amount, and so on up to fact_60"
    meant = misspelt(name, (known for known in wanted.known if not _stands(known, present)))
    # Taken for the caller's own, a misspelt column of medicines would go unscreened without a word.
    return f"looks like {meant}, which is not there; write {meant}, or rename it if it is your own" if meant else None


def _stands(known: str, present: Collection[str]) -> bool:
    return any(name in present for name in WEIGHTS) if known in WEIGHTS else known in present


def _unnamed(names: Sequence[str]) -> Iterable[dict[str, str]]:
    for place, name in enumerate(names, start=1):
        if not name:
            yield at_pointer((), f"column {place} has no name; give it one or take it out")


def _repeated(names: Sequence[str]) -> Iterable[dict[str, str]]:
    for name in dict.fromkeys(name for name in names if name and names.count(name) > 1):
        yield at_pointer((name,), "is the name of several columns; each name can stand once")


def _missing(names: Sequence[str], wanted: Wanted) -> Iterable[dict[str, str]]:
    for group in wanted.needed:
        if not any(name in names for name in group):
            near = nearest_ids(group[0], [name for name in names if name], limit=1)
            hint = f"; the nearest that is there: {shown(near[0])}" if near else ""
            needed = f"one of {', '.join(group)} is needed" if len(group) > 1 else "is needed"
            yield at_pointer((group[0],), f"{needed}, and the header row has no such column{hint}")
