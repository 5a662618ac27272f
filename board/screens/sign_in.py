from django.contrib.auth.views import LoginView, LogoutView


class SignIn(LoginView):
    template_name = "board/sign_in.html"
    redirect_authenticated_user = True


class SignOut(LogoutView):
    """By POST only: a picture in somebody's note must not be able to sign people out."""

    http_method_names = ["post", "options"]
