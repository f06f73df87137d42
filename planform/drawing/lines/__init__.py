"""True line views of solids: hidden lines found exactly for their facets, joints, sections."""
