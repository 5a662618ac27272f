"""What an underlay shows, and the files that carry it."""
