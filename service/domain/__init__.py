"""The job itself: quantities, names, doses, costs and warnings. Knows nothing of HTTP, JSON or files."""
