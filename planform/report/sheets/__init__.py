"""The pages of the set of drawings, one module each."""
