"""The runs of a study as a table for spreadsheets and programs."""
