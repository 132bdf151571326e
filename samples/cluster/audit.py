"""Audits a library of drawings on the workers of a Dask cluster.

    python audit.py LIBRARY --into FOLDER --shards N --scheduler tcp://HOST:8786 \
        --merge=--write --merge=html=library.html

The library is split into shards, each is audited by one task into a ledger of its own in FOLDER, and the ledgers are
merged at the end to the picture that one run on one machine gives. LIBRARY and FOLDER must be reachable under the same
names from every worker and from here, and boreband must be installed on every worker.

A worker that is lost costs no result: its shard is given to another one, which goes on where the ledger ends. Run the
same command again after a stop, and only what is missing or has changed is checked.

Without --scheduler two workers are started on this machine. Needs the package `distributed` of PyPI.
"""

import argparse
import subprocess
import sys
import time
from pathlib import Path

from distributed import Client, LocalCluster, as_completed

BUSY = "another run is at work on this ledger"


def audit_shard(command: list[str], patience: float) -> str:
    """Runs one shard to its end; what it said of the drawings it met.

    A run that a lost worker left behind may still hold the ledger; it is waited for, for `patience` seconds.
    """
    begun = time.monotonic()
    while True:
        run = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
        # Findings end with 1, and drawings that cannot be read whole with 2; the picture is there in both cases.
        if run.returncode in (0, 1) or (run.returncode == 2 and run.stdout):
            return run.stderr.strip()
        if BUSY not in run.stderr or time.monotonic() - begun > patience:
            raise RuntimeError(f"{' '.join(command)} ended with {run.returncode}: {run.stderr.strip()}")
        time.sleep(1.0)


def options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("library", help="folder of drawings")
    parser.add_argument("--into", type=Path, required=True, metavar="FOLDER", help="where the ledgers go")
    parser.add_argument("--shards", type=int, required=True, metavar="N", help="parts; some for each worker, always the same")
    parser.add_argument("--scheduler", metavar="ADDRESS", help="of a running cluster")
    parser.add_argument("--program", default="boreband", help="boreband, as the workers find it")
    parser.add_argument("--jobs", type=int, default=1, metavar="N", help="drawings that one shard checks at a time")
    parser.add_argument("--retries", type=int, default=3, metavar="N", help="how often a shard that failed is tried again")
    parser.add_argument("--patience", type=float, default=3600.0, metavar="S", help="seconds to wait for a ledger that is in use")
    parser.add_argument("--audit", action="append", default=[], metavar="ARG", help="further argument of 'boreband audit'")
    parser.add_argument("--merge", action="append", default=[], metavar="ARG", help="further argument of 'boreband merge'")
    return parser.parse_args()


def main() -> int:
    args = options()
    args.into.mkdir(parents=True, exist_ok=True)
    ledgers = [str(args.into / f"{k}-of-{args.shards}.ledger") for k in range(1, args.shards + 1)]
    cluster = None if args.scheduler else LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None)
    with Client(args.scheduler or cluster) as client:
        tasks = {}
        for k, ledger in enumerate(ledgers, 1):
            command = [args.program, "audit", args.library, "--ledger", ledger, "--shard", f"{k}/{args.shards}"]
            command += ["--jobs", str(args.jobs), "--format", "json", "--progress", "never", *args.audit]
            task = client.submit(audit_shard, command, args.patience, pure=False, retries=args.retries)
            tasks[task] = k
        failed = 0
        for task in as_completed(tasks):
            if task.status == "finished":
                print(f"shard {tasks[task]}: {task.result()}", file=sys.stderr)
            else:
                failed += 1
                print(f"shard {tasks[task]} failed: {task.exception()}", file=sys.stderr)
    if cluster is not None:
        cluster.close()
    if failed:
        print(f"{failed} of {args.shards} shards failed; run the same command again", file=sys.stderr)
        return 2
    return subprocess.run([args.program, "merge", *ledgers, *args.merge], check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
