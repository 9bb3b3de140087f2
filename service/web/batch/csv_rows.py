"""A batch as CSV: a header row, then one row for each question; the caller's columns come back first."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence

from service.domain.common import NOTICE
from service.web.batch.columns import Header, read_header
from service.web.batch.lines import Readable, RecordLines, too_many_rows
from service.web.batch.refusals import Refusal, refusal_of
from service.web.batch.tasks import Asked, Task
from service.web.csv_output import cell_text
from service.web.envelope import Envelope
from service.web.faults import Fault, at_pointer, invalid_input
from service.web.wire import to_wire

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
_SIGNED_NUMBER = re.compile(r"[+-][0-9]+(?:[.,][0-9]+)?", re.ASCII)
_MEANING = {
    "unexpected end of data": "a quotation mark is opened and never closed",
    "new-line character": "a lone carriage return stands outside quotation marks; end lines with CR LF or LF",
    "expected after": "text follows a closing quotation mark; double every quotation mark that belongs to a value",
}


class _Line:
    """Gives a written line back instead of keeping it."""

    def write(self, line: str) -> str:
        return line


class CsvRows:
    """Reads and answers a batch of CSV. Check it first; the answers may then be asked for from any row on."""

    def __init__(self, task: Task, separator: str = "comma") -> None:
        self._task = task
        self._separator = SEPARATORS[separator]
        self._header = Header((), {})
        self._answered: tuple[str, ...] = ()
        self._writer = csv.writer(_Line(), delimiter=self._separator, lineterminator="\r\n")

    def check(self, stream: Readable, most_rows: int | None) -> int:
        """Read the batch once from its beginning; gives the number of rows or raises what makes it unreadable."""
        records = self._records(stream)
        first = next(records, None)
        if first is None:
            raise Fault("malformed-body", "The body is empty: send a header row and one row for each question.")
        self._read_header(first[1])
        count = 0
        for count, (line, _) in enumerate(records, start=1):
            if most_rows is not None and count > most_rows:
                raise too_many_rows(most_rows, line)
        return count

    def head(self) -> bytes:
        """Write the header row of the answer: the caller's columns, then those of the answer."""
        return self._line([*map(_own_cell, self._header.names), *self._answered])

    def answers(self, stream: Readable, release: Envelope, after: int = 0) -> Iterator[tuple[bytes, bool]]:
        """Write the answer to every row behind the first ``after``; ``True`` where it was not refused."""
        records = self._records(stream)
        next(records, None)
        for number, (_, cells) in enumerate(records, start=1):
            if number > after:
                yield self._answer(number, cells, release)

    def cut_off(self, after: int) -> bytes:
        """Write the last row of an answer that a failure of ours ends early."""
        own = [""] * len(self._header.names)
        cells = {"status": "cut_off", "error": f"The answer ends after row {after}; send the rest again."}
        return self._line([*own, *self._cells({**cells, "problem": "internal"})])

    def _read_header(self, names: Sequence[str]) -> None:
        others = [word for word, sign in SEPARATORS.items() if len(names) == 1 and sign in names[0]]
        if others:
            detail = (
                f"the header row is one cell with {others[0]}s in it; give the query parameter separator={others[0]}"
            )
            raise invalid_input([{"parameter": "separator", "detail": detail}])
        plain = tuple(names)
        self._answered = self._task.answered(plain)
        self._header = read_header(plain, self._task.wanted(plain), self._answered)

    def _records(self, stream: Readable) -> Iterator[tuple[int, list[str]]]:
        """Give each record with the number of its first line; an empty line is none."""
        lines = RecordLines(stream)
        reader = csv.reader(_texts(lines), delimiter=self._separator, strict=True)
        while True:
            line = lines.begin_record()
            try:
                cells = next(reader, None)
            except csv.Error as error:
                raise Fault("malformed-body", f"The row at line {line} is not CSV: {_meaning(error)}.") from None
            if cells is None:
                return
            if cells:
                yield line, cells

    def _answer(self, number: int, cells: list[str], release: Envelope) -> tuple[bytes, bool]:
        asked: Asked | None = None
        try:
            self._check_length(cells)
            asked = self._task.read_cells(self._header.given(cells))
            answer = self._task.answer(release.reference, asked.request)
            found: dict[str, object] = {"status": "ok", **self._task.flatten(answer, asked)}
            found["caution_codes"] = [caution.code for caution in answer.cautions]
            found["source_ids"] = list(dict.fromkeys(answer.source_ids))
            found |= {"dataset_version": release.reference.stamp.version, "notice": NOTICE}
            return self._row(cells, found), True
        except Exception as error:
            refusal = refusal_of(error, number)
        return self._row(cells, self._refused(refusal, asked.facts if asked else ())), False

    def _check_length(self, cells: Sequence[str]) -> None:
        there, wanted = len(cells), len(self._header.names)
        if there == wanted:
            return
        over = f"; left over: {', '.join(map(ascii, cells[wanted:]))}" if there > wanted else ""
        raise invalid_input([at_pointer((), f"the row has {there} cells, the header row {wanted}{over}")])

    def _refused(self, refusal: Refusal, facts: tuple[int, ...]) -> dict[str, object]:
        told = [f"{self._task.column_of(path, facts)}: {detail}" if path else detail for path, detail in refusal.faults]
        return {"status": "refused", "error": "; ".join(told), "problem": refusal.slug}

    def _row(self, cells: Sequence[str], found: dict[str, object]) -> bytes:
        wanted = len(self._header.names)
        own = [*map(_own_cell, cells[:wanted]), *[""] * (wanted - len(cells))]
        return self._line([*own, *self._cells(found)])

    def _cells(self, found: dict[str, object]) -> Iterator[str]:
        return (cell_text(to_wire(found.get(name))) for name in self._answered)

    def _line(self, cells: Sequence[str]) -> bytes:
        line: str = self._writer.writerow(cells)
        return line.encode()


def _texts(lines: RecordLines) -> Iterator[str]:
    for line in lines:
        try:
            yield line.decode("utf-8")
        except UnicodeDecodeError as error:
            place = f"line {lines.number}, byte {error.start + 1} of it"
            raise Fault("malformed-body", f"The batch is not UTF-8 ({place}); save it as CSV in UTF-8.") from None


def _own_cell(text: str) -> str:
    """Keep a cell as it came, unless a spreadsheet would run it; a number with a sign is a number."""
    return text if _SIGNED_NUMBER.fullmatch(text) else cell_text(text)


def _meaning(error: csv.Error) -> str:
    return next((meaning for part, meaning in _MEANING.items() if part in str(error)), str(error))
