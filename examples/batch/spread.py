"""Sends questions through pipes on a Dask cluster of two local worker processes, one of which is killed on the way.

    spread.py PIPE jobs.jsonl results.jsonl

Each task is some lines; its answers are written as they arrive. After a third of them one worker is killed (SIGKILL):
what it held is worked out again, by the other or by the one that is started in its place. Loopback only.
"""

import os
import signal
import sys
import time
from pathlib import Path

LINES_A_TASK = 20
MOST_SECONDS = 170


def task(program, lines):
    """Runs on a worker."""
    import pipe_process

    return os.getpid(), pipe_process.ask(program, lines)


def out_of_time(*_):
    sys.exit(f"not done within {MOST_SECONDS} s")


def main():
    program, jobs, results = sys.argv[1:]
    here = Path(__file__).resolve().parent
    # The workers import `pipe_process` from here, also one that is started later.
    os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, [str(here), os.environ.get("PYTHONPATH")]))
    from distributed import Client, LocalCluster, as_completed

    signal.signal(signal.SIGALRM, out_of_time)
    signal.alarm(MOST_SECONDS)
    program = str(Path(program).resolve())
    lines = Path(jobs).read_bytes().splitlines()
    parts = [lines[at:at + LINES_A_TASK] for at in range(0, len(lines), LINES_A_TASK)]
    cluster = LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None, silence_logs=50
    )
    with cluster, Client(cluster) as client, open(results, "wb") as out:
        workers = client.run(os.getpid)
        doomed = sorted(workers.values())[0]
        begun = time.monotonic()
        futures = [client.submit(task, program, part, pure=False) for part in parts]
        arrived, by_worker = 0, {}
        killed = None
        for future, (worker, answers) in as_completed(futures, with_results=True):
            out.writelines(answer + b"\n" for answer in answers)
            arrived += len(answers)
            by_worker[worker] = by_worker.get(worker, 0) + len(answers)
            if killed is None and arrived * 3 >= len(lines) and doomed in by_worker:
                os.kill(doomed, signal.SIGKILL)
                killed = arrived
        seconds = time.monotonic() - begun
    signal.alarm(0)
    if killed is None or killed >= len(lines):
        sys.exit("no worker was killed on the way: nothing is shown")
    print(f"{arrived} answers in {seconds:.1f} s, {arrived / seconds:.0f} a second; worker {doomed} killed after {killed}")
    for worker, count in sorted(by_worker.items()):
        print(f"  worker {worker}: {count}{' (killed)' if worker == doomed else ''}")


if __name__ == "__main__":
    main()
