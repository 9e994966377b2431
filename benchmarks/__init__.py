"""Benchmarks: ``python -m benchmarks`` prints ratios measured in one run; nothing here is a test."""
