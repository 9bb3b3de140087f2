"""Lines of a batch, one record at a time, however long its text is and whatever stands in it."""

from __future__ import annotations

import codecs
from collections.abc import Iterator
from typing import Protocol

from service.schemas.batch_limits import LONGEST_ROW_BYTES
from service.web.faults import Fault

_OTHER_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


class Readable(Protocol):
    """What a batch is read from."""

    def readline(self, size: int = -1, /) -> bytes:
        """Read to the end of a line, or ``size`` bytes of it."""
        ...


class RecordLines:
    """Lines as bytes, without a byte-order mark; a record may span several, but is bounded as a whole."""

    def __init__(self, stream: Readable) -> None:
        self.number = 0
        self._stream = stream
        self._left = LONGEST_ROW_BYTES

    def __iter__(self) -> Iterator[bytes]:
        return self

    def __next__(self) -> bytes:
        line = self._stream.readline(self._left + 1)
        if not line:
            raise StopIteration
        self.number += 1
        if len(line) > self._left:
            detail = (
                f"The row at line {self.number} has more than {LONGEST_ROW_BYTES:,} bytes, the most that one may have"
            )
            raise Fault("body-too-large", f"{detail}. Is a quotation mark left open, or a line end missing?")
        self._left -= len(line)
        return self._without_mark(line) if self.number == 1 else line

    def begin_record(self) -> int:
        """Let the next record have its full length; gives the number of the line it begins on."""
        self._left = LONGEST_ROW_BYTES
        return self.number + 1

    @staticmethod
    def _without_mark(line: bytes) -> bytes:
        if line.startswith(_OTHER_MARKS):
            raise Fault("malformed-body", "The batch is UTF-16; write it in UTF-8.")
        return line.removeprefix(codecs.BOM_UTF8)


def too_many_rows(most_rows: int, line: int) -> Fault:
    """Make the problem for a batch with too many rows."""
    return Fault(
        "body-too-large",
        f"The batch has more than {most_rows:,} rows; row {most_rows + 1:,} begins at line {line}. Nothing was "
        "answered: split it.",
    )
