from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpResponse

from board.slow_guessing import SlowedForm


class SignIn(LoginView):
    template_name = "board/sign_in.html"
    authentication_form = SlowedForm
    redirect_authenticated_user = True

    def form_invalid(self, form: AuthenticationForm) -> HttpResponse:
        response = super().form_invalid(form)
        if isinstance(form, SlowedForm) and form.too_many:
            response.status_code, response["Retry-After"] = form.too_many.status, str(form.too_many.wait)
        return response


class SignOut(LogoutView):
    """By POST only: a picture in somebody's note must not be able to sign people out."""

    http_method_names = ["post", "options"]
