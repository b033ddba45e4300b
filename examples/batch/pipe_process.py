"""One pipe process for each worker process, started with the first line and kept."""

import subprocess

_KEPT = {}


def ask(program, lines):
    """The answers to some lines, in their order, as bytes."""
    process = _KEPT.get(program)
    if process is None or process.poll() is not None:
        # It ends by itself when this process ends: the end of its input is then closed.
        process = subprocess.Popen([program], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        _KEPT[program] = process
    answers = []
    for line in lines:
        process.stdin.write(line + b"\n")
        process.stdin.flush()
        answer = process.stdout.readline()
        if not answer.endswith(b"\n"):
            raise RuntimeError("the pipe ended within an answer")
        answers.append(answer[:-1])
    return answers
