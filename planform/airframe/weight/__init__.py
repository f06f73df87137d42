"""What an aircraft weighs: weighed, recorded or by its mass items, and at a stage."""
