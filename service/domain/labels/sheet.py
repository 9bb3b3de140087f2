"""The tokens of one label with what the grammar asks of them: brackets, units, spans and printed text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import cast

from service.domain.labels.phrases import Phrases, phrase_key
from service.domain.labels.plain_text import PlainText, plain_text
from service.domain.labels.tokens import Token, tokenise
from service.domain.resolving import Resolution, resolver_for
from service.reference.records import Unit
from service.reference.release import Reference

_PARTNER = {")": "(", "]": "[", "}": "{"}
# A bracket that is still open after so many tokens was never meant to close.
_LONGEST_BRACKET = 400


@dataclass(frozen=True, slots=True)
class Span:
    """Characters ``start`` to ``end`` (half-open) of the text as it was given."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """One label in tokens. ``closing`` gives, for an opening bracket, the token that closes it."""

    reference: Reference
    plain: PlainText
    tokens: tuple[Token, ...]
    closing: Mapping[int, int]
    units: Phrases[Unit]
    locale: str | None
    # What was recognised at a place before: several recognisers ask the same of every line.
    seen: dict[tuple[object, ...], object] = field(default_factory=dict, compare=False, repr=False)

    def span(self, start: int, end: int) -> Span:
        """Tell where tokens stand in the text as given.

        Parameters
        ----------
        start, end
            First token and past-the-end token.

        Returns
        -------
        Span
            In characters; empty for no tokens.
        """
        if start >= end:
            return Span(0, 0)
        first, last = self.tokens[start].start, self.tokens[end - 1].end
        return Span(self.plain.starts[first], self.plain.ends[last - 1])

    def text(self, start: int, end: int) -> str:
        """Give the plain text of tokens, line ends as blanks.

        Parameters
        ----------
        start, end
            First token and past-the-end token.

        Returns
        -------
        str
            Footnote digits and trademark signs left out.
        """
        if start >= end:
            return ""
        piece = self.plain.text[self.tokens[start].start : self.tokens[end - 1].end]
        return " ".join("".join(char for char in piece if not "\ue000" <= char <= "\ue00a").split())

    def exact(self, text: str, *, denied: bool = False) -> Resolution:
        """Say what a name means, without looking for slips; the same name is looked up once.

        Parameters
        ----------
        text
            As printed.
        denied
            Whether an earlier "free from" reaches it.

        Returns
        -------
        Resolution
            As :meth:`service.domain.resolving.Resolver.exact` gives it.
        """
        key = ("name", text, denied)
        if key not in self.seen:
            self.seen[key] = resolver_for(self.reference).exact(text, denied)
        return cast("Resolution", self.seen[key])

    def inside(self, at: int) -> tuple[int, int] | None:
        """Give the tokens inside a bracket that opens here.

        Parameters
        ----------
        at
            A token.

        Returns
        -------
        tuple or None
            First and past-the-end token of the inside; ``None`` where no bracket opens or it never closes.
        """
        close = self.closing.get(at)
        return None if close is None else (at + 1, close)


def sheet_of(reference: Reference, text: str, locale: str | None) -> Sheet:
    """Cut a label into tokens.

    Parameters
    ----------
    reference
        The release whose units are used.
    text
        The label as it came.
    locale
        Two-letter language, or ``None``.

    Returns
    -------
    Sheet
        Ready for the grammar.
    """
    plain = plain_text(text)
    units = units_of(reference)
    tokens = tokenise(plain)
    tokens = _unwrapped(tokens, _closing(tokens), units)
    return Sheet(reference, plain, tokens, _closing(tokens), units, locale)


def _unwrapped(tokens: tuple[Token, ...], closing: Mapping[int, int], units: Phrases[Unit]) -> tuple[Token, ...]:
    """Take out line ends that only wrap a line: inside brackets, and between a number and a unit alone in its line."""
    soft: set[int] = set()
    inside_until = 0
    for at, token in enumerate(tokens):
        inside_until = max(inside_until, closing.get(at, 0))
        if token.kind == "newline" and (at < inside_until or _parts_amount(tokens, at, units)):
            soft.add(at)
    return tuple(token for at, token in enumerate(tokens) if at not in soft) if soft else tokens


def _parts_amount(tokens: tuple[Token, ...], at: int, units: Phrases[Unit]) -> bool:
    if at == 0 or tokens[at - 1].kind != "number":
        return False
    hit = units.find(tokens, at + 1, len(tokens))
    alone = hit is not None and (hit.end == len(tokens) or tokens[hit.end].kind == "newline")
    return alone and hit is not None and hit.meaning.dimension != "count"


def _closing(tokens: tuple[Token, ...]) -> dict[int, int]:
    """Pair brackets; one that spans a blank line, or too much, opens nothing."""
    found: dict[int, int] = {}
    open_: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind == "newline" and at + 1 < len(tokens) and tokens[at + 1].kind == "newline":
            open_.clear()
        elif token.text in ("(", "[", "{"):
            open_.append(at)
        elif token.text in _PARTNER and open_ and tokens[open_[-1]].text == _PARTNER[token.text]:
            start = open_.pop()
            if at - start <= _LONGEST_BRACKET:
                found[start] = at
    return found


@lru_cache(maxsize=8)
def units_of(reference: Reference) -> Phrases[Unit]:
    """Give the units of a release as phrases, built once.

    Parameters
    ----------
    reference
        The release.

    Returns
    -------
    Phrases
        Every spelling; where two differ only in case or accents, the plainer one wins.
    """
    plainest: dict[tuple[str, ...], Unit] = {}
    for alias, unit in reference.units.items():
        key = phrase_key(alias)
        if key not in plainest or alias == alias.lower():
            plainest[key] = unit
    return Phrases({unit.alias: unit for unit in plainest.values()})
