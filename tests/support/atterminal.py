"""The page's server in a process of its own, and what its terminal shows."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from typing import Any

import forked
from shop import Shop


class Served:
    """A page that is served by a process of its own."""

    def __init__(self, process: Any) -> None:
        self.process, self.shown = process, ""
        self.url = self.reads(r"The page is at (https?://[^\s,]+)")

    def reads(self, wanted: str) -> str:
        """The first group of what it shows, once it does."""
        while (found := re.search(wanted, self.shown)) is None:
            line = self.process.stdout.readline()
            assert line, self.shown
            self.shown += line
        return str(found[1])

    def ended(self, number: int) -> int:
        """Its exit code after a signal."""
        self.process.send_signal(number)
        self.shown += self.process.stdout.read()
        assert "Traceback" not in self.shown
        return int(self.process.wait(20))


@contextmanager
def served(shop: Shop, *options: str, first: str = "") -> Iterator[Served]:
    """Serve a log at any free port. first: what its process does before anything else."""
    command = shop.command("page", "--port", "0", *options)
    if first:
        command[1:3] = ["-c", f"{first}\nfrom fitlog.__main__ import main\nmain()"]
    with forked.Popen(
        command,
        env=shop.environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as process:
        try:
            yield Served(process)
        finally:
            if process.poll() is None:
                process.kill()


def certificate(folder: Path) -> tuple[Path, Path]:
    """A certificate of our own for 127.0.0.1, and its key."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "shop.example")])
    today = datetime.now(UTC)
    made = (
        x509.CertificateBuilder(name, name, key.public_key(), x509.random_serial_number())
        .not_valid_before(today - timedelta(days=1))
        .not_valid_after(today + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address("127.0.0.1"))]), True)
        .sign(key, hashes.SHA256())
    )
    pem, plain = serialization.Encoding.PEM, serialization.NoEncryption()
    files = folder / "shop.pem", folder / "shop.key"
    files[0].write_bytes(made.public_bytes(pem))
    files[1].write_bytes(key.private_bytes(pem, serialization.PrivateFormat.PKCS8, plain))
    locked = serialization.BestAvailableEncryption(b"invented")
    (folder / "locked.key").write_bytes(
        key.private_bytes(pem, serialization.PrivateFormat.PKCS8, locked)
    )
    return files
