"""External checks: published numbers, equations and judgements, each with the source it came from."""
