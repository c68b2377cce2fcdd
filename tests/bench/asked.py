"""Asking for the proof of a ticket as the command line does, and judging the answer."""

from __future__ import annotations

import io
import signal
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from drafting.cli.terminal import BAD_INPUT, FAULT, MADE, NOT_PROVEN, print_error, print_fault
from drafting.errors import CannotDraft, DraftingError, InputError, Problem
from drafting.job import draft_job, run
from drafting.saying import Words, render
from drafting.ticket import read_job
from tests.laws.jobs import catalogue
from tests.plain_words import engine_words

LONGEST = 10.0
"""Seconds of the processor that any ticket may take."""

FILE = "ticket.toml"


@dataclass(frozen=True)
class Answer:
    """What a ticket was answered with: the exit status, what was said, why that isn't right, and how long it took."""

    status: int
    said: str
    wrong: tuple[str, ...] = ()
    seconds: float = 0.0
    raised: str = ""


class TooLongError(BaseException):
    """A ticket took longer than any may; no handler of errors catches it."""


def ask(text: str | bytes, *, proved: bool = True) -> Answer:
    """Draft and prove a ticket, and judge the answer: its status, its words, and whether each problem has a mend.

    What is not to be ``proved`` is drafted only, which takes a third of the time.
    """
    began = time.process_time()
    try:
        with _bounded(LONGEST):
            answer = _ask(text, proved)
    except TooLongError:
        return Answer(-1, "", (f"took longer than {LONGEST:g} s",), LONGEST)
    return Answer(answer.status, answer.said, answer.wrong, time.process_time() - began, answer.raised)


def _ask(text: str | bytes, proved: bool) -> Answer:
    said = io.StringIO()
    with tempfile.TemporaryDirectory() as folder, redirect_stderr(said), redirect_stdout(said):
        file = Path(folder) / FILE
        file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
        try:
            job = read_job(file, catalogue())
            if not proved:
                draft_job(job)
                return Answer(MADE, "")
            result = run(job, lay=False)
        except DraftingError as error:
            print_error(error)
            return Answer(BAD_INPUT, said.getvalue(), (*_judge_error(error), *_judge_words(_words_of(error), text)))
        except Exception as error:
            print_fault(error)
            raised = _place_of(error)
            return Answer(FAULT, said.getvalue(), (f"a fault: {raised}",), 0.0, raised)
    findings = result.proof.findings
    words = "\n".join(render(each, result.job.unit) for f in findings for each in (f.sentence, f.remedy))
    status = MADE if result.proof.passed else NOT_PROVEN
    wrong = tuple(f"{f.code}: no remedy" for f in findings if not f.remedy and f.severity == "error")
    return Answer(status, words, (*wrong, *_judge_words(words, text)))


def _judge_error(error: DraftingError) -> Iterator[str]:
    """Say what a refusal lacks: where in the ticket, what was read or what is in the way, and the mend."""
    if isinstance(error, InputError):
        for problem in error.problems or [Problem("", "")]:
            if not str(problem.read).strip():
                yield f"{problem.where}: doesn't say what was read"
            if not (problem.allowed or problem.mend or problem.close):
                yield f"{problem.where}: {problem.read}: no mend"
            if FILE not in problem.where and "wearer.body" not in problem.where:
                yield f"“{problem.where}” is no place in the ticket"
    elif isinstance(error, CannotDraft):
        yield from (f"no {name}" for name in ("where", "reason", "write") if not str(getattr(error, name)).strip())
        if not (error.help or any(error.because) or error.since):
            yield "neither help, nor what is in the way"
    else:
        yield f"a bare {type(error).__name__}"


def _words_of(error: DraftingError) -> str:
    """What an error says, without the place in the ticket, which holds the keys that stand there."""
    if isinstance(error, InputError):
        said: list[Words] = [words for each in error.problems for words in (each.read, each.allowed, each.mend)]
    elif isinstance(error, CannotDraft):
        said = [error.reason, error.spoken_because, error.help, error.write]
    else:
        said = [str(error)]
    return "\n".join(render(words, "cm") for words in said)


def _is_own(word: str, own: str) -> bool:
    """Whether a word is a key that stands in the ticket itself."""
    return word.isidentifier() and f"\n{word}" in f"\n{own}"


def _judge_words(said: str, text: str | bytes) -> Iterator[str]:
    """Say which words no maker should meet, but for keys of the ticket's own that are misspelt."""
    own = text if isinstance(text, str) else text.decode("utf-8", "replace")
    found = dict.fromkeys(engine_words(said))
    yield from (f"says “{word}”" for word in found if word in ("True", "False") or not _is_own(word, own))


def _place_of(error: Exception) -> str:
    import traceback

    frame = traceback.extract_tb(error.__traceback__)[-1]
    return f"{type(error).__name__}: {str(error)[:80]} at {Path(frame.filename).name}:{frame.lineno}"


@contextmanager
def _bounded(seconds: float) -> Iterator[None]:
    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLongError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)
