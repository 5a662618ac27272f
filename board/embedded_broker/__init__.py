"""The broker of a machine with nothing installed: a Valkey server on a socket of our own, speaking Redis' language."""
