"""What one batch may hold; stated in the OpenAPI document and enforced before the first row is answered."""

MOST_ROWS = 100_000
LARGEST_BATCH_BYTES = 33_554_432  # 32 MiB, as sent and, where it was packed, unpacked
LONGEST_ROW_BYTES = 65_536  # the same as a body that asks for one row alone
MOST_COLUMNS = 300
