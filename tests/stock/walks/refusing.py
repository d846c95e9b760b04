"""A block that must be refused, or must not."""

from typing import Any

from django.db import transaction


class Refusing:
    """Holds that what is in the block is refused exactly when it must be."""

    def __init__(self, refusal: type[Exception], must: bool) -> None:
        self.refusal, self.must = refusal, must

    def __enter__(self) -> None:
        self.block = transaction.atomic()
        self.block.__enter__()

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: Any) -> bool:
        self.block.__exit__(kind, error, trace)
        refused = error is not None and isinstance(error, self.refusal)
        if error is not None and not refused:
            return False
        if refused != self.must:
            raise AssertionError(f"{'refused' if refused else 'not refused'}: {error}")
        return refused
