"""What was read of an aircraft as built, what explains it, and what it does."""
