"""Where one of a few words is wanted, another one is refused with those that there are."""

from collections.abc import Iterable

from django import forms
from django.db.models import QuerySet
from django_filters.fields import BaseCSVField
from django_filters.rest_framework import DjangoFilterBackend, FilterSet
from rest_framework import serializers
from rest_framework.request import Request

BOOLEANS = ("true", "false")


def not_one_of(words: Iterable[object], wrong: str) -> str:
    return f"“{wrong}” is not one of {', '.join(str(word) for word in words)}."


def tell_choices(field: serializers.Field) -> None:
    """Of a body's field, or of what it lists."""
    field = getattr(field, "child", field)
    if isinstance(field, serializers.ChoiceField):
        field.error_messages["invalid_choice"] = not_one_of(field.choices, "{input}")


class StrictFilters(DjangoFilterBackend):
    """Refuses what the framework passes over: a filter without a value, and a truth that is neither true nor false."""

    def get_filterset(self, request: Request, queryset: QuerySet, view: object) -> FilterSet | None:
        filterset = super().get_filterset(request, queryset, view)
        for field in filterset.form.fields.values() if filterset else ():
            if isinstance(field, forms.ChoiceField) and not isinstance(field, forms.NullBooleanField):
                words = [word for word, _ in list(field.choices) if word]  # type: ignore[arg-type]  # it is read anew each time
                field.error_messages["invalid_choice"] = not_one_of(words, "%(value)s")
        return filterset

    def filter_queryset(self, request: Request, queryset: QuerySet, view: object) -> QuerySet:
        filterset = self.get_filterset(request, queryset, view)
        wrong = {}
        for name, field in filterset.form.fields.items() if filterset else ():
            sent = request.query_params.get(name)
            if sent is None:
                continue
            if not all(sent.split(",") if isinstance(field, BaseCSVField) else [sent]):
                wrong[name] = ["A value is missing. Leave the parameter out where nothing is asked of it."]
            elif isinstance(field, forms.NullBooleanField) and sent.lower() not in BOOLEANS:
                wrong[name] = [not_one_of(BOOLEANS, sent)]
        if wrong:
            raise serializers.ValidationError(wrong)
        return super().filter_queryset(request, queryset, view)
