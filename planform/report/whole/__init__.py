"""The report: everything about one design in one place, on one page."""
