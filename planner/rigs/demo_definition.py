"""The demo's study.toml: a made-up rig at a made-up lighthouse."""

DEFINITION = """\
# Marrow Point: the light that the ships steer by is reckoned anew for every tide, and the machine
# under the lamp room reckons it. How high can its core clock go? Place, parts and scores are
# made up, and so is the truth behind them.

[study]
name = "Marrow Point"
aim = "edge"            # where does one knob stop holding?
knob = "core_clock"     # this one; the other two stay at stock
target = 0.9            # sound: 9 of 10 runs of the workload pass there
confidence = 0.7        # the value to keep is confirmed: 12 passes in a row say so much of 0.9
minutes = 150           # bench time; the lamp is lit at dusk
seed = 7

[rig]
reboot_minutes = 4      # back to a prompt after a crash
parts = [
    { name = "Tallow 8 processor", price = 410 },
    { name = "Wickboard C", price = 240 },
    { name = "Gannet memory pair", price = 130 },
]
cost_brackets = { "one keeper's wages" = 700, "the harbour's purse" = 1500 }

[[group]]
name = "core"

[[group]]
name = "memory"
restart_minutes = 2.5   # the memory trains in it

[[knob]]
name = "core_clock"
group = "core"
unit = "MHz"
low = 4600
high = 5600
step = 25
stock = 4800
harder = "up"
where = "live"          # changed while the machine runs, lost when it restarts
change_minutes = 0.3
everyday = 5350         # nothing above it is proposed: the lamp hangs on the same supply
own_risk = 5450         # up to here once the risk is accepted
hard_stop = 5500        # never past it

[[knob]]
name = "core_voltage"
group = "core"
unit = "%"              # of the stock voltage
low = 94
high = 112
step = 1
stock = 100
harder = "down"
supports = ["core_clock"]
where = "live"
change_minutes = 0.3
everyday = 104          # the same three for the voltage
own_risk = 108
hard_stop = 110

[[knob]]
name = "read_delay"
group = "memory"
unit = "clocks"
low = 24
high = 44
step = 1
stock = 40
harder = "down"
where = "firmware"      # takes a restart
change_minutes = 0.5

[[reading]]
name = "room"
unit = "C"

[[reading]]
name = "hotspot"
unit = "C"
stop = 104

[[workload]]
name = "tide table"
minutes = 5
subscores = { shade = 2.75, pack = 0.61, solve = 19 }
combine = "sum"         # the score is the sum of so much of each
beat = { "last winter" = 2290, "the other light" = 2340 }
"""
