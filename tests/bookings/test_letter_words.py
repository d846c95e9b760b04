"""The words of letters: a few named fields, exchanged once, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.forms.letters import WordsForm
from bookings.letters import BY_HAND, FIELDS, PURPOSES, example, fill, in_braces, missing_fields, refused_fields
from studio.outbox.message import MOST_IN_SUBJECT

EVERY_PURPOSE = [pytest.param(purpose, id=name) for name, purpose in PURPOSES.items()]
VALUES = {"client": "Ines", "total": "$5"}


@pytest.mark.parametrize(
    ("text", "filled"),
    [
        pytest.param("Hello {client}", "Hello Ines", id="a-field"),
        pytest.param("{client} and {client}", "Ines and Ines", id="twice"),
        pytest.param("{client.__class__}", "{client.__class__}", id="an-attribute"),
        pytest.param("{client!r}", "{client!r}", id="a-conversion"),
        pytest.param("{client:>9999999}", "{client:>9999999}", id="a-format"),
        pytest.param("{0}", "{0}", id="a-number"),
        pytest.param("{{client}}", "{Ines}", id="two-braces"),
        pytest.param("{% load x %}{{ settings.SECRET_KEY }}", "{% load x %}{{ settings.SECRET_KEY }}", id="a-template"),
        pytest.param("%(client)s $client", "%(client)s $client", id="other-ways"),
        pytest.param("a {", "a {", id="a-brace-alone"),
        pytest.param("{Client}", "{Client}", id="another-case"),
        pytest.param("a\n\n{total}\n\n\n\nb", "a\n\n$5\n\nb", id="no-gaps"),
    ],
)
def test_a_field_is_exchanged_and_everything_else_stays(text, filled):
    assert fill(text, VALUES) == filled


def test_what_a_field_stands_for_is_not_looked_through_for_fields():
    assert fill("{client}", {"client": "{total}", "total": "$5"}) == "{total}"


def test_what_somebody_typed_makes_no_link_of_ours():
    assert "{link}" not in fill("{question}", {"question": "what does {link} do?"})


@given(st.text(max_size=120))
def test_any_words_are_filled_without_a_fault(text):
    assert "Ines" in fill(text + "{client}", VALUES)


@pytest.mark.parametrize("purpose", EVERY_PURPOSE)
def test_the_first_words_hold_known_fields_and_the_ones_they_need(purpose):
    for text in (purpose.subject, purpose.text):
        assert refused_fields(text, purpose) == []
    assert missing_fields(purpose.text, purpose) == []
    assert set(purpose.fields) <= set(FIELDS)


@pytest.mark.parametrize("purpose", EVERY_PURPOSE)
def test_the_first_words_can_be_kept_as_they_are(purpose):
    form = WordsForm({"subject": purpose.subject, "text": purpose.text}, purpose=purpose.name)
    assert form.is_valid(), form.errors


@pytest.mark.parametrize("purpose", EVERY_PURPOSE)
def test_an_example_leaves_no_field_but_the_link(purpose):
    shown = example(purpose.text, "Tern & Tide") + example(purpose.subject, "Tern & Tide")
    assert "{" not in shown.replace("{link}", "")
    assert len(example(purpose.subject, "Tern & Tide")) <= MOST_IN_SUBJECT


def test_what_is_written_by_hand_goes_to_the_client():
    assert not any(PURPOSES[name].is_to_us for name in BY_HAND)


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        pytest.param("text", "Hi {cliant} {link}", "(got {cliant}).", id="an-unknown-field"),
        pytest.param("text", "{client.email} {link}", "(got {client.email}).", id="an-attribute"),
        pytest.param("text", "{} {link}", "(got {}).", id="an-empty-one"),
        pytest.param("text", "{due} {link}", "(got {due}).", id="a-field-of-another-letter"),
        pytest.param("text", "Hello", "Letter must hold {link}: it is of no use without.", id="without-its-link"),
        pytest.param("subject", "{link}", "Subject must be one line of words, without {link}.", id="a-link-above"),
        pytest.param("subject", "{wrong}", "Subject may hold {client}, {studio}", id="unknown-in-the-subject"),
        pytest.param("text", "", "Letter is needed.", id="nothing"),
        pytest.param("text", "x" * 4001, "at most 4000 characters", id="too-long"),
    ],
)
def test_words_that_would_not_work_are_refused_in_a_sentence(field, typed, said):
    given_words = {"subject": "Your quote", "text": "Here: {link}"} | {field: typed}
    form = WordsForm(given_words, purpose="quote")
    assert not form.is_valid()
    assert said in form.errors[field][0]


def test_a_refusal_names_every_field_there_is():
    form = WordsForm({"subject": "S", "text": "{x} {link}"}, purpose="quote")
    assert not form.is_valid()
    assert in_braces(PURPOSES["quote"].fields) in form.errors["text"][0]
