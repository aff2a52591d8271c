"""Memory timing: what a module's timings mean in time, and which of them binds.

Sources: JESD79-4 (DDR4 SDRAM) and JESD79-5 (DDR5 SDRAM) for the timings, JEDEC No. 21-C annex
4.1.2.L and JESD400-5 for the SPD bytes and the two rules of rounding. The standards were read in
what others quote and reproduce of them; each module names where a figure was seen.
"""
