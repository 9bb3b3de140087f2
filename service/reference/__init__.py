"""Dataset releases: reading, verifying, indexing. The only place that touches dataset files."""
