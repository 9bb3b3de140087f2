"""Print how well labels and names are read, what the screen is held to, and how fast hostile labels are read.

python -m tests.accuracy
"""

from __future__ import annotations

from service.reference.releases import load_working_tables
from tests.accuracy import confusion, label_cases, screening, speed


def main() -> None:
    """Print all figures, computed from the working tables."""
    reference = load_working_tables()
    for title, text in (
        ("Label reader", label_cases.report(reference)),
        ("Names", confusion.report()),
        ("Screen", screening.report()),
        ("Speed", speed.report(reference)),
    ):
        print(f"{title}\n{text}\n")


if __name__ == "__main__":
    main()
