"""A batch as NDJSON: one object a line; its text comes back unchanged, what is answered is added behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from service.domain.common import NOTICE
from service.web import body
from service.web.batch.columns import own_name_fault
from service.web.batch.lines import Readable, RecordLines, too_many_rows
from service.web.batch.refusals import Refusal, refusal_of
from service.web.batch.tasks import Task
from service.web.envelope import Answer, Envelope
from service.web.faults import Fault, at_pointer, invalid_input
from service.web.json_document import faults_of, parse
from service.web.wire import Json, dump, to_wire

ADDED = ("status", "problem", "error", "errors", "result", "input")
_BLANKS = b" \t\r\n"


class JsonRows:
    """Reads and answers a batch of NDJSON. ``detail`` is ``full``, or ``ids`` for answers without citations."""

    def __init__(self, task: Task, detail: str = "full") -> None:
        self._task = task
        self._write: Callable[[Envelope, Json], bytes] = self._full if detail == "full" else self._ids

    def check(self, stream: Readable, most_rows: int | None) -> int:
        """Read the batch once from its beginning; gives the number of rows or raises what makes it unreadable."""
        count = 0
        for count, (line, _) in enumerate(_records(stream), start=1):
            if most_rows is not None and count > most_rows:
                raise too_many_rows(most_rows, line)
        if not count:
            raise Fault("malformed-body", "The body is empty: send one JSON object a line for each question.")
        return count

    def head(self) -> bytes:
        """Write nothing: there is no header."""
        return b""

    def answers(self, stream: Readable, release: Envelope, after: int = 0) -> Iterator[tuple[bytes, bool]]:
        """Write the answer to every row behind the first ``after``; ``True`` where it was not refused."""
        for number, (_, line) in enumerate(_records(stream), start=1):
            if number > after:
                yield self._answer(number, line, release)

    def cut_off(self, after: int) -> bytes:
        """Write the last line of an answer that a failure of ours ends early."""
        error = f"The answer ends after row {after}; send the rest again."
        return dump({"status": "cut_off", "problem": "internal", "error": error}).encode() + b"\n"

    def _answer(self, number: int, line: bytes, release: Envelope) -> tuple[bytes, bool]:
        own = b""
        try:
            document = _read_object(line)
            own = _own_members(line, document)
            self._check_names(document)
            asked = self._task.read_object({name: document[name] for name in document if name in self._known})
            written = self._write(release, self._task.answer(release.reference, asked.request))
            return own + b'"status":"ok","result":' + written + b"}\n", True
        except Exception as error:
            refusal = refusal_of(error, number)
        return _refused(own, line, refusal), False

    @property
    def _known(self) -> tuple[str, ...]:
        return self._task.members.known

    def _check_names(self, document: dict[str, Json]) -> None:
        found = ((name, own_name_fault(name, document, self._task.members, ADDED)) for name in document)
        body.raise_first(at_pointer((name,), detail) for name, detail in found if detail)

    def _full(self, release: Envelope, answer: Answer) -> bytes:
        return release.json(answer, self._task.answer_schema, self._task.fixed(answer))

    @staticmethod
    def _ids(release: Envelope, answer: Answer) -> bytes:
        plain = to_wire(answer)
        plain["source_ids"] = list(dict.fromkeys(plain["source_ids"]))
        return dump({**plain, "dataset_version": release.reference.stamp.version, "notice": NOTICE}).encode()


def _records(stream: Readable) -> Iterator[tuple[int, bytes]]:
    """Give each line that is not blank, with its number."""
    lines = RecordLines(stream)
    number = lines.begin_record()
    for line in lines:
        if text := line.strip(_BLANKS):
            yield number, text
        number = lines.begin_record()


def _read_object(line: bytes) -> dict[str, Json]:
    document = parse(line)
    body.raise_first(faults_of(document))
    if not isinstance(document, dict):
        raise invalid_input([at_pointer((), "the line must be one JSON object")])
    return document


def _own_members(line: bytes, document: dict[str, Json]) -> bytes:
    """Give the text of an object up to its end, ready for more members; nothing where one of ours stands in it."""
    if any(name in ADDED for name in document):
        return b""
    # A carriage return within the line stands between parts of the object, where a blank means the same.
    return line[:-1].rstrip(_BLANKS).replace(b"\r", b" ") + (b"," if document else b"")


def _refused(own: bytes, line: bytes, refusal: Refusal) -> bytes:
    """Write a refused row: behind the caller's members, or, where these cannot be told, with the line as a text."""
    told = [f"{path}: {detail}" if path else detail for path, detail in refusal.faults]
    found: dict[str, Json] = {"status": "refused", "problem": refusal.slug, "error": "; ".join(told)}
    found["errors"] = [{"pointer": f"#/{path}" if path else "#", "detail": detail} for path, detail in refusal.faults]
    if not own:
        found["input"] = line.decode("utf-8", "replace")
    return (own or b"{") + dump(found)[1:].encode() + b"\n"
