"""Where the phones that were let in are kept, and how they are listed and revoked."""

from __future__ import annotations

import json
import stat
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from shop import Shop

from fitlog.errors import FitlogError
from fitlog.fronts.page.phones import UNSEEN, PhoneBook

START = datetime(2031, 5, 6, 7, 8, 9, tzinfo=UTC)


class Book:
    """A book of phones with a clock of its own."""

    def __init__(self, path: Path) -> None:
        self.now = START
        self.book = PhoneBook(path, lambda: self.now)

    def numbers(self) -> list[int]:
        return [phone.number for phone in self.book.all()]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return Book(tmp_path / "config" / "phones.json")


def test_there_are_none_at_first(book: Book) -> None:
    assert book.numbers() == [] and book.book.known("x" * 43) is None
    assert not book.book.path.parent.exists()


def test_a_phone_is_known_by_its_key_alone_which_is_written_nowhere(book: Book) -> None:
    keys = [book.book.add(f"192.0.2.{n}") for n in (1, 2)]
    book.book.name(2, "jo", "Jo")
    found = [book.book.known(key) for key in keys]
    assert [p and (p.number, p.login, p.name, p.label) for p in found] == [
        (1, "", "", "192.0.2.1"),
        (2, "jo", "Jo", "192.0.2.2"),
    ]
    assert len({*keys}) == 2 and all(len(key) == 43 for key in keys)
    assert book.book.known(keys[0].swapcase()) is None
    assert not [key for key in keys if key in book.book.path.read_text()]


def test_the_file_is_its_owners_alone(book: Book) -> None:
    for _ in range(2):
        book.book.add("192.0.2.1")
        assert stat.S_IMODE(book.book.path.stat().st_mode) == 0o600
        book.book.path.chmod(0o644)  # a copy put back, say
    assert stat.S_IMODE(book.book.path.parent.stat().st_mode) == 0o700


def test_a_number_is_given_once(book: Book) -> None:
    for _ in range(3):
        book.book.add("192.0.2.1")
    assert book.book.revoke(3).number == 3
    book.book.add("192.0.2.1")
    assert book.numbers() == [1, 2, 4]


def test_who_is_not_there_cannot_be_revoked(book: Book) -> None:
    book.book.add("192.0.2.1")
    for number in (0, 2, -1):
        with pytest.raises(FitlogError) as refused:
            book.book.revoke(number)
        assert refused.value.code == "unknown-phone"
    assert book.numbers() == [1]


def test_several_processes_lose_nothing_of_each_other(book: Book) -> None:
    def add(n: int) -> None:
        other = PhoneBook(book.book.path)
        other.add(f"192.0.2.{n}")
        if n % 4 == 0:
            other.seen(other.all()[0].number)
            other.note()

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(add, range(12)))
    assert sorted(PhoneBook(book.book.path).all())[-1].number == 12
    assert {p.label for p in PhoneBook(book.book.path).all()} == {f"192.0.2.{n}" for n in range(12)}


def test_what_another_process_did_is_seen_at_once(book: Book) -> None:
    key = book.book.add("192.0.2.1")
    server = PhoneBook(book.book.path, lambda: book.now)
    assert server.known(key)
    server.seen(1)
    book.book.revoke(1)
    assert server.known(key) is None
    server.note()  # that it was there a moment ago lets it in no more
    assert server.known(key) is None
    book.book.path.unlink()
    assert server.all() == ()


def test_that_a_phone_is_there_is_written_down_once_a_minute(book: Book) -> None:
    book.book.add("192.0.2.1")
    due = []
    for _ in range(130):
        book.now += timedelta(seconds=1)
        if book.book.seen(1):
            due.append((book.now - START).total_seconds())
            book.book.note()
    assert due == [60, 120]
    assert PhoneBook(book.book.path, lambda: book.now).all()[0].seen == START + timedelta(minutes=2)
    stamp = book.book.path.stat().st_mtime_ns
    book.book.note()
    book.book.note()  # nothing new
    assert book.book.all()[0].seen == book.now and book.book.path.stat().st_mtime_ns >= stamp


def test_a_phone_that_was_long_away_is_let_in_no_more(book: Book) -> None:
    away, here = book.book.add("192.0.2.1"), book.book.add("192.0.2.2")
    book.now += UNSEEN / 2
    book.book.seen(2)
    book.now += UNSEEN / 2 - timedelta(seconds=1)
    assert book.book.known(away)
    book.now += timedelta(seconds=1)
    assert book.book.known(away) is None and book.book.known(here)
    book.book.note()
    book.book.add("192.0.2.3")
    assert [row["number"] for row in json.loads(book.book.path.read_text())["phones"]] == [2, 3]


@pytest.mark.parametrize(
    "told",
    [
        *("", "{", "[]", "3", "null", "{}", '{"next": 1}', '{"next": "x", "phones": []}'),
        *('{"next": 1, "phones": [1]}', '{"next": 1, "phones": [{}]}', "\xff"),
        '{"next": 2, "phones": [{"number": 1, "digest": "", "login": "", "name": "", '
        '"label": "", "paired": "today", "seen": "today"}]}',
    ],
)
def test_what_makes_no_sense_lets_nobody_in_and_is_not_written_over(book: Book, told: str) -> None:
    book.book.path.parent.mkdir()
    book.book.path.write_text(told, encoding="latin-1")
    for deed in (book.book.all, lambda: book.book.add("192.0.2.1"), lambda: book.book.revoke(1)):
        with pytest.raises(FitlogError) as refused:
            deed()
        assert refused.value.code == "damaged-phones"
    assert book.book.path.read_text(encoding="latin-1") == told


def test_a_folder_in_the_way_is_told(book: Book) -> None:
    book.book.path.mkdir(parents=True)
    with pytest.raises(FitlogError) as refused:
        book.book.all()
    assert refused.value.code == "unreadable-file"


def listed(shop: Shop) -> PhoneBook:
    """The book of the shop's user, with two phones in it."""
    book = PhoneBook(shop.home / "home/config/fitlog/phones.json")
    book.add("192.0.2.1")
    book.add("192.0.2.2")
    book.name(2, "jo", "Jo \x1b[31m")
    return book


def test_phones_are_listed_and_revoked(shop: Shop) -> None:
    assert shop.words("page phones").out.startswith("No phone is paired")
    assert shop.json("page phones") == {"phones": []}
    book = listed(shop)
    text = shop.words("page phones").out.splitlines()
    assert text[0].split() == [*("Phone", "Held", "by", "Paired", "at", "Paired", "Last", "seen")]
    assert [line.split()[0] for line in text[1:]] == ["1", "2"]
    assert "192.0.2.2" in text[2] and "Jo" in text[2] and "\x1b" not in text[2]
    rows = shop.json("page phones")["phones"]
    assert [(r["number"], r["name"], r["label"]) for r in rows] == [
        (1, None, "192.0.2.1"),
        (2, "Jo \x1b[31m", "192.0.2.2"),
    ]
    assert not [row for row in rows if "digest" in row]
    assert shop.words("page phones --revoke 1").out == "Phone 1 is let in no more.\n"
    assert [phone.number for phone in book.all()] == [2]
    assert shop.json("page phones --revoke 2") == {"revoked": 2}
    assert "there is no phone 2" in shop.refused("page", "phones", "--revoke", "2")
    assert not shop.db.exists()  # no log is needed to keep a phone out


def test_a_damaged_list_is_told_with_its_name(shop: Shop) -> None:
    path = listed(shop).path
    path.write_text("{")
    said = shop.refused("page", "phones")
    assert str(path) in said and "remove it" in said
    assert shop.json("page phones", 1)["error"]["code"] == "damaged-phones"
