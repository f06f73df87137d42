"""Pages of paper as data: marks in millimetres, dimensions, frames and title blocks."""
