"""A maker's own spreadsheet: finding its table, guessing its columns, drafting a plan from it."""
