"""From a wrap-up on a phone to the next estimate: hours, kit, how it went, what it earned, and what is pinned."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.db import DatabaseError, transaction
from django.urls import reverse

from bookings import actions
from bookings.actions import Counted, KitBack, Told
from bookings.actions import kit as kit_actions
from bookings.models import Booking, JobEarnings, WrapUp, WrapUpFigure
from bookings.queries import booking_estimate, wrap_up_page
from bookings.queries.expected import expected_of
from bookings.queries.how_it_went import coverage, coverage_sentence, money_picture
from bookings.queries.learning import learning_groups, setting_story
from bookings.queries.seen import seen
from estimating.models import Pin, Rates
from stock.models import Kit, KitMovement, KitPromise
from tests.factories import NOON, TODAY, BookingFactory, KitFactory, MovementFactory

pytestmark = pytest.mark.django_db


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def hours_of(booking, **changed):
    expected = expected_of(booking, currency="USD")
    assert expected is not None
    return expected.minutes | changed


@pytest.fixture
def loaded(owner, priced, issue, say_yes):
    """A booked job with a garland, all of it taken off the shelf."""
    quote = issue(priced)
    say_yes(quote)
    for line in quote.materials.all():
        MovementFactory(item=line.item, quantity=500)
    actions.tick_rest(booking=priced, by=owner, at=NOON)
    actions.issue_materials(booking=priced, by=owner, at=NOON)
    return Booking.objects.select_related("client").get(pk=priced.pk)


def wrap_up(booking, owner, *, more=None, **told):
    """Counted as was likely, but for `more` of a size used out of what was spare."""
    counted = {}
    for row in wrap_up_page(booking).rows:
        extra = min((more or {}).get(row.item.size, 0), row.home)
        counted[row.item.pk] = Counted(row.used + extra, 0, row.home - extra)
    told = {"hours": hours_of(booking), "timed": True} | told
    return actions.wrap_up(booking=booking, counted=counted, told=Told(**told), by=owner, at=NOON)


def figure(what, **by):
    return WrapUpFigure.objects.get(what=what, **by)


def test_every_figure_is_kept_beside_what_was_expected_of_it(loaded, owner):
    wrap_up(loaded, owner, more={11: 2}, hours=hours_of(loaded, hang=120))
    eleven, hang = figure("balloons", kind="garland", size=11), figure("minutes", part="hang")
    assert (eleven.reckoned, eleven.expected, eleven.came) == (20, 20, 22)
    assert (hang.reckoned, hang.expected, hang.came, hang.is_within) == (45, 45, 120, False)
    assert figure("job-minutes").came == sum(one.came for one in WrapUpFigure.objects.filter(what="minutes"))
    assert figure("job-balloons").came == 34
    assert {one.size for one in WrapUpFigure.objects.filter(what="pops")} == {5, 11}


def test_the_next_estimate_has_changed_and_says_why(loaded, owner, add_garland):
    following = BookingFactory(event_on=TODAY + dt.timedelta(days=60), created_by=owner)
    add_garland(following)
    before = booking_estimate(following, currency="USD")
    wrap_up(loaded, owner, more={11: 2}, hours=hours_of(loaded, hang=180))
    after = booking_estimate(following, currency="USD")
    assert before is not None and after is not None
    assert (before.learned, before.reckoned.person_minutes) == ((), after.reckoned.person_minutes)
    assert after.person_minutes > before.person_minutes
    assert [line.needed for line in after.lines] == [line.needed for line in before.lines]
    assert after.learned == (
        "Reckoned from 1 job like it: as the layout says.",
        "Reckoned from 1 job: 18 % more time to set up and hang than your rates say.",
    )


def test_the_owner_reads_why_on_the_job_and_crew_do_not(owner_client, crew_client, loaded, owner, add_garland):
    following = BookingFactory(event_on=TODAY + dt.timedelta(days=60), created_by=owner)
    add_garland(following)
    wrap_up(loaded, owner, hours=hours_of(loaded, hang=180))
    page = reverse("bookings:detail", args=[following.pk])
    assert "18 % more time to set up and hang than your rates say." in text_of(owner_client.get(page))
    assert crew_client.get(page).status_code == 200


def test_hours_nobody_kept_are_written_down_and_teach_nothing(loaded, owner):
    wrap_up(loaded, owner, hours=hours_of(loaded, hang=180), timed=False)
    assert figure("minutes", part="hang").came == 180
    assert seen().lessons.minutes == ()
    assert [one.name for one in coverage() if "Hours" in one.name] == []


def test_hours_reckoned_by_another_pace_say_nothing_of_this_one(loaded, owner):
    wrap_up(loaded, owner, hours=hours_of(loaded, hang=180))
    rates = Rates.objects.current()
    rates.seconds_per_attachment = 400
    rates.save()
    story = setting_story("minutes-hang")
    assert story is not None
    assert (story.setting.jobs, len(story.figures)) == (0, 1)


def test_a_cancelled_job_leaves_no_figures(loaded, owner):
    actions.cancel_booking(booking=loaded, why="", by=owner, at=NOON)
    loaded.refresh_from_db()
    counted = {row.item.pk: Counted(0, 0, row.taken) for row in wrap_up_page(loaded).rows}
    actions.wrap_up(booking=loaded, counted=counted, by=owner, at=NOON)
    assert (WrapUpFigure.objects.count(), JobEarnings.objects.count()) == (0, 0)


def test_what_it_earned_is_what_was_agreed_less_what_it_really_took(loaded, owner):
    wrap_up(loaded, owner, hours={"make": 60, "hang": 60, "strike": 30})
    earned = JobEarnings.objects.get()
    quote = loaded.quotes.get()
    assert (earned.price_minor, earned.minutes, earned.work_minor) == (quote.price_minor, 150, 6250)
    assert earned.other_minor == round((earned.materials_minor + earned.work_minor) * 0.15)
    assert earned.left_minor == earned.price_minor - earned.materials_minor - earned.other_minor - 6250
    assert earned.hourly_minor == round((earned.left_minor + 6250) * 60 / 150)


def test_what_came_home_costs_the_job_nothing(loaded, owner):
    counted = {row.item.pk: Counted(0, 0, row.taken) for row in wrap_up_page(loaded).rows}
    actions.wrap_up(booking=loaded, counted=counted, told=Told(hours=hours_of(loaded)), by=owner, at=NOON)
    assert JobEarnings.objects.get().materials_minor == 0


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        pytest.param({"make": 0}, r"The hours must be above 0 in all \(got 0:00\)", id="none at all"),
        pytest.param({"make": 400 * 60}, r"must take from 0 to 200 hours \(got 400.00\)", id="four hundred"),
        pytest.param({"make": -5}, "must take from 0 to 200 hours", id="backwards"),
        pytest.param({"sleep": 30}, "sleep must take", id="no part of a job"),
    ],
)
def test_hours_that_cannot_be_are_refused_and_nothing_is_written(loaded, owner, hours, said):
    with pytest.raises(actions.WrapUpRefused, match=said):
        wrap_up(loaded, owner, hours=hours)
    assert (WrapUp.objects.count(), WrapUpFigure.objects.count()) == (0, 0)


def test_kit_comes_back_with_the_job_broken_as_it_may_be(loaded, owner):
    frame, stand = KitFactory(name="Arch frame", owned=2), KitFactory(name="Stand", owned=1)
    for kit, quantity in ((frame, 2), (stand, 1)):
        take_out(loaded, kit, quantity, owner)
    out = {promise.kit.name: promise.pk for promise in KitPromise.objects.out().select_related("kit")}
    wrap_up(loaded, owner, kit={out["Arch frame"]: KitBack(1, 0, "A foot is bent"), out["Stand"]: KitBack()})
    assert not KitPromise.objects.out().exists()
    assert KitPromise.objects.get(kit=frame).damage == "A foot is bent"
    assert KitMovement.objects.get(kit=frame, kind="broken").quantity == -1


def take_out(booking, kit: Kit, quantity, owner):
    """Promised to the job and taken out."""
    out, back = TODAY, TODAY + dt.timedelta(days=30)
    kit_actions.promise_kit(booking=booking, kit=kit, quantity=quantity, out_on=out, back_on=back, by=owner, at=NOON)
    kit_actions.load_kit(booking=booking, by=owner, at=NOON)


def test_what_the_client_says_of_how_they_found_the_studio_is_kept_once(loaded, owner):
    wrap_up(loaded, owner, found_us="A fair")
    loaded.client.refresh_from_db()
    assert loaded.client.found_us == "A fair"
    (group,) = money_picture("USD", today=TODAY).by_source
    assert (group.name, group.jobs) == ("A fair", 1)


def test_figures_and_earnings_are_written_once(loaded, owner):
    wrap_up(loaded, owner)
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        WrapUpFigure.objects.update(came=1)
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        JobEarnings.objects.update(price_minor=1)


def form_of(browser, booking, **changed):
    """The form as it is shown, filled in, with what is changed."""
    form = browser.get(reverse("bookings:wrap-up", args=[booking.pk])).context["form"]
    shown = {name: form[name].value() for name in form.fields if name != "untimed"}
    sent = {name: "on" if value is True else str(value if value is not None else "") for name, value in shown.items()}
    return sent | {"form_key": str(uuid4())} | changed


def test_a_normal_job_is_wrapped_up_with_one_tap(crew_client, loaded):
    page = reverse("bookings:wrap-up", args=[loaded.pk])
    answer = crew_client.post(page, form_of(crew_client, loaded), follow=True)
    assert "is wrapped up" in text_of(answer)
    assert (WrapUp.objects.get().went, WrapUp.objects.get().timed) == ("well", True)
    assert all(one.came == one.expected for one in WrapUpFigure.objects.filter(what="minutes"))


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        pytest.param("2:45", 165, id="a clock"),
        pytest.param("2.75", 165, id="hours"),
        pytest.param("2,75", 165, id="with a comma"),
        pytest.param("2 h 45", 165, id="in words"),
        pytest.param("45 min", 45, id="minutes"),
        pytest.param("12", 720, id="a few hours"),
        pytest.param("45 h", 2700, id="many hours that are meant"),
        pytest.param("", 45, id="left empty"),
    ],
)
def test_hours_are_typed_as_people_write_them(crew_client, loaded, typed, minutes):
    crew_client.post(
        reverse("bookings:wrap-up", args=[loaded.pk]), form_of(crew_client, loaded, hours_hang=typed, note="Late start")
    )
    assert figure("minutes", part="hang").came == minutes
    assert WrapUp.objects.get().note == "Late start"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param(
            {"hours_hang": "400 h"},
            "Set up and hang must be a time from 0:00 to 200 hours, such as 2:45 (got “400 h”).",
            id="four hundred hours",
        ),
        pytest.param(
            {"hours_hang": "45"},
            "Set up and hang must be a time such as 2:45: write 45 min or 45 h (got “45”).",
            id="minutes or hours",
        ),
        pytest.param({"hours_hang": "soon"}, "such as 2:45 (got “soon”)", id="a word"),
        pytest.param(
            {"hours_make": "0", "hours_hang": "0", "hours_strike": "0"},
            "The hours must be above 0 in all (got 0:00).",
            id="no hours",
        ),
    ],
)
def test_hours_that_cannot_be_are_told_by_name_and_kept(crew_client, loaded, changed, said):
    answer = crew_client.post(reverse("bookings:wrap-up", args=[loaded.pk]), form_of(crew_client, loaded, **changed))
    assert answer.status_code == 422
    assert said in text_of(answer)
    assert f'value="{changed["hours_hang"]}"' in answer.content.decode()
    assert not WrapUp.objects.exists()


def test_a_job_that_did_not_pay_says_so_with_a_true_minus(owner_client, loaded, owner):
    wrap_up(loaded, owner, hours={"make": 6000, "hang": 6000, "strike": 30})
    assert JobEarnings.objects.get().left_minor < 0
    shown = text_of(owner_client.get(reverse("bookings:wrap-up", args=[loaded.pk]), follow=True))
    assert re.search(r"Left for the studio −\$[\d,.]+", shown)
    assert "-$" not in shown


def test_crew_never_read_what_a_job_earned(owner_client, crew_client, loaded, owner):
    wrap_up(loaded, owner)
    page = reverse("bookings:wrap-up", args=[loaded.pk])
    assert "What it earned" in text_of(owner_client.get(page))
    assert "What it earned" not in text_of(crew_client.get(page))
    assert crew_client.get(reverse("bookings:how-it-went")).status_code == 403


def test_few_figures_are_said_to_be_too_few(owner_client, loaded, owner):
    assert coverage_sentence([]) == "No job has been wrapped up with figures yet."
    wrap_up(loaded, owner)
    page = text_of(owner_client.get(reverse("bookings:how-it-went")))
    assert "9 of 9 figures came out within their range: too few to judge the estimates by." in page
    assert "1 job: too few to tell one kind or month from another." in page
    assert "Garland, 11-inch 1 20 20 as expected" in page


def test_the_pages_ask_as_little_however_many_jobs_there_were(
    owner_client, loaded, owner, django_assert_max_num_queries
):
    made = wrap_up(loaded, owner)
    for name in ("how-it-went", "learning"):
        with django_assert_max_num_queries(20):
            owner_client.get(reverse(f"bookings:{name}"))
    for _ in range(5):
        other = WrapUp.objects.create(booking=BookingFactory(), at=NOON, by=owner, outdoors=False, timed=True)
        WrapUpFigure.objects.bulk_create(
            [
                WrapUpFigure(
                    wrap_up=other, what=one.what, kind=one.kind, size=one.size, part=one.part, pace=one.pace,
                    reckoned=one.reckoned, expected=one.expected, low=one.low, high=one.high, came=one.came,
                )
                for one in made.figures.all()
            ]
        )  # fmt: skip
    for name in ("how-it-went", "learning"):
        with django_assert_max_num_queries(20):
            owner_client.get(reverse(f"bookings:{name}"))


def test_a_setting_is_pinned_and_says_by_whom(owner_client, owner, loaded):
    address = reverse("bookings:learning-setting", args=["balloons-garland-11"])
    answer = owner_client.post(address, {"percent": "25", "form_key": str(uuid4())}, follow=True)
    assert "25 % more, by Ana on" in text_of(answer)
    assert seen().lessons.balloons_of("garland", 11, 400).used == 1.25
    gone = owner_client.post(
        reverse("bookings:learning-unpin", args=["balloons-garland-11"]), {"form_key": str(uuid4())}
    )
    assert (gone.status_code, Pin.objects.count()) == (302, 0)


@pytest.mark.parametrize(
    ("setting", "typed", "said"),
    [
        pytest.param("minutes-make", "-95", "must be a number from -90 to 400", id="hardly any time"),
        pytest.param("minutes-make", "much", "(got “much”)", id="a word"),
        pytest.param("minutes-make", "", "Per cent more than reckoned is needed", id="nothing"),
        pytest.param("pops-in-11", "51", "must be a number from 0 to 50", id="half of them pop"),
        pytest.param("pops-in-11", "1e9", "(got “1e9”)", id="a number nobody types"),
    ],
)
def test_a_pin_that_makes_no_sense_is_refused(owner_client, setting, typed, said):
    answer = owner_client.post(
        reverse("bookings:learning-setting", args=[setting]), {"percent": typed, "form_key": str(uuid4())}
    )
    assert answer.status_code == 422
    assert said in text_of(answer)
    assert not Pin.objects.exists()


@pytest.mark.parametrize("setting", ["minutes-sleep", "balloons-castle-11", "pops-in-7", "own-make", "minutes-own"])
def test_what_is_no_setting_is_not_found(owner_client, setting):
    assert owner_client.get(reverse("bookings:learning-setting", args=[setting])).status_code == 404


def test_settings_jobs_have_not_taught_stand_as_they_began(db):
    hours, balloons, pops = learning_groups()
    assert [one.title for one in hours.settings] == ["Inflate and assemble", "On the way", "Set up and hang", "Strike"]
    assert {one.used_words for one in hours.settings} == {"as your rates say"}
    assert balloons.settings == ()
    assert [one.learned_words for one in pops.settings] == ["3\u00a0%", "3\u00a0%", "8\u00a0%", "8\u00a0%"]
