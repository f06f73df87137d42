"""Verdicts in words: the push over uneven ground, and what to measure next."""
