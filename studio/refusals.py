"""Values that cannot be used, said by the rule they break and by what was given."""

from typing import ClassVar


class RuleError(ValueError):
    """A typed value that cannot be used: `rule` is the sentence it breaks, `value` what was given."""

    longest_shown: ClassVar[int] = 40

    def __init__(self, rule: str, value: object) -> None:
        self.rule = rule
        self.value = value
        given = str(value).strip()
        given = given if len(given) <= self.longest_shown else given[: self.longest_shown] + "…"
        super().__init__(f"{rule} Given: {given or 'nothing'}.")


class FieldRuleError(ValueError):
    """One of several values that cannot be used: the field, the rule it breaks and the value that was given."""

    def __init__(self, field: str, rule: str, value: object) -> None:
        super().__init__(field, rule, value)
        self.field = field
        self.rule = rule
        self.value = value

    def __str__(self) -> str:
        return f"{self.field} {self.rule} (got {self.value})"
