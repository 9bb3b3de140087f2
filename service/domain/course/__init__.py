"""A course over days and years: what is given when, what is bought when, and what it costs."""
