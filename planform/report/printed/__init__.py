"""Answers as printed documents: PDF pages of headings, tables, lines, drawings and blanks."""
