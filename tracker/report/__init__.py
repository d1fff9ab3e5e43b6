"""One frozen view per question."""
