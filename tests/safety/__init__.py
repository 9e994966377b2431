"""Tests of the safety gate."""
