"""A rigging card: one printed side for a joint, and the same as a page at the bench."""
