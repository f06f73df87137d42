"""A scan of the aircraft, laid on the built surface."""
