"""Frills for concert tops."""
