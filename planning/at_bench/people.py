"""Who packs: people with a short PIN, and the bench whose tablet they sign in at.

A PIN is short, so it is guessed at slowly: the wait doubles with every wrong one, and after ten in a row it must be set
anew. The tablet itself is signed in like any other browser.
"""

import re
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

from django.contrib.auth.hashers import check_password, make_password
from django.db import IntegrityError
from django.db.transaction import atomic
from django.utils.timezone import now

from planning.models import Bench, Packer

FREE = 2  # wrong PINs in a row before one waits
MOST = 10  # wrong PINs in a row before it must be set anew
FIRST_WAIT = timedelta(seconds=15)
IN_USE = timedelta(minutes=15)  # a bench heard of since then is another tablet's
PIN = re.compile("[0-9]{4,8}")
LONGEST_NAME = 60


class PinError(ValueError):
    """Somebody is not let in, or a PIN or name is not taken; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Somebody at a bench."""

    packer: Packer
    bench: Bench


# --- Signing in ---


def sign_in(club: str, packer: int, pin: str, bench: str, key: str) -> SignedIn:
    """Let somebody in. key: what the tablet shows to be that bench. Raises PinError."""
    who = checked(club, packer, pin)
    return SignedIn(who, bench_of(club, bench, key))


def checked(club: str, packer: int, pin: str) -> Packer:
    """Return who has a PIN, trying it at most as often as is allowed. Raises PinError."""
    with atomic():
        who = Packer.objects.select_for_update().filter(club=club, pk=packer, active=True).first()
        if who is None:
            raise PinError("Choose your name.")
        fault = refusal(who) or try_pin(who, pin)
        who.save(update_fields=["failures", "locked_until"])
    if fault:  # after the count of failures is kept
        raise PinError(fault)
    return who


def refusal(who: Packer) -> str:
    """Say why no PIN of somebody is tried now."""
    if who.failures >= MOST:
        return f"{who.name} is locked after {MOST} wrong PINs. Have a new one set at the desk."
    if who.locked_until and now() < who.locked_until:
        wait = -(-(who.locked_until - now()) // timedelta(seconds=1))
        return f"Wait {wait} seconds before you try again."
    return ""


def try_pin(who: Packer, pin: str) -> str:
    """Compare a PIN, and say what is wrong with it."""
    if check_password(pin, who.pin):
        who.failures, who.locked_until = 0, None
        return ""
    who.failures += 1
    over = who.failures - FREE
    who.locked_until = now() + FIRST_WAIT * 2 ** (over - 1) if over > 0 else None
    return "This is not the PIN. Type it again."


def bench_of(club: str, name: str, key: str) -> Bench:
    """Return a bench by its name, for this tablet from now on. Raises PinError where another tablet is there."""
    name = " ".join(name.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise PinError(f"Write which bench this is, in at most {LONGEST_NAME} characters, such as “Bench 1”.")
    with atomic():
        row, _ = Bench.objects.select_for_update().get_or_create(
            club=club, name=name, defaults={"key": key, "seen_at": now()}
        )
        if row.key not in ("", key) and now() - row.seen_at < IN_USE:
            raise PinError(
                f"{name} is in use on another tablet. Sign out there, or name this bench otherwise."
            )
        row.key, row.seen_at = key, now()
        row.save(update_fields=["key", "seen_at"])
    return row


def leave_bench(bench: int, key: str) -> None:
    """Let another tablet be a bench at once."""
    Bench.objects.filter(pk=bench, key=key).update(key="")


def here(club: str, packer: int, bench: int, key: str) -> SignedIn | None:
    """Return who is signed in at a tablet, None where nobody is, or the bench has another tablet by now."""
    who = Packer.objects.filter(club=club, pk=packer, active=True).first()
    row = Bench.objects.filter(club=club, pk=bench).exclude(key="").filter(key=key).first()
    return SignedIn(who, row) if who and row else None


# --- At the desk ---


def add_packer(club: str, name: str, pin: str) -> Packer:
    """Add somebody. Raises PinError."""
    name = " ".join(name.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise PinError(f"Write a name of at most {LONGEST_NAME} characters.")
    try:
        with atomic():
            return Packer.objects.create(club=club, name=name, pin=hashed(pin))
    except IntegrityError:
        raise PinError(f"{name} is here already. Give one of them a longer name.") from None


def set_pin(packer: Packer, pin: str) -> None:
    """Give somebody a new PIN, which opens a lock as well. Raises PinError."""
    packer.pin, packer.failures, packer.locked_until = hashed(pin), 0, None
    packer.save(update_fields=["pin", "failures", "locked_until"])


def hashed(pin: str) -> str:
    """Return a PIN as it is kept. Raises PinError for one that is tried first."""
    if not PIN.fullmatch(pin):
        raise PinError("A PIN has 4 to 8 digits.")
    steps = {(int(after) - int(before)) % 10 for before, after in pairwise(pin)}
    if len(steps) == 1 and steps <= {0, 1, 9}:
        raise PinError("This PIN is guessed too soon: choose one without a row of equal or following digits.")
    return make_password(pin)
