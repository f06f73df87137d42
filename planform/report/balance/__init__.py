"""The balance: its tables and its page."""
