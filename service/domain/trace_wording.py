"""Warnings of traces: ``may contain``, ``xylitol traces``, ``made in a factory that handles cocoa``."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from service.domain.denial_words import JOINING, REOPENING

_PHRASES = (
    *(("may", "contain"), ("may", "also", "contain"), ("might", "contain"), ("could", "contain"), ("traces", "of")),
    *(("trace", "of"), ("trace", "amounts"), ("trace", "amount"), ("trace", "quantities"), ("possible", "traces")),
    *(("may", "be", "contaminated"), ("may", "have", "traces"), ("facility",), ("equipment",)),
    *(("spuren",), ("sporen", "van"), ("traces", "de"), ("traces", "eventuelles"), ("traces", "possibles")),
    *(("trazas",), ("tracce",), ("peut", "contenir"), ("peut", "aussi", "contenir"), ("pourrait", "contenir")),
    *(("peut", "egalement", "contenir"), ("puede", "contener"), ("podria", "contener"), ("puo", "contenere")),
)
# The verb at the end makes it a warning: "kann Nüsse enthalten"; "kann abführend wirken" is none.
_FRAMES = {"kann": "enthalten", "kan": "bevatten", "konnen": "enthalten", "kunnen": "bevatten"}
_TRACES = frozenset("trace traces spuren sporen trazas tracce".split())
# "Made in a factory which handles ..." speaks of what else is made there.
_MADE = frozenset(
    """made produced manufactured processed packed packaged prepared hergestellt produziert verarbeitet abgepackt
    verpackt fabrique produit prepare elaborado fabricado producido prodotto confezionato geproduceerd gemaakt
    verpakt bereid""".split()
)
_IN = frozenset("in on at using by with im auf dans sur en su op".split())
_SITES = frozenset(
    """facility facilities equipment factory factories premises kitchen workshop betrieb betrieben fabrik
    produktionsstatte produktionsanlage anlage anlagen usine atelier ateliers installations fabrica instalacion
    instalaciones stabilimento impianto fabriek bedrijf productielocatie""".split()
)
_FARTHEST_SITE = 6
_SHARING = frozenset("which that also where we uses handles processes der die das dem auch wo qui ou che dat".split())
_BEGINNINGS = {*_FRAMES, *(phrase[0] for phrase in _PHRASES)}
_WORKING = frozenset(
    "verarbeitet werden wird verwendet handled processed used traite traites verwerkt elaboran".split()
)
TRACE_WORDS = (
    frozenset(word for phrase in _PHRASES for word in phrase)
    | frozenset(word for frame in _FRAMES.items() for word in frame)
    | _TRACES
    | _MADE
    | _SITES
    | _SHARING
    | _WORKING
    | frozenset("einem einer eine ein un une una uno een shared same also handle process handling processing".split())
)
_WARNING_WORDS = (
    frozenset(word for phrase in _PHRASES for word in phrase)
    | frozenset(word for frame in _FRAMES.items() for word in frame)
    | frozenset("also von possible presence as contains a the".split())
)
_LONGEST_LIST = 8


def traced_from(tokens: tuple[str, ...]) -> int:
    """Find from where a text speaks of traces.

    Parameters
    ----------
    tokens
        The words of one item.

    Returns
    -------
    int
        A position; the number of words where no trace is spoken of.
    """
    return next((at for at, word in enumerate(tokens) if _begins(tokens, at, word)), len(tokens))


def traced_before(tokens: tuple[str, ...], ends: dict[int, int]) -> frozenset[int]:
    """Find names that "traces" stands behind: ``xylitol traces``, ``cocoa (traces)``.

    Parameters
    ----------
    tokens
        The words of one item.
    ends
        Where known names begin, by the position after their last word.

    Returns
    -------
    frozenset of int
        Where those names begin.
    """
    last = len(tokens) - 1
    if last < 1 or tokens[last] not in _TRACES or last not in ends:
        return frozenset()
    return frozenset({ends[last]})


def only_warns_of_traces(tokens: tuple[str, ...]) -> bool:
    """Say whether a heading warns of traces and says nothing else, as ``may contain`` and ``may contain traces of`` do.

    Parameters
    ----------
    tokens
        The words before the colon.

    Returns
    -------
    bool
        ``False`` for ``made in a facility with soy``.
    """
    return traced_from(tokens) < len(tokens) and set(tokens) <= _WARNING_WORDS


def traced_parts(parts: list[tuple[str, ...]]) -> range:
    """Find the parts of a sentence that a warning reaches over its commas: ``traces of cocoa, soy and raisins``.

    Parameters
    ----------
    parts
        The words of each part.

    Returns
    -------
    range
        Behind the part that warns, up to the one that closes its list; empty where nothing closes one.
    """
    first = next((at for at, tokens in enumerate(parts) if traced_from(tokens) < len(tokens) or _opens(tokens)), None)
    if first is None or first + 1 == len(parts):
        return range(0)
    begins = parts[first]
    relative = not _SITES.isdisjoint(begins) and not _SHARING.isdisjoint(parts[first + 1][:2])
    if not JOINING.isdisjoint(begins) and not relative and begins[0] not in _FRAMES:
        return range(0)
    last = next(_closing(parts, first), first + 1 if relative else first)
    return range(first + 1, last + 1)


def _closing(parts: list[tuple[str, ...]], first: int) -> Iterator[int]:
    frame = next((_FRAMES[word] for word in parts[first] if word in _FRAMES), None)
    for at in range(first + 1, min(len(parts), first + 1 + _LONGEST_LIST)):
        tokens = parts[at]
        if not tokens or tokens[0] in REOPENING:
            return
        if frame is not None and tokens[-1] != frame:
            continue
        if frame is not None or not JOINING.isdisjoint(tokens) or tokens[-1] in _WORKING:
            yield at


def _begins(tokens: tuple[str, ...], at: int, word: str) -> bool:
    if word in _BEGINNINGS and any(tokens[at : at + len(phrase)] == phrase for phrase in _PHRASES):
        return True
    return (word in _FRAMES and _FRAMES[word] == tokens[-1]) or (word in _MADE and _speaks_of_a_site(tokens, at))


def _opens(tokens: tuple[str, ...]) -> bool:
    """Say whether a frame is open: "kann Kakao", whose verb stands behind a comma."""
    return tokens[:1] != () and tokens[0] in _FRAMES


def _speaks_of_a_site(tokens: tuple[str, ...], at: int) -> bool:
    following: Collection[str] = tokens[at + 1 : at + 2 + _FARTHEST_SITE]
    return tokens[at + 1 : at + 2] != () and tokens[at + 1] in _IN and not _SITES.isdisjoint(following)
