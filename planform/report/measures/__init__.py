"""The dimension sheet for hangar planning."""
