"""Phrases of several words found at a token, longest first: the one kind of word list that the grammar uses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Generic, NamedTuple, TypeVar

from service.domain.labels.plain_text import plain_text
from service.domain.labels.tokens import Token, folded, tokenise

Meaning = TypeVar("Meaning")


class PhraseHit(NamedTuple, Generic[Meaning]):
    """A phrase found: what it means and the token after it."""

    meaning: Meaning
    end: int


class _Branch(Generic[Meaning]):
    """What may follow the words read so far, and what they mean by themselves."""

    __slots__ = ("following", "meanings")

    def __init__(self) -> None:
        self.following: dict[str, _Branch[Meaning]] = {}
        self.meanings: list[Meaning] = []


class Phrases(Generic[Meaning]):
    """Finds the longest phrase that begins at a token, in as many steps as the phrase has words.

    Parameters
    ----------
    meanings
        Phrase as printed to what it means; case and accents do not count.
    """

    def __init__(self, meanings: Mapping[str, Meaning]) -> None:
        self._root: dict[str, _Branch[Meaning]] = {}
        for phrase, meaning in meanings.items():
            following, branch = self._root, _Branch[Meaning]()
            for word in phrase_key(phrase):
                branch = following.setdefault(word, _Branch())
                following = branch.following
            if not branch.meanings:
                branch.meanings.append(meaning)

    def find(self, tokens: Sequence[Token], at: int, end: int) -> PhraseHit[Meaning] | None:
        """Find the longest phrase at a token.

        Parameters
        ----------
        tokens
            All tokens of the label.
        at
            Where the phrase must begin.
        end
            Where it must have ended.

        Returns
        -------
        PhraseHit or None
            Its meaning and the position after it.
        """
        if at >= end:
            return None
        branch = self._root.get(tokens[at].fold)
        best: PhraseHit[Meaning] | None = None
        while branch is not None:
            at += 1
            if branch.meanings:
                best = PhraseHit(branch.meanings[0], at)
            branch = branch.following.get(tokens[at].fold) if at < end else None
        return best


def phrase_key(phrase: str) -> tuple[str, ...]:
    """Cut a phrase into the folded texts of its tokens.

    Parameters
    ----------
    phrase
        As printed.

    Returns
    -------
    tuple of str
        What :class:`Phrases` compares by.
    """
    return tuple(folded(token.text) for token in tokenise(plain_text(phrase)))


def split(text: str) -> tuple[str, ...]:
    """Cut a list of phrases that is written as one text.

    Parameters
    ----------
    text
        Phrases between vertical bars.

    Returns
    -------
    tuple of str
        In the order written.
    """
    return tuple(" ".join(phrase.split()) for phrase in text.split("|"))


def any_of(text: str) -> Phrases[bool]:
    """Make phrases that all mean the same: that one of them is there.

    Parameters
    ----------
    text
        Phrases between vertical bars.

    Returns
    -------
    Phrases
        Each means ``True``.
    """
    return Phrases(dict.fromkeys(split(text), True))


def by_meaning(groups: Mapping[Meaning, Sequence[str]]) -> dict[str, Meaning]:
    """Turn a list of phrases for each meaning into the meaning of each phrase.

    Parameters
    ----------
    groups
        Meaning to phrases.

    Returns
    -------
    dict
        Phrase to meaning.
    """
    return {phrase: meaning for meaning, phrases in groups.items() for phrase in phrases}
