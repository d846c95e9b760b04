"""What the command says."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

from studio.management.commands import restore as command

pytestmark = pytest.mark.sqlite


def test_json_says_what_the_help_says_it_does(backed_up, empty):
    out = io.StringIO()
    call_command("restore", str(backed_up), "--json", stdout=out)
    told = json.loads(out.getvalue())
    assert (told["on_hand"], told["made_at"], told["migrated"]) == (128, "2026-06-01T12:00:00+00:00", [])
    for key in told:
        assert key in command.Command.help


def test_in_sentences_it_says_what_there_is_now(backed_up, empty):
    out = io.StringIO()
    call_command("restore", str(backed_up), stdout=out)
    assert out.getvalue().startswith("Restored the backup of 2026-06-01 12:00 UTC: ")
    assert "128 on hand" in out.getvalue()


def test_a_refusal_is_the_commands_answer(backed_up, other):
    with pytest.raises(CommandError, match="There is a studio already"):
        call_command("restore", str(backed_up))
