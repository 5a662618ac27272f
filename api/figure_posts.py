from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.finite_number import FiniteNumber
from api.panels import OfRevision, PanelEndpoint
from api.place_on_page import FootField
from api.underlays import MOST_GUIDES, Metres
from board.access import access_panel, may_work_on
from board.actions.figure_posts import set_figure_posts


class KeptPost(Body):
    """As tall as a character, whatever the cast says later; or as tall as is given here."""

    foot = FootField(help_text="Where it stands, on the picture named; below the frame where that cuts it off.")
    character = serializers.IntegerField(required=False, min_value=1)
    height_m = Metres(required=False)
    heads = FiniteNumber(required=False, min_value=1, max_value=20)
    name = serializers.CharField(required=False, max_length=60)


class PostsBody(OfRevision):
    posts: serializers.ListSerializer = serializers.ListSerializer(child=KeptPost(), max_length=MOST_GUIDES)
    eye_height_m = Metres(required=False, allow_null=True, help_text="The viewer's eye over the floor, where it is known.")


class FigurePosts(PanelEndpoint):
    """The figure posts that stand in a panel: all of them at once. They go along to later revisions and into underlays."""

    reach = access_panel
    needs = {"PUT": may_work_on}
    bodies = {"PUT": PostsBody}
    versioned = ("PUT",)

    def put(self, request: Request, pk: int) -> Response:
        version, body = self.version_named(), self.read_body()
        posts = [dict(post) for post in body["posts"]]
        eye_height = body.get("eye_height_m")
        return self.answer(set_figure_posts(
            seat=self.seat, panel=self.row, posts=posts, eye_height=eye_height, expected_version=version,
            revision=self.revision_named(body.get("revision")),
        ))
