"""Numbers that can be asked where they come from."""

from __future__ import annotations

from dataclasses import dataclass

from service.reference.records import Fact


@dataclass(frozen=True, slots=True)
class Asked:
    """A value in a cell or a sentence, with what a reader gets who asks for its source.

    ``id`` is unique on the page; ``rule`` says in a sentence how the value came about.
    """

    id: str
    text: str
    rule: str
    origin: str
    source_ids: tuple[str, ...]
    unit: str = ""


Cell = str | Asked | None


def asked(id_: str, text: str, fact: Fact, *told: str | None) -> Asked:
    """Make the value of a row of the dataset askable.

    Parameters
    ----------
    id_
        Unique on the page.
    text
        The value as shown.
    fact
        The row, for its sources and how they were seen.
    *told
        What else the row says, a phrase each; ``None`` is left out.

    Returns
    -------
    Asked
        With one sentence per phrase, the last one naming the part of the source that was seen.
    """
    seen = f"Seen: {fact.locator}" if fact.locator else None
    phrases = [phrase.rstrip(". ") for phrase in (*told, seen) if phrase]
    return Asked(
        id_, text, " ".join(f"{phrase[:1].upper()}{phrase[1:]}." for phrase in phrases), fact.origin, fact.source_ids
    )
