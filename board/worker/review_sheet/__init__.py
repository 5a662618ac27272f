"""A board on paper: what its member may see, gathered, set and drawn into a PDF."""
