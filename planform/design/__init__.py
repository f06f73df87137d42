"""The files as frozen models: notation, units, every check of what a person wrote."""
