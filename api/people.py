from django.contrib.auth import get_user_model
from rest_framework import serializers


class PersonSerializer(serializers.ModelSerializer):
    name = serializers.SerializerMethodField()

    class Meta:
        model = get_user_model()
        fields = ["id", "username", "name"]

    def get_name(self, user) -> str:
        return user.get_full_name() or user.get_username()
