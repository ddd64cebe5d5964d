"""Takes batches of hits to the workers of a Dask cluster, and the rows that they answer back.

`hecatomb verify --cluster` starts this and speaks with it in lines of JSON. The first line that comes in says what
to do, every other is a batch; the end of the input is the end. Nothing is decided here: which hits are judged, what
is done with their rows and where they are written is all in `hecatomb`.

On a worker a batch is a task. It gives its lines to a `hecatomb verify -` that runs there, and that is kept for the
next batch: so an engine starts once for each thread of a worker, and not once for each batch.
"""

import sys

# A file in the folder where one works is no module.
sys.path[:] = [place for place in sys.path if place]

import json
import os
import queue
import subprocess
import tempfile
import threading
import time

# After this many seconds without a batch a worker ends what it has started, whatever became of us.
LONGEST_REST = 60
# A batch that fails is tried again this many times.
RETRIES = 2
# How often, in seconds, the workers are counted.
COUNT_EVERY = 5
# How long a scheduler may take to answer at first.
PATIENCE = 20


# What runs on the workers.


def without_engine():
    """The environment, but for the variable that names an engine: the arguments say which is asked."""
    return {name: value for name, value in os.environ.items() if name != "HECATOMB_ENGINE"}


class Program:
    """A `hecatomb verify -` that runs."""

    def __init__(self, command):
        self.command = command
        # No pipe, which would have to be read lest it fills.
        self.talk = tempfile.TemporaryFile()
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(
            command, stdin=pipe, stdout=pipe, stderr=self.talk, env=without_engine()
        )

    def answer(self, lines):
        """A row for each line."""
        text = "".join(line + "\n" for line in lines).encode()
        # It answers before it has read everything.
        telling = threading.Thread(target=self.tell, args=(text,), daemon=True)
        telling.start()
        rows = []
        for _ in lines:
            row = self.process.stdout.readline()
            if not row.endswith(b"\n"):
                raise RuntimeError(self.last_words())
            rows.append(row.decode())
        telling.join()
        return rows

    def tell(self, text):
        try:
            self.process.stdin.write(text)
            self.process.stdin.flush()
        except OSError:
            # It has ended, which its output tells.
            pass

    def last_words(self):
        """How it ended, and the last that it said."""
        try:
            status = self.process.wait(5)
        except subprocess.TimeoutExpired:
            self.kill()
            return f"`{self.command[0]}` closed its output"
        self.talk.seek(0)
        said = self.talk.read()[-4096:].decode(errors="replace").strip().splitlines()
        return f"`{self.command[0]}` ended with status {status}" + (f": {said[-1]}" if said else "")

    def kill(self):
        self.process.kill()
        self.process.wait()

    def end(self):
        """Lets it end; what it was told before is done or given up."""
        try:
            self.process.stdin.close()
            self.process.wait(5)
        except (OSError, subprocess.TimeoutExpired):
            self.kill()


class Stable:
    """The programs that rest on a worker until the next batch comes."""

    def __init__(self):
        self.lock = threading.Lock()
        self.resting = []
        self.is_over = False
        self.is_fit = False
        self.turn = 0

    def take(self, command):
        with self.lock:
            if self.resting:
                return self.resting.pop()
        return Program(command)

    def give_back(self, program):
        with self.lock:
            if not self.is_over:
                self.resting.append(program)
                self.turn += 1
                timer = threading.Timer(LONGEST_REST, self.end_if_still, args=(self.turn,))
                timer.daemon = True
                timer.start()
                return
        program.end()

    def end_if_still(self, turn):
        """Ends all that rests, unless a batch came since."""
        if turn == self.turn:
            self.end_all(False)

    def end_all(self, is_over):
        with self.lock:
            self.is_over |= is_over
            resting, self.resting = self.resting, []
        for program in resting:
            program.end()


def stable_of(worker, name):
    """What a worker holds for a run of this name."""
    stables = worker.__dict__.setdefault("hecatomb_stables", {})
    return stables.setdefault(name, Stable())


def examine(settings):
    """What is wrong with the program on this machine, or else on what its verdicts depend."""
    program = settings["program"]
    quiet = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    quiet["env"] = without_engine()
    try:
        found = subprocess.run([program, "--version"], **quiet)
        version = found.stdout.decode(errors="replace").strip()
        if found.returncode != 0 or version != settings["version"]:
            return {"fault": f"`{program}` is `{version}` there, and `{settings['version']}` here"}
        found = subprocess.run([program, *settings["arguments"], "--terms"], **quiet)
    except OSError as error:
        return {"fault": f"can't start `{program}`: {error.strerror}"}
    if found.returncode != 0:
        said = found.stderr.decode(errors="replace").strip().splitlines()
        return {"fault": said[0].removeprefix("error: ") if said else f"`{program}` fails"}
    return {"terms": json.loads(found.stdout)}


def look(settings, dask_worker=None):
    """Whether a worker is fit, before anything is judged."""
    found = examine(settings)
    stable_of(dask_worker, settings["name"]).is_fit = "terms" in found
    return found


def rest(name, dask_worker=None):
    """Ends what a worker started for a run."""
    stables = dask_worker.__dict__.get("hecatomb_stables", {})
    stable = stables.pop(name, None)
    if stable is not None:
        stable.end_all(True)


def judge(settings, lines):
    """Judges a batch on a worker."""
    from distributed import get_worker

    worker = get_worker()
    stable = stable_of(worker, settings["name"])
    if not stable.is_fit:
        # It came after the others.
        found = examine(settings)
        if found.get("terms") != settings["terms"]:
            fault = found.get("fault", "its verdicts would depend on something else")
            return {"unfit": fault, "worker": worker.address}
        stable.is_fit = True
    program = stable.take([settings["program"], *settings["arguments"]])
    begun = time.monotonic()
    try:
        rows = program.answer(lines)
    except Exception as error:
        program.kill()
        raise RuntimeError(f"worker `{worker.address}`: {error}") from None
    seconds = time.monotonic() - begun
    stable.give_back(program)
    return {"rows": rows, "seconds": seconds}


# What runs beside `hecatomb`.


class Fault(Exception):
    """Why it can't go on, and what to do about it."""

    def __init__(self, message, hint=None):
        super().__init__(message)
        self.hint = hint


def connected(address, threads):
    """A client of a cluster."""
    import dask
    import distributed

    if address == "local":
        # It has two cores to share with those who judge: it needs no profile of itself.
        dask.config.set({"distributed.worker.profile.enabled": False})
        dask.config.set({"distributed.admin.system-monitor.interval": "10s"})
        # Only programs work here, so that threads are enough.
        cluster = distributed.LocalCluster(
            n_workers=1,
            threads_per_worker=threads,
            processes=False,
            # Nobody else is to reach it.
            dashboard_address="127.0.0.1:0",
            worker_dashboard_address="127.0.0.1:0",
            memory_limit=0,
        )
        return distributed.Client(cluster)
    place = {"scheduler_file": address} if os.path.isfile(address) else {"address": address}
    try:
        return distributed.Client(**place, timeout=PATIENCE, set_as_default=False)
    except Exception as error:
        reason = str(error).strip().splitlines()
        raise Fault(
            f"no scheduler answers at `{address}`: {reason[0] if reason else type(error).__name__}",
            "start one with `dask scheduler`, and name the address that it prints",
        ) from None


class Session:
    """A run on a cluster."""

    def __init__(self, settings, say):
        self.say = say
        self.address = settings["address"]
        self.settings = {
            name: settings[name] for name in ("name", "program", "version", "arguments")
        }
        self.client = connected(self.address, settings["threads"])
        self.events = queue.SimpleQueue()
        self.futures = {}
        self.counted = None

    def gone(self):
        return Fault(f"the scheduler at `{self.address}` is gone")

    def count(self):
        """Threads and workers."""
        try:
            threads = self.client.nthreads()
        except Exception:
            raise self.gone() from None
        return {"threads": sum(threads.values()), "workers": len(threads)}

    def begin(self):
        """Waits for a worker, and examines all that are there."""
        is_told = False
        while not self.count()["threads"]:
            if not is_told:
                self.say({"is": "waiting"})
                is_told = True
            self.wait(0.5)
        found = self.client.run(look, self.settings)
        first = None
        for worker, of_worker in sorted(found.items()):
            if "fault" in of_worker:
                raise Fault(f"worker `{worker}`: {of_worker['fault']}")
            first = first or (worker, of_worker["terms"])
            if of_worker["terms"] != first[1]:
                both = [json.dumps(terms) for terms in (first[1], of_worker["terms"])]
                raise Fault(
                    f"verdicts of worker `{worker}` would depend on {both[1]}, and those of "
                    f"`{first[0]}` on {both[0]}"
                )
        self.settings["terms"] = first[1]
        self.counted = self.count()
        self.say({"is": "ready", "terms": first[1], **self.counted})

    def wait(self, seconds):
        """Waits, unless the input ends."""
        try:
            event = self.events.get(timeout=seconds)
        except queue.Empty:
            return
        if event[0] == "end":
            raise EOFError
        self.events.put(event)

    def read(self, lines):
        """Passes on what comes in."""
        for line in lines:
            self.events.put(("batch", json.loads(line)))
        self.events.put(("end",))

    def go_on(self):
        """Takes batches out and rows back until there is no more."""
        last = time.monotonic()
        while True:
            try:
                event = self.events.get(timeout=1)
            except queue.Empty:
                event = ("nothing",)
            if event[0] == "end":
                return
            if event[0] == "batch":
                self.submit(event[1])
            if event[0] == "done":
                self.done(event[1], self.futures.pop(event[1]))
            if self.client.status != "running":
                raise self.gone()
            if time.monotonic() - last > COUNT_EVERY:
                last = time.monotonic()
                self.count_again()

    def count_again(self):
        counted = self.count()
        if counted != self.counted:
            self.counted = counted
            self.say({"is": "workers", **counted})

    def submit(self, batch):
        number = batch["batch"]
        future = self.client.submit(
            judge, self.settings, batch["lines"], pure=False, retries=RETRIES
        )
        self.futures[number] = future
        future.add_done_callback(lambda _: self.events.put(("done", number)))

    def done(self, number, future):
        if future.status == "error":
            raise Fault(told(future.exception()))
        if future.status != "finished":
            raise self.gone()
        result = future.result()
        if "unfit" in result:
            raise Fault(f"worker `{result['worker']}`: {result['unfit']}")
        self.say({"is": "rows", "batch": number, **result})

    def end(self):
        """Leaves nothing behind on the workers."""
        for future in self.futures.values():
            future.cancel()
        self.client.run(rest, self.settings["name"])
        self.client.close()


def told(error):
    """An error of a task in words."""
    from distributed.scheduler import KilledWorker

    if isinstance(error, KilledWorker):
        last = error.last_worker.address
        return f"a batch ended every worker that took it on, the last of them `{last}`"
    return str(error).strip() or type(error).__name__


def main():
    # What libraries print must not get among the messages.
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)

    def say(message):
        out.write(json.dumps(message) + "\n")
        out.flush()

    try:
        import distributed  # noqa: F401
    except ImportError as error:
        say({"is": "missing", "module": error.name or str(error)})
        return 1
    session = None
    try:
        session = Session(json.loads(sys.stdin.readline()), say)
        threading.Thread(target=session.read, args=(sys.stdin,), daemon=True).start()
        session.begin()
        session.go_on()
        session.end()
    except EOFError:
        pass
    except BrokenPipeError:
        pass
    except Fault as fault:
        say({"is": "fault", "message": str(fault), "hint": fault.hint})
        return 1
    return 0


if __name__ == "__main__":
    status = main()
    # Whatever still waits for a cluster that is gone is not waited for.
    sys.stderr.flush()
    os._exit(status)
