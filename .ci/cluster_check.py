"""Verdicts from a cluster with a scheduler and workers of its own are those of one process, byte by byte, whatever ends.

usage: cluster_check.py --program PROGRAM [--engine ENGINE] GAMES...

The cluster is Dask's own, from the Python that runs this. Every case below begins with the same run of hits and must end
in the tables that one process writes, or in an error that says what is wrong and loses nothing.
"""

import argparse
import filecmp
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import time

QUERIES = ["bishop-takes-h7", "rook-takes-g7", "knight-takes-f7"]


class Check:
    def __init__(self, program, games, nodes, folder):
        self.program, self.nodes, self.folder = program, nodes, folder
        self.started = []
        self.cases = 0
        mine = [program, "mine", *games, "--overlooked", "--out", folder / "mined", "--quiet"]
        subprocess.run(mine + [f"--query={query}" for query in QUERIES], check=True, stdout=subprocess.DEVNULL)
        shutil.copytree(folder / "mined", folder / "expected")
        begun = time.monotonic()
        self.verify(folder / "expected", [])
        self.alone = time.monotonic() - begun

    def command(self, run, options):
        command = [self.program, "verify", run, f"--nodes={self.nodes}", *options]
        return [str(word) for word in command]

    def verify(self, run, options, status=0):
        """Verifies a run, and gives what it says on standard error."""
        done = subprocess.run(self.command(run, options), capture_output=True, text=True, timeout=120)
        assert done.returncode == status, (options, done.returncode, done.stderr)
        return done.stderr

    def begin(self, run, options):
        """Begins to verify a run, and waits until some of it is on the disk."""
        pipes = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}
        process = subprocess.Popen(self.command(run, options), text=True, **pipes)
        while not list((run / "verdicts").glob("*.note.unfinished")):
            assert process.poll() is None, process.stderr.read()
            time.sleep(0.01)
        return process

    def run(self, name):
        """The run that was mined, under a new name."""
        return pathlib.Path(shutil.copytree(self.folder / "mined", self.folder / name))

    def expect_same(self, run, expected=None):
        expected = (expected or self.folder / "expected") / "verdicts"
        names = sorted(path.name for path in expected.iterdir())
        assert sorted(path.name for path in (run / "verdicts").iterdir()) == names, run
        same, other, broken = filecmp.cmpfiles(expected, run / "verdicts", names, shallow=False)
        assert not other and not broken, (run, other, broken)
        self.cases += 1

    def cluster(self, name, paths):
        """A scheduler and a worker for each path; where it is, and the processes."""
        file = self.folder / f"{name}.json"
        dask = [sys.executable, "-m", "distributed.cli."]
        scheduler = self.start(
            dask[:2] + [dask[2] + "dask_scheduler", "--port=0", "--no-dashboard", f"--scheduler-file={file}"]
        )
        worker = [dask[2] + "dask_worker", f"--scheduler-file={file}", "--nthreads=1", "--no-nanny"]
        worker += ["--no-dashboard", f"--local-directory={self.folder}"]
        workers = [self.start(dask[:2] + worker, path) for path in paths]
        while not file.exists():
            assert scheduler.poll() is None, f"the scheduler ended with status {scheduler.returncode}"
            time.sleep(0.05)
        return file, scheduler, workers

    def start(self, command, path=None):
        environment = dict(os.environ)
        environment["PATH"] = os.pathsep.join([str(path or ""), environment["PATH"]])
        silent = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        process = subprocess.Popen(command, env=environment, **silent)
        self.started.append(process)
        return process

    def end(self, *processes):
        for process in processes:
            process.kill()
            process.wait()

    def all_workers(self, file, count):
        """Waits until so many workers are there."""
        from distributed import Client

        with Client(scheduler_file=str(file), set_as_default=False) as client:
            client.wait_for_workers(count, timeout=30)

    def two_workers(self, here):
        file, scheduler, workers = self.cluster("two", [here, here])
        self.all_workers(file, 2)
        cluster = [f"--cluster={file}", f"--python={sys.executable}"]
        run = self.run("two")
        told = self.verify(run, cluster)
        assert f"2 workers with 2 threads at `{file}`" in told, told
        self.expect_same(run)
        assert not any(children(worker) for worker in workers), "something is left on the workers"
        # Some of them, and then the rest.
        run, alone = self.run("some"), self.run("some-alone")
        self.verify(run, [*cluster, "--sample=60"])
        self.verify(alone, ["--sample=60"])
        self.expect_same(run, alone)
        self.verify(run, [*cluster, "--resume"])
        self.expect_same(run)
        # Interrupted, and gone on with.
        run = self.run("interrupted")
        process = self.begin(run, cluster)
        process.send_signal(signal.SIGINT)
        told = process.communicate(timeout=30)[1]
        assert process.returncode == 130 and "continue with --resume" in told, told
        self.verify(run, [*cluster, "--resume"])
        self.expect_same(run)
        # What judges on a worker ends in the middle of a batch.
        run = self.run("ended")
        process = self.begin(run, cluster)
        for program in children(workers[1]):
            os.kill(program, signal.SIGKILL)
        told = process.communicate(timeout=60)[1]
        assert process.returncode == 0, told
        self.expect_same(run)
        # A worker ends in the middle of a batch.
        run = self.run("killed")
        process = self.begin(run, cluster)
        self.end(workers[0])
        told = process.communicate(timeout=60)[1]
        assert process.returncode == 0, told
        self.expect_same(run)
        # The scheduler ends.
        run = self.run("gone")
        process = self.begin(run, cluster)
        self.end(scheduler)
        told = process.communicate(timeout=60)[1]
        assert process.returncode == 1, told
        assert f"error: the scheduler at `{file}` is gone" in told, told
        assert "hint: what was judged is kept: continue with --resume" in told, told
        self.verify(run, ["--resume"])
        self.expect_same(run)
        self.end(*workers)

    def another_version(self, here):
        other = self.folder / "other"
        other.mkdir()
        wrapper = other / "hecatomb"
        wrapper.write_text('#!/bin/sh\n[ "$1" = --version ] && exec echo hecatomb 9.9.9\nexit 3\n')
        wrapper.chmod(0o755)
        file, scheduler, workers = self.cluster("versions", [here, other])
        self.all_workers(file, 2)
        cluster = [f"--cluster={file}", f"--python={sys.executable}"]
        run = self.run("versions")
        told = self.verify(run, cluster, status=1)
        assert told.startswith("error: worker `tcp://"), told
        assert "`hecatomb` is `hecatomb 9.9.9` there, and `hecatomb " in told, told
        assert not list((run / "verdicts").glob("*.*")), "nothing was begun"
        # And one that is nowhere.
        told = self.verify(run, [*cluster, "--worker-program=/nowhere/hecatomb"], status=1)
        assert "can't start `/nowhere/hecatomb`: No such file or directory" in told, told
        self.end(scheduler, *workers)
        self.cases += 2

    def on_this_machine(self):
        cluster = ["--cluster=local", f"--python={sys.executable}"]
        run = self.run("local")
        process = self.begin(run, cluster)
        # The Python side ends.
        [python] = children(process)
        os.kill(python, signal.SIGKILL)
        told = process.communicate(timeout=30)[1]
        assert process.returncode == 1 and "has ended (signal: 9 (SIGKILL))" in told, told
        assert "continue with --resume" in told, told
        self.verify(run, [*cluster, "--resume"])
        self.expect_same(run)

    def with_an_engine(self, engine):
        """The engine's own word, and its glances at offers that were overlooked, are the same wherever it runs."""
        asked = [f"--engine={engine}", "--engine-nodes=3000"]
        cluster = ["--cluster=local", f"--python={sys.executable}"]
        for name, chosen in [("drawn", ["--sample=24"]), ("overlooked", ["--overlooked", "--limit=12"])]:
            run, alone = self.run(name), self.run(f"{name}-alone")
            self.verify(run, [*asked, *chosen, *cluster])
            self.verify(alone, [*asked, *chosen])
            tables = (alone / "verdicts").glob("*.csv")
            assert any(",judged," in table.read_text() for table in tables), "the engine judged nothing"
            self.expect_same(run, alone)

    def without_its_package(self):
        bare = self.folder / "bare-python"
        # No packages but those of Python itself.
        bare.write_text(f'#!/bin/sh\nexec "{sys.executable}" -I -S "$@"\n')
        bare.chmod(0o755)
        told = self.verify(self.run("bare"), ["--cluster=local", f"--python={bare}"], status=1)
        assert f"`{bare}` has no module `distributed`, which a cluster needs" in told, told
        assert f"hint: {bare} -m pip install distributed" in told, told
        self.cases += 1


def children(process):
    """The processes that a process started."""
    threads = pathlib.Path(f"/proc/{process.pid}/task").iterdir()
    return [int(child) for thread in threads for child in (thread / "children").read_text().split()]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", required=True, type=pathlib.Path)
    parser.add_argument("--nodes", type=int, default=10_000)
    parser.add_argument("--engine", type=pathlib.Path)
    parser.add_argument("games", nargs="+")
    options = parser.parse_args()
    program = options.program.resolve()
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        check = Check(program, options.games, options.nodes, pathlib.Path(folder))
        try:
            check.two_workers(program.parent)
            check.another_version(program.parent)
            check.on_this_machine()
            check.without_its_package()
            if options.engine:
                check.with_an_engine(options.engine)
        finally:
            check.end(*check.started)
    seconds = time.monotonic() - begun
    print(f"{check.cases} cases in {seconds:.0f} s; one process alone takes {check.alone:.1f} s")


if __name__ == "__main__":
    main()
