"""JSON as it is taken: no deeper than what the API asks for. Deeper, it would break whatever goes through it in its own depth."""

from collections.abc import Iterable
from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser

MOST_LEVELS = 32
TOO_DEEP = f"This JSON is nested deeper than the {MOST_LEVELS} levels that are taken here."


class JsonBody(JSONParser):
    def parse(self, *arguments: Any, **options: Any) -> Any:
        try:
            data = super().parse(*arguments, **options)
        except RecursionError as error:
            raise ParseError(TOO_DEEP) from error
        if levels_are_more_than(MOST_LEVELS, data):
            raise ParseError(TOO_DEEP)
        return data


def levels_are_more_than(most: int, data: Any) -> bool:
    level = [data]
    for _ in range(most + 1):
        level = [inner for one in level if isinstance(one, (dict, list)) for inner in _inside(one)]
        if not level:
            return False
    return True


def _inside(one: dict | list) -> Iterable[Any]:
    return one.values() if isinstance(one, dict) else one
