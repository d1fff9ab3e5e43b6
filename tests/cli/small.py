"""A run of two jobs as a plan file, seen from its eighth working day."""

SMALL = """
[run]
code = "lamp-1"
quantity = 50
start = 2026-06-01
today = 2026-06-10
[[supplier]]
code = "mill"
[[supplier]]
code = "bench"
inhouse = true
[[job]]
code = "housing"
supplier = "mill"
lead = "10wd"
[[job]]
code = "pack"
supplier = "bench"
lead = "2wd"
after = ["housing"]
[[shipment]]
code = "wave-1"
quantity = 50
after = ["pack"]
"""
