"""Print what the screen is held to: rows reached, cases and invented records answered right, spellings understood.

python -m tests.accuracy.screening
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from service.domain.screening_condition_names import CARRIER_BREED, CARRIER_OF, read_conditions
from service.domain.screening_medicine_names import read_medicines
from service.reference.records import Condition, Interaction, Medication
from service.reference.release import Reference
from service.reference.releases import load_working_tables
from tests.accuracy.interaction_cases import cases, is_right
from tests.accuracy.interaction_rows import reaches, screens_of

T = TypeVar("T")


def report() -> str:
    """Give the figures as lines of text.

    Returns
    -------
    str
        One line per figure: what, how many of how many.
    """
    reference = load_working_tables()
    spellings = [(row, name) for row in reference.medications.values() for name in _names(row)]
    words = [(row, name) for row in reference.conditions.values() for name in _names(row)]
    figures = (
        ("interaction rows reached", _count(reference.interactions, lambda row: row_is_reached(reference, row))),
        ("interaction cases right", _count(cases(), lambda case: is_right(reference, case))),
        ("spellings of medicines understood", _count(spellings, lambda pair: _is_medicine(reference, *pair))),
        ("words for conditions understood", _count(words, lambda pair: _is_condition(reference, *pair))),
    )
    return "\n".join(f"{name}: {right}/{of}" for name, (right, of) in figures)


def row_is_reached(reference: Reference, row: Interaction) -> bool:
    """Say whether every request built from a row shows it or names it as overruled.

    Parameters
    ----------
    reference
        The release to answer from.
    row
        A row of table ``interactions``.

    Returns
    -------
    bool
        ``False`` too where no request could be built.
    """
    answers = list(screens_of(reference, row))
    return bool(answers) and all(reaches(answer, row) for answer in answers)


def _names(row: Medication | Condition) -> tuple[str, ...]:
    others = row.variants if isinstance(row, Medication) else row.synonyms
    return (row.id, row.name, *others)


def _is_medicine(reference: Reference, row: Medication, name: str) -> bool:
    return [one.id for one in read_medicines(reference, name).recognised] == [row.id]


def _is_condition(reference: Reference, row: Condition, name: str) -> bool:
    meant = CARRIER_OF if row.id == CARRIER_BREED else row.id
    read = read_conditions(reference, name, row.species[0], "conditions")
    return meant in [one.id for one in read.recognised]


def _count(items: Iterable[T], is_good: Callable[[T], bool]) -> tuple[int, int]:
    judged = [is_good(item) for item in items]
    return sum(judged), len(judged)


if __name__ == "__main__":
    print(report())
