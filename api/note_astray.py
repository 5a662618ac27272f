from rest_framework import serializers

from board.models.astray import ASTRAY


class AstraySerializer(serializers.Serializer):
    """Why the note's panel is none of the page's current picture.

    `picture`: it was pinned on another one, from which none is carried to this one. `panel`: its panel was not found here.
    """

    why = serializers.ChoiceField(ASTRAY)
    revision = serializers.IntegerField(allow_null=True, help_text="The number of the one that it was pinned on.")
    alternate = serializers.CharField(allow_null=True, help_text="Of that one, where it is not the current one's.")
    is_withdrawn = serializers.BooleanField(help_text="Whether that one was.")
