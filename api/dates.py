"""Days and moments that people set. Far beyond any comic, adding some days to one would break."""

from datetime import date

from rest_framework import serializers

FIRST_YEAR, LAST_YEAR = 1900, 2999


def is_of_our_time(value: date) -> None:
    """Raises ValidationError; a moment is a date too."""
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise serializers.ValidationError(f"The year has to lie between {FIRST_YEAR} and {LAST_YEAR}.")


class DayField(serializers.DateField):
    default_validators = [is_of_our_time]


class MomentField(serializers.DateTimeField):
    default_validators = [is_of_our_time]
