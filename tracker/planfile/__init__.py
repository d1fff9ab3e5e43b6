"""The plan as a text file (TOML): reading with all problems listed, writing, merging into what is stored."""
