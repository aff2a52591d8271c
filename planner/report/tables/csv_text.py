"""A run table as CSV text, after RFC 4180."""

import csv
import io

from planner.report.tables.runs import RunTable


def csv_text(table: RunTable) -> str:
    """Commas, CRLF after every row, quotes where a cell needs them."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(table.headings)
    writer.writerows(table.rows)
    return text.getvalue()
