"""Which words of a phrase a negation reaches: "no xylitol" does, "no fillers: xylitol" does not.

Missing a hazard is worse than asking once too often, so a negation reaches as little as the wording allows: the thing
named next to it and what is joined to that by "or" and "and". It ends at punctuation, at a word that begins a new
statement ("with", "sweetened", "made"), and at the next thing that is merely put behind.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

_SINGLE = frozenset(
    """no not without zero nor never neither exclude excludes excluding omit omits devoid sans sin ohne senza sem
    zonder kein keine keinen keiner keinerlei pas aucun aucune bez utan uden ilman nicht ningun ninguna""".split()
)
_PAIRS = frozenset(
    (
        *(("free", "from"), ("free", "of"), ("frei", "von"), ("libre", "de"), ("libres", "de")),
        *(("exempt", "de"), ("exento", "de"), ("exenta", "de"), ("exempte", "de"), ("depourvu", "de")),
    )
)
FREE_AFTER = frozenset(("free", "frei", "freie", "freies", "freier", "vrij", "fri", "frie"))
# "Glucosamine free base", "EPA (free fatty acid)" and "vitamins, free from ..." say nothing against the word before.
_NOT_FREE_OF_IT = frozenset("base acid acids fatty form forms amino flowing range from of von".split())
_NOT_FREE_PHRASES = frozenset((word,) for word in _NOT_FREE_OF_IT)
NEGATING_WORDS = _SINGLE | FREE_AFTER | {"non"}
_JOINING = frozenset("and or nor und oder noch et ou ni y o e u i".split())
# Words between a negation and what it negates that name nothing: "no added artificial ...", "sans ajout de ...".
TRANSPARENT = frozenset(
    """added add additional artificial artificially real any of from the a an such like kind kinds type types form
    forms source sources trace traces amount amounts ingredient ingredients additive additives harmful toxic
    dangerous hidden zusatz zusatze zugesetzt zugesetzte zugesetzter zugesetzten zugesetztes von der die das dem
    den irgendwelche kunstliche kunstlichen ajout ajoute ajoutes ajoutee de du des la le les d l artificiel
    artificiels anadido anadidos anadida adicion artificiales el los las di del della aggiunto contain contains
    containing contained include includes including enthalten enthalt contient contenir contiene contienen
    contener use used uses does do is are""".split()
)
_LINKING = frozenset(
    "contain contains contained containing contient contenir contiene contener enthalt enthalten from of any "
    "the".split()
)
# Words that begin a new statement once something has been negated: "no sugar, but with ...", "ohne Zucker, mit ...".
_REOPENING = frozenset(
    """but with contains contain containing contained made sweetened flavored coated enriched fortified only just
    instead uses using added plus has includes include including aber mit enthalt gesusst aromatisiert sondern
    dafur mais avec contient sucre edulcore pero con contiene edulcorado endulzado sino ma maar met""".split()
)


@dataclass(frozen=True, slots=True)
class Span:
    """Words ``start`` to ``end`` (half-open) of a phrase that name one thing."""

    start: int
    end: int


def negated_words(
    tokens: tuple[str, ...], named: Iterable[Span], breaks: Collection[int], fillers: Collection[str]
) -> frozenset[int]:
    """Find the words that a negation reaches.

    Parameters
    ----------
    tokens
        The words of one item.
    named
        Where known names stand in it.
    breaks
        Positions of words that follow a full stop, a colon, a bracket or a dash.
    fillers
        Words that name nothing by themselves.

    Returns
    -------
    frozenset of int
        Positions inside the reach of a negation that is not itself negated.
    """
    ends = {span.start: span.end for span in named}
    inside = {at for span in named for at in range(span.start, span.end)}
    reached: set[int] = set()
    for _start, after in _negations(tokens, inside):
        reached.update(_reach(tokens, after, ends, breaks, fillers))
    # "non" reaches one word: "non-dairy creamer with xylitol".
    reached.update(at + 1 for at, word in enumerate(tokens) if word == "non" and at not in inside)
    return frozenset(reached)


def _negations(tokens: tuple[str, ...], inside: Collection[int]) -> list[tuple[int, int]]:
    """Find each negation as start and end; two in a row ("nicht ohne") cancel."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(tokens):
        length = _length_of_negation(tokens, at) if at not in inside else 0
        if length == 0:
            at += 1
            continue
        if found and found[-1][1] == at:
            found.pop()
        else:
            found.append((at, at + length))
        at += length
    return found


def _length_of_negation(tokens: tuple[str, ...], at: int) -> int:
    following = tokens[at + 1] if at + 1 < len(tokens) else ""
    if (tokens[at], following) in _PAIRS:
        return 2
    # "No. 40" numbers a colour and negates nothing.
    return 1 if tokens[at] in _SINGLE and not following.isdigit() else 0


def _reach(
    tokens: tuple[str, ...], start: int, ends: dict[int, int], breaks: Collection[int], fillers: Collection[str]
) -> range:
    at, named_something, joined = start, False, True
    while at < len(tokens):
        word = tokens[at]
        # A break right behind the negation ("free from: xylitol", "does not contain: xylitol") still belongs to it.
        if at in breaks and any(tokens[before] not in _LINKING for before in range(start, at)):
            break
        if named_something and word in _REOPENING:
            break
        if word in _JOINING:
            joined = True
            at += 1
            continue
        if at not in ends and (word in TRANSPARENT or word in fillers):
            at += 1
            continue
        if named_something and not joined:
            break
        at = ends.get(at) or _end_of_unknown(tokens, at, ends, breaks, fillers)
        named_something, joined = True, False
    return range(start, at)


def _end_of_unknown(
    tokens: tuple[str, ...], at: int, ends: dict[int, int], breaks: Collection[int], fillers: Collection[str]
) -> int:
    """Find the end of a run of unknown words, which count as one thing."""
    end = at + 1
    while end < len(tokens) and end not in ends and end not in breaks:
        if tokens[end] in _JOINING or tokens[end] in _REOPENING or tokens[end] in fillers:
            break
        end += 1
    return end


def is_negated(tokens: tuple[str, ...], span: Span, reached: Collection[int]) -> bool:
    """Say whether a name is only mentioned as absent.

    Parameters
    ----------
    tokens
        The words of one item.
    span
        Where the name stands.
    reached
        Positions inside the reach of a negation.

    Returns
    -------
    bool
        True for ``no xylitol`` and ``xylitol-free``; False for ``not xylitol-free``, where the two cancel.
    """
    following = tokens[span.end : span.end + 2]
    free_after = bool(following) and following[0] in FREE_AFTER and following[1:] not in _NOT_FREE_PHRASES
    return (span.start in reached) != free_after
