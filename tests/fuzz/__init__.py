"""Wrong and hostile text: every refusal is one of the family's errors, and nothing hangs."""
