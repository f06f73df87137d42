"""Before a hole is drilled: named points, targets at a joint, and what was built against what was drawn."""
