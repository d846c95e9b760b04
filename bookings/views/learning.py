"""What the estimates have learned, and pinning it."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings.forms.learning import PinForm
from bookings.queries.learning import SettingStory, learning_groups, setting_story
from estimating.actions import pin_setting, unpin_setting
from studio.access import StudioRequest, owner_only
from studio.once import answer_once


@owner_only
@require_safe
def learning(request: StudioRequest) -> HttpResponse:
    """Every setting that jobs teach."""
    groups = learning_groups()
    context = {
        "section": "studio",
        "groups": groups,
        "taught": any(one.jobs for group in groups for one in group.settings),
    }
    return render(request, "bookings/learning.html", context)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def setting(request: StudioRequest, setting: str) -> HttpResponse:
    """One setting: where it began, the jobs behind it, where it stands; pinned where the owner wants it."""
    story = _story(setting)
    initial = {"percent": story.setting.percent}
    form = PinForm(request.POST or None, is_chance=story.setting.is_chance, initial=initial)

    def act() -> str:
        pin_setting(setting=setting, value=form.value, by=request.user, at=timezone.now())
        messages.success(request, f"{story.setting.title} is pinned. Estimates use it from now on.")
        return reverse("bookings:learning-setting", args=[setting])

    if request.method == "POST" and form.is_valid():
        return answer_once(request, act)
    context = {"section": "studio", "story": story, "form": form}
    return render(request, "bookings/learning_setting.html", context, status=422 if form.errors else 200)


@owner_only
@require_POST
def unpin(request: StudioRequest, setting: str) -> HttpResponse:
    """Let jobs teach it again."""
    story = _story(setting)

    def act() -> str:
        if unpin_setting(setting=setting):
            messages.success(request, f"{story.setting.title} is taught by your jobs again.")
        return reverse("bookings:learning-setting", args=[setting])

    return answer_once(request, act)


def _story(key: str) -> SettingStory:
    story = setting_story(key)
    if story is None:
        raise Http404(f"No setting is called {key}.")
    return story
