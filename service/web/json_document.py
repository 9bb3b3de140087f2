"""Reading one JSON document, bounded and with one meaning only."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from service.schemas.request_base import forbidden_character
from service.web.faults import Fault, Path, at_pointer, invalid_input
from service.web.wire import Json

DEEPEST = 32
_LONGEST_NUMBER = 40


class _Repeated(dict[str, Json]):
    """An object in which keys were repeated; found again, with its path, when the document is walked."""

    repeated: tuple[str, ...] = ()


class _LongNumber:
    """Stands for a number with more digits than anything here can mean."""


def parse(data: bytes) -> Json:
    """Turn bytes into plain values, every number into a ``Decimal``.

    Parameters
    ----------
    data
        One JSON document in UTF-8.

    Returns
    -------
    object
        What the document holds; pass it to :func:`faults_of` before use.

    Raises
    ------
    Fault
        ``malformed-body``, or ``invalid-input`` for nesting that no reader could follow.
    """
    try:
        return json.loads(
            data.decode("utf-8"),
            object_pairs_hook=_object,
            parse_float=_number,
            parse_int=_number,
            parse_constant=_refuse_constant,
        )
    except UnicodeDecodeError as error:
        raise Fault("malformed-body", f"The body is not UTF-8: byte {error.start} cannot be read.") from None
    except RecursionError:
        raise _too_deep(()) from None
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise Fault("malformed-body", f"The body is not JSON: {error.msg} ({where}).") from None


def faults_of(value: Json, path: Path = ()) -> Iterator[dict[str, str]]:
    """Walk a document for what no schema could see: repeated keys, huge numbers, forbidden characters, depth."""
    if len(path) > DEEPEST:
        raise _too_deep(path)
    if isinstance(value, str):
        if (character := forbidden_character(value)) is not None:
            yield at_pointer(path, f"must not contain the character {character}")
    elif isinstance(value, dict):
        yield from _faults_of_keys(value, path)
        for key, member in value.items():
            yield from faults_of(member, (*path, key))
    elif isinstance(value, list):
        for position, member in enumerate(value):
            yield from faults_of(member, (*path, position))
    elif isinstance(value, _LongNumber):
        yield at_pointer(path, f"is a number with more than {_LONGEST_NUMBER} characters or an unreasonable exponent")


def _faults_of_keys(value: dict[str, Json], path: Path) -> Iterator[dict[str, str]]:
    for key in value.repeated if isinstance(value, _Repeated) else ():
        yield at_pointer((*path, key), "is given more than once; give it once")
    for key in value:
        if (character := forbidden_character(key)) is not None:
            yield at_pointer(path, f"a member name must not contain the character {character}")


def _object(pairs: list[tuple[str, Json]]) -> dict[str, Json]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    marked = _Repeated(plain)
    counts: dict[str, int] = {}
    for key, _ in pairs:
        counts[key] = counts.get(key, 0) + 1
    marked.repeated = tuple(key for key, count in counts.items() if count > 1)
    return marked


def _number(literal: str) -> Decimal | _LongNumber:
    if len(literal) > _LONGEST_NUMBER:
        return _LongNumber()
    try:
        return Decimal(literal)
    except InvalidOperation:  # an exponent beyond what even Decimal holds
        return _LongNumber()


def _refuse_constant(name: str) -> None:
    raise Fault("malformed-body", f"{name} is not a JSON number; leave the member out or give a number.")


def _too_deep(path: Path) -> Fault:
    return invalid_input([at_pointer(path[:4], f"is nested more than {DEEPEST} levels deep")])
