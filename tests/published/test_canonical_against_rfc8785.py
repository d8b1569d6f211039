"""Our canonical bytes are those of RFC 8785, for every value of the journal's profile.

Oracle: the library ``rfc8785`` (0.1.4), which passes the reference documents of the standard and
its list of a million numbers. Mark: RUN.
"""

import json

import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from mixbench.canonical import LARGEST_INTEGER, canonical_bytes, read_canonical

keys = st.text(st.characters(max_codepoint=127), max_size=8)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
whole = st.integers(-LARGEST_INTEGER, LARGEST_INTEGER)
values = st.recursive(
    st.none() | st.booleans() | whole | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=4),
    max_leaves=20,
)


@given(values)
def test_we_write_what_the_library_writes(value):
    assert canonical_bytes(value) == rfc8785.dumps(value)


@given(values)
def test_what_is_written_is_read_back(value):
    assert read_canonical(canonical_bytes(value)) == value


@given(values)
def test_no_other_spelling_is_read(value):
    """Spaces, escapes and the order of keys carry no meaning, so only one of them may pass."""
    spelled = json.dumps(value, indent=1).encode()
    try:
        read = read_canonical(spelled)
    except ValueError:
        assert spelled != rfc8785.dumps(value)
    else:
        assert spelled == rfc8785.dumps(value)
        assert read == value
