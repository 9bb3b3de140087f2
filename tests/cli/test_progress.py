"""The progress bar: true, seldom, and silent where nobody watches."""

from __future__ import annotations

import io

from service.cli.progress import Progress


class Terminal(io.StringIO):
    """An output that somebody watches."""

    def isatty(self) -> bool:
        return True


class Clock:
    """Time that passes only when a test says so."""

    now = 100.0

    def __call__(self) -> float:
        return self.now


def test_nothing_is_drawn_where_nobody_watches() -> None:
    out = io.StringIO()
    with Progress(10, out=out) as progress:
        progress.show(10, 0)
    assert out.getvalue() == ""


def test_drawn_at_most_every_fifth_of_a_second_and_at_the_end() -> None:
    out, clock = Terminal(), Clock()
    with Progress(1000, out=out, clock=clock) as progress:
        for done in (100, 200, 300):
            progress.show(done, 1)
            clock.now += 0.125
        progress.show(1000, 1)
    drawn = out.getvalue().split("\r")[1:]
    assert [line.partition("%")[0][-4:].strip() for line in drawn] == ["10", "30", "100"]
    assert out.getvalue().endswith("\n")


def test_line() -> None:
    line = Progress(2000, 1000, out=io.StringIO()).line(1500, 3, 2.0)
    assert line == f"[{'#' * 22}{'.' * 8}]  75% 1,500 of 2,000 rows, 3 refused, 2 s left"
    assert Progress(0, out=io.StringIO()).line(0, 0, 0.0).startswith(f"[{'#' * 30}] 100% 0 of 0")
