"""An entry: nine fields, their bytes, their hash."""

import hashlib

import pytest

from mixbench.errors import InputError
from mixbench.journal.entry import GENESIS, Entry

FIELDS = {
    "bench": "B1",
    "seq": 1,
    "at": 1_767_265_200_000,
    "by": "u1",
    "kind": "poured",
    "version": 1,
    "body": {"mg": 312400},
    "prev": GENESIS,
    "op": "op-1",
}
STORED = (
    b'{"at":1767265200000,"bench":"B1","body":{"mg":312400},"by":"u1","kind":"poured","op":"op-1",'
    b'"prev":"0000000000000000000000000000000000000000000000000000000000000000","seq":1,"version":1}'
)


def test_stored_bytes_are_exactly_the_fields_in_canonical_form():
    assert Entry.make(**FIELDS).stored == STORED


def test_the_hash_is_sha_256_of_the_stored_bytes():
    assert Entry.make(**FIELDS).hash == hashlib.sha256(STORED).hexdigest()


def test_reading_back_gives_the_same_entry():
    entry = Entry.make(**FIELDS)

    assert Entry.parse(STORED) == entry
    assert hash(Entry.parse(STORED)) == hash(entry)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"seq":1', b'"seq":1,"seq":2'),
        (b'"seq":1', b'"seq": 1'),
        (b'"seq":1', b'"seq":1.0'),
        (b'"seq":1', b'"seq":"1"'),
        (b'"seq":1', b'"seq":true'),
        (b'"seq":1', b'"seq":0'),
        (b'"by":"u1"', b'"by":null'),
        (b'"kind":"poured"', b'"kind":""'),
        (b'"bench":"B1",', b""),
        (b'"version":1', b'"version":1,"x":1'),
        (b'"body":{"mg":312400}', b'"body":[312400]'),
        (b'"by":"u1"', b'"by":"\\u0075\\u0031"'),
        (b'"by":"u1"', b'"by":"\xff"'),
    ],
    ids=str,
)
def test_anything_else_is_refused(old, new):
    assert STORED.count(old) == 1
    with pytest.raises(InputError):
        Entry.parse(STORED.replace(old, new))


@pytest.mark.parametrize("stored", [b"", b"null", b"[]", b"{}", STORED + b"\n", STORED + STORED])
def test_what_is_not_one_entry_is_refused(stored):
    with pytest.raises(InputError):
        Entry.parse(stored)
