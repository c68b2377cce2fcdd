"""Proof: the checks that a drafted garment goes together and fits, before anything is printed."""

from drafting.proof.check import Check, Evidence, check, fit_figures
from drafting.proof.document import AsPrinted, proof_document, read_flat, read_prints
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit import FitRow
from drafting.proof.proof import OWN, Proof, prove
from drafting.proof.schema import proof_schema
from drafting.proof.words.lines import proof_lines
from drafting.proof.words.printed import (
    list_against_body,
    list_finished,
    list_lengths,
    print_proof,
    print_warnings,
    tightest_rows,
)

__all__ = [
    "OWN",
    "AsPrinted",
    "Check",
    "Evidence",
    "Finding",
    "FitRow",
    "Proof",
    "Severity",
    "check",
    "fit_figures",
    "list_against_body",
    "list_finished",
    "list_lengths",
    "print_proof",
    "print_warnings",
    "proof_document",
    "proof_lines",
    "proof_schema",
    "prove",
    "read_flat",
    "read_prints",
    "tightest_rows",
]
