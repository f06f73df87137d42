"""Floats and arrays only (SI, radians): shapes, motion, flow, masses."""
