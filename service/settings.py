"""Every setting of the service: one table with its default, its environment name and a sentence.

The code, `print-spec serve` and `/docs/settings` read this table. All mistakes are reported at once, before anything starts.
Sizes: kB, MB and GB are powers of 1,000; KiB, MiB and GiB powers of 1,024 (IEC 80000-13).
"""

from __future__ import annotations

import difflib
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from ipaddress import IPv4Network, IPv6Network
from pathlib import Path

from service import setting_values as read
from service.accounts.limits import Limits
from service.setting_values import OPEN


@dataclass(frozen=True)
class Settings:
    """What the service runs with. The meaning of each field stands in `TABLE`."""

    data: Path
    database_url: str
    files: str
    maximum_upload_bytes: int
    free_space_bytes: int
    check_seconds: float
    check_memory_bytes: int
    wait_seconds: float
    workers: int
    first_pass_seconds: float
    queue_length: int
    retention_hours: float
    stop_seconds: float
    own_sheets: int
    access: str
    requests_per_minute: int
    bytes_per_day: int
    account_disk_bytes: int
    processes: int
    threads: int
    proxies: int
    sandbox: str
    log: str
    telemetry: str
    token_secrets: tuple[str, ...] = field(repr=False)
    callback_secrets: tuple[bytes, ...] = field(repr=False)
    callback_hosts: tuple[str, ...]
    callback_networks: tuple[IPv4Network | IPv6Network, ...]

    @property
    def limits(self) -> Limits:
        """Of an account for which nothing else was set."""
        return Limits(self.requests_per_minute, self.bytes_per_day, self.account_disk_bytes, self.own_sheets)


class SettingsRefused(ValueError):
    """The environment holds values that the service cannot run with; `mistakes` has a sentence for each."""

    def __init__(self, mistakes: list[str]) -> None:
        super().__init__("\n".join(mistakes))
        self.mistakes = mistakes


@dataclass(frozen=True)
class Setting:
    field: str
    environment: str
    default: str
    sentence: str
    read: Callable[[str], object]
    """Turns the text into the field's value; raises ValueError with how to write it."""
    secret: bool = False
    """Its value is not shown, not even where it is wrong."""


TABLE = (
    Setting(
        "data",
        "PRINT_SPEC_DATA",
        "data",
        "Folder of the database and of the files that are kept; it is made if missing.",
        read.folder,
    ),
    Setting(
        "database_url", "PRINT_SPEC_DATABASE_URL", "", "An SQLAlchemy URL; empty: SQLite in the data folder.", read.database_url
    ),
    Setting(
        "files",
        "PRINT_SPEC_FILES",
        "",
        "Where uploaded files are kept: `s3://bucket/folder`, its keys and endpoint in AWS_…; empty: in the data folder.",
        read.bucket,
    ),
    Setting("maximum_upload_bytes", "PRINT_SPEC_MAXIMUM_UPLOAD", "200 MB", "The largest PDF that is taken.", read.size),
    Setting(
        "free_space_bytes",
        "PRINT_SPEC_FREE_SPACE",
        "200 MB",
        "Space on the disk of the data folder that stays free: no file is taken that would go below it.",
        read.size,
    ),
    Setting("check_seconds", "PRINT_SPEC_CHECK_SECONDS", "60", "Seconds that measuring one file may take.", read.amount),
    Setting("check_memory_bytes", "PRINT_SPEC_CHECK_MEMORY", "2 GiB", "Memory that measuring one file may take.", read.size),
    Setting(
        "wait_seconds",
        "PRINT_SPEC_WAIT_SECONDS",
        "25",
        "Seconds until a caller who waits for a check gets 202 and its address.",
        read.amount_or_zero,
    ),
    Setting(
        "workers",
        "PRINT_SPEC_WORKERS",
        "2",
        "Checks that run at the same time, in each process. Where all of them take long, one more runs for a moment. "
        "0: `serve` runs none, `print-spec work` does.",
        read.count_or_zero,
    ),
    Setting(
        "first_pass_seconds",
        "PRINT_SPEC_FIRST_PASS_SECONDS",
        "0.8",
        "Seconds after which a check counts as a long one, and gives its place to one that has not run yet.",
        read.amount,
    ),
    Setting(
        "queue_length",
        "PRINT_SPEC_QUEUE_LENGTH",
        "50",
        "Checks of one sender that may wait for a worker; one more gets 429.",
        read.count,
    ),
    Setting(
        "retention_hours",
        "PRINT_SPEC_RETENTION_HOURS",
        "24",
        "Hours that a check and its file are kept; DELETE forgets them at once.",
        read.amount,
    ),
    Setting(
        "stop_seconds",
        "PRINT_SPEC_STOP_SECONDS",
        "8",
        "Seconds that running checks may still take when the service is stopped.",
        read.amount_or_zero,
    ),
    Setting(
        "own_sheets", "PRINT_SPEC_OWN_SHEETS", "200",
        "Sheets of one's own that are kept, for each account; one more gets 507.", read.count,
    ),
    Setting(
        "access",
        "PRINT_SPEC_ACCESS",
        OPEN,
        "`open`: whoever reaches the service may do everything, so it listens on this machine alone. `keys`: callers send an API "
        "key (`print-spec keys make`). `open-anywhere`: open on any address; something in front decides who comes in.",
        read.access,
    ),
    Setting(
        "requests_per_minute", "PRINT_SPEC_REQUESTS_PER_MINUTE", "600",
        "With keys: requests of one account in a minute; one more gets 429.", read.count,
    ),
    Setting(
        "bytes_per_day", "PRINT_SPEC_BYTES_PER_DAY", "20 GB",
        "With keys: what one account may send in a day; what goes beyond gets 429.", read.size,
    ),
    Setting(
        "account_disk_bytes", "PRINT_SPEC_ACCOUNT_DISK", "20 GB",
        "With keys: files that are kept for one account; one more gets 507.", read.size,
    ),
    Setting("processes", "PRINT_SPEC_PROCESSES", "1", "Server processes, each with its own workers.", read.count),
    Setting("threads", "PRINT_SPEC_THREADS", "16", "Requests that one process answers at the same time.", read.count),
    Setting(
        "proxies",
        "PRINT_SPEC_PROXIES",
        "0",
        "Proxies in front, one behind the other, whose `X-Forwarded-For` is believed to say who calls.",
        read.count_or_zero,
    ),
    Setting(
        "sandbox",
        "PRINT_SPEC_SANDBOX",
        "available",
        "`required`: do not start where the kernel offers no Landlock or no seccomp. `available`: use what it offers.",
        read.sandbox,
    ),
    Setting("log", "PRINT_SPEC_LOG", "text", "`text`: lines for people. `json`: an object a line, for programs.", read.log),
    Setting(
        "telemetry", "PRINT_SPEC_TELEMETRY", "",
        "`otlp`: tell OpenTelemetry of requests and checks; where, its own settings say (OTEL_EXPORTER_OTLP_ENDPOINT). "
        "Empty: nothing is told.",
        read.telemetry,
    ),
    Setting(
        "token_secrets",
        "PRINT_SPEC_TOKEN_SECRET",
        "",
        "Signs upload tokens. Of several (commas between) the first signs, all are taken. Empty: one is made in the data folder.",
        read.token_secrets,
        secret=True,
    ),
    Setting(
        "callback_secrets",
        "PRINT_SPEC_CALLBACK_SECRET",
        "",
        "Signs callbacks: `whsec_…` (Standard Webhooks); several, commas between, sign each. Empty: none are sent.",
        read.callback_secrets,
        secret=True,
    ),
    Setting(
        "callback_hosts",
        "PRINT_SPEC_CALLBACK_HOSTS",
        "",
        "The only hosts that callbacks go to, commas between; `*.shop.example` is each below it. Empty: all.",
        read.hosts,
    ),
    Setting(
        "callback_networks",
        "PRINT_SPEC_CALLBACK_NETWORKS",
        "",
        "Networks that callbacks go to although they are not public, such as `10.1.0.0/16`, commas between; only there by http.",
        read.networks,
    ),
)


def table() -> list[tuple[str, str, str]]:
    """(environment name, default, sentence) of every setting, in the order in which they are documented."""
    return [(one.environment, one.default, one.sentence) for one in TABLE]


def read_settings(environment: Mapping[str, str] | None = None) -> Settings:
    """Settings from the environment (by default the process's own). Raises `SettingsRefused` with every mistake."""
    environment = os.environ if environment is None else environment
    values: dict[str, object] = {}
    mistakes = []
    for one in TABLE:
        text = environment.get(one.environment, one.default)
        try:
            values[one.field] = one.read(text)
        except ValueError as error:
            found = "not one that can be used" if one.secret else repr(text)
            mistakes.append(f"{one.environment} is {found}: {error}.")
    if mistakes:
        raise SettingsRefused(mistakes)
    return Settings(**values)  # type: ignore[arg-type]  # TABLE and Settings are held together by a test


def near_misses(environment: Mapping[str, str]) -> list[str]:
    """A sentence for each name that looks like a misspelled setting. Other names are nobody's business: some
    container platforms set `PRINT_SPEC_…` names of their own.
    """
    known = [one.environment for one in TABLE]
    sentences = []
    for name in environment:
        near = difflib.get_close_matches(name, known, 1, 0.85) if name.startswith("PRINT_SPEC_") and name not in known else []
        sentences += [f"{name} is no setting of this service; {near[0]} is."] if near else []
    return sentences
