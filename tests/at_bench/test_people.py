"""Who signs in at a bench: a PIN that cannot be guessed at, and one tablet a bench."""

from datetime import timedelta

import pytest
from django.utils.timezone import now

from planning.at_bench.people import PinError, add_packer, bench_of, here, leave_bench, set_pin, sign_in
from planning.models import Bench, Packer

pytestmark = pytest.mark.django_db


def test_a_pin_lets_in_and_is_kept_as_a_hash_alone() -> None:
    anna = add_packer("HERON", "Anna", "2580")
    assert "2580" not in anna.pin
    assert sign_in("HERON", anna.pk, "2580", "Bench 1", "key").packer == anna


@pytest.mark.parametrize("pin", ["", "123", "1111", "1234", "9876", "123456789", "12a4", "٢٥٨٠"])
def test_a_pin_that_is_tried_first_or_is_none_is_not_taken(pin: str) -> None:
    with pytest.raises(PinError):
        add_packer("HERON", "Anna", pin)


def test_guessing_takes_longer_and_longer_and_then_ends() -> None:
    anna = add_packer("HERON", "Anna", "2580")
    waits = {}
    for failures in (0, 2, 4, 9):
        Packer.objects.update(locked_until=None, failures=failures)
        with pytest.raises(PinError, match="not the PIN"):
            sign_in("HERON", anna.pk, "0258", "Bench 1", "key")
        until = Packer.objects.get().locked_until
        waits[failures + 1] = round((until - now()).total_seconds()) if until else 0
    assert waits == {1: 0, 3: 15, 5: 60, 10: 1920}
    Packer.objects.update(locked_until=None)
    with pytest.raises(PinError, match="set at the desk"):
        sign_in("HERON", anna.pk, "2580", "Bench 1", "key")
    set_pin(Packer.objects.get(), "8520")
    assert sign_in("HERON", anna.pk, "8520", "Bench 1", "key")


def test_while_one_waits_even_the_right_pin_is_not_tried() -> None:
    anna = add_packer("HERON", "Anna", "2580")
    Packer.objects.update(locked_until=now() + timedelta(seconds=9), failures=3)
    with pytest.raises(PinError, match="Wait 9 seconds"):
        sign_in("HERON", anna.pk, "2580", "Bench 1", "key")
    assert Packer.objects.get().failures == 3


def test_another_club_s_packer_is_nobody_here() -> None:
    anna = add_packer("HERON", "Anna", "2580")
    with pytest.raises(PinError, match="Choose your name"):
        sign_in("OAK", anna.pk, "2580", "Bench 1", "key")


def test_a_bench_is_one_tablet_until_that_leaves_or_is_not_heard_of() -> None:
    first = bench_of("HERON", " Bench  1 ", "a")
    with pytest.raises(PinError, match="Bench 1 is in use on another tablet"):
        bench_of("HERON", "Bench 1", "b")
    leave_bench(first.pk, "a")
    bench_of("HERON", "Bench 1", "b")
    Bench.objects.update(seen_at=now() - timedelta(hours=1))
    anna = add_packer("HERON", "Anna", "2580")
    bench_of("HERON", "Bench 1", "c")
    assert here("HERON", anna.pk, first.pk, "b") is None
    assert here("HERON", anna.pk, first.pk, "c")
