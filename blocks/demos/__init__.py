"""Tickets to try: a choir's concert tops. The singers are named by voice, their figures are invented."""
