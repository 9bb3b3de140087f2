"""Names of hazards that run over the end of a line: ``birch`` and, on the next line, ``sugar``."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from service.domain.label_text import words
from service.domain.name_index import NameIndex
from service.reference.records import Name

# The longest names of hazards have more words; what is broken there is still found by its parts.
_MOST_WORDS = 4
_MOST_CHARACTERS = 60
_LAST_PIECE = re.compile(r"[^,;:.()\[\]{}|\u2022]*$")
_FIRST_PIECE = re.compile(r"[^,;:.()\[\]{}|\u2022]*")


def unwrapped(text: str, index: NameIndex, is_grave: Callable[[Name], bool]) -> str:
    """Join two lines where the name of a hazard runs over the break.

    Lists are also printed one item a line, so that nothing else is joined: ``garlic`` above ``flavouring`` are two.

    Parameters
    ----------
    text
        A list as printed.
    index
        The known spellings.
    is_grave
        Says whether a spelling leads to a hazard.

    Returns
    -------
    str
        The text, with a space for each such line break.
    """
    lines = text.split("\n")
    pieces = [lines[0]]
    for before, after in pairwise(lines):
        pieces += [" " if _runs_over(before, after, index, is_grave) else "\n", after]
    return "".join(pieces)


def _runs_over(before: str, after: str, index: NameIndex, is_grave: Callable[[Name], bool]) -> bool:
    last = _LAST_PIECE.search(before[-_MOST_CHARACTERS:])
    first = _FIRST_PIECE.match(after[:_MOST_CHARACTERS])
    tail = words(last[0] if last else "")[-_MOST_WORDS:]
    head = words(first[0] if first else "")[:_MOST_WORDS]
    if not (tail and head):
        return False
    return any(hit.start < len(tail) < hit.end and is_grave(hit.row) for hit in index.scan(tail + head))
