"""Print how names on labels are understood.

python -m tests.accuracy.names
"""

from __future__ import annotations

from tests.accuracy.confusion import outcomes, report


def main() -> None:
    """Print the figures, then every phrase that was not answered as expected."""
    print(report())
    for one in outcomes():
        if not one.is_right:
            expected = ":".join(filter(None, (one.case.expected, one.case.target)))
            print(f"  {one.case.phrase!r}: expected {expected}, answered {one.answered}")


if __name__ == "__main__":
    main()
