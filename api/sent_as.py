"""What an endpoint takes, said to who sent it as something else."""

from collections.abc import Collection, Mapping

from rest_framework.fields import Field, FileField
from rest_framework.parsers import JSONParser, MultiPartParser


def how_to_send(fields: Mapping[str, Field], media_types: Collection[str], came: str) -> str:
    """`fields`: those of the body; `media_types`: those that are read; `came`: the Content-Type that was sent, or nothing."""
    files = " and ".join(f"“{name}”" for name, field in fields.items() if isinstance(field, FileField))
    ways = []
    if MultiPartParser.media_type in media_types:
        ways.append(f"the file as multipart/form-data, in the field {files}" if files else "a form, as multipart/form-data")
    if JSONParser.media_type in media_types:
        ways.append(f"{'without a file ' if files else ''}JSON, with the header Content-Type: application/json")
    return f"Send {'; or '.join(ways)}. This came as {f'“{came}”' if came else 'nothing that says what it is'}."
