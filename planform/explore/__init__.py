"""What-if: a page served on this machine, through which values are moved."""
