"""Descriptions of the OpenAPI document, which are Markdown of the plainest kind, as paragraphs and lists."""

from __future__ import annotations

from dataclasses import dataclass

_ITEM = "- "


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph (``text``), or a list (``items``)."""

    text: str = ""
    items: tuple[str, ...] = ()


def blocks(description: str) -> tuple[Block, ...]:
    """Cut a description into its blocks; lines of a list begin with a dash, blank lines part everything else."""
    return tuple(_block(part) for part in description.split("\n\n") if part.strip())


def _block(part: str) -> Block:
    lines = part.strip().splitlines()
    if all(line.startswith(_ITEM) for line in lines):
        return Block(items=tuple(line.removeprefix(_ITEM) for line in lines))
    return Block(text=" ".join(lines))
