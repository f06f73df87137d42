"""Templates in true size, tiled over pages of the reader's paper."""
