"""Readings adjusted: least squares, wrong readings, rigid fits, hanging tapes and strings."""
