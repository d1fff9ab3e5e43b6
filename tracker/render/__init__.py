"""Views as terminal text, JSON or a workbook: wording and number formats only."""
