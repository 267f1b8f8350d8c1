"""Python shares one object for each byte string of one byte; compiled libraries can damage it."""


def assert_shared_bytes_are_whole() -> None:
    """Fail if a byte string of one byte holds another byte than it should."""
    assert [value for value in range(256) if bytes([value])[0] != value] == []
