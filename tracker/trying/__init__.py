"""Try-outs: from words to the plan as it would be, with nothing stored."""
