"""The journal's profile of JSON: what can be recorded, and what can be read back."""

from types import MappingProxyType

import pytest

from mixbench.canonical import LARGEST_INTEGER, canonical_bytes, read_canonical
from mixbench.errors import InputError


def nested(depth):
    value = []
    for _level in range(depth):
        value = [value]
    return value


def circle():
    value = {}
    value["self"] = value
    return value


@pytest.mark.parametrize(
    ("value", "place"),
    [
        ({"a": [1, 0.5]}, r"value\.a\[1\]: a float"),
        ({"a": float("nan")}, r"value\.a: a float"),
        ({"a": {1, 2}}, r"value\.a: a set"),
        (b"raw", "a bytes cannot"),
        (LARGEST_INTEGER + 1, "54 bits"),
        (-LARGEST_INTEGER - 1, "54 bits"),
        (10**5000, "16610 bits"),
        ({"µl": 1}, "key 'µl' is not ASCII"),
        ({1: 2}, "key 1 is not ASCII"),
        ("\ud800", "lone surrogate"),
        (nested(100_000), "nested"),
        (circle(), "nested"),
    ],
    ids=["float", "nan", "set", "bytes", "large", "negative", "huge", "key", "number key",
         "surrogate", "deep", "circle"],
)  # fmt: skip
def test_what_cannot_be_recorded_says_where_and_why(value, place):
    with pytest.raises(InputError, match=place):
        canonical_bytes(value)


def test_the_largest_integers_can_be_recorded():
    assert canonical_bytes([LARGEST_INTEGER, -LARGEST_INTEGER]) == (
        b"[9007199254740991,-9007199254740991]"
    )


def test_any_mapping_and_tuple_is_written_like_a_dict_and_a_list():
    value = MappingProxyType({"b": (1, 2), "a": MappingProxyType({})})

    assert canonical_bytes(value) == b'{"a":{},"b":[1,2]}'


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff",
        b"\xef\xbb\xbf1",
        b" 1",
        b"1 ",
        b"1.0",
        b"1e3",
        b"-0",
        b"01",
        b"NaN",
        b"Infinity",
        b"9007199254740992",
        b"[-9007199254740992]",
        b'{"a":9007199254740992}',
        b'{"a":1,"a":1}',
        b'{"b":1,"a":2}',
        b'{"\xc3\xa9":1}',
        b'"\\u0041"',
        b'"\\ud800"',
        b'"\\/"',
        b"1" * 5000,
        b"[" * 100_000 + b"]" * 100_000,
    ],
    ids=lambda data: data[:24].decode("latin-1"),
)
def test_what_is_not_canonical_is_not_read(data):
    with pytest.raises(InputError):
        read_canonical(data)


def test_long_digits_inside_text_are_only_text():
    assert read_canonical(b'["a:9999999999999999999"]') == ["a:9999999999999999999"]
