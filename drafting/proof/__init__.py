"""Proof: the checks that a drafted garment goes together and fits, before anything is printed."""

from drafting.proof.check import Check, Evidence, check
from drafting.proof.document import proof_document, read_prints
from drafting.proof.finding import Finding, Severity
from drafting.proof.proof import OWN, Proof, prove
from drafting.proof.schema import proof_schema
from drafting.proof.words.lines import proof_lines
from drafting.proof.words.printed import print_proof, tightest_rows

__all__ = [
    "OWN",
    "Check",
    "Evidence",
    "Finding",
    "Proof",
    "Severity",
    "check",
    "print_proof",
    "proof_document",
    "proof_lines",
    "proof_schema",
    "prove",
    "read_prints",
    "tightest_rows",
]
