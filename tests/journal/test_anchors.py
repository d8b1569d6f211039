"""Anchors as people write them, and the short code on a label."""

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import InputError
from mixbench.journal.anchors import Anchor, anchor_text, parse_anchor, short_code
from mixbench.journal.entry import GENESIS, Entry

HASH = "b536951211f0c144e3fafffe425e165d363f887287b5161debe5cc2bce56fd05"
CODE = short_code(HASH)

hashes = st.binary(min_size=32, max_size=32).map(bytes.hex)


def mistyped(text):
    try:
        parse_anchor(text)
    except InputError as error:
        return "typing mistake" in error.what
    return False


@pytest.mark.parametrize(
    ("text", "bench", "seq", "mark"),
    [
        (f"5:{HASH}", "", 5, HASH),
        (f"  5:{HASH.upper()}\n", "", 5, HASH),
        (f"B1-5-{HASH}", "B1", 5, HASH),
        (f"MIXING-ROOM-2-5-{HASH.upper()}", "MIXING-ROOM-2", 5, HASH),
        (HASH, "", 0, HASH),
        (CODE, "", 0, CODE.replace("-", "")),
        (CODE.replace("-", "").lower(), "", 0, CODE.replace("-", "")),
        (CODE.replace("-", " "), "", 0, CODE.replace("-", "")),
        (f"5:{CODE}", "", 5, CODE.replace("-", "")),
        (f"B1-5-{CODE}", "B1", 5, CODE.replace("-", "")),
    ],
)
def test_is_read_in_every_way_it_is_written(text, bench, seq, mark):
    anchor = parse_anchor(text)

    assert anchor == Anchor(text.strip(), bench, seq, mark)
    assert anchor.fits(HASH)
    assert anchor.prefix == HASH[:32]


@pytest.mark.parametrize(
    "text", ["", "5", "5:", f"5:{HASH[:-1]}", f"5:{HASH}0", f"0:{HASH}", "B1-5-xyz", f"-5:{HASH}"]
)
def test_anything_else_is_refused_with_what_to_write(text):
    with pytest.raises(InputError, match="is not an anchor") as refused:
        parse_anchor(text)
    assert "as on the label" in refused.value.remedy


def test_the_label_text_is_an_anchor_of_its_entry():
    entry = Entry.make(
        bench="B1", seq=7, at=0, by="u1", kind="pot-finished", version=1, body={}, prev=GENESIS,
        op="op-7",
    )  # fmt: skip
    anchor = parse_anchor(anchor_text(entry))

    assert (anchor.bench, anchor.seq) == ("B1", 7)
    assert anchor.fits(entry.hash)


class TestShortCode:
    def test_is_seven_groups_of_four_without_letters_that_are_misread(self):
        groups = CODE.split("-")

        assert [len(group) for group in groups] == [4] * 7
        assert not set("ILOU") & set(CODE)

    def test_is_the_first_130_bits_and_10_bits_of_their_own_sha_256(self):
        symbols = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
        bits = "".join(f"{symbols.index(symbol):05b}" for symbol in CODE.replace("-", ""))
        check = hashlib.sha256(CODE.replace("-", "")[:26].encode()).digest()

        assert bits[:130] == f"{int(HASH, 16):0256b}"[:130]
        assert bits[130:] == f"{int.from_bytes(check):0256b}"[:10]

    @given(hashes)
    def test_fits_its_own_hash(self, entry_hash):
        anchor = parse_anchor(short_code(entry_hash))

        assert anchor.fits(entry_hash)
        assert anchor.prefix == entry_hash[:32]

    @given(hashes, st.integers(0, 129))
    def test_fits_no_hash_that_differs_in_one_of_its_bits(self, entry_hash, bit):
        other = f"{int(entry_hash, 16) ^ 1 << 255 - bit:064x}"

        assert not parse_anchor(short_code(entry_hash)).fits(other)

    def test_letters_that_look_like_digits_are_taken_for_them(self):
        code = short_code("00" * 32)

        assert parse_anchor(code.replace("0", "O")).fits("00" * 32)

    def test_a_mistyped_one_is_told_from_a_changed_record(self):
        """Of all slips in one symbol, all but about 1 in 1024 are noticed."""
        slips = [
            CODE[:place] + symbol + CODE[place + 1 :]
            for place in range(len(CODE))
            for symbol in "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
            if CODE[place] not in ("-", symbol)
        ]
        passed = [slip for slip in slips if not mistyped(slip)]

        assert len(slips) == 28 * 31
        assert len(passed) <= 4
