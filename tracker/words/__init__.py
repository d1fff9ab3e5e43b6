"""The words people type: dates, codes, and the clauses that logging verbs share."""
