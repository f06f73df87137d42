"""Before a hole is drilled: named points, targets at a joint, and as built against as drawn."""
