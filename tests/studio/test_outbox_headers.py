"""Whatever is typed: one address, one line a header, and the words as they were."""

from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.policy import compat32, default

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from studio.mail_server import MailServerError, server_from
from studio.outbox.addresses import AddressRefused, check_address, one_line
from studio.outbox.message import MOST_IN_NAME, MOST_IN_SUBJECT, Envelope, Paragraph, compose, paragraphs
from tests.factories import NOON

HEADERS = ["From", "To", "Reply-To", "Subject", "Date", "Message-ID", "MIME-Version", "Content-Type"]
# What is looked for is a wrong letter; how long a case takes on a busy machine is not.
unhurried = settings(deadline=None)


def arrived(*, subject: str = "S", name: str = "N", text: str = "Hello") -> EmailMessage:
    envelope = Envelope(name, "a@x.example", name, "b@y.example", "c@z.example", subject, "<1@x.example>", NOON)
    found = message_from_bytes(compose(envelope, text=text, html="<p>x</p>"), policy=default)
    assert isinstance(found, EmailMessage)
    return found


ATTACKS = [
    pytest.param("Gala\r\nBcc: all@evil.example", id="CR-LF"),
    pytest.param("Gala\nBcc: all@evil.example", id="LF"),
    pytest.param("Gala\rBcc: all@evil.example", id="CR"),
    pytest.param("Gala\u2028Bcc: all@evil.example", id="line-separator"),
    pytest.param("Gala\u2029Bcc: all@evil.example", id="paragraph-separator"),
    pytest.param("Gala\x85Bcc: all@evil.example", id="next-line"),
    pytest.param("Gala\x0b\x0c\x1c\x1d\x1eBcc: all@evil.example", id="other-breaks"),
    pytest.param("Gala\x00Bcc: all@evil.example", id="nul"),
    pytest.param("=?utf-8?q?Gala=0ABcc:_all@evil.example?=", id="an-encoded-word"),
    pytest.param("Gala\u202elpmaxe", id="turned-round"),
    pytest.param("G" * 10_000, id="ten-kilobytes"),
    pytest.param("é\r\nTo: x@evil.example " * 1_000, id="ten-kilobytes-of-breaks"),
    pytest.param("\ud800", id="half-a-pair"),
    pytest.param("Ines <x@evil.example>, Bo", id="a-second-recipient"),
    pytest.param('"; <x@evil.example>', id="a-quote-mark"),
]


@pytest.mark.parametrize("typed", ATTACKS)
def test_nothing_typed_adds_a_header_or_a_recipient(typed):
    found = arrived(subject=typed, name=typed)
    assert found.keys() == HEADERS
    for name, address in (("From", "a@x.example"), ("To", "b@y.example"), ("Reply-To", "c@z.example")):
        assert [one.addr_spec for one in found[name].addresses] == [address], name
    assert found["Bcc"] is None


@unhurried
@given(st.text(max_size=300))
@example("a" * 59 + "é\r\n x")
@example("=?utf-8?b?w6k=?= " * 12)
@example("ä" * 200)
def test_any_subject_arrives_as_one_line_or_empty(typed):
    found = arrived(subject=typed)
    said = str(found["Subject"])
    assert found.keys() == HEADERS
    assert not any(sign in said for sign in "\r\n\u2028\u2029\x85\x0b\x0c")
    assert len(said) <= MOST_IN_SUBJECT


@unhurried
@given(st.text(alphabet=st.characters(codec="utf-8", categories=["L", "N"]), min_size=1, max_size=MOST_IN_NAME))
def test_a_name_of_any_letters_arrives_as_it_is(name):
    envelope = Envelope("N", "a@x.example", name, "b@y.example", "", "S", "<1@x.example>", NOON)
    written = message_from_bytes(compose(envelope, text="x", html="x"), policy=compat32)["To"]
    said = str(make_header(decode_header(written.partition("<")[0].strip()))).strip('"')
    assert said == one_line(name, MOST_IN_NAME)


@unhurried
@given(st.text(alphabet=st.characters(codec="utf-8", exclude_characters="\r\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029")))
def test_any_words_arrive_as_they_were(text):
    body = arrived(text=text).get_body(("plain",))
    assert body is not None
    assert str(body.get_content()).replace("\r\n", "\n").rstrip("\n") == text.rstrip("\n")


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        pytest.param("ines@example.org", "ines@example.org", id="plain"),
        pytest.param(" ines@example.org ", "ines@example.org", id="spaces-around"),
        pytest.param("Ines.O'Hara+gala@Example.ORG", "Ines.O'Hara+gala@example.org", id="signs-that-are-allowed"),
        pytest.param("ines@bücher.example", "ines@xn--bcher-kva.example", id="a-domain-of-other-letters"),
        pytest.param("ines@例え.example", "ines@xn--r8jz45g.example", id="a-domain-of-other-script"),
        pytest.param(f"{'a' * 64}@example.org", f"{'a' * 64}@example.org", id="longest-before-the-at"),
    ],
)
def test_an_address_is_kept_as_servers_read_it(typed, plain):
    assert check_address(typed) == plain


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("", id="nothing"),
        pytest.param("ines", id="no-at"),
        pytest.param("ines@", id="no-domain"),
        pytest.param("@example.org", id="nobody"),
        pytest.param("ines@localhost", id="no-dot"),
        pytest.param("ines@10.0.0.1", id="numbers"),
        pytest.param("ines@example.org, bo@example.org", id="two-with-a-comma"),
        pytest.param("ines@example.org;bo@example.org", id="two-with-a-semicolon"),
        pytest.param("ines@example.org bo@example.org", id="two-with-a-space"),
        pytest.param("ines@example.org\r\nBcc: bo@example.org", id="CR-LF"),
        pytest.param("ines@example.org\nRCPT TO:<bo@example.org>", id="LF"),
        pytest.param("ines@example.org\u2028", id="line-separator"),
        pytest.param("ines@example.org\x00", id="nul"),
        pytest.param("<ines@example.org>", id="brackets"),
        pytest.param('"ines vale"@example.org', id="quoted"),
        pytest.param("inés@example.org", id="other-letters-before-the-at"),
        pytest.param("ines@straße.example", id="read-in-two-ways"),
        pytest.param("ines..vale@example.org", id="two-dots"),
        pytest.param("ines@-example.org", id="a-hyphen-first"),
        pytest.param("ines@example..org", id="empty-label"),
        pytest.param(f"{'a' * 65}@example.org", id="too-long-before-the-at"),
        pytest.param(f"ines@{'a' * 64}.org", id="too-long-a-label"),
        pytest.param(f"ines@{'abcdefgh.' * 30}org", id="too-long"),
        pytest.param("a" * 10_000 + "@example.org", id="ten-kilobytes"),
        pytest.param("ines@" + "ü" * 10_000, id="ten-kilobytes-of-other-letters"),
        pytest.param("ines@exam\ud800ple.org", id="half-a-pair"),
    ],
)
def test_what_is_no_one_address_is_refused_in_a_sentence(typed):
    with pytest.raises(AddressRefused, match=r"^E-mail must be .* \(got “.*”\)\.$") as refusal:
        check_address(typed)
    assert len(str(refusal.value)) < 200


@unhurried
@given(st.text(max_size=80))
def test_an_address_that_is_let_through_is_one_plain_word(typed):
    try:
        address = check_address(typed)
    except AddressRefused:
        return
    assert address.isascii()
    assert address.count("@") == 1
    assert not any(sign.isspace() or sign in ',;<>"()' or ord(sign) < 33 for sign in address)


def test_a_link_that_stands_alone_is_a_button_and_others_are_words():
    link = "https://g.example/q/1/"
    assert paragraphs(f"Hello\nthere\r\n\r\n{link}\n\n\nsee {link}", link) == [
        Paragraph(("Hello", "there")),
        Paragraph((), is_link=True),
        Paragraph((f"see {link}",)),
    ]


SERVER = {"GARLANDRY_SMTP_HOST": "mail.example", "GARLANDRY_SMTP_USER": "studio@example.org"}


@pytest.mark.parametrize(
    ("given", "port"),
    [
        pytest.param({}, 587, id="starttls-unless-said"),
        pytest.param({"GARLANDRY_SMTP_TLS": "tls"}, 465, id="tls"),
        pytest.param({"GARLANDRY_SMTP_TLS": "none", "GARLANDRY_SMTP_PORT": "2525"}, 2525, id="a-port-of-its-own"),
    ],
)
def test_a_server_is_read_from_the_environment(given, port):
    server = server_from(SERVER | {"GARLANDRY_SMTP_PASSWORD": ""} | given)
    assert server is not None
    assert (server.host, server.port, server.sender) == ("mail.example", port, "studio@example.org")


def test_without_a_host_there_is_no_server():
    assert server_from({"GARLANDRY_SMTP_USER": "studio@example.org"}) is None


@pytest.mark.parametrize(
    ("given", "named"),
    [
        pytest.param({"GARLANDRY_SMTP_TLS": "yes"}, "GARLANDRY_SMTP_TLS must be", id="no-such-way"),
        pytest.param({"GARLANDRY_SMTP_PORT": "0"}, "GARLANDRY_SMTP_PORT must be", id="port-0"),
        pytest.param({"GARLANDRY_SMTP_PORT": "smtp"}, "GARLANDRY_SMTP_PORT must be", id="a-word-for-a-port"),
        pytest.param({"GARLANDRY_SMTP_USER": "studio"}, "GARLANDRY_SMTP_FROM must be", id="no-address-to-be-from"),
        pytest.param({"GARLANDRY_SMTP_FROM": "a@b.example\nc"}, "GARLANDRY_SMTP_FROM must be", id="a-line-break"),
        pytest.param(
            {"GARLANDRY_SMTP_TLS": "none", "GARLANDRY_SMTP_PASSWORD": "x"},
            "would be readable",
            id="password-in-the-open",
        ),
    ],
)
def test_an_environment_that_describes_no_server_is_refused_by_name(given, named):
    with pytest.raises(MailServerError, match=named):
        server_from(SERVER | given)


def test_a_server_shown_anywhere_shows_no_password():
    assert "hush" not in repr(server_from(SERVER | {"GARLANDRY_SMTP_PASSWORD": "hush"}))
