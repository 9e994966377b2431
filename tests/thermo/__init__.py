"""Tests of thermochemistry and electrochemistry."""
