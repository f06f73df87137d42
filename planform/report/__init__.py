"""Answers for a reader: words, tables, records, pages, folders."""
