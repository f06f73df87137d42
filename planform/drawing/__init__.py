"""Drawings as data, the views they are made of, and their writers."""
