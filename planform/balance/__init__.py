"""Weighing, stages on their wheels, loading cases and their limits."""
