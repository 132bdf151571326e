"""Kills one of two workers while they audit a library, and asks for the same picture as one run gives."""

import argparse
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from distributed import LocalCluster

ROOT = Path(__file__).resolve().parents[2]
COPIES = 12
SHARDS = 5
WAIT = 120.0


def library(folder: Path) -> int:
    """Copies of the samples, each made another drawing by a comment, with their lists; how many drawings."""
    drawings = 0
    for source in sorted(ROOT.glob("samples/**/*")):
        if source.suffix not in (".dxf", ".json") or not source.is_file():
            continue
        for n in range(COPIES):
            to = folder / str(n) / source.relative_to(ROOT / "samples")
            to.parent.mkdir(parents=True, exist_ok=True)
            content = source.read_bytes()
            if source.suffix == ".dxf" and not content.startswith(b"AutoCAD Binary"):
                content = b"999\ncopy %d\n" % n + content
            to.write_bytes(content)
            drawings += source.suffix == ".dxf"
    return drawings


def lines(folder: Path) -> int:
    """Results in the ledgers so far."""
    return sum(ledger.read_bytes().count(b"\n") - 1 for ledger in folder.glob("*.ledger"))


def worker(address: str, folder: Path) -> subprocess.Popen:
    """A worker in a process group of its own, so that what it started dies with it, as with a machine."""
    command = [sys.executable, "-m", "distributed.cli.dask_worker", address, "--no-nanny", "--nthreads", "1"]
    command += ["--local-directory", str(folder), "--no-dashboard"]
    return subprocess.Popen(command, start_new_session=True, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--boreband", type=Path, required=True)
    program = str(parser.parse_args().boreband.resolve())
    with tempfile.TemporaryDirectory() as temporary:
        place = Path(temporary)
        drawings = library(place / "library")
        os.chdir(place)
        one = subprocess.run(
            [program, "audit", "library", "--ledger", "one.ledger", "--format", "json"],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False,
        )
        with LocalCluster(n_workers=0, host="127.0.0.1", dashboard_address=None) as cluster:
            address = cluster.scheduler_address
            workers = [worker(address, place / f"worker-{n}") for n in range(2)]
            try:
                driver = subprocess.Popen(
                    [sys.executable, ROOT / "samples/cluster/audit.py", "library", "--into", "parts",
                     "--shards", str(SHARDS), "--scheduler", address, "--program", program,
                     "--merge=--format", "--merge=json"],
                    stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                )
                begun = time.monotonic()
                while lines(place / "parts") < drawings // 4:
                    if driver.poll() is not None or time.monotonic() - begun > WAIT:
                        sys.exit(f"no worker came to a quarter of the work: {driver.communicate()[1].decode()}")
                    time.sleep(0.01)
                os.killpg(workers[0].pid, signal.SIGKILL)
                at_the_kill = lines(place / "parts")
                merged, said = driver.communicate(timeout=WAIT)
            finally:
                for process in workers:
                    if process.poll() is None:
                        os.killpg(process.pid, signal.SIGKILL)
        print(f"{drawings} drawings in {SHARDS} shards; {at_the_kill} were done when one of two workers was killed")
        problems = []
        if at_the_kill >= drawings:
            problems.append("the worker was killed too late for a test")
        if merged != one.stdout:
            problems.append("the merged picture is not that of one run")
        if driver.returncode != one.returncode:
            problems.append(f"the driver ended with {driver.returncode}, one run with {one.returncode}")
        if problems:
            sys.exit("; ".join(problems) + "\n" + said.decode(errors="replace"))
        print("the merged picture is that of one run, byte for byte")


if __name__ == "__main__":
    main()
