"""What is told to be done with a pattern."""

from __future__ import annotations

import pytest

from drafting.cli.summary import print_next


@pytest.mark.parametrize("shop", ["", "2 sheets of A0"])
def test_a_sheet_for_a_copy_shop_is_taken_there(shop: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Pages are joined only by who prints at home."""
    print_next("pattern.pdf", "10 cm", "Wash it first.", shop)
    told = " ".join(capsys.readouterr().out.split())
    assert ("Take sheet.pdf to a copy shop" in told) is (shop != "")
    assert ("join it at the marks" in told) is (shop == "")
    assert shop in told
    assert "Wash it first." in told
