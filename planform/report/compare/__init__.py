"""Options side by side: tables and page."""
