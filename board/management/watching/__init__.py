"""A folder whose exports are sent as new revisions, through the REST API alone: the server may be another machine."""
