"""How large a file is, as a person reads it."""

from __future__ import annotations

from service.rules.wording import number


def file_size(size_bytes: int) -> str:
    """91999 → '92 kB', 200_000_000 → '200 MB' (powers of 1,000, IEC 80000-13)."""
    if size_bytes < 1000:
        return f"{size_bytes} B"
    if size_bytes < 999_500:
        return f"{number(size_bytes / 1e3, 0)} kB"
    return f"{number(size_bytes / 1e6)} MB"
